import { nodePoint, type StudLattice } from '../lattice/stud-lattice.js';
import type { Ring } from '../problem.js';

/** Shortest walks along stud channels from one node, fewest corners among the shortest. */
export interface FloorWalk {
  /** Channel pieces from the start to each node; -1 where it cannot be reached. */
  readonly steps: Int32Array;
  /** Fewest corners on a shortest walk, a corner at the start included. */
  turns(v: number): number;
  /** Points from `v` back to the start. */
  pathFrom(lattice: StudLattice, v: number): Ring;
}

/** East, north, west, south. */
const DX = [1, 0, -1, 0];
const DY = [0, 1, 0, -1];
const UNSEEN = 0x7fffffff;

/**
 * `heading` (unit lattice vector or any other) is how the cable leaves the start on its far side: a walk that
 * arrives in that direction has no corner there. Nodes with `blocked` = 1 are not walked on.
 */
export function floorWalk(
  s: StudLattice,
  start: number,
  heading: readonly [number, number],
  blocked: Uint8Array,
): FloorWalk {
  const size = s.free.length;
  const steps = new Int32Array(size).fill(-1);
  const corners = new Int32Array(size * 4).fill(UNSEEN);
  const cameFrom = new Int8Array(size * 4).fill(-1);
  const jump = [1, s.nx, -1, -s.nx];
  const open = (v: number, e: number): boolean =>
    (e === 0 && s.east[v] === 1) ||
    (e === 1 && s.north[v] === 1) ||
    (e === 2 && v > 0 && s.east[v - 1] === 1) ||
    (e === 3 && v >= s.nx && s.north[v - s.nx] === 1);
  const queue: number[] = [];
  if (s.free[start] === 1 && blocked[start] === 0) {
    steps[start] = 0;
    queue.push(start);
  }
  for (let head = 0; head < queue.length; head += 1) {
    const v = queue[head];
    for (let e = 0; e < 4; e += 1) {
      if (!open(v, e)) continue;
      const w = v + jump[e];
      if (blocked[w] === 1) continue;
      if (steps[w] < 0) {
        steps[w] = steps[v] + 1;
        queue.push(w);
      } else if (steps[w] !== steps[v] + 1) continue;
      let least = UNSEEN;
      let via = -1;
      if (v === start) least = DX[e] === -heading[0] && DY[e] === -heading[1] ? 0 : 1;
      else {
        for (let d = 0; d < 4; d += 1) {
          const c = corners[v * 4 + d];
          if (c === UNSEEN) continue;
          const sum = c + (d === e ? 0 : 1);
          if (sum < least) {
            least = sum;
            via = d;
          }
        }
      }
      if (least < corners[w * 4 + e]) {
        corners[w * 4 + e] = least;
        cameFrom[w * 4 + e] = via;
      }
    }
  }
  const best = (v: number): number => {
    let dir = 0;
    for (let d = 1; d < 4; d += 1) if (corners[v * 4 + d] < corners[v * 4 + dir]) dir = d;
    return dir;
  };
  return {
    steps,
    turns: (v) => (v === start ? 0 : corners[v * 4 + best(v)]),
    pathFrom: (lattice, v) => {
      const path = [nodePoint(lattice, v)];
      let at = v;
      let dir = best(v);
      while (at !== start) {
        const before = cameFrom[at * 4 + dir];
        at -= jump[dir];
        dir = before;
        path.push(nodePoint(lattice, at));
      }
      return path;
    },
  };
}
