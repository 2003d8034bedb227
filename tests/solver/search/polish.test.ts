import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { polish } from '../../../solver/search/polish.js';
import { Shaper } from '../../../solver/search/shaper.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { keepsSpacing, latticeRooms } from '../../helpers/lattice-room.js';
import { goalIn, pathOn, spineIn } from '../../helpers/random-paths.js';
import { roomOf, settingOf } from '../../helpers/routing-rooms.js';

describe('polish', () => {
  it('never worsens the score, keeps the path legal and does the same twice', () => {
    let better = 0;
    fc.assert(
      fc.property(
        latticeRooms(300, 900),
        fc.integer({ min: 0, max: 6000 }),
        fc.integer({ min: 0, max: 1500 }),
        (room, shortest, turnWeight) => {
          const start = spineIn(room);
          if (!start) return;
          const { space, way } = start;
          const run = () => {
            const path = pathOn(space, way);
            const shaper = new Shaper(path, goalIn(space, { shortest, longest: shortest + 300, turnWeight }));
            const before = shaper.score();
            polish(shaper, 3000);
            expect(shaper.score()).toBeLessThanOrEqual(before);
            if (shaper.score() < before) better++;
            return path.nodes.slice(0, path.length);
          };
          const nodes = run();
          expect(keepsSpacing(room.setting, space.s, nodes)).toBe(true);
          expect(run()).toEqual(nodes);
        },
      ),
      { seed: 67, numRuns: 60 },
    );
    expect(better).toBeGreaterThan(10);
  });

  it('stops soon after the trials it is given', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const path = pathOn(
      space,
      Array.from({ length: 40 }, (_, k) => space.start + k),
    );
    for (const most of [0, 10, 100]) {
      const shaper = new Shaper(path, goalIn(space));
      polish(shaper, most);
      // One stretch is finished once begun: both sides, at most a dozen depths each and a finger for five.
      expect(shaper.trials).toBeLessThan(most + 40);
    }
  });

  it('a straight run grows fingers into cold floor, and a jog without use is pushed flat', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const { nx } = space.s;
    const path = pathOn(
      space,
      Array.from({ length: 40 }, (_, k) => space.start + k),
    );
    const shaper = new Shaper(path, goalIn(space, { turnWeight: 100 }));
    const cold = path.cold;
    polish(shaper, 6000);
    expect(path.cold).toBeLessThan(0.9 * cold);
    const middle = space.start + 8 * nx;
    const jogged = [
      ...Array.from({ length: 10 }, (_, k) => middle + k),
      ...Array.from({ length: 6 }, (_, k) => middle + nx + 9 + k),
      ...Array.from({ length: 10 }, (_, k) => middle + 14 + k),
    ];
    const straightened = pathOn(space, jogged);
    polish(
      new Shaper(straightened, goalIn(space, { turnWeight: 1e6, longest: 700, lengthWeight: 1e5 })),
      6000,
    );
    expect(straightened.turns()).toBe(0);
  });
});
