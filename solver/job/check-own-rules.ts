/** Judges the run over the dry floor by the path rules of spacing and bends; shares no code with the search. */
import { cross, distance } from '../geometry/measure.js';
import type { Point } from '../problem.js';
import type { CrossingFault } from './check-crossing.js';
import type { Crossing, CrossingTask } from './crossing.js';

/** Distance between sample points, mm. */
const STEP = 10;

export function checkOwnRules(task: CrossingTask, { lead, enter }: Crossing): CrossingFault[] {
  const faults: CrossingFault[] = [];
  const keep = task.setting.spacing.min * task.setting.lattice.pitch;
  const line = [...lead.slice(0, -1), enter];
  const samples: { p: Point; s: number }[] = [];
  let length = 0;
  line.forEach((b, k) => {
    const a = line[k - 1];
    if (a === undefined) return;
    const leg = distance(a, b);
    for (let t = 0; t < leg; t += STEP)
      samples.push({
        p: [a[0] + (t / leg) * (b[0] - a[0]), a[1] + (t / leg) * (b[1] - a[1])],
        s: length + t,
      });
    length += leg;
  });
  let worst: { at: Point; gap: number } | null = null;
  for (const [i, one] of samples.entries())
    for (const two of samples.slice(i + 1)) {
      const gap = distance(one.p, two.p);
      if (gap < keep - 0.5 && two.s - one.s > Math.SQRT2 * gap + 1 && (worst === null || gap < worst.gap))
        worst = { at: two.p, gap };
    }
  if (worst !== null)
    faults.push({
      rule: 'lead-spacing',
      at: worst.at,
      size: keep - worst.gap,
      message: `The run to the shower comes within ${worst.gap.toFixed(0)} mm of itself; ${keep} mm are kept.`,
    });
  for (let k = 1; k + 2 < lead.length; k += 1) {
    const first = cross(lead[k - 1], lead[k], lead[k + 1]);
    const second = cross(lead[k], lead[k + 1], lead[k + 2]);
    const apart = distance(lead[k], lead[k + 1]);
    if (first * second > 0 && apart < 2 * task.minBendRadius - 0.5)
      faults.push({
        rule: 'lead-bends',
        at: lead[k],
        size: 2 * task.minBendRadius - apart,
        message: `Two corners that turn the same way stand ${apart.toFixed(0)} mm apart; the cable needs ${(2 * task.minBendRadius).toFixed(0)} mm.`,
      });
  }
  return faults;
}
