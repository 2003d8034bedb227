import type { ZoneSpace } from './zone-space.js';

/** One turn never counts more than this share of the target area: small showers are worth the bends. */
const MOST_SHARE = 0.0008;

/**
 * The stated objective is unheated area + turns x this weight, mm2 (area weighted by priority; of finished layouts see
 * also `countedTurns`). The weight asked for, but no more than 0.08 % of the zone's target area.
 */
export const turnWorth = (space: ZoneSpace, asked: number): number =>
  Math.min(asked, MOST_SHARE * space.floor.total);
