import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { looksOf } from '../../../solver/check/looks.js';
import { seeded } from '../../../solver/search/random.js';
import { relay } from '../../../solver/search/relay.js';
import { Shaper } from '../../../solver/search/shaper.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { keepsSpacing, latticeRooms, verticesOf } from '../../helpers/lattice-room.js';
import { goalIn, pathOn, shake, spineIn } from '../../helpers/random-paths.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';

const MOST = 4000;

describe('stretches laid anew', () => {
  it('never cost more, stay legal, and are the same each time', () => {
    let better = 0;
    fc.assert(
      fc.property(
        latticeRooms(300, 900),
        fc.integer(),
        fc.integer({ min: 0, max: 6000 }),
        (room, seed, shortest) => {
          const start = spineIn(room);
          if (!start) return;
          const { space, way } = start;
          const run = () => {
            const path = pathOn(space, way);
            const shaper = new Shaper(path, goalIn(space, { shortest, longest: shortest + 300 }));
            shake(shaper, seeded(seed), 150, 1e9);
            const before = shaper.score();
            relay(shaper, MOST, room.setting.spacing.max);
            expect(shaper.score()).toBeLessThanOrEqual(before + 1e-6);
            if (shaper.score() < before) better++;
            const nodes = path.nodes.slice(0, path.length);
            const again = new Shaper(pathOn(space, nodes), shaper.goal);
            expect(again.score()).toBeCloseTo(shaper.score(), 1);
            return nodes;
          };
          const nodes = run();
          expect([nodes[0], nodes[nodes.length - 1]]).toEqual([way[0], way[way.length - 1]]);
          expect(nodes.every((v) => space.usable[v] === 1)).toBe(true);
          expect(keepsSpacing(room.setting, space.s, nodes)).toBe(true);
          expect(run()).toEqual(nodes);
        },
      ),
      { seed: 83, numRuns: 60 },
    );
    expect(better).toBeGreaterThan(20);
  });

  it('a zigzag of short fingers in a strip becomes three runs along it', () => {
    const setting = settingOf();
    const space = zoneSpace(
      roomOf({ outline: box(0, 0, 1500, 260), buffer: box(1350, 0, 1500, 260) }),
      setting,
    );
    const { nx } = space.s;
    // Fingers five studs deep over the whole strip.
    const walk = [space.start];
    const go = (step: number, count: number): void => {
      for (let k = 0; k < count; k++) walk.push(walk[walk.length - 1] + step);
    };
    for (let n = 0; n < 6; n++) {
      go(nx, 5);
      go(1, 3);
      go(-nx, 5);
      go(1, 3);
    }
    go(nx, 5);
    const path = pathOn(space, walk);
    const shaper = new Shaper(path, goalIn(space, { turnWeight: 1000 }));
    const zigzag = looksOf(verticesOf(space.s, walk), setting);
    expect(zigzag.fingers).toBeGreaterThan(9);
    const cold = path.cold;
    relay(shaper, MOST, setting.spacing.max);
    const laid = path.nodes.slice(0, path.length);
    expect(path.turns()).toBeLessThanOrEqual(6);
    expect(looksOf(verticesOf(space.s, laid), setting)).toEqual({ jogs: 0, stairs: 0, fingers: 0 });
    expect(path.cold).toBeLessThan(1.1 * cold);
  });

  it('a stair along a slanted wall becomes runs with stepped ends', () => {
    const setting = settingOf();
    const space = zoneSpace(
      roomOf({
        outline: [
          [0, 0],
          [1500, 0],
          [600, 900],
          [0, 900],
        ],
        buffer: box(0, 780, 700, 900),
      }),
      setting,
    );
    const { nx } = space.s;
    const walk = [space.start];
    const go = (step: number, count: number): void => {
      for (let k = 0; k < count; k++) walk.push(walk[walk.length - 1] + step);
    };
    go(1, 39);
    for (let n = 0; n < 6; n++) {
      go(nx, 3);
      go(-1, 3);
    }
    go(-1, 21);
    const path = pathOn(space, walk);
    const before = looksOf(verticesOf(space.s, walk), setting);
    expect(before.stairs).toBe(1);
    const shaper = new Shaper(path, goalIn(space, { turnWeight: 1000 }));
    const score = shaper.score();
    relay(shaper, MOST, setting.spacing.max);
    const laid = path.nodes.slice(0, path.length);
    expect(shaper.score()).toBeLessThan(score);
    expect(looksOf(verticesOf(space.s, laid), setting).stairs).toBe(0);
    expect(keepsSpacing(setting, space.s, laid)).toBe(true);
  });

  it('leaves a tidy serpentine alone', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const { nx } = space.s;
    const walk = [space.start];
    for (let n = 0; n < 6; n++) {
      for (let k = 0; k < 50; k++) walk.push(walk[walk.length - 1] + (n % 2 === 0 ? 1 : -1));
      for (let k = 0; k < 3; k++) walk.push(walk[walk.length - 1] + nx);
    }
    const path = pathOn(space, walk);
    const shaper = new Shaper(path, goalIn(space));
    relay(shaper, MOST, 3);
    expect([...path.nodes.slice(0, path.length)]).toEqual(walk);
    expect(shaper.trials).toBe(0);
  });
});

describe('a form remembered', () => {
  it('is restored with its heat, bends and length', () => {
    let moved = 0;
    fc.assert(
      fc.property(latticeRooms(300, 900), fc.integer(), (room, seed) => {
        const start = spineIn(room);
        if (!start) return;
        const { space, way } = start;
        const path = pathOn(space, way);
        const shaper = new Shaper(path, goalIn(space));
        const random = seeded(seed);
        shake(shaper, random, 60, 1e9);
        const nodes = path.nodes.slice(0, path.length);
        const [before, score] = [shaper.snapshot(), shaper.score()];
        moved += shake(shaper, random, 60, 1e9);
        shaper.restore(before);
        expect(path.nodes.slice(0, path.length)).toEqual(nodes);
        expect(shaper.score()).toBeCloseTo(score, 1);
        expect(path.heatedUpTo()).toBe(nodes.length);
        for (let k = 0; k < nodes.length; k++) expect(path.positionOf(nodes[k])).toBe(k);
      }),
      { seed: 89, numRuns: 80 },
    );
    expect(moved).toBeGreaterThan(100);
  });
});
