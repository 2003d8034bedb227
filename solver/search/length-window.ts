import type { Cable } from '../problem.js';
import type { ZoneSpace } from './zone-space.js';

/** Room left for rounding when a layout is fitted to a cable, mm. */
const MARGIN = 4;

/** By how much (mm) a cable laid with that many turns may end earlier or later than planned. */
export const endPlay = (space: ZoneSpace, cable: Cable, turns: number): number =>
  cable.tolerance * cable.length + space.setting.placementSlopPerTurn * turns;

/** Heating cable left for the zone itself, mm. */
export const lengthInZone = (space: ZoneSpace, cable: Cable): number => cable.length - space.zone.leadIn;

/**
 * Laid lengths [least, most] from the entry to the first node in the buffer with which the cable's end stays in the
 * buffer however long the cable really is, when the path can go on for `tail` mm there. Empty when least > most.
 */
export function mainWindow(space: ZoneSpace, cable: Cable, turns: number, tail: number): [number, number] {
  const play = endPlay(space, cable, turns) + MARGIN;
  const length = lengthInZone(space, cable);
  return [Math.max(0, length - tail + play), length - play];
}
