import { distance } from '../geometry/measure.js';
import type { Point, Ring } from '../problem.js';

/** Turn of the polyline a-b-c at b: radians, positive to the left, 0 straight on. */
export const turnAt = (a: Point, b: Point, c: Point): number => {
  const ux = b[0] - a[0];
  const uy = b[1] - a[1];
  const vx = c[0] - b[0];
  const vy = c[1] - b[1];
  return Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
};

/** A turn below this (radians) is drawing noise, not a corner. */
const STRAIGHT = 1e-6;

/**
 * Cable saved by rounding a corner of `angle` radians with radius r: two tangents less the arc,
 * 2 r tan(angle / 2) - r angle. A right angle gives (2 - pi/2) r. Derived.
 */
export const bendSaving = (angle: number, r: number): number => {
  const turn = Math.abs(angle);
  return turn < STRAIGHT ? 0 : r * (2 * Math.tan(turn / 2) - turn);
};

export interface PlanBends {
  readonly turns: number;
  /** Cable saved by rounding them, mm. */
  readonly saving: number;
}

/** Corners of an open polyline and what rounding them with radius r saves. */
export const planBends = (path: Ring, r: number): PlanBends => {
  let turns = 0;
  let saving = 0;
  for (let k = 1; k + 1 < path.length; k += 1) {
    const angle = turnAt(path[k - 1], path[k], path[k + 1]);
    if (Math.abs(angle) < STRAIGHT) continue;
    turns += 1;
    saving += bendSaving(angle, r);
  }
  return { turns, saving };
};

/** The polyline without repeated points and without vertices on a straight stretch. */
export const withoutStraights = (path: Ring): Ring => {
  const kept: Point[] = [];
  for (const p of path) {
    const last = kept[kept.length - 1];
    if (last !== undefined && distance(last, p) < STRAIGHT) continue;
    const before = kept[kept.length - 2];
    if (before !== undefined && Math.abs(turnAt(before, last, p)) < STRAIGHT) kept.pop();
    kept.push(p);
  }
  return kept;
};
