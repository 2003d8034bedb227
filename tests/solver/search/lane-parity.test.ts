import { describe, expect, it } from 'vitest';
import { solveFrontier } from '../../../solver/search/frontier.js';
import { edgePotential, potentialBound } from '../../../solver/search/frontier-potential.js';
import { sweepView } from '../../../solver/search/frontier-view.js';
import { axisLanes } from '../../../solver/search/lane-choice.js';
import { LaneMenu } from '../../../solver/search/lane-menu.js';
import { flipped, ParityClasses, parities } from '../../../solver/search/lane-parity.js';
import type { LaneSet } from '../../../solver/search/lanes.js';
import { mouthsOf } from '../../../solver/search/mouths.js';
import { gridOfChoice } from '../../../solver/search/route-lanes.js';
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
  const classes = new ParityClasses(space, mouths, TURN, breaks);
  /** What a class costs by these lanes of it, beyond the bound on routes over their grid; undefined off the entry. */
  const look = (rows: LaneSet, columns: LaneSet): number | undefined => {
    const choice = { axis: 'rows', main: rows, cross: columns } as const;
    const grid = gridOfChoice(space, choice, mouths, TURN);
    if (!grid) return undefined;
    const bound = potentialBound(edgePotential(sweepView(grid.task, 'auto', false), 60));
    const name = `${parities(rows, breaks.rows)} ${parities(columns, breaks.columns)}`;
    classes.look(name, rows, columns, grid, bound);
    return classes.excess(name);
  };
  return { lanes, breaks, classes, look };
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
    // all be run straight through (by hand), while 2 (N - 1) turns are the bound either way.
    const { lanes, look } = looker(corridor);
    let looked = 0;
    for (const columns of [31, 39, 45].flatMap((m) => lanes.columns.plain[m] ?? []))
      for (const rows of [4, 5, 6, 7, 8, 9, 10, 11, 12, 13].flatMap((n) => lanes.rows.plain[n] ?? [])) {
        const even = rows.lanes.length % 2 === 0;
        if (even) expect(look(rows, columns)).toBeGreaterThan(4 * TURN);
        else expect(look(rows, columns)).toBeLessThan(TURN);
        looked++;
      }
    expect(looked).toBe(30);
  });

  it('pairs of a class fare alike, whatever their numbers of lanes; some classes are free, others are not', () => {
    const { lanes, breaks } = looker(corner);
    expect([breaks.rows.length, breaks.columns.length]).toEqual([1, 1]);
    const menu = new LaneMenu(lanes, TURN);
    let free = 0;
    let dear = 0;
    for (const rowsName of ['00', '01', '10', '11'])
      for (const columnsName of ['00', '01', '10', '11']) {
        const name = `${rowsName} ${columnsName}`;
        const excesses = menu.choices(name).flatMap(({ axis, main, cross }) => {
          if (axis !== 'rows' || fewest(main, breaks.rows) < 5 || fewest(cross, breaks.columns) < 5)
            return [];
          return [looker(corner).look(main, cross) ?? Number.NaN];
        });
        expect(excesses.length).toBeGreaterThan(3);
        // Nearly all of one kind: next to nothing, or many turns.
        const few = excesses.filter((excess) => excess < 15 * TURN).length;
        expect(Math.min(few, excesses.length - few)).toBeLessThanOrEqual(2);
        if (2 * few > excesses.length) free++;
        else dear++;
      }
    expect(free).toBeGreaterThan(2);
    expect(dear).toBeGreaterThan(2);
  });

  it('says hardly more than what a beam over the full grid finds', () => {
    const { lanes, breaks } = looker(corner);
    const menu = new LaneMenu(lanes, TURN);
    const mouths = mouthsOf(corner, corner.setting.spacing.max + 1);
    let compared = 0;
    for (const { axis, main, cross } of menu.choices('01 10').filter((_, k) => k % 3 === 0)) {
      if (axis !== 'rows' || fewest(main, breaks.rows) < 2) continue;
      const excess = looker(corner).look(main, cross);
      const grid = gridOfChoice(corner, { axis, main, cross }, mouths, TURN);
      const bound = grid && potentialBound(edgePotential(sweepView(grid.task, 'auto', false), 60));
      const full = grid && solveFrontier(grid.task, { maxStates: 400, sweep: 'rows' });
      if (excess === undefined || bound === null || full?.kind !== 'route') continue;
      expect(excess).toBeLessThanOrEqual(full.cost - bound + 6 * TURN);
      compared++;
    }
    expect(compared).toBeGreaterThan(2);
  });

  it('slanted walls, no lanes alike: from a grid with fewer lanes, a plain serpentine still free', () => {
    const slanted = zoneSpace(
      roomOf({
        outline: [
          [0, 0],
          [2200, 0],
          [2200, 900],
          [0, 1500],
        ],
        buffer: box(2000, 0, 2200, 900),
      }),
      settingOf(),
    );
    const { lanes, classes, look } = looker(slanted);
    let looked = 0;
    for (const columns of lanes.columns.plain.slice(18, 24))
      for (const rows of lanes.rows.plain.slice(9, 15)) {
        if (!rows || !columns) continue;
        const excess = look(rows, columns);
        if (excess === undefined) continue;
        expect(excess).toBeGreaterThanOrEqual(0);
        expect(excess).toBeLessThan(Infinity);
        looked++;
      }
    expect(looked).toBeGreaterThan(10);
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
