import type { Effort } from '../solver/problem.js';

/** Guard of one solve in milliseconds, counted from its start. */
export interface Budget {
  /** From here on the solver is told that its time is over; it answers with the best legal layout it has. */
  readonly softMs: number;
  /** At this point its thread is stopped. */
  readonly hardMs: number;
}

const PER_ZONE_MS: Readonly<Record<Effort, number>> = { quick: 10_000, normal: 25_000, thorough: 120_000 };
const LONGEST_MS = 600_000;
const SOFT_SHARE = 0.8;

export const layoutBudget = (effort: Effort, zones: number): Budget => {
  const hardMs = Math.min(PER_ZONE_MS[effort] * zones, LONGEST_MS);
  return { softMs: hardMs * SOFT_SHARE, hardMs };
};

/** For work that does not search: judging a path. */
export const CHECK_BUDGET: Budget = { softMs: 8_000, hardMs: 10_000 };
