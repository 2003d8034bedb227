import { AREA_TOLERANCE, marginAt, segmentMargin } from '../check/area-rule.js';
import { entryNodes } from '../check/lattice-rules.js';
import { depthInRing } from '../geometry/measure.js';
import { areaOf, regionOf, subtract, tube, uniteAll } from '../geometry/region.js';
import type { Point, Region, Setting, Zone } from '../problem.js';
import { passable } from './one-way.js';

/**
 * Slack (mm) by which a channel may leave the routing area here: the judge's tolerance and a little more, so that
 * no rounding makes this set smaller than what the judge lets pass.
 */
const SLACK = AREA_TOLERANCE + 0.06;

/** More than the judge lets the end of a path lie outside the buffer, and differ from the cable's, mm. */
const END_SLACK = 2;

/** More than all polygonised arcs and rounded coordinates are off, mm. */
const ROUNDING = 0.05;

/** The pieces of channel that some path from the entry can use. */
export interface Reach {
  /** Maximal straight pieces, mm. */
  readonly pieces: readonly (readonly [Point, Point])[];
  /** Nodes that such a path may visit. */
  readonly nodes: number;
}

/**
 * Every piece of channel that a legal path from the entry can lie on: the unit edges of the lattice that stay in the
 * routing area, are connected to an entry node through such edges and need not be left the way they were come by
 * (`one-way.ts`), and, as only the last vertex may lie between nodes, from each node within a pitch of the buffer the
 * edges that begin there, and the stretch up to where its channel leaves the area.
 */
export const reachOf = (zone: Zone, setting: Setting): Reach => {
  const { lattice } = setting;
  const { pitch, origin } = lattice;
  const lowest = (axis: 0 | 1): number =>
    Math.floor((Math.min(...zone.outline.map((p) => p[axis])) - origin[axis]) / pitch) - 1;
  const highest = (axis: 0 | 1): number =>
    Math.ceil((Math.max(...zone.outline.map((p) => p[axis])) - origin[axis]) / pitch) + 1;
  const [i0, j0] = [lowest(0), lowest(1)];
  const nx = highest(0) - i0 + 1;
  const ny = highest(1) - j0 + 1;
  const at = (v: number): Point => [
    origin[0] + (i0 + (v % nx)) * pitch,
    origin[1] + (j0 + Math.floor(v / nx)) * pitch,
  ];
  const margin = new Float64Array(nx * ny);
  for (let v = 0; v < nx * ny; v += 1) margin[v] = marginAt(zone, at(v));

  // East, north, west, south; the outermost nodes lie outside the outline, so no step leaves the array.
  const steps = [1, nx, -1, -nx];
  const free = (v: number, w: number): boolean =>
    margin[v] >= -SLACK &&
    margin[w] >= -SLACK &&
    // The margin changes by at most 1 per mm, which settles most edges.
    (margin[v] + margin[w] - pitch >= 0 || segmentMargin(zone, at(v), at(w)) >= -SLACK);

  const reached = new Uint8Array(nx * ny);
  const edges = [new Uint8Array(nx * ny), new Uint8Array(nx * ny)]; // [east, north] of the node
  const open: number[] = [];
  const starts: number[] = [];
  for (const [x, y] of entryNodes(zone, lattice)) {
    const i = Math.round((x - origin[0]) / pitch) - i0;
    const j = Math.round((y - origin[1]) / pitch) - j0;
    const v = j * nx + i;
    if (i < 1 || j < 1 || i >= nx - 1 || j >= ny - 1 || reached[v] === 1) continue;
    reached[v] = 1;
    open.push(v);
    starts.push(v);
  }
  /** 1 where the path's last full edge may end: the rest lies on an edge from there. */
  const ends = new Uint8Array(nx * ny);
  for (let v = open.pop(); v !== undefined; v = open.pop()) {
    if (depthInRing(at(v), zone.buffer) >= -(pitch + END_SLACK)) ends[v] = 1;
    for (let way = 0; way < 4; way += 1) {
      const w = v + steps[way];
      if (!free(v, w)) continue;
      edges[way % 2][way < 2 ? v : w] = 1;
      if (reached[w] === 1) continue;
      reached[w] = 1;
      open.push(w);
    }
  }

  const [east, north] = edges;
  const kept = passable({ nx, reached, east, north, starts, ends }, pitch, setting.spacing.min);
  const pieces: (readonly [Point, Point])[] = [];
  let nodes = 0;
  for (let v = 0; v < nx * ny; v += 1) {
    nodes += kept[v];
    if (kept[v] === 0 || ends[v] === 0) continue;
    for (let way = 0; way < 4; way += 1) {
      const w = v + steps[way];
      if (edges[way % 2][way < 2 ? v : w] === 0) pieces.push([at(v), stubEnd(zone, at(v), at(w), pitch)]);
      else if (kept[w] === 0) pieces.push([at(v), at(w)]);
    }
  }
  for (const axis of [0, 1] as const)
    for (let v = 0; v < nx * ny; v += 1) if (kept[v] === 0 || kept[v + steps[axis]] === 0) edges[axis][v] = 0;
  for (const axis of [0, 1] as const) {
    const step = steps[axis];
    for (let v = step; v < nx * ny; v += 1) {
      if (edges[axis][v] === 0 || edges[axis][v - step] === 1) continue;
      let w = v;
      while (edges[axis][w] === 1) w += step;
      pieces.push([at(v), at(w)]);
    }
  }
  return { pieces, nodes };
};

