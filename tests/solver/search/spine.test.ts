import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mouthsOf } from '../../../solver/search/mouths.js';
import { spine } from '../../../solver/search/spine.js';
import { countTurns } from '../../../solver/search/tail.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { joined, latticeRooms } from '../../helpers/lattice-room.js';

describe('spine', () => {
  it('is the cheapest way to a node with the buffer ahead: studs + 4 a turn, by relaxing every step until none helps', () => {
    let [found, none] = [0, 0];
    fc.assert(
      fc.property(latticeRooms(200, 700), ({ zone, setting }) => {
        const space = zoneSpace(zone, setting);
        const { s, usable, start } = space;
        if (start < 0) return;
        const mouths = mouthsOf(space, 4);
        const sides = [mouths.east, mouths.west, mouths.north, mouths.south];
        const steps = [1, -1, s.nx, -s.nx];
        // cost[v * 4 + d]: cheapest way to v that arrives by step d.
        const cost = new Float64Array(s.free.length * 4).fill(Infinity);
        if (usable[start]) cost.fill(0, start * 4, start * 4 + 4);
        for (let changed = true; changed; ) {
          changed = false;
          for (let v = 0; v < s.free.length; v++)
            for (let d = 0; d < 4; d++)
              for (let e = 0; e < 4; e++) {
                const w = v + steps[e];
                if (steps[e] === -steps[d] || !usable[v] || !usable[w] || !joined(s, v, w)) continue;
                const total = cost[v * 4 + d] + 1 + (d === e ? 0 : 4);
                if (total >= cost[w * 4 + e]) continue;
                cost[w * 4 + e] = total;
                changed = true;
              }
        }
        let least = Infinity;
        for (let v = 0; v < s.free.length; v++)
          if (sides.some((side) => side[v])) least = Math.min(least, ...cost.subarray(v * 4, v * 4 + 4));
        const way = spine(space, mouths);
        expect(way === null).toBe(least === Infinity);
        if (!way) {
          none++;
          return;
        }
        found++;
        expect(way[0]).toBe(start);
        expect(sides.some((side) => side[way[way.length - 1]])).toBe(true);
        for (let k = 1; k < way.length; k++)
          expect(usable[way[k]] === 1 && joined(s, way[k - 1], way[k])).toBe(true);
        expect(way.length - 1 + 4 * countTurns(way)).toBe(least);
      }),
      { seed: 103, numRuns: 120 },
    );
    expect(found).toBeGreaterThan(50);
    expect(none).toBeGreaterThan(2);
  });
});
