import { distance } from '../geometry/measure.js';
import { cornerRadius, type Point, type Ring, type Setting, type Zone } from '../problem.js';
import { coverageOf } from './coverage.js';
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

/** A finger counted in `Looks`: the corners of its tip, and its shorter leg, mm. */
interface Finger {
  readonly tip: readonly [Corner, Corner];
  readonly depth: number;
}

/** Lengths on the wire are rounded, mm. */
const ROUNDING = 0.01;

/** mm2 in a square metre. */
const M2 = 1e6;

/**
 * Counts the oddities of a path. Its first and last straight piece are no legs: where the cable enters and how long
 * it is decide their length.
 */
export function looksOf(path: Ring, setting: Setting): Looks {
  const { lattice, spacing } = setting;
  const { lengths, opposite, short } = piecesOf(path, setting);
  const least = Math.max(lattice.pitch + 2 * ROUNDING, spacing.min * lattice.pitch - ROUNDING);
  const step = lengths.map((length, k) => opposite[k] && length < short);
  return {
    jogs: lengths.filter((length, k) => opposite[k] && length < least).length,
    stairs: step.filter((is, k) => is && step[k + 1] && !step[k - 1]).length,
    fingers: fingersOf(path, setting).length,
  };
}

/** For each short finger: the target area, mm2, that would be cold if the cable went straight on at its foot. */
export function heatOfFingers(zone: Zone, setting: Setting, path: Ring): number[] {
  const radius = cornerRadius(setting.lattice);
  const coldOf = (points: Ring): number => {
    const line = lineOf({ path: points, reserve: [] }, radius);
    const window = { earliest: line.pathEnd, latest: line.pathEnd, tolerance: 0, missing: 0 };
    return coverageOf(zone, setting, line, window).unheatedArea * M2;
  };
  const fingers = fingersOf(path, setting);
  if (fingers.length === 0) return [];
  const cold = coldOf(path);
  return fingers.map(({ tip, depth }) => {
    const pulled = path.map((p, k): Point => {
      if (!tip.some(({ at }) => distance(at, p) < ROUNDING)) return p;
      // The neighbour that is not the other corner of the tip is up the leg.
      const foot = [path[k - 1], path[k + 1]].find(
        (q) => q && !tip.some(({ at }) => distance(at, q) < ROUNDING),
      );
      if (!foot) return p;
      const share = depth / distance(p, foot);
      return [p[0] + (foot[0] - p[0]) * share, p[1] + (foot[1] - p[1]) * share];
    });
    return Math.max(0, coldOf(pulled) - cold);
  });
}

function fingersOf(path: Ring, setting: Setting): Finger[] {
  const { corners, lengths, opposite, short } = piecesOf(path, setting);
  const leg = (k: number): number => lengths[k] ?? Infinity;
  return lengths.flatMap((tip, k) => {
    const depth = Math.min(leg(k - 1), leg(k + 1));
    return !opposite[k] && tip < short && depth < short ? [{ tip: [corners[k], corners[k + 1]], depth }] : [];
  });
}

/** Straight pieces between corners: their lengths, whether the corners turn opposite ways, and what counts as short. */
function piecesOf(path: Ring, { lattice, spacing }: Setting) {
  const { corners } = lineOf({ path, reserve: [] }, cornerRadius(lattice));
  const lengths = corners.slice(1).map((corner, k) => corner.position - corners[k].position);
  const opposite = lengths.map((_, k) => bendsBack(corners[k], corners[k + 1]));
  return { corners, lengths, opposite, short: 2 * spacing.target * lattice.pitch - ROUNDING };
}

const bendsBack = (a: Corner, b: Corner): boolean => a.turn > 0 !== b.turn > 0;
