import { looksOf } from '../../solver/check/looks.js';
import type { Ring, Setting } from '../../solver/problem.js';

/**
 * The objective as DEVELOPERS.md states it, mm2: unheated area + turns x weight, a turn counting at most 0.08 % of the
 * target, a jog as 24 turns, a stair as 6, a short finger as 2.
 */
export function statedObjective(
  coverage: { readonly unheatedArea: number; readonly targetArea: number },
  turns: number,
  path: Ring,
  setting: Setting,
  turnWeight: number,
): number {
  const { jogs, stairs, fingers } = looksOf(path, setting);
  const weight = Math.min(turnWeight, 800 * coverage.targetArea);
  return coverage.unheatedArea * 1e6 + weight * (turns + 24 * jogs + 6 * stairs + 2 * fingers);
}
