import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planLayout } from '../../../solver/plan.js';
import { cornerSaving } from '../../../solver/problem.js';
import { leastGap } from '../../../solver/search/lane-choice.js';
import { endCostAt, mouthsOf, SIDES } from '../../../solver/search/mouths.js';
import { approach, neededTail } from '../../../solver/search/tight-buffer.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { latticeRooms } from '../../helpers/lattice-room.js';
import { box, cableOf, planRequest, roomOf, settingOf } from '../../helpers/routing-rooms.js';

const setting = { ...settingOf(), lattice: { pitch: 30, origin: [0, 0] as const } };
const cable = cableOf(60_000);

/** 6 m2 with a buffer of three rows (y = 1920, 1950, 1980) of 31 studs, x = 900 .. 1800. */
const narrow = zoneSpace(
  roomOf({ outline: box(0, 0, 3000, 2000), clearance: 0, buffer: box(890, 1910, 1810, 2000) }),
  setting,
);
const at = (x: number, y: number) => (y / 30 - narrow.s.j0) * narrow.s.nx + x / 30 - narrow.s.i0;
const free = { east: Infinity, west: Infinity, north: Infinity, south: Infinity };

describe('the way to a tight buffer', () => {
  it('a wide buffer asks for nothing', () => {
    const space = zoneSpace(
      roomOf({ outline: box(0, 0, 3000, 2000), clearance: 0, buffer: box(0, 1700, 3000, 2000) }),
      setting,
    );
    const way = approach(space, [cable]);
    expect(way.space).toBe(space);
    expect(way.stretch).toBeNull();
    expect(way.mouths).toEqual(mouthsOf(space, setting.spacing.max + 1));
  });

  it('its longest stretch is two runs, by hand', () => {
    const { stretch } = approach(narrow, [cable]);
    // 900 out, 60 over, 900 back, with two corners.
    expect(stretch).toBeCloseTo(900 + 60 + 900 - 2 * cornerSaving(setting.lattice), 6);
  });

  it('other runs keep off it, and it is entered where its runs begin', () => {
    const { mouths, space } = approach(narrow, [cable]);
    expect([at(1350, 1890), at(870, 1950)].map((v) => space.usable[v])).toEqual([0, 0]);
    expect([at(1350, 1860), at(840, 1950)].map((v) => space.usable[v])).toEqual([1, 1]);
    const corner = endCostAt(mouths, at(900, 1860), free);
    const betweenRuns = endCostAt(mouths, at(840, 1950), free);
    expect(corner).toBeLessThan(1000);
    // One run of 900 mm lies there: less than 60 % of what is needed.
    expect(betweenRuns).toBeGreaterThan(0.2 * narrow.floor.total);
  });

  it('takes no floor that is farther than the least gap from the buffer, never the entry, and prices no way below 0', () => {
    let tight = 0;
    fc.assert(
      fc.property(latticeRooms(300, 1500), ({ zone, setting: own }) => {
        const space = zoneSpace(zone, own);
        if (space.start < 0) return;
        const { stretch, mouths, space: clear } = approach(space, [cableOf(20_000)]);
        if (stretch === null) return;
        tight++;
        expect(clear.usable[space.start]).toBe(1);
        const { nx } = space.s;
        const buffered = [...space.buffer.keys()].filter((v) => space.buffer[v]);
        for (let v = 0; v < clear.usable.length; v++) {
          expect(clear.usable[v]).toBeLessThanOrEqual(space.usable[v]);
          if (clear.usable[v] === space.usable[v]) continue;
          const apart = buffered.map((w) =>
            Math.hypot((v % nx) - (w % nx), Math.floor(v / nx) - Math.floor(w / nx)),
          );
          expect(Math.min(...apart)).toBeLessThan(leastGap(space, cable.minBendRadius));
        }
        for (const side of SIDES) expect(Math.min(0, ...(mouths.price?.[side] ?? []))).toBe(0);
      }),
      { seed: 211, numRuns: 80 },
    );
    expect(tight).toBeGreaterThan(20);
  });

  it('asks for twice what the end of a cable that covers the floor may be off by', () => {
    // The floor outside the buffer at 90 mm, 1 % and 2 mm a turn either way.
    const length = narrow.floor.total / 90;
    const turns = (2 * Math.sqrt(narrow.floor.total)) / 90;
    expect(neededTail(narrow, [cable], 2)).toBeCloseTo(2 * (0.01 * length + 2 * turns), 6);
  });

  it('a cable that covers the floor ends in a buffer that two runs of it just fill', () => {
    const zone = roomOf({
      outline: box(0, 0, 2900, 1900),
      buffer: box(800, 1750, 2100, 1900),
      entry: [260, 60],
      exclusions: [
        {
          id: 'vanity',
          shape: { kind: 'polygon', outline: box(2200, 0, 2900, 480) },
          clearance: 0,
        },
      ],
    });
    const outcome = planLayout(planRequest(zone), { engine: null, expired: () => false });
    expect(outcome.kind === 'planned' && outcome.zones[0].check.coverage.fraction).toBeGreaterThan(0.98);
  });

  it('a buffer along part of a wall that holds less than twice the play is not cut down to one run', () => {
    // Lanes 30 mm off left one run of 1.2 m in it, and no cable that covers the floor ended there: 91.6 %.
    const zone = roomOf({
      outline: box(0, 0, 2050, 2250),
      buffer: box(490, 2100, 1700, 2250),
      entry: [1990, 60],
      exclusions: [
        { id: 'bench', shape: { kind: 'polygon', outline: box(1730, 960, 2050, 1610) }, clearance: 0 },
      ],
    });
    const request = planRequest(zone, { turnWeight: 1000 });
    const outcome = planLayout(request, { engine: null, expired: () => false });
    expect(outcome.kind === 'planned' && outcome.zones[0].check.coverage.fraction).toBeGreaterThan(0.99);
  });
});
