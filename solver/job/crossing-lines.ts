/** Straight lines on lattice nodes that lead from the dry floor over the curb to the shower, square to it. */
import {
  distance,
  pointInRing,
  pointSegmentDistance,
  ringDistance,
  segmentDistance,
} from '../geometry/measure.js';
import { nodePoint, type StudLattice } from '../lattice/stud-lattice.js';
import type { Exclusion, Point, Ring, Zone } from '../problem.js';
import { along, type Curb, slant, stretchesInside } from './curb.js';

export interface CrossingLine {
  /** Node of the dry lattice: the last point on the dry floor that lies on a stud channel. */
  readonly node: number;
  readonly from: Point;
  /** First node of the shower. */
  readonly to: Point;
  /** Where the line meets the dry face of the curb, and where it leaves its wet face. */
  readonly enter: Point;
  readonly leave: Point;
  /** Lattice vector of the line. */
  readonly heading: readonly [number, number];
  /** Deviation from square, radians. */
  readonly slant: number;
}

/** Zones and curb may be drawn this far apart, mm. */
export const DRAWING_GAP = 30;

/** "Square" for a curb that runs neither along nor at 45 degrees to the channels: within 3 degrees. Own default. */
export const SQUARE_WITHIN = (3 * Math.PI) / 180;

/** Longest line looked at, beyond the thickness of the curb itself, mm. */
const REACH = 600;

/** Shortest lattice vector within SQUARE_WITHIN of a direction; an exact one where there is one nearby. */
function latticeVector(x: number, y: number): readonly [number, number] | null {
  const size = Math.hypot(x, y);
  let best: readonly [number, number] | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let a = -12; a <= 12; a += 1)
    for (let b = -12; b <= 12; b += 1) {
      if (a === 0 && b === 0) continue;
      const length = Math.hypot(a, b);
      const off = Math.acos(Math.min(1, (a * x + b * y) / (length * size)));
      if (off > SQUARE_WITHIN) continue;
      if (length < least - 1e-9) {
        least = length;
        best = [a, b];
      }
    }
  return best;
}

/** Directions square to the edges of the strip between the zones. */
function headings(dry: Zone, wet: Zone, curb: Curb | null): (readonly [number, number])[] {
  const ring = curb === null ? wet.outline : curb.outline;
  const found = new Map<string, readonly [number, number]>();
  for (let k = 0; k < ring.length; k += 1) {
    const a = ring[k];
    const b = ring[(k + 1) % ring.length];
    const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    if (curb === null && !pointInRing(middle, dry.outline) && ringDistance(middle, dry.outline) > DRAWING_GAP)
      if (segmentGap(a, b, dry.outline) > DRAWING_GAP) continue;
    for (const sign of [1, -1]) {
      const v = latticeVector(sign * (b[1] - a[1]), sign * (a[0] - b[0]));
      if (v !== null) found.set(`${v[0]} ${v[1]}`, v);
    }
  }
  return [...found.keys()].sort().map((key) => found.get(key) ?? [0, 0]);
}

const segmentGap = (a: Point, b: Point, ring: Ring): number => {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < ring.length; k += 1)
    least = Math.min(least, segmentDistance(a, b, ring[k], ring[(k + 1) % ring.length]));
  return least;
};

/** Distance from the segment to an exclusion's shape; -1 when it runs into it, 0 when it only touches. */
function shapeGap(a: Point, b: Point, { shape }: Exclusion): number {
  if (shape.kind === 'circle') {
    const gap = pointSegmentDistance(shape.center, a, b) - shape.radius;
    return gap < 0 ? -1 : gap;
  }
  if (shape.outline.length < 3) return Number.POSITIVE_INFINITY;
  const length = distance(a, b);
  const inside = stretchesInside(a, b, shape.outline).some(
    (s) =>
      (s.to - s.from) * length > 0.5 && ringDistance(along(a, b, (s.from + s.to) / 2), shape.outline) > 0.5,
  );
  return inside ? -1 : segmentGap(a, b, shape.outline);
}

/** Length of a-b outside the ring. */
const outside = (a: Point, b: Point, ring: Ring): number => {
  const length = distance(a, b);
  const inside = stretchesInside(a, b, ring).reduce((sum, s) => sum + (s.to - s.from), 0);
  return length * (1 - inside);
};

