import { distance } from '../geometry/measure.js';
import type { Point, Ring } from '../problem.js';
import { turnAt, withoutStraights } from './bends.js';

/** A run as the layer sees it: a straight stretch, and the short step over to the next parallel one. */
export interface LayingRun {
  /** Counts from 1 in the order of the polyline. */
  readonly n: number;
  readonly from: Point;
  readonly to: Point;
  readonly length: number;
  /** How the cable turns at `to`; null at the end of the polyline. */
  readonly turn: 'left' | 'right' | null;
  /** Step over after the run that ends in a turn back, to the run beside this one; null where the cable turns off. */
  readonly over: { readonly to: Point; readonly length: number } | null;
}

/**
 * Splits a polyline into runs. A piece between two opposite pieces that is no longer than `longestStep` (the widest
 * spacing) is the step of a turn back and belongs to the run before it.
 */
export function layingRuns(path: Ring, longestStep: number): readonly LayingRun[] {
  const p = withoutStraights(path);
  const runs: LayingRun[] = [];
  for (let k = 0; k + 1 < p.length; ) {
    const turn = k + 2 < p.length ? turnAt(p[k], p[k + 1], p[k + 2]) : 0;
    const back = k + 3 < p.length ? turnAt(p[k + 1], p[k + 2], p[k + 3]) : 0;
    const step = k + 2 < p.length ? distance(p[k + 1], p[k + 2]) : 0;
    const turnsBack = turn * back > 0 && Math.abs(turn + back) > Math.PI - 0.01 && step <= longestStep + 0.5;
    runs.push({
      n: runs.length + 1,
      from: p[k],
      to: p[k + 1],
      length: distance(p[k], p[k + 1]),
      turn: turn > 0 ? 'left' : turn < 0 ? 'right' : null,
      over: turnsBack ? { to: p[k + 2], length: step } : null,
    });
    k += turnsBack ? 2 : 1;
  }
  return runs;
}
