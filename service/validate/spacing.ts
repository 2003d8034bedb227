import type { Spacing } from '../../solver/problem.js';
import type { Fault } from '../problems.js';

/** min <= target <= max. */
export const spacingFaults = ({ min, target, max }: Spacing): readonly Fault[] => {
  const faults: Fault[] = [];
  if (min > target) {
    faults.push({
      pointer: '/spacing/min',
      detail: `spacing.min is ${min} studs and spacing.target ${target}; min may be at most target.`,
    });
  }
  if (target > max) {
    faults.push({
      pointer: '/spacing/max',
      detail: `spacing.max is ${max} studs and spacing.target ${target}; max must be at least target.`,
    });
  }
  return faults;
};
