/** Heat density: W/m2 of a cable over the target area it heats, as a wish and as a limit. */
import type { Cable, HeatDensity } from '../problem.js';

/** Share of the target area that a deviation from the wished density of its own size (100 %) counts as unheated. */
const SHARE = 0.1;

/** The same for a density outside the limits, while it is only estimated: such cables are tried last. */
const OUTSIDE_SHARE = 10;

const MM2 = 1e6;

/** W/m2 of a cable that heats `heated` mm2; Infinity where it heats nothing. */
export const densityOf = (cable: Cable, heated: number): number => cable.power / (heated / MM2);

/** W/m2 by which a density lies above `most` (+) or below `least` (-); 0 within the limits. */
export const beyondLimits = ({ least, most }: HeatDensity, density: number): number => {
  if (most !== null && density > most) return density - most;
  if (least !== null && density < least) return density - least;
  return 0;
};

/**
 * What the deviation from the wished density adds to the objective, mm2 of unheated floor: 1 % of deviation counts
 * as 0.1 % of the target area `total` (mm2).
 */
export const densityCost = (
  wish: HeatDensity | undefined,
  cable: Cable,
  heated: number,
  total: number,
): number => {
  if (wish === undefined || wish.target === null || total <= 0) return 0;
  // A layout that heats next to nothing has no meaningful density; its cold floor speaks against it already.
  const density = densityOf(cable, Math.max(heated, total / 100));
  return Math.abs(density / wish.target - 1) * SHARE * total;
};

/** The cost while the heated area is a guess: limits count too, softly. */
export const guessedDensityCost = (
  wish: HeatDensity | undefined,
  cable: Cable,
  heated: number,
  total: number,
): number => {
  if (wish === undefined || total <= 0) return 0;
  const density = densityOf(cable, Math.max(heated, total / 100));
  const beyond = Math.abs(beyondLimits(wish, density)) / density;
  return densityCost(wish, cable, heated, total) + beyond * OUTSIDE_SHARE * total;
};
