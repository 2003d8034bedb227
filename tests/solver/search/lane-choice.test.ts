import { describe, expect, it } from 'vitest';
import type { Zone } from '../../../solver/problem.js';
import {
  axisLanes,
  expectedLength,
  type LaneChoice,
  lanesName,
  leastGap,
} from '../../../solver/search/lane-choice.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { roomOf, settingOf } from '../../helpers/routing-rooms.js';

const spaceOf = (zone: Partial<Zone>, min = 2, target = 3, max = 3) =>
  zoneSpace(roomOf(zone), settingOf({ spacing: { min, target, max } }));

describe('lanes of one axis', () => {
  it('a room narrower than the least gap has one lane and no error', () => {
    const outline: Zone['outline'] = [
      [0, 0],
      [2000, 0],
      [2000, 101],
      [0, 101],
    ];
    const space = spaceOf(
      {
        outline,
        buffer: [
          [1500, 0],
          [2000, 0],
          [2000, 101],
          [1500, 101],
        ],
      },
      6,
      6,
      6,
    );
    expect(axisLanes(space, 'rows', 6, 0).plain.map((set) => set?.lanes.length ?? null)).toEqual([null, 1]);
  });

  it('a buffer wider than the rest of the floor, between slanted walls, keeps no lanes away from the walls', () => {
    const space = spaceOf({
      outline: [
        [0, 0],
        [2400, 0],
        [2100, 1800],
        [800, 1800],
      ],
      exclusions: [],
      buffer: [
        [0, 0],
        [2400, 0],
        [2400, 150],
        [0, 150],
      ],
      entry: [1000, 1700],
    });
    const columns = axisLanes(space, 'columns', 2, 4000).plain;
    expect(Math.min(...columns.map((set) => set?.cold ?? Infinity))).toBeLessThan(0.01 * space.floor.total);
  });

  it('every set holds the channel of the entry and keeps the gaps', () => {
    const space = spaceOf({ entry: [1000, 700] });
    for (const axis of ['rows', 'columns'] as const) {
      const entry = axis === 'rows' ? Math.floor(space.start / space.s.nx) : space.start % space.s.nx;
      const lanes = axisLanes(space, axis, 2, 0);
      for (const family of [lanes.plain, ...lanes.wished])
        for (const set of family) {
          if (!set) continue;
          expect([...set.lanes]).toContain(entry);
          for (let k = 1; k < set.lanes.length; k++)
            expect(set.lanes[k] - set.lanes[k - 1]).toBeGreaterThanOrEqual(2);
        }
    }
  });

  it('a wall that begins half-way gives families with either parity below it', () => {
    // The upper right quarter is cut out: the rows get shorter at y = 900.
    const space = spaceOf({
      outline: [
        [0, 0],
        [2400, 0],
        [2400, 900],
        [1200, 900],
        [1200, 1800],
        [0, 1800],
      ],
      buffer: [
        [0, 1650],
        [1200, 1650],
        [1200, 1800],
        [0, 1800],
      ],
    });
    const { wished } = axisLanes(space, 'rows', 2, 0);
    const below = (lanes: Int32Array) =>
      lanes.filter((j) => space.s.lattice.origin[1] + (space.s.j0 + j) * 30 < 870).length % 2;
    const parities = new Set(
      wished.flatMap((family) => family.flatMap((set) => (set ? [below(set.lanes)] : []))),
    );
    expect(parities).toEqual(new Set([0, 1]));
  });
});

describe('expected length', () => {
  const space = spaceOf({});
  const rows = axisLanes(space, 'rows', 2, 0);

  it('on an empty rectangle the expected length is that of the plain serpentine', () => {
    // Closed form: n runs, n - 1 steps that add up to the way from the first to the last, 2 (n - 1) corners.
    const n = 12;
    const set = rows.plain[n];
    expect(set).toBeTruthy();
    if (!set) return;
    const columns = space.s.nx;
    let run = 0;
    for (let i = 0; i < columns; i++) run += space.usable[set.lanes[0] * columns + i];
    const sharp = n * (run - 1) * 30 + (set.lanes[n - 1] - set.lanes[0]) * 30;
    expect(expectedLength(space, set)).toBeCloseTo(sharp - 2 * (n - 1) * (2 - Math.PI / 2) * 15, 6);
  });
});

describe('least gap', () => {
  it.each([
    [15, 2],
    [30, 2],
    [30.1, 3],
    [45, 3],
    [46, 4],
  ])('a bend radius of %d mm at pitch 30, spacing from 2, needs %d studs', (radius, studs) => {
    expect(leastGap(spaceOf({}), radius)).toBe(studs);
  });
});

describe('name of the lanes of a choice', () => {
  it('lanes thinned on the low and on the high side of one cross lane are two choices', () => {
    const set = (...lanes: number[]) => ({ lanes: Int32Array.from(lanes), cold: 0, runLength: 0 });
    const base: LaneChoice = {
      axis: 'rows',
      main: set(1, 3, 5, 7),
      cross: set(1, 4, 7),
      minGap: 2,
      nodes: 12,
      expected: 0,
      parity: '0 1',
    };
    const lanes = Int32Array.from([1, 4, -1, -1]);
    const names = [
      base,
      { ...base, thinning: { at: 2, side: 'low' as const, lanes } },
      { ...base, thinning: { at: 2, side: 'high' as const, lanes } },
      { ...base, thinning: { at: 1, side: 'high' as const, lanes } },
    ].map(lanesName);
    expect(new Set(names).size).toBe(4);
  });
});
