import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pointInRing, ringDistance } from '../../../solver/geometry/measure.js';
import { routingArea } from '../../../solver/geometry/zone-area.js';
import { crossings } from '../../../solver/lattice/scanline.js';
import { randomRooms } from '../../helpers/random-rooms.js';
import { box } from '../../helpers/routing-rooms.js';

describe('crossings', () => {
  it('points between a pair of crossings are inside, all others outside', () => {
    fc.assert(
      fc.property(
        randomRooms(200, 2000),
        fc.double({ min: -50, max: 2050, noNaN: true }),
        fc.array(fc.double({ min: -50, max: 2050, noNaN: true }), { minLength: 8, maxLength: 8 }),
        fc.constantFrom('x' as const, 'y' as const),
        (zone, at, alongs, axis) => {
          const region = routingArea(zone);
          const cuts = crossings(region, axis, at);
          expect(cuts.length % 2).toBe(0);
          for (const along of alongs) {
            const p = axis === 'y' ? ([along, at] as const) : ([at, along] as const);
            if (region.some((ring) => ringDistance(p, ring) < 1e-3)) continue;
            const rings = region.filter((ring) => pointInRing(p, ring)).length;
            const between = cuts.filter((cut) => cut < along).length % 2;
            expect(between).toBe(rings % 2);
          }
        },
      ),
      { seed: 7, numRuns: 400 },
    );
  });

  it('are sorted and even in number on a line through vertices', () => {
    const rhomb = [
      [0, 0],
      [10, -10],
      [20, 0],
      [10, 10],
    ] as const;
    expect(crossings([rhomb], 'y', 0)).toEqual([0, 20]);
    expect(crossings([rhomb], 'x', 10)).toEqual([-10, 10]);
    for (const at of [-10, 10]) expect(crossings([rhomb], 'y', at).length % 2).toBe(0);
  });

  it('a hole takes its part out of the line', () => {
    const hole = [...box(30, 30, 60, 60)].reverse();
    expect(crossings([box(0, 0, 100, 100), hole], 'y', 45)).toEqual([0, 30, 60, 100]);
  });
});
