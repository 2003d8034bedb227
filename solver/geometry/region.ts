/**
 * The one module around the polygon library. Coordinates are rounded to 1/1000 mm inside it; every region it
 * returns is normalised (outer rings counter-clockwise, holes clockwise, no crossings).
 */
import { Clipper, ClipperOffset, EndType, FillRule, JoinType, type Path64, type Paths64 } from 'clipper2-ts';
import type { Point, Region, Ring, Shape } from '../problem.js';
import { pointSegmentDistance, signedArea } from './measure.js';

/** Integer units per mm. */
const SCALE = 1000;

/** Greatest distance between an arc and its chords, mm. */
export const ARC_TOLERANCE = 0.02;

const EMPTY: Region = [];

const toPath = (ring: Ring): Path64 =>
  ring.map(([x, y]) => ({ x: Math.round(x * SCALE), y: Math.round(y * SCALE) }));

const toPaths = (region: Region): Paths64 => region.map(toPath);

const toRegion = (paths: Paths64): Region => {
  const rings: Ring[] = [];
  for (const path of paths) {
    if (path.length >= 3) rings.push(path.map(({ x, y }): Point => [x / SCALE, y / SCALE]));
  }
  return rings;
};

/** Everything in `a` or `b`. */
export const unite = (a: Region, b: Region): Region =>
  toRegion(Clipper.union(toPaths(a), toPaths(b), FillRule.NonZero));

/** Union of any number of regions. */
export const uniteAll = (regions: readonly Region[]): Region =>
  toRegion(Clipper.union(toPaths(regions.flat()), FillRule.NonZero));

/** Everything in both `a` and `b`. */
export const intersect = (a: Region, b: Region): Region =>
  a.length === 0 || b.length === 0
    ? EMPTY
    : toRegion(Clipper.intersect(toPaths(a), toPaths(b), FillRule.NonZero));

/** Everything in `a` that is not in `b`. */
export const subtract = (a: Region, b: Region): Region =>
  a.length === 0 ? EMPTY : toRegion(Clipper.difference(toPaths(a), toPaths(b), FillRule.NonZero));

const offset = (paths: Paths64, by: number, end: EndType): Region => {
  const worker = new ClipperOffset(2, ARC_TOLERANCE * SCALE);
  worker.addPaths(paths, JoinType.Round, end);
  const solution: Paths64 = [];
  worker.execute(by * SCALE, solution);
  return toRegion(solution);
};

/** Everything within `by` mm of `region` (round joins); a negative `by` keeps what is at least -by inside it. */
export const grow = (region: Region, by: number): Region =>
  region.length === 0 || by === 0 ? region : offset(toPaths(region), by, EndType.Polygon);

/** Everything within `radius` mm of the open polyline (round ends); a single point gives a disc. */
export const tube = (path: Ring, radius: number): Region => {
  if (path.length === 0 || radius <= 0) return EMPTY;
  const distinct = toPath(path).filter(
    (p, k, all) => k === 0 || p.x !== all[k - 1]?.x || p.y !== all[k - 1]?.y,
  );
  const only = path[0];
  if (distinct.length === 1 && only !== undefined) {
    return regionOf({ kind: 'circle', center: only, radius });
  }
  return offset([distinct], radius, EndType.Round);
};

/** Area in mm2, holes taken off. */
export const areaOf = (region: Region): number => {
  let sum = 0;
  for (const ring of region) sum += signedArea(ring);
  return sum;
};

/** Regular polygon about a circle: it contains the true circle and leaves it by at most ARC_TOLERANCE. */
const circleRing = (center: Point, radius: number): Ring => {
  const apothem = radius + 1 / SCALE; // rounding a vertex to the integer grid moves it by less than this
  const corners = Math.max(8, Math.ceil(Math.PI / Math.acos(apothem / (radius + ARC_TOLERANCE - 1 / SCALE))));
  const reach = apothem / Math.cos(Math.PI / corners);
  const ring: Point[] = [];
  for (let k = 0; k < corners; k += 1) {
    const angle = (2 * Math.PI * k) / corners;
    ring.push([center[0] + reach * Math.cos(angle), center[1] + reach * Math.sin(angle)]);
  }
  return ring;
};

const isShape = (what: Shape | Ring): what is Shape => 'kind' in what;

/**
 * Region of a shape or a ring of either winding (non-zero fill). A circle becomes a polygon that contains it and
 * exceeds it by at most ARC_TOLERANCE; a polygon of fewer than three vertices and a circle of no radius are empty.
 */
export const regionOf = (what: Shape | Ring): Region => {
  if (isShape(what) && what.kind === 'circle') {
    return what.radius > 0 ? [circleRing(what.center, what.radius)] : EMPTY;
  }
  const ring = isShape(what) ? what.outline : what;
  return ring.length < 3 ? EMPTY : toRegion(Clipper.union([toPath(ring)], FillRule.NonZero));
};

/** Non-zero winding test; a point within 1/1000 mm of the boundary is inside. */
export const contains = (region: Region, p: Point): boolean => {
  let winding = 0;
  for (const ring of region) {
    let [ax, ay] = ring[ring.length - 1] ?? p;
    for (const [bx, by] of ring) {
      if (ay <= p[1] !== by <= p[1]) {
        const side = (bx - ax) * (p[1] - ay) - (p[0] - ax) * (by - ay);
        if (by > ay && side > 0) winding += 1;
        else if (by < ay && side < 0) winding -= 1;
      }
      const near = 1 / SCALE;
      if (
        p[0] >= Math.min(ax, bx) - near &&
        p[0] <= Math.max(ax, bx) + near &&
        p[1] >= Math.min(ay, by) - near &&
        p[1] <= Math.max(ay, by) + near &&
        pointSegmentDistance(p, [ax, ay], [bx, by]) <= near
      ) {
        return true;
      }
      ax = bx;
      ay = by;
    }
  }
  return winding !== 0;
};
