import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CutTask, cutStrips, type Strip } from '../../../solver/parts/cut-lines.js';

const task = (areas: readonly number[], change: Partial<CutTask> = {}): CutTask => ({
  areas: Float64Array.from(areas),
  pitch: 30,
  gap: 2,
  narrowest: 2,
  entry: 0,
  misfit: () => 0,
  ...change,
});

const sum = (areas: Iterable<number>): number => [...areas].reduce((total, a) => total + a, 0);

/** Every way to cut, each strip at least as wide as it must be. */
const allCuts = (n: number, count: number, { gap, narrowest }: CutTask, first = 0): [number, number][][] => {
  if (count === 1) return n - first >= narrowest ? [[[first, n - 1]]] : [];
  const ways: [number, number][][] = [];
  for (let last = first + narrowest - 1; last + gap < n; last++)
    for (const rest of allCuts(n, count - 1, { gap, narrowest } as CutTask, last + gap))
      ways.push([[first, last], ...rest]);
  return ways;
};

describe('cutStrips', () => {
  it('cuts an even floor evenly when the entry is in its middle', () => {
    const strips = cutStrips(task(new Array(41).fill(100), { entry: 20 }), 2);
    expect(strips).toEqual([
      { first: 0, last: 19, area: 2050 },
      { first: 21, last: 40, area: 2050 },
    ]);
  });

  it('shares the whole area out, strips a gap apart and no narrower than they may be', () => {
    const areas = fc.array(fc.double({ min: 1, max: 100, noNaN: true }), { minLength: 12, maxLength: 40 });
    fc.assert(
      fc.property(
        areas,
        fc.integer({ min: 2, max: 4 }),
        fc.integer({ min: 1, max: 3 }),
        (floor, count, gap) => {
          const strips = cutStrips(task(floor, { gap, entry: floor.length / 3 }), count);
          expect(strips === null).toBe(allCuts(floor.length, count, task(floor, { gap })).length === 0);
          if (strips === null) return;
          expect(strips.length).toBe(count);
          expect(sum(strips.map(({ area }) => area))).toBeCloseTo(sum(floor), 6);
          expect(strips[0]?.first).toBe(0);
          expect(strips.at(-1)?.last).toBe(floor.length - 1);
          strips.forEach(({ first, last }, k) => {
            expect(last - first + 1).toBeGreaterThanOrEqual(2);
            if (k > 0) expect(first - (strips[k - 1]?.last ?? 0)).toBe(gap);
          });
        },
      ),
      { seed: 5, numRuns: 200 },
    );
  });

  it('finds a cut whenever one suits (enumeration of all cuts)', () => {
    const areas = fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 8, maxLength: 14 });
    const limits = fc.tuple(fc.integer({ min: 5, max: 60 }), fc.integer({ min: 1, max: 40 }));
    fc.assert(
      fc.property(areas, fc.integer({ min: 2, max: 3 }), limits, (floor, count, [low, span]) => {
        const suits = (area: number): boolean => area >= low && area <= low + span;
        const own = task(floor, { misfit: (area) => (suits(area) ? 0 : Number.POSITIVE_INFINITY) });
        // Areas up to the middle of a gap of two channels: half of the channel between belongs to each side.
        const areaOf = ([first, last]: [number, number]): number =>
          sum(floor.slice(first, last + 1)) +
          (first > 0 ? (floor[first - 1] ?? 0) / 2 : 0) +
          (last < floor.length - 1 ? (floor[last + 1] ?? 0) / 2 : 0);
        const possible = allCuts(floor.length, count, own).some((strips) =>
          strips.every((s) => suits(areaOf(s))),
        );
        const found: Strip[] | null = cutStrips(own, count);
        expect(found !== null).toBe(possible);
        if (found !== null) for (const { area } of found) expect(suits(area)).toBe(true);
      }),
      { seed: 9, numRuns: 300 },
    );
  });

  it('cuts a floor of thousands of channels', () => {
    const strips = cutStrips(task(new Array(4000).fill(1), { entry: 2000, pitch: 5 }), 4);
    expect(strips?.length).toBe(4);
    expect(sum((strips ?? []).map(({ area }) => area))).toBeCloseTo(4000, 6);
    for (const [k, { first }] of (strips ?? []).entries())
      if (k > 0) expect(first - (strips?.[k - 1]?.last ?? 0)).toBe(2);
  });
});
