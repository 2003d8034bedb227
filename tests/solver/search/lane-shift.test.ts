import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AxisLanes } from '../../../solver/search/lane-choice.js';
import { pricedLanes, UNEVEN } from '../../../solver/search/lane-shift.js';
import { lanesApart, lanesMadeOf } from '../../helpers/random-lanes.js';

const MIN_GAP = 2;
const GAPS = 4;

interface Case {
  readonly lanes: AxisLanes;
  readonly before: readonly number[];
  readonly crossed: Int32Array;
  readonly price: number;
}

/** Channels with random cold areas, a few breaks, and a set of lanes on them. */
const cases: fc.Arbitrary<Case> = fc
  .record({
    gaps: fc.array(fc.integer({ min: MIN_GAP, max: MIN_GAP + GAPS - 1 }), { minLength: 1, maxLength: 4 }),
    margins: fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 3 })),
    cold: fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 90, maxLength: 90 }),
    closed: fc.integer({ min: 0, max: 40 }),
    at: fc.array(fc.integer({ min: 1, max: 12 }), { maxLength: 2 }),
    entry: fc.boolean(),
    crossed: fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 4, maxLength: 4 }),
    price: fc.integer({ min: -3, max: 3 }),
  })
  .map(({ gaps, margins, cold, closed, at, entry, crossed, price }) => {
    const before = lanesApart(margins[0], gaps);
    const forced = entry ? before[before.length - 1] : -1;
    const made = { before, beyond: margins[1], cold, closed, at, minGap: MIN_GAP, gaps: GAPS, forced };
    const lanes = lanesMadeOf(made);
    return { lanes, before, crossed: Int32Array.from(crossed), price };
  });

/** Every set of as many lanes, each between the breaks where the one before was. */
function* sets({ lanes, before }: Case, chosen: number[] = []): Generator<number[]> {
  const k = chosen.length;
  if (k === before.length) {
    yield chosen;
    return;
  }
  const { breaks, costs, options } = lanes;
  const place = (c: number) => breaks.filter((b) => b <= c).length;
  for (let c = 0; c < costs.lane.length; c++) {
    const gap = k === 0 ? options.minGap : c - chosen[k - 1];
    if (!costs.lane[c] || place(c) !== place(before[k])) continue;
    if (gap < options.minGap || gap > options.maxGap) continue;
    if (before[k] === options.forced && c !== options.forced) continue;
    yield* sets({ lanes, before, crossed: new Int32Array(0), price: 0 }, [...chosen, c]);
  }
}

const coldOf = ({ costs, options }: AxisLanes, set: readonly number[]): number => {
  const [first, last] = [set[0], set[set.length - 1]];
  const ends = costs.before[first] + options.firstCost[first] + costs.after[last] + options.lastCost[last];
  return set.reduce(
    (sum, c, k) => sum + (k === 0 ? 0 : costs.between[set[k - 1] * GAPS + c - set[k - 1] - MIN_GAP]),
    ends,
  );
};

const priced = ({ lanes, before, crossed, price }: Case, set: readonly number[]): number => {
  const apart = (before[before.length - 1] - before[0]) / (before.length - 1);
  return set.reduce(
    (sum, c, k) => {
      const uneven = UNEVEN * (c - before[0] - k * apart) ** 2;
      return sum + uneven + (k === 0 ? 0 : price * crossed[k - 1] * (c - set[k - 1]));
    },
    coldOf(lanes, set),
  );
};

// Oracle: enumeration of all sets.
describe('lanes with a price on their gaps', () => {
  it('cost the least of all sets between the same breaks, cold floor, price and unevenness together', () => {
    let others = 0;
    fc.assert(
      fc.property(cases, (one) => {
        const set = { lanes: Int32Array.from(one.before), cold: 0, runLength: 0 };
        const found = pricedLanes(one.lanes, set, one.crossed, one.price);
        const least = Math.min(...[...sets(one)].map((lanes) => priced(one, lanes)));
        expect(found).not.toBeNull();
        if (!found) return;
        const lanes = [...found.lanes];
        expect(priced(one, lanes)).toBeCloseTo(least, 4);
        expect(found.cold).toBeCloseTo(coldOf(one.lanes, lanes), 6);
        if (lanes.some((c, k) => c !== one.before[k])) others++;
      }),
      { seed: 401, numRuns: 400 },
    );
    expect(others).toBeGreaterThan(100);
  });

  it('wider and closer gaps take turns where all the floor is warm either way', () => {
    // By hand: 0 .. 10 studs in four gaps of 2 or 3; the middle of evenly spread lanes is 5.
    const none = new Float64Array(11);
    const lanes: AxisLanes = {
      breaks: [],
      costs: {
        lane: new Uint8Array(11).fill(1),
        length: none,
        before: none,
        after: none,
        between: new Float64Array(22),
      },
      options: {
        minGap: 2,
        maxGap: 3,
        heatRadius: 45,
        forced: -1,
        firstCost: none.map((_, c) => (c === 0 ? 0 : 9)),
        lastCost: none.map((_, c) => (c === 10 ? 0 : 9)),
      },
      plain: [],
      wished: [],
    };
    const clustered = { lanes: Int32Array.of(0, 2, 4, 7, 10), cold: 0, runLength: 0 };
    expect(pricedLanes(lanes, clustered, new Int32Array(4), 0)?.lanes[2]).toBe(5);
  });
});
