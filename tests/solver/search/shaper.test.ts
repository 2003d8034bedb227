import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seeded } from '../../../solver/search/random.js';
import { laidLength, legLength, Shaper, sideways } from '../../../solver/search/shaper.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { joined, laidLengthOf, latticeRooms, verticesOf } from '../../helpers/lattice-room.js';
import { goalIn, pathOn, shake, spineIn } from '../../helpers/random-paths.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';

describe('shaper', () => {
  it('laid length is the polyline formula after any accepted moves', () => {
    let moved = 0;
    fc.assert(
      fc.property(
        latticeRooms(300, 1000),
        fc.integer(),
        fc.integer({ min: 1, max: 4 }),
        (room, seed, unheated) => {
          const start = spineIn(room);
          if (!start) return;
          const { space, way } = start;
          const path = pathOn(space, way, way.length - unheated + 1);
          const shaper = new Shaper(path, goalIn(space));
          moved += shake(shaper, seeded(seed), 120, 1e9);
          const heated = path.nodes.slice(0, path.heatedUpTo());
          const formula = laidLengthOf(verticesOf(space.s, heated), space.s.lattice.pitch);
          expect(shaper.laid).toBeCloseTo(formula, 4);
          expect(laidLength(path, path.heatedUpTo() - 1)).toBeCloseTo(formula, 6);
        },
      ),
      { seed: 53, numRuns: 120 },
    );
    expect(moved).toBeGreaterThan(200);
  });

  it('a move within a negative allowance lowers the score by at least that', () => {
    let gains = 0;
    fc.assert(
      fc.property(
        latticeRooms(300, 900),
        fc.integer(),
        fc.integer({ min: 0, max: 8000 }),
        (room, seed, shortest) => {
          const start = spineIn(room);
          if (!start) return;
          const path = pathOn(start.space, start.way);
          const shaper = new Shaper(path, goalIn(start.space, { shortest, longest: shortest + 100 }));
          const random = seeded(seed);
          for (let n = 0; n < 100; n++) {
            const before = shaper.score();
            if (shake(shaper, random, 1, -50) === 0) expect(shaper.score()).toBe(before);
            else {
              expect(shaper.score()).toBeLessThanOrEqual(before - 50 + 1e-3);
              gains++;
            }
          }
          const again = new Shaper(pathOn(start.space, path.nodes.slice(0, path.length)), shaper.goal);
          expect(again.score()).toBeCloseTo(shaper.score(), 1);
        },
      ),
      { seed: 59, numRuns: 80 },
    );
    expect(gains).toBeGreaterThan(30);
  });

  it('a length outside the window costs by the mm', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const path = pathOn(
      space,
      Array.from({ length: 20 }, (_, k) => space.start + k),
    );
    const shaper = new Shaper(path, goalIn(space, { shortest: 500, longest: 700, lengthWeight: 7 }));
    expect(shaper.laid).toBe(570);
    expect([400, 500, 600, 700, 750].map((length) => shaper.miss(length))).toEqual([700, 0, 0, 0, 350]);
  });

  it('leaves the fixed end and everything beyond it where it is', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const path = pathOn(
      space,
      Array.from({ length: 20 }, (_, k) => space.start + k),
    );
    const shaper = new Shaper(path, goalIn(space, { fixedEnd: 5 }));
    expect(shaper.last()).toBe(14);
    expect(shaper.attempt(sideways(path, 8, 15, space.s.nx, 3), 1e9)).toBe(false);
    expect(shaper.attempt(sideways(path, 8, 14, space.s.nx, 3), 1e9)).toBe(true);
  });
});

