import { signedArea } from '../geometry/measure.js';
import type { Ring } from '../problem.js';

/** Simple measures of a wall line; rings in mm, either winding. */
export interface OutlineMeasure {
  /** m2. */
  readonly area: number;
  /** Lengths of the walls, mm, in ring order. */
  readonly walls: readonly number[];
  /** Corners that stick into the room (reflex), and the others. */
  readonly outsideCorners: number;
  readonly insideCorners: number;
}

export function measureOutline(ring: Ring): OutlineMeasure {
  const area = signedArea(ring);
  const walls: number[] = [];
  let outsideCorners = 0;
  let insideCorners = 0;
  for (const [i, b] of ring.entries()) {
    const a = ring[(i + ring.length - 1) % ring.length] ?? b;
    const c = ring[(i + 1) % ring.length] ?? b;
    walls.push(Math.hypot(c[0] - b[0], c[1] - b[1]));
    const bend = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
    if (bend * area > 0) insideCorners += 1;
    else if (bend * area < 0) outsideCorners += 1;
  }
  return { area: Math.abs(area) / 1e6, walls, insideCorners, outsideCorners };
}

/** The ring with x and y exchanged. */
export const transposed = (ring: Ring): Ring => ring.map(([x, y]) => [y, x] as const);

/** Lowest and highest y, mm. */
export function heightOf(ring: Ring): { readonly low: number; readonly high: number } {
  const ys = ring.map(([, y]) => y);
  return { low: Math.min(...ys), high: Math.max(...ys) };
}

/** A wall along the edge of a band belongs to it only with what lies inside by more than this, mm. */
const EDGE = 0.001;

/** Extent in x of the part of the ring inside the band bottom < y < top, mm; 0 where there is none. */
export function extentInBand(ring: Ring, bottom: number, top: number): number {
  const low = bottom + EDGE;
  const high = top - EDGE;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  const see = (x: number): void => {
    least = Math.min(least, x);
    most = Math.max(most, x);
  };
  for (const [i, [x, y]] of ring.entries()) {
    if (y >= low && y <= high) see(x);
    const [u, v] = ring[(i + 1) % ring.length] ?? [x, y];
    for (const level of [low, high]) {
      if ((y < level && v > level) || (y > level && v < level)) see(x + ((u - x) * (level - y)) / (v - y));
    }
  }
  return Math.max(0, most - least);
}

/** Length of the part of the line at height `y` that lies inside the ring, mm. */
export function chordAt(ring: Ring, y: number): number {
  const xs: number[] = [];
  for (const [i, [x, b]] of ring.entries()) {
    const [u, v] = ring[(i + 1) % ring.length] ?? [x, b];
    if (b <= y !== v <= y) xs.push(x + ((u - x) * (y - b)) / (v - b));
  }
  xs.sort((p, q) => p - q);
  let length = 0;
  for (let i = 0; i + 1 < xs.length; i += 2) length += (xs[i + 1] ?? 0) - (xs[i] ?? 0);
  return length;
}
