import { describe, expect, it } from 'vitest';
import { type AxisLanes, axisLanes } from '../../../solver/search/lane-choice.js';
import { LaneMenu } from '../../../solver/search/lane-menu.js';
import { parities } from '../../../solver/search/lane-parity.js';
import type { LaneSet } from '../../../solver/search/lanes.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';

const TURN = 400;

const spaces = {
  rectangle: zoneSpace(roomOf(), settingOf()),
  L: zoneSpace(
    roomOf({
      outline: [
        [0, 0],
        [2400, 0],
        [2400, 1000],
        [1300, 1000],
        [1300, 1800],
        [0, 1800],
      ],
      buffer: box(2250, 0, 2400, 1000),
    }),
    settingOf(),
  ),
  'a box against the wall, entry in the middle': zoneSpace(
    roomOf({
      exclusions: [{ id: 'box', shape: { kind: 'polygon', outline: box(600, 0, 1100, 500) }, clearance: 20 }],
      entry: [60, 700],
    }),
    settingOf(),
  ),
} as const;

const setsOf = ({ plain, wished }: AxisLanes): LaneSet[] =>
  [plain, ...wished].flatMap((family) => family.filter((set): set is LaneSet => set !== null));

const digits = (count: number): string[] =>
  Array.from({ length: 1 << count }, (_, bits) => bits.toString(2).padStart(count, '0'));

describe.each(Object.entries(spaces))('menu of lanes: %s', (_, space) => {
  const lanes = { rows: axisLanes(space, 'rows', 2, 0), columns: axisLanes(space, 'columns', 2, 0) };
  const menu = new LaneMenu(lanes, TURN);
  const names = digits(lanes.rows.breaks.length + 1).flatMap((rows) =>
    digits(lanes.columns.breaks.length + 1).map((columns) => `${rows} ${columns}`),
  );
  const named = (axis: 'rows' | 'columns', name: string) =>
    setsOf(lanes[axis]).filter(
      (set) => parities(set, lanes[axis].breaks) === name.split(' ')[axis === 'rows' ? 0 : 1],
    );

  it('the choices of a class have its parities, along and across, and two lanes at least', () => {
    let seen = 0;
    for (const name of names)
      for (const { axis, main, cross } of menu.choices(name)) {
        const [rows, columns] = axis === 'rows' ? [main, cross] : [cross, main];
        expect(`${parities(rows, lanes.rows.breaks)} ${parities(columns, lanes.columns.breaks)}`).toBe(name);
        expect(main.lanes.length).toBeGreaterThan(1);
        seen++;
      }
    expect(seen).toBeGreaterThan(20);
  });

  it('every number of lanes there is comes once along either axis, with the set that leaves least cold', () => {
    for (const name of names) {
      const choices = menu.choices(name);
      for (const axis of ['rows', 'columns'] as const) {
        const least = new Map<number, number>();
        for (const { lanes: set, cold } of named(axis, name))
          if (set.length > 1) least.set(set.length, Math.min(least.get(set.length) ?? Infinity, cold));
        const across = named(axis === 'rows' ? 'columns' : 'rows', name);
        const offered = choices.filter((choice) => choice.axis === axis);
        expect(offered.map(({ main }) => [main.lanes.length, main.cold])).toEqual(
          across.length === 0 ? [] : [...least].sort((a, b) => a[0] - b[0]),
        );
      }
    }
  });

  it('cross lanes are worth most of their class: cold floor, and half a turn a lane', () => {
    const worth = ({ lanes: set, cold }: LaneSet) => cold + set.length * TURN * 0.5;
    for (const name of names)
      for (const { axis, cross } of menu.choices(name)) {
        const all = named(axis === 'rows' ? 'columns' : 'rows', name);
        expect(worth(cross)).toBeLessThanOrEqual(Math.min(...all.map(worth)) + 1e-3);
      }
  });

  it('the plainest classes hold every set of the plain families', () => {
    const plainest = menu.plainest();
    expect(new Set(plainest).size).toBe(plainest.length);
    for (const axis of ['rows', 'columns'] as const) {
      const offered = plainest.flatMap((name) =>
        menu.choices(name).flatMap((choice) => (choice.axis === axis ? [choice.main] : [])),
      );
      for (const set of lanes[axis].plain) {
        if (!set || set.lanes.length < 2) continue;
        // Of as many lanes no set leaves less cold than the plain one.
        const same = offered.filter((main) => main.lanes.length === set.lanes.length);
        expect(Math.min(...same.map(({ cold }) => cold))).toBeCloseTo(set.cold, 3);
      }
    }
  });

  it('the plainest classes offer every plain set with cross lanes of either parity', () => {
    const plainest = menu.plainest();
    for (const axis of ['rows', 'columns'] as const)
      for (const set of lanes[axis].plain) {
        if (!set || set.lanes.length < 2) continue;
        const own = parities(set, lanes[axis].breaks);
        const across = plainest
          .filter((name) => name.split(' ')[axis === 'rows' ? 0 : 1] === own)
          .flatMap((name) => menu.choices(name))
          .filter((choice) => choice.axis === axis)
          .map(({ cross }) => cross.lanes.length % 2);
        expect(new Set(across)).toEqual(new Set([0, 1]));
      }
  });
});

describe('sets of one class and as many lanes', () => {
  const setOf = (cold: number, ...at: number[]): LaneSet => ({
    lanes: Int32Array.from(at),
    cold,
    runLength: 0,
  });

  it.each([
    ['first', [setOf(10, 1, 4), setOf(90, 1, 5)]],
    ['last', [setOf(90, 1, 5), setOf(10, 1, 4)]],
  ] as const)('the one that leaves less cold is offered, also when it comes %s', (_, [a, b]) => {
    const { rectangle } = spaces;
    const rows = { ...axisLanes(rectangle, 'rows', 2, 0), plain: [null, null, a], wished: [[null, null, b]] };
    const columns = axisLanes(rectangle, 'columns', 2, 0);
    const offered = new LaneMenu({ rows, columns }, TURN)
      .choices('0 1')
      .filter(({ axis }) => axis === 'rows');
    expect(offered.map(({ main }) => [...main.lanes])).toEqual([[1, 4]]);
  });
});
