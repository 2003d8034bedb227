import { looksOf } from './check/looks.js';
import type { Ring, Setting } from './problem.js';

/** What an oddity of a finished layout counts beside its own turns, in turns. */
const JOG_TURNS = 24;
const STAIR_TURNS = 6;
const FINGER_TURNS = 2;

/**
 * Turns of a finished path as the objective counts them: a jog, a stair or a short finger counts as several more, so
 * that what an installer would laugh at has to heat clearly more than what runs straight.
 */
export function countedTurns(turns: number, path: Ring, setting: Setting): number {
  const { jogs, stairs, fingers } = looksOf(path, setting);
  return turns + JOG_TURNS * jogs + STAIR_TURNS * stairs + FINGER_TURNS * fingers;
}
