/** How good the layouts found so far are, and whether more work on the zone is likely to pay. */
export interface Standing {
  /** Least score of the layouts found, mm2; Infinity where there is none. */
  readonly score: number;
  /** Least cold floor of theirs, mm2; Infinity where there is none. */
  readonly cold: number;
  /** Least score that a choice of lanes promised, mm2. */
  readonly promise: number;
  /** Target area weighted by priority, mm2. */
  readonly total: number;
  /** How often routes were sought. */
  readonly round: number;
}

/** A score is poor above this share of the target area, if it is also so many times what lanes promised. */
const POOR = 0.022;
const POOR_BESIDE_PROMISE = 1.5;

/**
 * Rough shapes beyond so many times the best score are not shaped in full: beyond more times a poor one, and most in
 * later rounds, where little else is left to try.
 */
const HOPEFUL = 1.2;
const HOPEFUL_WHERE_POOR = 1.4;
const HOPEFUL_LATER = 1.75;

/** How often routes are sought while the best layout costs so many times what lanes promised. */
const ROUNDS = 2;
const AGAIN_BESIDE_PROMISE = 2.5;

/** As often as allowed while it costs and leaves cold such shares of the target area, and so many times what is next. */
const COLD_SHARE = 0.015;
const AGAIN_BESIDE_NEXT = 1.25;

const isPoor = ({ score, promise, total }: Standing): boolean =>
  score > Math.max(POOR * total, POOR_BESIDE_PROMISE * promise);

/** Below 98 % of the target. */
const COLD = 0.02;

export const isCold = ({ cold, total }: Standing): boolean => cold > COLD * total;

/** Whether the best layout costs so much more than lanes promised that other lanes are surely sought. */
export const isFarFromPromise = ({ score, promise, round }: Standing): boolean =>
  round < ROUNDS && score >= AGAIN_BESIDE_PROMISE * promise;

/** Whether more drafts than usual are worth shaping in full: layouts are poor, or were in an earlier round. */
export const isWanting = (standing: Standing): boolean => standing.round > 1 || isPoor(standing);

/**
 * Whether a route with such a score is worth working out: in later rounds only where it beats the best layout as it is,
 * or where that is warm and bends too often, for turns shaping may still take off.
 */
export const isPromising = (route: number, { round, score, cold, total }: Standing): boolean =>
  round === 1 || route <= score || cold <= COLD_SHARE * total;

/** Whether a draft with such a score, roughly shaped, may beat the best layout once it is shaped in full. */
export const isHopeful = (draft: number, standing: Standing): boolean =>
  draft <=
  standing.score * (standing.round > 1 ? HOPEFUL_LATER : isPoor(standing) ? HOPEFUL_WHERE_POOR : HOPEFUL);

/**
 * Whether to seek routes once more, `most` times in all. `next` gives the least score (mm2) that lanes not routed yet
 * promise by now: what routes have taught since may have ruled out those that promised most.
 */
export function worthAnotherRound(standing: Standing, most: number, next: () => number): boolean {
  const { score, cold, total, round } = standing;
  if (round >= most) return false;
  if (isFarFromPromise(standing)) return true;
  const wanted = score > POOR * total && cold < Infinity && cold > COLD_SHARE * total;
  return wanted && score > AGAIN_BESIDE_NEXT * next();
}
