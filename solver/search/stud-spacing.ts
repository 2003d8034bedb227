import type { StudLattice } from '../lattice/stud-lattice.js';

/** True when two nodes of a walk, one of them at `from` or later, lie closer than the spacing allows. */
export function tooClose(s: StudLattice, walk: ArrayLike<number>, from: number, minGap: number): boolean {
  const near = neighbourhood(s, minGap);
  const position = new Int32Array(s.free.length).fill(-1);
  for (let k = 0; k < walk.length; k++) {
    if (position[walk[k]] >= 0) return true;
    position[walk[k]] = k;
  }
  for (let k = from; k < walk.length; k++)
    for (let n = 0; n < near.count; n++) {
      if (!existsNear(s, near, walk[k], n)) continue;
      const at = position[walk[k] + near.offset[n]];
      if (at >= 0 && Math.abs(at - k) > near.most[n]) return true;
    }
  return false;
}

export interface Neighbourhood {
  readonly count: number;
  readonly dx: Int32Array;
  readonly offset: Int32Array;
  /** Longest stretch of path (studs) allowed between two nodes this far apart. */
  readonly most: Int32Array;
  readonly longest: number;
}

/** Lattice offsets closer than `minGap` studs, with the longest path between that still counts as one corner. */
export function neighbourhood(s: StudLattice, minGap: number): Neighbourhood {
  const dx: number[] = [];
  const offset: number[] = [];
  const most: number[] = [];
  for (let y = -minGap; y <= minGap; y++)
    for (let x = -minGap; x <= minGap; x++) {
      const d = Math.hypot(x, y);
      if (d === 0 || d >= minGap - 1e-9) continue;
      dx.push(x);
      offset.push(y * s.nx + x);
      most.push(Math.floor(Math.SQRT2 * d + 1 / s.lattice.pitch + 1e-9));
    }
  return {
    count: dx.length,
    dx: Int32Array.from(dx),
    offset: Int32Array.from(offset),
    most: Int32Array.from(most),
    longest: Math.max(1, ...most),
  };
}

/** Whether the lattice has the n-th node near node v. */
export function existsNear(s: StudLattice, near: Neighbourhood, v: number, n: number): boolean {
  const x = (v % s.nx) + near.dx[n];
  const w = v + near.offset[n];
  return x >= 0 && x < s.nx && w >= 0 && w < s.free.length;
}

/** Sets a node and those nearer to it than the gap. */
export function markAround(s: StudLattice, near: Neighbourhood, v: number, taken: Uint8Array): void {
  taken[v] = 1;
  for (let n = 0; n < near.count; n++) if (existsNear(s, near, v, n)) taken[v + near.offset[n]] = 1;
}
