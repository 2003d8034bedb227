import { distance } from '../geometry/measure.js';
import type { Point } from '../problem.js';
import { MOST_VIOLATIONS, type RuleName, type RuleVerdict, type Violation } from './report.js';

/** Worst value of a rule and its place. */
export interface Worst {
  readonly value: number;
  readonly at: Point | null;
}

/** One violation per place: of those nearer than `apart` mm to a worse one, only the worse. */
const onePerPlace = (violations: readonly Violation[], apart: number, worseFirst: 1 | -1): Violation[] => {
  const sorted = [...violations].sort((a, b) => worseFirst * (b.size - a.size));
  const kept: Violation[] = [];
  for (const violation of sorted) {
    if (kept.length === MOST_VIOLATIONS) break;
    if (kept.every((other) => distance(other.at, violation.at) >= apart)) kept.push(violation);
  }
  return kept;
};

/**
 * Verdict of one rule from all its violations. `apart`: violations nearer to one another than this are one place
 * (0 keeps all); `worseFirst`: 1 when a large size is worse, -1 when a small one is.
 */
export const verdictOf = (
  rule: RuleName,
  limit: number,
  worst: Worst,
  violations: readonly Violation[],
  apart = 0,
  worseFirst: 1 | -1 = 1,
): RuleVerdict => ({
  rule,
  ok: violations.length === 0,
  worst: Number.isFinite(worst.value) ? worst.value : limit,
  limit,
  at: worst.at,
  violations: onePerPlace(violations, apart, worseFirst),
});

/** Millimetres in a message. */
export const mm = (value: number): string => `${Math.round(value * 10) / 10} mm`;
