import type { Cable } from '../problem.js';

/** Cold area (mm2) that a mm outside a cable's length window counts while lanes are chosen. */
const MISS_WEIGHT = 90;
/** The same for the first mm, up to this share of the cable: shaping makes them up. */
const SMALL_MISS_WEIGHT = 25;
const SMALL_MISS = 0.02;

/** A choice is not tried for a cable it misses by more than this share of the cable's length. */
export const FAR_OFF = 0.25;

/** What missing a cable's length window is expected to cost, mm2. */
export function missCost(miss: number, cable: Cable): number {
  const small = Math.min(miss, SMALL_MISS * cable.length);
  return small * SMALL_MISS_WEIGHT + (miss - small) * MISS_WEIGHT;
}

/** What being so many mm off the length that was expected costs, mm2. */
export const driftCost = (mm: number): number => Math.abs(mm) * SMALL_MISS_WEIGHT;

/** Main lengths (mm) with which a cable's end stays in the buffer. */
export interface CableWindow {
  readonly cable: Cable;
  readonly low: number;
  readonly high: number;
}

/** mm by which a length misses a window. */
export const missOf = ({ low, high }: Pick<CableWindow, 'low' | 'high'>, length: number): number =>
  Math.max(0, low - length, length - high);