describe('sideways', () => {
  it('a moved stretch is a walk of single studs from one end of the change to the other, d studs aside', () => {
    let seen = 0;
    fc.assert(
      fc.property(latticeRooms(300, 900), fc.integer(), (room, seed) => {
        const start = spineIn(room);
        if (!start) return;
        const { s } = start.space;
        const path = pathOn(start.space, start.way);
        const random = seeded(seed);
        shake(new Shaper(path, goalIn(start.space)), random, 60, 1e9);
        for (let n = 0; n < 30; n++) {
          const p = Math.floor(random() * (path.length - 1));
          let q = p + 1;
          while (q < path.length - 1 && !path.isCorner(q) && random() < 0.8) q++;
          const normal = Math.abs(path.at(p + 1) - path.at(p)) === 1 ? s.nx : 1;
          const d = 1 + Math.floor(random() * 5);
          const move = sideways(path, p, q, random() < 0.5 ? normal : -normal, d);
          if (!move) continue;
          const { a, b, walk } = move;
          expect(a).toBeLessThanOrEqual(p);
          expect(b).toBeGreaterThanOrEqual(q);
          expect([walk[0], walk[walk.length - 1]]).toEqual([path.at(a), path.at(b)]);
          expect(new Set(walk).size).toBe(walk.length);
          for (let k = 1; k < walk.length; k++) expect([1, s.nx]).toContain(Math.abs(walk[k] - walk[k - 1]));
          const aside = path.at(p) + (Math.abs(normal) === 1 ? d : d * s.nx);
          const other = path.at(p) - (Math.abs(normal) === 1 ? d : d * s.nx);
          expect(walk.includes(aside) || walk.includes(other)).toBe(true);
          seen++;
        }
      }),
      { seed: 61, numRuns: 80 },
    );
    expect(seen).toBeGreaterThan(150);
  });

  it('a finger pushed back by its depth is gone', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const { nx } = space.s;
    const straight = Array.from({ length: 20 }, (_, k) => space.start + k);
    const path = pathOn(space, straight);
    const shaper = new Shaper(path, goalIn(space));
    expect(shaper.attempt(sideways(path, 6, 10, nx, 4), 1e9)).toBe(true);
    expect(path.length).toBe(28);
    expect(legLength(path, 10, -1, -nx)).toBe(4);
    expect(shaper.attempt(sideways(path, 10, 14, -nx, 4), 1e9)).toBe(true);
    expect([...path.nodes.slice(0, path.length)]).toEqual(straight);
    expect(joined(space.s, path.at(0), path.at(1))).toBe(true);
  });
});

describe('trials', () => {
  const weighed = (pitch: number, studs: number, run: number, side: number): Shaper => {
    const outline = box(0, 0, side, side);
    const space = zoneSpace(
      roomOf({ outline, buffer: box(0, side - 150, side, side) }),
      settingOf({ pitch, spacing: { min: 2, target: studs, max: studs } }),
    );
    const path = pathOn(
      space,
      Array.from({ length: run + 20 }, (_, k) => space.start + k),
    );
    const shaper = new Shaper(path, goalIn(space));
    shaper.attempt(sideways(path, 5, 5 + run, space.s.nx, 2), 1e9);
    return shaper;
  };
  const spent = (...room: Parameters<typeof weighed>): number => weighed(...room).trials;

  it('a move counts once in everyday rooms, and by the pixels it touches on fine lattices and in halls', () => {
    expect([spent(30, 2, 70, 3000), spent(30, 3, 70, 3000), spent(60, 4, 30, 3000)]).toEqual([1, 1, 1]);
    // Six times finer: six times the studs, six times six the pixels of each.
    expect(spent(5, 18, 420, 3000)).toBeGreaterThan(10);
    expect(spent(30, 3, 900, 30_000)).toBeGreaterThan(2);
  });

  it('what weighing took counts pixels too: on a fine lattice a move over the same floor takes many times as long', () => {
    const [usual, fine] = [weighed(30, 3, 70, 3000), weighed(5, 18, 420, 3000)];
    expect(fine.spent).toBeGreaterThan(20 * usual.spent);
  });

  it('what weighing took grows with every move, and with the pieces a judged one lays', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const spentOn = (pieces: number, allowance: number): number => {
      const path = pathOn(
        space,
        Array.from({ length: 20 }, (_, k) => space.start + k),
      );
      const shaper = new Shaper(path, goalIn(space));
      shaper.attempt(sideways(path, 1, 1 + pieces, space.s.nx, 3), allowance);
      expect(shaper.trials).toBe(1);
      return shaper.spent;
    };
    const [refused, short, long] = [spentOn(4, -1e9), spentOn(4, 1e9), spentOn(14, 1e9)];
    expect(refused).toBeGreaterThan(0);
    expect(short).toBeGreaterThan(refused);
    expect(long).toBeGreaterThan(short);
  });
});
