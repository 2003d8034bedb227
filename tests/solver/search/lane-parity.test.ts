import { describe, expect, it } from 'vitest';
import { axisLanes } from '../../../solver/search/lane-choice.js';
import { LaneMenu } from '../../../solver/search/lane-menu.js';
import { flipped, ParityClasses, parities } from '../../../solver/search/lane-parity.js';
import type { LaneSet } from '../../../solver/search/lanes.js';
import { mouthsOf } from '../../../solver/search/mouths.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';

const setOf = (...lanes: number[]): LaneSet => ({ lanes: Int32Array.from(lanes), cold: 0, runLength: 0 });

describe('parities between breaks', () => {
  // By hand.
  it.each([
    ['no break, three lanes', [1, 4, 7], [], '1'],
    ['no break, four lanes', [1, 4, 7, 10], [], '0'],
    ['two, two, one', [0, 2, 4, 7, 9], [3, 8], '001'],
    ['a lane in the channel of the break lies behind it', [0, 3, 6], [3], '10'],
    ['nothing before the first break, nothing behind the last', [5, 7, 9], [2, 20], '010'],
    ['nothing between two breaks', [1, 9], [3, 8], '101'],
  ] as const)('%s', (_, lanes, breaks, expected) => {
    expect(parities(setOf(...lanes), breaks)).toBe(expected);
  });

  it('flipped: every place once', () => {
    expect(flipped('010')).toEqual(['110', '000', '011']);
    expect(flipped('1')).toEqual(['0']);
  });
});

const TURN = 300;

/** A corridor entered in the lower left corner; the buffer takes all of its right end. */
const corridor = zoneSpace(
  roomOf({ outline: box(0, 0, 3000, 1100), buffer: box(2800, 0, 3000, 1100) }),
  settingOf(),
);

/** An L entered at the end of its short arm; the buffer takes the end of the long one. One break along either axis. */
const corner = zoneSpace(
  roomOf({
    outline: [
      [0, 0],
      [3000, 0],
      [3000, 1100],
      [1500, 1100],
      [1500, 2000],
      [0, 2000],
    ],
    buffer: box(2800, 0, 3000, 1100),
    entry: [55, 1950],
  }),
  settingOf(),
);

const looker = (space: typeof corridor) => {
  const lanes = { rows: axisLanes(space, 'rows', 2, 0), columns: axisLanes(space, 'columns', 2, 0) };
  const breaks = { rows: lanes.rows.breaks, columns: lanes.columns.breaks };
  const mouths = mouthsOf(space, space.setting.spacing.max + 1);
  return { lanes, breaks, classes: new ParityClasses(space, mouths, TURN, breaks) };
};

/** How many lanes lie between neighbouring breaks, at least. */
const fewest = ({ lanes }: LaneSet, breaks: readonly number[]): number =>
  Math.min(
    ...[...breaks, Infinity].map((at, k) => {
      const from = k === 0 ? -Infinity : breaks[k - 1];
      return lanes.filter((lane) => lane >= from && lane < at).length;
    }),
  );

describe('what a class costs', () => {
  it('a corridor from corner to far end: an odd number of lengthwise lanes is free, an even one costs turns', () => {
    // Every straight cut between start and end is crossed an odd number of times, so an even number of lanes cannot
    // all be run straight through (by hand), while 2 (N - 1) turns are the bound either way. Taken with an odd number
    // of columns: with an even one a route across has no more turns on a square copy.
    const { lanes, classes } = looker(corridor);
    let looked = 0;
    for (const columns of [31, 39, 45].flatMap((m) => lanes.columns.plain[m] ?? []))
      for (const rows of [4, 5, 6, 7, 8, 9, 10, 11, 12, 13].flatMap((n) => lanes.rows.plain[n] ?? [])) {
        const even = rows.lanes.length % 2 === 0;
        classes.look('looked', rows, columns);
        if (even) expect(classes.excess('looked')).toBeGreaterThan(4 * TURN);
        else expect(classes.excess('looked')).toBeLessThan(TURN);
        looked++;
      }
    expect(looked).toBe(30);
  });

  it('all pairs of a class fare alike, whatever their numbers of lanes; some classes are free, others are not', () => {
    const { lanes, breaks } = looker(corner);
    expect([breaks.rows.length, breaks.columns.length]).toEqual([1, 1]);
    const menu = new LaneMenu(lanes, TURN);
    const dearest: number[] = [];
    for (const rowsName of ['00', '01', '10', '11'])
      for (const columnsName of ['00', '01', '10', '11']) {
        const name = `${rowsName} ${columnsName}`;
        const eachLane = menu.choices(name).flatMap(({ axis, main, cross }) => {
          if (axis !== 'rows' || fewest(main, breaks.rows) < 5 || fewest(cross, breaks.columns) < 5)
            return [];
          const { classes } = looker(corner);
          classes.look(name, main, cross);
          return [(classes.excess(name) ?? Number.NaN) / (main.lanes.length + cross.lanes.length)];
        });
        expect(eachLane.length).toBeGreaterThan(3);
        const [least, most] = [Math.min(...eachLane), Math.max(...eachLane)];
        expect(least).toBeGreaterThanOrEqual(0.7 * most);
        dearest.push(most);
      }
    // Half a turn a lane, or next to nothing.
    expect(dearest.filter((cost) => cost < TURN / 100).length).toBeGreaterThan(2);
    expect(dearest.filter((cost) => cost > TURN / 2).length).toBeGreaterThan(2);
  });

  it('lanes beside the entry make no grid: nothing is known against them, and nothing was spent', () => {
    const { lanes, classes } = looker(corridor);
    const rows = lanes.rows.plain[7];
    const columns = lanes.columns.plain[31];
    if (!rows || !columns) throw new Error('no lanes');
    classes.look('beside', { ...rows, lanes: rows.lanes.map((j) => j + 1) }, columns);
    expect(classes.excess('beside')).toBe(0);
    expect(classes.work).toBe(0);
    classes.look('on', rows, columns);
    expect(classes.work).toBeGreaterThan(0);
  });

  it('what routed choices cost replaces what was thought, and counts for the mean', () => {
    const { classes } = looker(corridor);
    expect([classes.excess('a'), classes.meanExcess()]).toEqual([undefined, 0]);
    classes.learn('a', 300);
    classes.learn('b', 100);
    expect([classes.excess('a'), classes.excess('b'), classes.meanExcess()]).toEqual([300, 100, 200]);
    classes.learn('a', 0);
    expect([classes.excess('a'), classes.meanExcess()]).toEqual([0, 50]);
  });
});
