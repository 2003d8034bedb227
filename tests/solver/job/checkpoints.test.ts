import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CHECKPOINT_SPAN, checkpointRuns } from '../../../solver/job/checkpoints.js';

/** Every admissible choice: gaps of least..most runs, 1..most runs after the last. */
const choices = (n: number, from = 0): number[][] => {
  const { least, most } = CHECKPOINT_SPAN;
  const all: number[][] = [];
  for (let gap = least; gap <= most; gap += 1) {
    const at = from + gap;
    if (at >= n) continue;
    if (n - at <= most) all.push([at]);
    for (const rest of choices(n, at)) all.push([at, ...rest]);
  }
  return all;
};

describe('checkpointRuns', () => {
  // 3 to 5 runs: common practice, no source
  it('needs none on three runs or fewer', () => {
    expect(checkpointRuns([100, 200, 300], CHECKPOINT_SPAN)).toEqual([]);
    expect(checkpointRuns([], CHECKPOINT_SPAN)).toEqual([]);
  });

  it('takes every fourth of equal runs', () => {
    const used = Array.from({ length: 12 }, (_, k) => (k + 1) * 1000);
    expect(checkpointRuns(used, CHECKPOINT_SPAN)).toEqual([4, 8]);
  });

  it('stands closer where runs are long', () => {
    const lengths = [2000, 2000, 2000, 2000, 2000, 2000, 300, 300, 300, 300, 300];
    let sum = 0;
    const used = lengths.map((length) => (sum += length));
    expect(checkpointRuns(used, CHECKPOINT_SPAN)).toEqual([3, 6]);
  });

  it('is as even as the best of all admissible choices', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 50, max: 4000 }), { minLength: 4, maxLength: 20 }),
        (lengths) => {
          let sum = 0;
          const used = lengths.map((length) => (sum += length));
          const n = used.length;
          const mean = (used[n - 1] / n) * 4;
          const cost = (chosen: readonly number[]): number =>
            [...chosen, n].reduce((total, at, k, all) => {
              const before = k === 0 ? 0 : used[all[k - 1] - 1];
              return total + (used[at - 1] - before - mean) ** 2;
            }, 0);
          const chosen = checkpointRuns(used, CHECKPOINT_SPAN);
          const every = choices(n);
          expect(every).toContainEqual(chosen);
          expect(cost(chosen)).toBeCloseTo(Math.min(...every.map(cost)), 3);
        },
      ),
      { seed: 11, numRuns: 150 },
    );
  });

  it('follows a span of the caller', () => {
    const used = Array.from({ length: 7 }, (_, k) => (k + 1) * 1000);
    expect(checkpointRuns(used, { least: 1, most: 2 }).length).toBeGreaterThanOrEqual(3);
  });
});