interface Faces {
  readonly enter: Point;
  readonly leave: Point;
  readonly slant: number;
}

/** The one stretch over the curb, or over the seam of a level threshold; null where the line is no crossing. */
function faces(a: Point, b: Point, dry: Zone, wet: Zone, curb: Curb | null): Faces | null {
  if (curb !== null) {
    const inside = stretchesInside(a, b, curb.outline);
    const only = inside[0];
    if (inside.length !== 1 || only.inEdge < 0 || only.outEdge < 0) return null;
    const off = Math.max(slant(a, b, curb.outline, only.inEdge), slant(a, b, curb.outline, only.outEdge));
    const enter = along(a, b, only.from);
    const leave = along(a, b, only.to);
    if (outside(a, enter, dry.outline) > DRAWING_GAP || outside(leave, b, wet.outline) > DRAWING_GAP)
      return null;
    return { enter, leave, slant: off };
  }
  const onDry = stretchesInside(a, b, dry.outline);
  const onWet = stretchesInside(a, b, wet.outline);
  const [d, w] = [onDry[0], onWet[0]];
  if (onDry.length !== 1 || onWet.length !== 1 || d.from !== 0 || w.to !== 1) return null;
  if (d.outEdge < 0 || w.inEdge < 0) return null;
  if (Math.abs(w.from - d.to) * distance(a, b) > DRAWING_GAP) return null;
  const off = Math.max(slant(a, b, dry.outline, d.outEdge), slant(a, b, wet.outline, w.inEdge));
  const seam = along(a, b, Math.min(d.to, w.from));
  return { enter: seam, leave: along(a, b, Math.max(d.to, w.from)), slant: off };
}

/**
 * Every crossing line of the two zones, in a fixed order. `dryFloor` and `wetFloor` are the studs of their routing
 * areas on one lattice; `curb` null means a level threshold where the two outlines meet.
 */
export function crossingLines(
  dry: Zone,
  wet: Zone,
  curb: Curb | null,
  dryFloor: StudLattice,
  wetFloor: StudLattice,
): CrossingLine[] {
  const { pitch } = dryFloor.lattice;
  let far = REACH;
  if (curb !== null) far += Math.max(...curb.outline.map((p) => ringSpan(p, curb.outline)));
  const found: CrossingLine[] = [];
  const wetAt = (i: number, j: number): boolean => {
    const a = i - wetFloor.i0;
    const b = j - wetFloor.j0;
    return a >= 0 && b >= 0 && a < wetFloor.nx && b < wetFloor.ny && wetFloor.free[b * wetFloor.nx + a] === 1;
  };
  const dryAt = (i: number, j: number): boolean => {
    const a = i - dryFloor.i0;
    const b = j - dryFloor.j0;
    return a >= 0 && b >= 0 && a < dryFloor.nx && b < dryFloor.ny && dryFloor.free[b * dryFloor.nx + a] === 1;
  };
  const others = [...dry.exclusions, ...wet.exclusions];
  for (const heading of headings(dry, wet, curb)) {
    const [da, db] = heading;
    const most = Math.ceil(far / (pitch * Math.hypot(da, db)));
    for (let v = 0; v < dryFloor.free.length; v += 1) {
      if (dryFloor.free[v] === 0) continue;
      const i = dryFloor.i0 + (v % dryFloor.nx);
      const j = dryFloor.j0 + Math.floor(v / dryFloor.nx);
      if (dryAt(i + da, j + db)) continue;
      for (let k = 1; k <= most; k += 1) {
        if (dryAt(i + k * da, j + k * db)) break;
        if (!wetAt(i + k * da, j + k * db)) continue;
        const from = nodePoint(dryFloor, v);
        const to: Point = [from[0] + k * da * pitch, from[1] + k * db * pitch];
        const where = faces(from, to, dry, wet, curb);
        if (where === null || where.slant > SQUARE_WITHIN) break;
        if (others.some((x) => shapeGap(from, to, x) < x.clearance - 0.5)) break;
        found.push({ node: v, from, to, heading, ...where });
        break;
      }
    }
  }
  return found;
}

/** Largest distance from p to a vertex of the ring. */
const ringSpan = (p: Point, ring: Ring): number => Math.max(...ring.map((q) => distance(p, q)));
