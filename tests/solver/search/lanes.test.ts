import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Zone } from '../../../solver/problem.js';
import { type LaneOptions, laneCosts, laneFamily, type ParityWish } from '../../../solver/search/lanes.js';
import { type ZoneSpace, zoneSpace } from '../../../solver/search/zone-space.js';
import { latticeRooms } from '../../helpers/lattice-room.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';

type Costs = ReturnType<typeof laneCosts>;

/** Least cost for every number of lanes, by trying every set of channels. */
const bruteForce = (
  costs: Costs,
  options: LaneOptions,
  wishes: readonly ParityWish[],
): Map<number, number> => {
  const best = new Map<number, number>();
  const { minGap, maxGap, forced, firstCost, lastCost } = options;
  const gaps = maxGap - minGap + 1;
  const extend = (set: readonly number[], cost: number): void => {
    const last = set[set.length - 1];
    const fulfilled = wishes.every(({ at, odd }) => set.filter((c) => c < at).length % 2 === odd);
    if (fulfilled && (forced < 0 || set.includes(forced))) {
      const total = cost + costs.after[last] + lastCost[last];
      best.set(set.length, Math.min(best.get(set.length) ?? Infinity, total));
    }
    for (let g = minGap; g <= maxGap && last + g < costs.lane.length; g++)
      if (costs.lane[last + g]) extend([...set, last + g], cost + costs.between[last * gaps + g - minGap]);
  };
  for (let c = 0; c < costs.lane.length; c++) if (costs.lane[c]) extend([c], costs.before[c] + firstCost[c]);
  return best;
};

const costOf = (
  costs: Costs,
  { minGap, maxGap, firstCost, lastCost }: LaneOptions,
  lanes: Int32Array,
): number => {
  const first = lanes[0];
  const last = lanes[lanes.length - 1];
  let cost = costs.before[first] + firstCost[first] + costs.after[last] + lastCost[last];
  for (let k = 1; k < lanes.length; k++)
    cost += costs.between[lanes[k - 1] * (maxGap - minGap + 1) + lanes[k] - lanes[k - 1] - minGap];
  return cost;
};

describe('families of lanes against every possible set', () => {
  it('have the least cost for every number of lanes, the forced lane and the parities wished for', () => {
    let compared = 0;
    fc.assert(
      fc.property(
        latticeRooms(150, 500),
        fc.constantFrom('x' as const, 'y' as const),
        fc.record({
          minGap: fc.integer({ min: 1, max: 3 }),
          more: fc.integer({ min: 0, max: 4 }),
          forced: fc.option(fc.double({ min: 0, max: 0.999, noNaN: true })),
          wishes: fc.array(
            fc.record({ at: fc.integer({ min: 1, max: 16 }), odd: fc.constantFrom(0 as const, 1 as const) }),
            { maxLength: 2 },
          ),
          extra: fc.array(fc.integer({ min: 0, max: 9000 }), { minLength: 40, maxLength: 40 }),
        }),
        ({ zone, setting }, axis, { minGap, more, forced, wishes, extra }) => {
          const { s, usable, floor, heatRadius } = zoneSpace(zone, setting);
          const count = axis === 'y' ? s.ny : s.nx;
          if (count > 19) return;
          const options = {
            minGap,
            maxGap: minGap + more,
            heatRadius,
            forced: -1,
            firstCost: Float64Array.from({ length: count }, (_, c) => extra[c]),
            lastCost: Float64Array.from({ length: count }, (_, c) => extra[39 - c]),
          };
          const costs = laneCosts(s, usable, floor, axis, options);
          const lanes = [...costs.lane.keys()].filter((c) => costs.lane[c]);
          if (forced !== null && lanes.length > 0) options.forced = lanes[Math.floor(forced * lanes.length)];
          const best = bruteForce(costs, options, wishes);
          const family = laneFamily(costs, options, wishes);
          for (let k = 1; k < Math.max(family.length, ...best.keys(), 0); k++) {
            const set = family[k] ?? null;
            expect(set === null).toBe(!best.has(k));
            if (!set) continue;
            compared++;
            expect(set.lanes.length).toBe(k);
            expect(set.cold).toBeCloseTo(best.get(k) ?? NaN, 3);
            // What it says it costs is what its own lanes cost, and they obey.
            expect(costOf(costs, options, set.lanes)).toBeCloseTo(set.cold, 3);
            for (const { at, odd } of wishes) expect(set.lanes.filter((c) => c < at).length % 2).toBe(odd);
            if (options.forced >= 0) expect([...set.lanes]).toContain(options.forced);
            expect(set.runLength).toBeCloseTo(
              set.lanes.reduce((sum, c) => sum + costs.length[c], 0),
              6,
            );
          }
        },
      ),
      { seed: 23, numRuns: 250 },
    );
    expect(compared).toBeGreaterThan(300);
  });
});

describe('what lanes leave cold', () => {
  /** Walls on pixel edges, so that the raster is exact; the buffer beyond the right wall leaves the target whole. */
  const space = (zone: Partial<Zone> = {}): ZoneSpace =>
    zoneSpace(
      roomOf({ outline: box(0, 0, 900, 600), clearance: 0, buffer: box(901, 0, 950, 600), ...zone }),
      { ...settingOf(), lattice: { pitch: 30, origin: [0, 0] } },
    );

  it.each([
    ['rows', 'y', 900, 600],
    ['columns', 'x', 600, 900],
  ] as const)(
    '%s in an empty rectangle: the strips further than R from every lane, by arithmetic',
    (_, axis, long, deep) => {
      const { s, usable, floor, heatRadius } = space();
      const options = { minGap: 1, maxGap: 12, heatRadius };
      const costs = laneCosts(s, usable, floor, axis, options);
      const last = (axis === 'y' ? s.ny : s.nx) - 1;
      const at = (c: number) => ((axis === 'y' ? s.j0 : s.i0) + c) * 30;
      for (let c = 1; c < last; c++) {
        expect(costs.before[c]).toBeCloseTo(long * Math.max(0, at(c) - 45), 1);
        expect(costs.after[c]).toBeCloseTo(long * Math.max(0, deep - at(c) - 45), 1);
        expect(costs.length[c]).toBe(long);
        for (let g = 1; g <= 12 && c + g < last; g++)
          expect(costs.between[c * 12 + g - 1]).toBeCloseTo(long * Math.max(0, g * 30 - 90), 1);
      }
    },
  );

  it('a hole across the lanes shortens them, and what is left beside it counts', () => {
    const hole = {
      id: 'hole',
      shape: { kind: 'polygon', outline: box(300, 150, 600, 450) },
      clearance: 0,
    } as const;
    const { s, usable, floor, heatRadius } = space({ exclusions: [hole] });
    const costs = laneCosts(s, usable, floor, 'y', { minGap: 1, maxGap: 12, heatRadius });
    const j = (at: number) => at / 30 - s.j0;
    expect(costs.length[j(300)]).toBe(600);
    expect(costs.length[j(0)]).toBe(900);
    // From y = 150 to y = 450 only 300 mm on either side is floor: 2 x 300 x (300 - 2 x 45).
    expect(costs.between[j(150) * 12 + 9]).toBeCloseTo(600 * 210, 1);
  });
});
