import type { Mouths } from './mouths.js';
import type { ZoneSpace } from './zone-space.js';

/** Studs one turn is worth on the way to the buffer. */
const TURN_STUDS = 4;

/**
 * The shortest way (few turns preferred) over usable nodes from the start to a node with the buffer ahead, as lattice
 * nodes; null when there is none. It is what a cable too short for the floor is grown from.
 */
export function spine({ s, start, usable }: ZoneSpace, mouths: Mouths): number[] | null {
  const steps = [1, s.nx, -1, -s.nx];
  const pieces = [s.east, s.north, s.east, s.north];
  const offset = [0, 0, -1, -s.nx];
  const size = s.free.length;
  const cost = new Int32Array(size * 4).fill(-1);
  const from = new Int32Array(size * 4).fill(-1);
  const buckets: number[][] = [[]];
  for (let d = 0; d < 4; d++) {
    cost[start * 4 + d] = 0;
    buckets[0].push(start * 4 + d);
  }
  for (let c = 0; c < buckets.length; c++)
    for (const state of buckets[c] ?? []) {
      if (cost[state] !== c) continue;
      const v = state >> 2;
      if (mouths.east[v] || mouths.west[v] || mouths.north[v] || mouths.south[v])
        return readBack(from, state);
      for (let d = 0; d < 4; d++) {
        if (d === ((state & 3) ^ 2) || !pieces[d][v + offset[d]] || !usable[v + steps[d]]) continue;
        const next = (v + steps[d]) * 4 + d;
        const total = c + 1 + (d === (state & 3) ? 0 : TURN_STUDS);
        if (cost[next] >= 0 && cost[next] <= total) continue;
        cost[next] = total;
        from[next] = state;
        while (buckets.length <= total) buckets.push([]);
        buckets[total].push(next);
      }
    }
  return null;
}

function readBack(from: Int32Array, state: number): number[] {
  const nodes: number[] = [];
  for (let at = state; at >= 0; at = from[at]) nodes.push(at >> 2);
  return nodes.reverse();
}
