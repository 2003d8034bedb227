import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { routingArea } from '../../../solver/geometry/zone-area.js';
import { chooseOrigin } from '../../../solver/lattice/choose-origin.js';
import { box, roomOf } from '../../helpers/routing-rooms.js';

const modulo = (a: number, n: number): number => ((a % n) + n) % n;

describe('chosen phase of the lattice', () => {
  it('a room that is a whole number of pitches wide has channels on both walls', () => {
    const zone = roomOf({ outline: box(3, 8, 1003, 708), clearance: 50 });
    const [x, y] = chooseOrigin([zone], 30);
    expect(modulo(53 - x, 30)).toBeCloseTo(0, 6);
    expect(modulo(58 - y, 30)).toBeCloseTo(0, 6);
  });

  it('no phase on a grid of half millimetres has walls closer to their nearest inner channels', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 400, max: 3000 }),
        fc.integer({ min: 400, max: 3000 }),
        fc.integer({ min: 20, max: 60 }),
        (w, h, pitch) => {
          const zone = roomOf({ outline: box(0, 0, w, h), buffer: box(0, h - 100, w, h) });
          const area = routingArea(zone).flat();
          const [x0, x1] = [Math.min(...area.map(([x]) => x)), Math.max(...area.map(([x]) => x))];
          const lost = (x: number) => modulo(x - x0, pitch) + modulo(x1 - x, pitch);
          const chosen = lost(chooseOrigin([zone], pitch)[0]);
          for (let x = 0; x < pitch; x += 0.5)
            expect(chosen % pitch).toBeLessThanOrEqual((lost(x) % pitch) + 1e-3);
        },
      ),
      { seed: 17, numRuns: 100 },
    );
  });

  it('moves with the room', () => {
    const room = (dx: number) => roomOf({ outline: box(dx, 0, 1777 + dx, 1300) });
    const [near] = chooseOrigin([room(0)], 37);
    const [far] = chooseOrigin([room(12_345)], 37);
    expect(modulo(far - near - 12_345 + 1e-4, 37)).toBeLessThan(2e-4);
  });

  it('without an upright wall the entry lies on a channel', () => {
    const rhomb = roomOf({
      outline: [
        [0, -900],
        [900, 0],
        [0, 900],
        [-900, 0],
      ],
      entry: [17, -600],
    });
    expect(chooseOrigin([rhomb], 30)).toEqual([17, -600]);
  });

  it('no zones give the origin', () => {
    expect(chooseOrigin([], 30)).toEqual([0, 0]);
  });
});
