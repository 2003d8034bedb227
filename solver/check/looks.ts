import { cornerRadius, type Ring, type Setting } from '../problem.js';
import { type Corner, lineOf } from './line.js';

/** What an installer would laugh at in a finished layout. None of it is forbidden. */
export interface Looks {
  /** Straight pieces of one stud, or shorter than the least spacing, between corners that turn opposite ways. */
  readonly jogs: number;
  /** Rows of two or more such bends whose straight pieces are shorter than two spacings. */
  readonly stairs: number;
  /** U-turns that the cable enters or leaves by a straight piece shorter than two spacings. */
  readonly fingers: number;
}

/** Lengths on the wire are rounded, mm. */
const ROUNDING = 0.01;

/**
 * Counts the oddities of a path. Its first and last straight piece are no legs: where the cable enters and how long
 * it is decide their length.
 */
export function looksOf(path: Ring, { lattice, spacing }: Setting): Looks {
  const { corners } = lineOf({ path, reserve: [] }, cornerRadius(lattice));
  const short = 2 * spacing.target * lattice.pitch - ROUNDING;
  const least = Math.max(lattice.pitch + 2 * ROUNDING, spacing.min * lattice.pitch - ROUNDING);
  const lengths = corners.slice(1).map((corner, k) => corner.position - corners[k].position);
  const opposite = lengths.map((_, k) => bendsBack(corners[k], corners[k + 1]));
  const step = lengths.map((length, k) => opposite[k] && length < short);
  const leg = (k: number): number => lengths[k] ?? Infinity;
  return {
    jogs: lengths.filter((length, k) => opposite[k] && length < least).length,
    stairs: step.filter((is, k) => is && step[k + 1] && !step[k - 1]).length,
    fingers: lengths.filter(
      (tip, k) => !opposite[k] && tip < short && Math.min(leg(k - 1), leg(k + 1)) < short,
    ).length,
  };
}

const bendsBack = (a: Corner, b: Corner): boolean => a.turn > 0 !== b.turn > 0;
