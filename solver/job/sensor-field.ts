/** The floor at half the pitch of the studs, on which the sensor's lead is searched. */
import { nearestOnSegment, pointSegmentDistance } from '../geometry/measure.js';
import { regionOf, subtract, uniteAll } from '../geometry/region.js';
import { crossings } from '../lattice/scanline.js';
import type { Lattice, Point, Ring, Zone } from '../problem.js';

/** Node v = j * nx + i at (x0 + i h, y0 + j h); every midline between two channels is a row or column of it. */
export interface HalfLattice {
  readonly x0: number;
  readonly y0: number;
  readonly h: number;
  readonly nx: number;
  readonly ny: number;
  /** 1 on floor that no built-in covers. */
  readonly open: Uint8Array;
}

export function halfLattice(zone: Zone, lattice: Lattice): HalfLattice {
  const h = lattice.pitch / 2;
  const xs = zone.outline.map((p) => p[0]);
  const ys = zone.outline.map((p) => p[1]);
  const first = (low: number, origin: number): number => origin + Math.floor((low - origin) / h) * h;
  const x0 = first(Math.min(...xs), lattice.origin[0]);
  const y0 = first(Math.min(...ys), lattice.origin[1]);
  const nx = Math.ceil((Math.max(...xs) - x0) / h) + 1;
  const ny = Math.ceil((Math.max(...ys) - y0) / h) + 1;
  const open = new Uint8Array(nx * ny);
  const floor = subtract(regionOf(zone.outline), uniteAll(zone.exclusions.map((x) => regionOf(x.shape))));
  for (let j = 0; j < ny; j += 1) {
    const cuts = crossings(floor, 'y', y0 + j * h);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const from = Math.max(0, Math.ceil((cuts[k] - x0) / h + 1e-6));
      const to = Math.min(nx - 1, Math.floor((cuts[k + 1] - x0) / h - 1e-6));
      for (let i = from; i <= to; i += 1) open[j * nx + i] = 1;
    }
  }
  const field: HalfLattice = { x0, y0, h, nx, ny, open };
  // What is thinner than the lattice must not slip between two nodes.
  const hair = h / 2 + 0.01;
  for (const { shape } of zone.exclusions)
    if (shape.kind === 'circle')
      closeAround(field, [shape.center, shape.center], shape.radius + hair, () => false);
    else closeAround(field, [...shape.outline, ...shape.outline.slice(0, 1)], hair, () => false);
  closeAround(field, [...zone.outline, ...zone.outline.slice(0, 1)], hair, () => false);
  return field;
}

export const halfPoint = (f: HalfLattice, v: number): Point => [
  f.x0 + (v % f.nx) * f.h,
  f.y0 + Math.floor(v / f.nx) * f.h,
];

/** Closes every node nearer than `keep` mm to the line; keep > h / 2 lets nothing through. */
export function closeAround(f: HalfLattice, line: Ring, keep: number, spare: (p: Point) => boolean): void {
  for (let k = 1; k < line.length; k += 1) {
    const [a, b] = [line[k - 1], line[k]];
    const i0 = Math.max(0, Math.floor((Math.min(a[0], b[0]) - keep - f.x0) / f.h));
    const i1 = Math.min(f.nx - 1, Math.ceil((Math.max(a[0], b[0]) + keep - f.x0) / f.h));
    const j0 = Math.max(0, Math.floor((Math.min(a[1], b[1]) - keep - f.y0) / f.h));
    const j1 = Math.min(f.ny - 1, Math.ceil((Math.max(a[1], b[1]) + keep - f.y0) / f.h));
    for (let j = j0; j <= j1; j += 1)
      for (let i = i0; i <= i1; i += 1) {
        const p: Point = [f.x0 + i * f.h, f.y0 + j * f.h];
        if (pointSegmentDistance(p, a, b) < keep && !spare(p)) f.open[j * f.nx + i] = 0;
      }
  }
}

