import type { Cable, Setting } from '../problem.js';
import type { Line } from './line.js';
import type { RuleVerdict, Violation } from './report.js';
import { mm, verdictOf, type Worst } from './verdict.js';

/** Corners this little (mm) too close are at the limit: coordinates are floats. */
const NOISE = 0.01;

/** A turn of more than this (radians) folds the cable back on itself. */
const REVERSAL = Math.PI - 1e-3;

/** Whether the cable cannot make a U-turn even at the widest spacing. */
export const tooStiff = (setting: Setting, cable: Cable): boolean =>
  2 * cable.minBendRadius > setting.spacing.max * setting.lattice.pitch + NOISE;

/** Consecutive corners that turn the same way stand at least 2 x minBendRadius apart along the path. */
export const bendsRule = (setting: Setting, cable: Cable, line: Line): RuleVerdict => {
  const limit = 2 * cable.minBendRadius;
  const violations: Violation[] = [];
  let worst: Worst = { value: Number.POSITIVE_INFINITY, at: null };
  if (tooStiff(setting, cable)) {
    const widest = setting.spacing.max * setting.lattice.pitch;
    const message = `A U-turn needs ${mm(limit)}, the widest spacing is ${mm(widest)}.`;
    violations.push({ at: line.points[0] ?? [0, 0], size: widest, message });
    worst = { value: widest, at: line.points[0] ?? null };
  }
  line.corners.forEach((corner, k) => {
    if (Math.abs(corner.turn) > REVERSAL) {
      violations.push({ at: corner.at, size: 0, message: 'The cable turns back on itself.' });
      worst = { value: 0, at: corner.at };
    }
    const before = line.corners[k - 1];
    if (before === undefined || before.turn > 0 !== corner.turn > 0) return;
    const apart = corner.position - before.position;
    if (apart < worst.value) worst = { value: apart, at: before.at };
    if (apart >= limit - NOISE) return;
    const message = `Two corners that turn the same way stand ${mm(apart)} apart, the cable needs ${mm(limit)}.`;
    violations.push({ at: before.at, size: apart, message });
  });
  return verdictOf('bends', limit, worst, violations, 0, -1);
};
