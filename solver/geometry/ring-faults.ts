import type { Point, Ring } from '../problem.js';
import { cross, meetingPoint, signedArea } from './measure.js';

/** What keeps a ring from being a simple polygon. */
export interface RingFault {
  readonly kind: 'too-few-vertices' | 'repeated-vertex' | 'zero-area' | 'self-crossing' | 'self-touching';
  /** Where (mm); null when the ring as a whole is at fault. */
  readonly at: Point | null;
  /** Index of the vertex, or of the first vertex of the edge, that is at fault; -1 for the ring as a whole. */
  readonly index: number;
}

const same = (a: Point, b: Point): boolean => a[0] === b[0] && a[1] === b[1];

/** Index of every pair of edges whose x ranges overlap, found by a sweep over their left ends. */
const closePairs = (ring: Ring): [number, number][] => {
  const n = ring.length;
  const left = (k: number): number => Math.min(ring[k][0], ring[(k + 1) % n][0]);
  const right = (k: number): number => Math.max(ring[k][0], ring[(k + 1) % n][0]);
  const order = ring.map((_, k) => k).sort((a, b) => left(a) - left(b) || a - b);
  const pairs: [number, number][] = [];
  let open: number[] = [];
  for (const k of order) {
    open = open.filter((other) => right(other) >= left(k));
    for (const other of open) pairs.push(other < k ? [other, k] : [k, other]);
    open.push(k);
  }
  return pairs.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
};

/**
 * Every reason why `ring` (first vertex not repeated at the end) is not a simple polygon, at most `most` of them.
 * An empty list means: at least three vertices, none repeated in a row, an area, no edge meets another except
 * neighbours in their common vertex.
 */
export const ringFaults = (ring: Ring, most = 20): readonly RingFault[] => {
  const n = ring.length;
  if (n < 3) return [{ kind: 'too-few-vertices', at: ring[0] ?? null, index: -1 }];
  const faults: RingFault[] = [];
  const at = (k: number): Point => ring[k % n];
  for (let k = 0; k < n && faults.length < most; k += 1) {
    if (same(at(k), at(k + 1))) faults.push({ kind: 'repeated-vertex', at: at(k + 1), index: (k + 1) % n });
  }
  if (faults.length > 0) return faults;
  for (const [i, j] of closePairs(ring)) {
    if (faults.length >= most) break;
    const [a, b, c, d] = [at(i), at(i + 1), at(j), at(j + 1)];
    if (j === i + 1 || (i === 0 && j === n - 1)) {
      // Neighbours share one vertex; they touch elsewhere only when they run back over one another.
      const [before, shared, after] = j === i + 1 ? [a, b, d] : [c, a, b];
      const dot =
        (before[0] - shared[0]) * (after[0] - shared[0]) + (before[1] - shared[1]) * (after[1] - shared[1]);
      if (dot > 0 && cross(before, shared, after) === 0) {
        faults.push({ kind: 'self-touching', at: shared, index: j === i + 1 ? j : i });
      }
      continue;
    }
    const where = meetingPoint(a, b, c, d);
    if (where === null) continue;
    const proper =
      cross(a, b, c) !== 0 && cross(a, b, d) !== 0 && cross(c, d, a) !== 0 && cross(c, d, b) !== 0;
    faults.push({ kind: proper ? 'self-crossing' : 'self-touching', at: where, index: j });
  }
  if (faults.length === 0 && signedArea(ring) === 0) faults.push({ kind: 'zero-area', at: null, index: -1 });
  return faults;
};
