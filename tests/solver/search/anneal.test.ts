import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anneal } from '../../../solver/search/anneal.js';
import { seeded } from '../../../solver/search/random.js';
import { Shaper } from '../../../solver/search/shaper.js';
import { keepsSpacing, latticeRooms } from '../../helpers/lattice-room.js';
import { goalIn, pathOn, spineIn } from '../../helpers/random-paths.js';

describe('annealing', () => {
  it('what it keeps is legal and better than before; the same seed gives the same path', () => {
    let kept = 0;
    fc.assert(
      fc.property(
        latticeRooms(300, 900),
        fc.integer(),
        fc.integer({ min: 0, max: 6000 }),
        (room, seed, shortest) => {
          const start = spineIn(room);
          if (!start) return;
          const { space, way } = start;
          const goal = goalIn(space, { shortest, longest: shortest + 300 });
          const run = (with_: number) => {
            const shaper = new Shaper(pathOn(space, way), goal);
            const before = shaper.score();
            const best = anneal(shaper, { trials: 1500, hot: 1400, cool: 70, random: seeded(with_) });
            return { before, best };
          };
          const { before, best } = run(seed);
          expect(run(seed).best).toEqual(best);
          if (!best) return;
          kept++;
          expect(best.heated).toBe(best.nodes.length);
          expect(new Shaper(pathOn(space, best.nodes), goal).score()).toBeLessThan(before);
          expect(keepsSpacing(room.setting, space.s, best.nodes)).toBe(true);
          expect(best.nodes[0]).toBe(way[0]);
          expect(best.nodes[best.nodes.length - 1]).toBe(way[way.length - 1]);
        },
      ),
      { seed: 71, numRuns: 60 },
    );
    expect(kept).toBeGreaterThan(6);
  });

  it('no trials keep nothing', () => {
    fc.assert(
      fc.property(latticeRooms(300, 900), (room) => {
        const start = spineIn(room);
        if (!start) return;
        const shaper = new Shaper(pathOn(start.space, start.way), goalIn(start.space));
        expect(anneal(shaper, { trials: 0, hot: 10, cool: 1, random: seeded(1) })).toBeNull();
      }),
      { seed: 73, numRuns: 10 },
    );
  });

  it('stops soon after its guard has fired', () => {
    let stopped = 0;
    fc.assert(
      fc.property(latticeRooms(400, 1000), (room) => {
        const start = spineIn(room);
        if (!start) return;
        const trials = (most: number): number => {
          const shaper = new Shaper(pathOn(start.space, start.way), goalIn(start.space));
          let asked = 0;
          const expired = () => ++asked > most;
          anneal(shaper, { trials: 20_000, hot: 1400, cool: 70, random: seeded(5), expired });
          return shaper.trials;
        };
        const all = trials(Infinity);
        if (all < 4000) return;
        expect(trials(1)).toBeLessThan(all / 4);
        stopped++;
      }),
      { seed: 75, numRuns: 20 },
    );
    expect(stopped).toBeGreaterThan(3);
  });
});
