import { cross, pointInRing } from '../geometry/measure.js';
import type { Point, Ring } from '../problem.js';

/** The raised sill between a dry floor and a tiled shower, or the bare strip of a level threshold (height 0). */
export interface Curb {
  /** Plan of the strip between the two zones. */
  readonly outline: Ring;
  /** Top above the dry floor, mm. */
  readonly height: number;
  /** Top above the shower floor at the curb, mm. */
  readonly descent: number;
  readonly groove: Groove;
}

/** Channel that takes the cable over the curb. */
export interface Groove {
  readonly width: number;
  readonly depth: number;
}

/** 3/4 x 1/4 in; common practice, no source. */
export const GROOVE: Groove = { width: 19, depth: 6 };

/** A stretch of a segment, as fractions 0..1 of its length, with the edges (index of first vertex) that bound it. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  /** -1 where the segment begins or ends inside. */
  readonly inEdge: number;
  readonly outEdge: number;
}

/** Where the segment a-b runs strictly inside `ring`, in order. */
export function stretchesInside(a: Point, b: Point, ring: Ring): Stretch[] {
  const cuts: { t: number; edge: number }[] = [];
  for (let k = 0; k < ring.length; k += 1) {
    const c = ring[k];
    const d = ring[(k + 1) % ring.length];
    const s1 = cross(a, b, c);
    const s2 = cross(a, b, d);
    if (s1 > 0 === s2 > 0) continue;
    const f = s1 / (s1 - s2);
    const x = c[0] + f * (d[0] - c[0]);
    const y = c[1] + f * (d[1] - c[1]);
    const square = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
    const t = ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / square;
    if (t > 0 && t < 1) cuts.push({ t, edge: k });
  }
  cuts.sort((u, v) => u.t - v.t || u.edge - v.edge);
  const marks = [{ t: 0, edge: -1 }, ...cuts, { t: 1, edge: -1 }];
  const found: Stretch[] = [];
  for (let k = 0; k + 1 < marks.length; k += 1) {
    const [from, to] = [marks[k], marks[k + 1]];
    if (to.t - from.t < 1e-9) continue;
    if (!pointInRing(along(a, b, (from.t + to.t) / 2), ring)) continue;
    const last = found[found.length - 1];
    if (last !== undefined && last.to === from.t) {
      found[found.length - 1] = { ...last, to: to.t, outEdge: to.edge };
    } else found.push({ from: from.t, to: to.t, inEdge: from.edge, outEdge: to.edge });
  }
  return found;
}

/** a + t (b - a). */
export const along = (a: Point, b: Point, t: number): Point => [
  a[0] + t * (b[0] - a[0]),
  a[1] + t * (b[1] - a[1]),
];

/** Angle between the segment a-b and the normal of the ring's edge k, radians in 0..pi/2. */
export const slant = (a: Point, b: Point, ring: Ring, k: number): number => {
  const c = ring[k];
  const d = ring[(k + 1) % ring.length];
  const dot = (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1]);
  const wedge = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
  return Math.atan2(Math.abs(dot), Math.abs(wedge));
};