/** How far the channel from `a` towards `b` stays in the area, rounded up: at most `b`. */
const stubEnd = (zone: Zone, a: Point, b: Point, pitch: number): Point => {
  let far = 0;
  while (far < pitch) {
    const t = far / pitch;
    const margin = marginAt(zone, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]) + SLACK;
    if (margin < 0) break;
    far = Math.min(pitch, far + Math.max(margin, 0.05));
  }
  return [a[0] + (far / pitch) * (b[0] - a[0]), a[1] + (far / pitch) * (b[1] - a[1])];
};

const boxOf = (points: readonly Point[]): readonly [number, number, number, number] => {
  let [left, low, right, high] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const [x, y] of points) {
    left = Math.min(left, x);
    right = Math.max(right, x);
    low = Math.min(low, y);
    high = Math.max(high, y);
  }
  return [left, low, right, high];
};

/** Rectangles about the pieces, `wide` mm to either side and `ahead` mm beyond both ends. */
const bodiesOf = (reach: Reach, wide: number, ahead: number): Region =>
  reach.pieces.flatMap(([[ax, ay], [bx, by]]): Region => {
    const [dx, dy] = ay === by ? [ahead, wide] : [wide, ahead];
    const [left, right] = [Math.min(ax, bx) - dx, Math.max(ax, bx) + dx];
    const [low, high] = [Math.min(ay, by) - dy, Math.max(ay, by) + dy];
    return regionOf([
      [left, low],
      [right, low],
      [right, high],
      [left, high],
    ]);
  });

/** Area that holds everything within `radius` of the pieces, mm2; over by the corners of square ends. */
export const areaAround = (reach: Reach, radius: number): number =>
  areaOf(uniteAll([bodiesOf(reach, radius + ROUNDING, radius + ROUNDING)]));

/** The part of `target` that no piece comes within `radius` of. */
export const beyondReach = (reach: Reach, target: Region, radius: number): Region => {
  const wide = radius + ROUNDING;
  // Bodies first: they are rectangles, and leave little for the round ends.
  let left = subtract(target, bodiesOf(reach, wide, 0));
  for (const [a, b] of reach.pieces) {
    if (areaOf(left) <= 0) break;
    const [x0, y0, x1, y1] = boxOf([a, b]);
    const touches = left.some((ring) => {
      const [l, d, r, u] = boxOf(ring);
      return l <= x1 + wide && r >= x0 - wide && d <= y1 + wide && u >= y0 - wide;
    });
    if (touches) left = subtract(left, tube([a, b], wide));
  }
  return left;
};