/** To 1/1000000 mm, so that a foot point on an axis-parallel wall keeps the coordinate it projects. */
const rounded = ([x, y]: Point): Point => [Math.round(x * 1e6) / 1e6, Math.round(y * 1e6) / 1e6];

/** Cheapest leads from a wall: cost counts half pitches, a corner as many as `bend`. */
export interface LeadFlood {
  /** Cost of reaching a node; -1 where no lead does. */
  cost(v: number): number;
  /** From the wall point to the node. */
  leadTo(v: number): Ring;
}

/**
 * Leads that start square to the wall a-b. The stretch in the wall from `foot` to the place where the lead leaves it
 * counts as length. `free` tells whether the first piece, from the wall to a node, meets nothing.
 */
export function floodFromWall(
  f: HalfLattice,
  a: Point,
  b: Point,
  foot: Point,
  bend: number,
  free: (from: Point, to: Point) => boolean,
): LeadFlood {
  const { nx, open } = f;
  const jump = [1, nx, -1, -nx];
  const best = new Int32Array(open.length * 4).fill(-1);
  const from = new Int8Array(open.length * 4).fill(-1);
  const walls = new Map<number, Point>();
  const buckets: number[][] = [];
  const push = (state: number, cost: number, via: number): void => {
    if (best[state] >= 0 && best[state] <= cost) return;
    best[state] = cost;
    from[state] = via;
    const bucket = buckets[cost] ?? [];
    buckets[cost] = bucket;
    bucket.push(state);
  };
  const inward = [-(b[1] - a[1]), b[0] - a[0]];
  for (let v = 0; v < open.length; v += 1) {
    if (open[v] === 0) continue;
    const p = halfPoint(f, v);
    const wall = rounded(nearestOnSegment(p, a, b));
    if (Math.hypot(p[0] - wall[0], p[1] - wall[1]) > 1.5 * f.h + 1e-6 || !free(wall, p)) continue;
    walls.set(v, wall);
    const inWall = Math.round(Math.hypot(wall[0] - foot[0], wall[1] - foot[1]) / f.h);
    for (let d = 0; d < 4; d += 1) {
      const aligned = [inward[0], inward[1], -inward[0], -inward[1]][d];
      const square = Math.abs(aligned) >= Math.abs(inward[d % 2 === 0 ? 1 : 0]);
      const facing = (p[0] - wall[0]) * [1, 0, -1, 0][d] + (p[1] - wall[1]) * [0, 1, 0, -1][d] >= -1e-9;
      if (square && facing) push(v * 4 + d, inWall, -1);
    }
  }
  for (let cost = 0; cost < buckets.length; cost += 1) {
    const bucket = buckets[cost];
    if (bucket === undefined) continue;
    for (let head = 0; head < bucket.length; head += 1) {
      const state = bucket[head];
      if (best[state] !== cost) continue;
      const v = state >> 2;
      const d = state & 3;
      for (let e = 0; e < 4; e += 1) {
        if (e === (d + 2) % 4) continue;
        const i = v % nx;
        if ((e === 0 && i === nx - 1) || (e === 2 && i === 0)) continue;
        const w = v + jump[e];
        if (w < 0 || w >= open.length || open[w] === 0) continue;
        push(w * 4 + e, cost + 1 + (e === d ? 0 : bend), d);
      }
    }
  }
  const arrival = (v: number): number => {
    let dir = -1;
    for (let d = 0; d < 4; d += 1) {
      const c = best[v * 4 + d];
      if (c >= 0 && (dir < 0 || c < best[v * 4 + dir])) dir = d;
    }
    return dir;
  };
  return {
    cost: (v) => {
      const d = arrival(v);
      return d < 0 ? -1 : best[v * 4 + d];
    },
    leadTo: (v) => {
      const path: Point[] = [];
      let at = v;
      let dir = arrival(v);
      while (dir >= 0) {
        path.push(halfPoint(f, at));
        const before = from[at * 4 + dir];
        if (before < 0) break;
        at -= jump[dir];
        dir = before;
      }
      const wall = walls.get(at);
      if (wall !== undefined) path.push(wall);
      return path.reverse();
    },
  };
}
