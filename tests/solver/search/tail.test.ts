import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bends } from '../../../solver/search/stud-bends.js';
import { buildTail, countTurns } from '../../../solver/search/tail.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { joined, keepsSpacing, laidLengthOf, latticeRooms, verticesOf } from '../../helpers/lattice-room.js';
import { spineIn } from '../../helpers/random-paths.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';

const optionsIn = (space: ReturnType<typeof zoneSpace>, wanted = 3000) => ({
  buffer: space.buffer,
  minGap: space.setting.spacing.min,
  wanted,
  maxOutside: space.setting.spacing.max + 1,
  maxStates: 200,
});

describe('tail', () => {
  it('goes on from the main path, stays in the buffer once there, keeps the spacing, and is as long as it says', () => {
    let built = 0;
    fc.assert(
      fc.property(latticeRooms(300, 1200), (room) => {
        const start = spineIn(room);
        if (!start) return;
        const { space, way } = start;
        const { s, buffer } = space;
        const tail = buildTail(s, way, optionsIn(space));
        if (!tail) return;
        built++;
        const whole = [...way, ...tail.nodes];
        for (let k = way.length; k < whole.length; k++) expect(joined(s, whole[k - 1], whole[k])).toBe(true);
        expect(tail.nodes.map((v) => buffer[v])).toEqual(tail.nodes.map((_, k) => Number(k >= tail.outside)));
        expect(tail.outside).toBeLessThanOrEqual(room.setting.spacing.max + 1);
        expect(keepsSpacing(room.setting, s, whole)).toBe(true);
        const inside = verticesOf(s, tail.nodes.slice(tail.outside));
        expect(tail.length).toBeCloseTo(laidLengthOf(inside, s.lattice.pitch), 6);
        const end = way[way.length - 1];
        expect(tail.turns).toBe(Math.max(0, verticesOf(s, [end, ...tail.nodes]).length - 2));
      }),
      { seed: 101, numRuns: 100 },
    );
    expect(built).toBeGreaterThan(20);
  });

  it('an open strip is filled: close to the longest a strip of so many lines can hold', () => {
    const space = zoneSpace(
      roomOf({ outline: box(0, 0, 1200, 800), clearance: 0, buffer: box(0, 590, 1200, 800) }),
      { ...settingOf(), lattice: { pitch: 30, origin: [0, 0] } },
    );
    const { s } = space;
    // From the lower left corner up the wall: the strip holds lines at y = 600 .. 780 or so, four of them 60 mm apart.
    const first = 1 + s.nx;
    const way = Array.from({ length: 20 }, (_, k) => first + k * s.nx);
    const tail = buildTail(s, way, optionsIn(space, 1e6));
    expect(tail).not.toBeNull();
    expect(tail?.length ?? 0).toBeGreaterThan(0.9 * 4 * 1200);
    expect(tail?.length ?? Infinity).toBeLessThan(4 * 1200 + 4 * 200);
  });

  it('a tail gives up some length rather than have steps and stubby fingers', () => {
    let fewer = 0;
    fc.assert(
      fc.property(latticeRooms(300, 1200), (room) => {
        const start = spineIn(room);
        if (!start) return;
        const { space, way } = start;
        const [any, firm] = [0, 6].map((jogStuds) =>
          buildTail(space.s, way, { ...optionsIn(space), jogStuds }),
        );
        expect(any === null).toBe(firm === null);
        if (!any || !firm) return;
        const jogsOf = ({ nodes }: typeof any) => {
          const walk = Int32Array.from([...way.slice(-60), ...nodes]);
          return bends(walk, 0, walk.length - 1, 6, 0, 1).jogs;
        };
        expect(jogsOf(firm)).toBeLessThanOrEqual(jogsOf(any));
        if (jogsOf(firm) < jogsOf(any)) fewer++;
      }),
      { seed: 102, numRuns: 150 },
    );
    expect(fewer).toBeGreaterThan(2);
  });

  it('null where no buffer lies ahead', () => {
    const space = zoneSpace(roomOf(), settingOf());
    const way = Array.from({ length: 20 }, (_, k) => space.start + k);
    expect(buildTail(space.s, way, optionsIn(space))).toBeNull();
  });
});

describe('countTurns', () => {
  it.each([
    [[5], 0],
    [[5, 6], 0],
    [[5, 6, 7], 0],
    [[5, 6, 16], 1],
    [[5, 6, 16, 17, 7], 3],
  ])('%j has %d', (walk, turns) => {
    expect(countTurns(walk)).toBe(turns);
  });
});
