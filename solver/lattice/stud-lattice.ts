import { grow } from '../geometry/region.js';
import type { Lattice, Point, Region } from '../problem.js';
import { crossings } from './scanline.js';

/** How far outside the routing area the centre line may stray (half the tolerance of the rules). */
const EDGE_TOLERANCE = 0.25;

/**
 * The stud lattice over one zone's routing area. Node v = j * nx + i lies at
 * origin + ((i0 + i) * pitch, (j0 + j) * pitch). One ring of nodes outside the area is kept as a margin,
 * so neighbours v +- 1, v +- nx of any free node exist.
 */
export interface StudLattice {
  readonly lattice: Lattice;
  readonly i0: number;
  readonly j0: number;
  readonly nx: number;
  readonly ny: number;
  /** 1 where the node lies in the routing area. */
  readonly free: Uint8Array;
  /** 1 where the channel piece v -> v + 1 lies in the routing area. */
  readonly east: Uint8Array;
  /** 1 where the channel piece v -> v + nx lies in the routing area. */
  readonly north: Uint8Array;
}

export function studLattice(lattice: Lattice, routing: Region): StudLattice {
  const area = grow(routing, EDGE_TOLERANCE);
  const { pitch, origin } = lattice;
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of area)
    for (const [x, y] of ring) {
      x0 = Math.min(x0, x);
      x1 = Math.max(x1, x);
      y0 = Math.min(y0, y);
      y1 = Math.max(y1, y);
    }
  if (!(x1 > x0)) return empty(lattice);
  // A rounded -0 would make these doubles: compiled code that was made for small integers is thrown away then.
  const i0 = (Math.ceil((x0 - origin[0]) / pitch) - 1) | 0;
  const j0 = (Math.ceil((y0 - origin[1]) / pitch) - 1) | 0;
  const nx = (Math.floor((x1 - origin[0]) / pitch) + 2 - i0) | 0;
  const ny = (Math.floor((y1 - origin[1]) / pitch) + 2 - j0) | 0;
  const free = new Uint8Array(nx * ny);
  const east = new Uint8Array(nx * ny);
  const north = new Uint8Array(nx * ny);
  for (let j = 0; j < ny; j++)
    for (const [from, to] of channel(area, 'y', origin[1] + (j0 + j) * pitch, origin[0] + i0 * pitch, pitch))
      for (let i = Math.max(from, 0); i <= to && i < nx; i++) {
        free[j * nx + i] = 1;
        if (i < to) east[j * nx + i] = 1;
      }
  for (let i = 0; i < nx; i++)
    for (const [from, to] of channel(area, 'x', origin[0] + (i0 + i) * pitch, origin[1] + j0 * pitch, pitch))
      for (let j = Math.max(from, 0); j < to && j < ny; j++) {
        const v = j * nx + i;
        if (free[v] && free[v + nx]) north[v] = 1;
      }
  return { lattice, i0, j0, nx, ny, free, east, north };
}

/** Runs of node numbers [first, last] on one channel that lie in the area. */
function channel(
  area: Region,
  axis: 'x' | 'y',
  at: number,
  start: number,
  pitch: number,
): [number, number][] {
  const cuts = crossings(area, axis, at);
  const runs: [number, number][] = [];
  for (let k = 0; k + 1 < cuts.length; k += 2) {
    const first = Math.ceil((cuts[k] - start) / pitch);
    const last = Math.floor((cuts[k + 1] - start) / pitch);
    if (first <= last) runs.push([first, last]);
  }
  return runs;
}

function empty(lattice: Lattice): StudLattice {
  const none = new Uint8Array(1);
  return { lattice, i0: 0, j0: 0, nx: 1, ny: 1, free: none, east: none, north: none };
}

export const nodePoint = (s: StudLattice, v: number): Point => [
  s.lattice.origin[0] + (s.i0 + (v % s.nx)) * s.lattice.pitch,
  s.lattice.origin[1] + (s.j0 + Math.floor(v / s.nx)) * s.lattice.pitch,
];

/** The free node nearest to a point (lowest number on a tie), or -1 when there is none. */
export function nearestFree(s: StudLattice, p: Point): number {
  let best = -1;
  let least = Infinity;
  for (let v = 0; v < s.free.length; v++) {
    if (!s.free[v]) continue;
    const [x, y] = nodePoint(s, v);
    const d = Math.hypot(x - p[0], y - p[1]);
    if (d < least - 1e-9) {
      least = d;
      best = v;
    }
  }
  return best;
}

/** Nodes a cable can reach from `start` along free channels. */
export function reachable(s: StudLattice, start: number): Uint8Array {
  const seen = new Uint8Array(s.free.length);
  if (start < 0) return seen;
  const queue = [start];
  seen[start] = 1;
  for (let head = 0; head < queue.length; head++) {
    const v = queue[head];
    if (s.east[v] && !seen[v + 1]) seen[queue[queue.push(v + 1) - 1]] = 1;
    if (s.north[v] && !seen[v + s.nx]) seen[queue[queue.push(v + s.nx) - 1]] = 1;
    if (v > 0 && s.east[v - 1] && !seen[v - 1]) seen[queue[queue.push(v - 1) - 1]] = 1;
    if (v >= s.nx && s.north[v - s.nx] && !seen[v - s.nx]) seen[queue[queue.push(v - s.nx) - 1]] = 1;
  }
  return seen;
}
