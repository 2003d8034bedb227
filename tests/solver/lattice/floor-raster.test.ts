import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf, intersect } from '../../../solver/geometry/region.js';
import { routingArea, targetArea } from '../../../solver/geometry/zone-area.js';
import { boxSum, floorRaster, summedArea } from '../../../solver/lattice/floor-raster.js';
import { studLattice } from '../../../solver/lattice/stud-lattice.js';
import { randomRooms } from '../../helpers/random-rooms.js';
import { box } from '../../helpers/routing-rooms.js';

const PITCH = 30;
const REACH = 45;

const rasterOf = (zone: Parameters<typeof routingArea>[0], per: number) => {
  const routing = routingArea(zone);
  const target = targetArea(zone, routing);
  const s = studLattice({ pitch: PITCH, origin: [0, 0] }, routing);
  return { s, target, r: floorRaster(s, target, zone.priorities, per, REACH) };
};

describe('floor raster', () => {
  it('weighs as much as the target area, by the polygon library', () => {
    fc.assert(
      fc.property(randomRooms(300, 2000), fc.constantFrom(1, 2, 4), (zone, per) => {
        const { r, s, target } = rasterOf(zone, per);
        const area = areaOf(target);
        expect(r.weight.reduce((sum, w) => sum + w, 0)).toBeCloseTo(r.total, 3);
        if (!s.free.includes(1)) return;
        // One scan line a pixel row: slanted edges and pockets beside the lattice cost at most a pixel of perimeter.
        const edges = target.reduce((n, ring) => n + ring.length, 0);
        const perimeter = target.reduce(
          (sum, ring) =>
            sum +
            ring.reduce((part, p, k) => {
              const q = ring[(k + 1) % ring.length];
              return part + Math.hypot(q[0] - p[0], q[1] - p[1]);
            }, 0),
          0,
        );
        expect(Math.abs(r.total - area)).toBeLessThanOrEqual((perimeter * PITCH) / per / 2 + edges * 2);
      }),
      { seed: 11, numRuns: 150 },
    );
  });

  it('each pixel weighs its own share of the target in an upright room', () => {
    const zone = {
      id: 'z',
      wet: false,
      outline: box(0, 0, 610, 425),
      clearance: 20,
      exclusions: [],
      buffer: box(500, 0, 610, 425),
      entry: [30, 30] as const,
      leadIn: 0,
      priorities: [],
    };
    const { r, s, target } = rasterOf(zone, 2);
    const size = PITCH / 2;
    for (let y = 0; y < r.height; y++)
      for (let x = 0; x < r.width; x++) {
        const left = (s.i0 * 2 - r.pad + x) * size;
        const low = (s.j0 * 2 - r.pad + y) * size;
        const share = areaOf(intersect(target, [box(left, low, left + size, low + size)]));
        // Rows are read at mid-height: a pixel cut by a level wall counts whole or not at all.
        const cut = [20, 405].some((wall) => wall > low && wall < low + size);
        if (cut)
          expect([0, share * (size / (low < 20 ? low + size - 20 : 405 - low))]).toContainEqual(
            expect.closeTo(r.weight[y * r.width + x], 1),
          );
        else expect(r.weight[y * r.width + x]).toBeCloseTo(share, 1);
      }
  });

  it('a priority area counts its weight, and only there', () => {
    const zone = {
      id: 'z',
      wet: false,
      outline: box(0, 0, 600, 600),
      clearance: 0,
      exclusions: [],
      buffer: box(540, 0, 600, 600),
      entry: [30, 30] as const,
      leadIn: 0,
      priorities: [{ outline: box(0, 0, 150, 300), weight: 3 }],
    };
    expect(rasterOf(zone, 2).r.total).toBeCloseTo(540 * 600 + 2 * 150 * 300, 0);
    expect(
      rasterOf({ ...zone, priorities: [{ outline: box(0, 0, 150, 300), weight: 0 }] }, 2).r.total,
    ).toBeCloseTo(540 * 600 - 150 * 300, 0);
  });

  it('box sums equal adding up pixel by pixel, also across the rim', () => {
    fc.assert(
      fc.property(
        randomRooms(300, 800),
        fc.tuple(...Array.from({ length: 4 }, () => fc.integer({ min: -5, max: 80 }))),
        (zone, [x0, y0, x1, y1]) => {
          const { r } = rasterOf(zone, 2);
          let sum = 0;
          for (let y = Math.max(0, y0); y < Math.min(r.height, y1); y++)
            for (let x = Math.max(0, x0); x < Math.min(r.width, x1); x++) sum += r.weight[y * r.width + x];
          expect(boxSum(r, summedArea(r), x0, y0, x1, y1)).toBeCloseTo(sum, 2);
        },
      ),
      { seed: 13, numRuns: 200 },
    );
  });
});
