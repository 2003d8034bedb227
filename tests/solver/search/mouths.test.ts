import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { endCostAt, mouthsOf } from '../../../solver/search/mouths.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { joined, latticeRooms } from '../../helpers/lattice-room.js';

describe('ways into the buffer', () => {
  it('are the studs to the first buffer node straight ahead, by walking each channel', () => {
    let ways = 0;
    fc.assert(
      fc.property(latticeRooms(200, 1200), fc.integer({ min: 1, max: 6 }), ({ zone, setting }, most) => {
        const space = zoneSpace(zone, setting);
        const wrong: number[] = [];
        const { s, usable, buffer } = space;
        const mouths = mouthsOf(space, most);
        const sides = [
          [mouths.east, 1],
          [mouths.west, -1],
          [mouths.north, s.nx],
          [mouths.south, -s.nx],
        ] as const;
        for (let v = 0; v < usable.length; v++)
          for (const [found, step] of sides) {
            let steps = 0;
            if (usable[v])
              for (let k = 1, w = v; k <= most && steps === 0 && joined(s, w, w + step); k++) {
                w += step;
                if (buffer[w]) steps = k;
              }
            if (found[v] !== steps) wrong.push(v);
            if (steps > 0) ways++;
          }
        expect(wrong).toEqual([]);
      }),
      { seed: 37, numRuns: 120 },
    );
    expect(ways).toBeGreaterThan(500);
  });

  it('the end costs least by the shortest way that no other lane bars', () => {
    const at = (n: number) => Uint8Array.of(n);
    const mouths = { east: at(3), west: at(0), north: at(2), south: at(4) };
    const free = { east: Infinity, west: Infinity, north: Infinity, south: Infinity };
    const open = endCostAt(mouths, 0, free);
    const barred = endCostAt(mouths, 0, { ...free, north: 2 });
    const onlyFar = endCostAt(mouths, 0, { ...free, north: 2, east: 3 });
    expect(open).toBeLessThan(barred);
    expect(barred).toBeLessThan(onlyFar);
    expect(onlyFar).toBeLessThan(Infinity);
    expect(endCostAt(mouths, 0, { east: 1, west: 1, north: 1, south: 1 })).toBe(Infinity);
  });
});
