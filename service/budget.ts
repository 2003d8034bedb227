import { signedArea } from '../solver/geometry/measure.js';
import type { Effort, Ring } from '../solver/problem.js';

/** Guard of one solve in milliseconds, counted from its start. */
export interface Budget {
  /** From here on the solver is told that its time is over; it answers with the best legal layout it has. */
  readonly softMs: number;
  /** At this point its thread is stopped. */
  readonly hardMs: number;
}

/** For a zone of up to ORDINARY_AREA; larger ones get more in proportion. */
const PER_ZONE_MS: Readonly<Record<Effort, number>> = { quick: 10_000, normal: 25_000, thorough: 120_000 };
/** mm2. */
const ORDINARY_AREA = 25e6;
const LONGEST_MS = 600_000;
/** The rest is for coming to an end. */
const SOFT_SHARE = 0.6;

const sizeOf = (outline: Ring): number => Math.max(1, Math.abs(signedArea(outline)) / ORDINARY_AREA);

export const layoutBudget = (effort: Effort, zones: readonly { readonly outline: Ring }[]): Budget => {
  const size = zones.reduce((sum, { outline }) => sum + sizeOf(outline), 0);
  const hardMs = Math.min(PER_ZONE_MS[effort] * size, LONGEST_MS);
  return { softMs: hardMs * SOFT_SHARE, hardMs };
};

/** For work that does not search: judging a path. */
export const CHECK_BUDGET: Budget = { softMs: 8_000, hardMs: 10_000 };
