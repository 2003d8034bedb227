import { signedArea } from '../solver/geometry/measure.js';
import type { Effort, Ring } from '../solver/problem.js';

/** Guard of one solve in milliseconds, counted from its start. */
export interface Budget {
  /** From here on the solver is told that its time is over; it answers with the best legal layout it has. */
  readonly softMs: number;
  /** At this point its thread is stopped. */
  readonly hardMs: number;
}

/**
 * For a zone of up to ORDINARY_SIZE; larger ones get more in proportion. Many times what an idle machine takes: the
 * guard is for machines that stall, not for those that are busy.
 */
const PER_ZONE_MS: Readonly<Record<Effort, number>> = { quick: 40_000, normal: 100_000, thorough: 400_000 };
/** Stud crossings; 10 m2 at a pitch of 30 mm: what one cable heats. */
const ORDINARY_SIZE = 10e6 / 30 ** 2;
const LONGEST_MS = 600_000;
/** The rest is for coming to an end. */
const SOFT_SHARE = 0.6;

const sizeOf = (outline: Ring, pitch: number): number =>
  Math.max(1, Math.abs(signedArea(outline)) / pitch ** 2 / ORDINARY_SIZE);

export const layoutBudget = (
  effort: Effort,
  zones: readonly { readonly outline: Ring }[],
  pitch: number,
): Budget => {
  const size = zones.reduce((sum, { outline }) => sum + sizeOf(outline, pitch), 0);
  const hardMs = Math.min(PER_ZONE_MS[effort] * size, LONGEST_MS);
  return { softMs: hardMs * SOFT_SHARE, hardMs };
};

/** For work that does not search: judging a path. */
export const CHECK_BUDGET: Budget = { softMs: 24_000, hardMs: 30_000 };
