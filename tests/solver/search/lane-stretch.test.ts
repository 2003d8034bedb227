import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measureRoute, verifyRoute } from '../../../solver/model/grid-cost.js';
import { axisLanes, expectedLength, type LaneChoice } from '../../../solver/search/lane-choice.js';
import { studsOfRoute } from '../../../solver/search/lane-grid.js';
import { stretchLanes, stretchRoute } from '../../../solver/search/lane-stretch.js';
import { mouthsOf } from '../../../solver/search/mouths.js';
import { gridOfChoice, routeLanes } from '../../../solver/search/route-lanes.js';
import { countTurns } from '../../../solver/search/tail.js';
import { type ZoneSpace, zoneSpace } from '../../../solver/search/zone-space.js';
import { latticeRooms } from '../../helpers/lattice-room.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';
import { bothAxes, lightly, scouted, TURN_WEIGHT } from '../../helpers/scouted.js';

type Laid = NonNullable<ReturnType<typeof stretchRoute>>;

/** The choices that could be routed, with what their lanes were taken from. */
const laidChoices = ({ space, mouths, scout, choices }: NonNullable<ReturnType<typeof scouted>>) =>
  choices.flatMap((choice) => {
    const laid = routeLanes(space, choice, mouths, lightly(choice.minGap));
    const lanes = scout.lanesOf(choice);
    return laid && lanes ? [{ choice, laid, lanes }] : [];
  });

/** mm from one lattice node to the next, all along. */
const studLength = (space: ZoneSpace, grid: Laid['grid'], nodes: Int32Array): number =>
  (studsOfRoute(grid, space.s, nodes).length - 1) * space.setting.lattice.pitch;

describe('lanes moved under a route', () => {
  it('any room: the same route, longer by what was asked; lanes keep gaps, entry and the breaks they lie between', () => {
    let moved = 0;
    let refused = 0;
    const directions = new Set<number>();
    fc.assert(
      fc.property(
        latticeRooms(600, 1700),
        fc.integer({ min: -900, max: 900 }),
        fc.integer({ min: 20, max: 200 }),
        (room, least, width) => {
          const all = scouted(room, 3);
          if (!all) return;
          const { space, mouths } = all;
          for (const { choice, laid, lanes } of laidChoices(all)) {
            const wish = [least, least + width] as const;
            const stretched = stretchRoute(space, laid, lanes, mouths, TURN_WEIGHT, wish);
            if (!stretched) {
              refused++;
              continue;
            }
            moved++;
            const { route } = stretched.find;
            expect(route.nodes).toEqual(laid.route.nodes);
            expect(verifyRoute(stretched.grid.task, route.nodes)).toBeNull();
            const longer =
              studLength(space, stretched.grid, route.nodes) - studLength(space, laid.grid, laid.route.nodes);
            expect(longer).toBeGreaterThanOrEqual(wish[0] - 1e-6);
            expect(longer).toBeLessThanOrEqual(wish[1] + 1e-6);
            directions.add(Math.sign(longer));
            expect(countTurns(studsOfRoute(stretched.grid, space.s, route.nodes))).toBe(laid.route.turns);
            const { cost, turns, skipped } = measureRoute(stretched.grid.task, route.nodes);
            expect([route.cost, route.turns, route.skipped]).toEqual([cost, turns, skipped]);
            expect(route.bound).toBeLessThanOrEqual(route.cost);
            const [before, after] = [bothAxes(choice), bothAxes(stretched.choice)];
            const entry = { rows: Math.floor(space.start / space.s.nx), columns: space.start % space.s.nx };
            for (const axis of ['rows', 'columns'] as const) {
              const set = [...after[axis]];
              expect(set.length).toBe(before[axis].length);
              expect(set).toContain(entry[axis]);
              expect(set.map((c) => lanes[axis].costs.lane[c])).toEqual(set.map(() => 1));
              for (let k = 1; k < set.length; k++)
                expect(set[k] - set[k - 1]).toBeGreaterThanOrEqual(choice.minGap);
              const { breaks } = lanes[axis];
              const place = (c: number) => breaks.filter((at) => at <= c).length;
              expect(set.map(place)).toEqual([...before[axis]].map(place));
            }
          }
        },
      ),
      { seed: 401, numRuns: 80 },
    );
    expect(moved).toBeGreaterThan(40);
    expect(refused).toBeGreaterThan(5);
    expect(directions).toEqual(new Set([-1, 0, 1]));
  });

  it('a set names the cold floor and run length that its lanes really have', () => {
    let checked = 0;
    fc.assert(
      fc.property(latticeRooms(600, 1400), fc.integer({ min: -600, max: 600 }), (room, least) => {
        const all = scouted(room, 2);
        if (!all) return;
        const { pitch } = all.space.setting.lattice;
        for (const { choice, laid, lanes } of laidChoices(all)) {
          const moved = stretchLanes(choice, laid, lanes, pitch, [least, least + 200]);
          if (!moved) continue;
          for (const axis of ['rows', 'columns'] as const) {
            // Thinned lanes stay; what they leave cold is that of two sets, each on its side.
            if (choice.thinning && axis === choice.axis) continue;
            const { costs, options: o } = lanes[axis];
            const { lanes: set, cold, runLength } = moved[axis];
            const n = set.length;
            const [first, last] = [set[0], set[n - 1]];
            let sum = costs.before[first] + o.firstCost[first] + costs.after[last] + o.lastCost[last];
            for (let k = 1; k < n; k++)
              sum += costs.between[set[k - 1] * (o.maxGap - o.minGap + 1) + set[k] - set[k - 1] - o.minGap];
            expect(cold).toBeCloseTo(sum, 3);
            expect(runLength).toBeCloseTo(
              set.reduce((length, c) => length + costs.length[c], 0),
              6,
            );
            checked++;
          }
        }
      }),
      { seed: 409, numRuns: 50 },
    );
    expect(checked).toBeGreaterThan(30);
  });
});

describe('the plain serpentine of a rectangle', () => {
  const space = zoneSpace(
    roomOf({ outline: box(0, 0, 1500, 1000), buffer: box(0, 850, 1500, 1000) }),
    settingOf(),
  );
  const mouths = mouthsOf(space, 4);
  const lanes = { rows: axisLanes(space, 'rows', 2, 0), columns: axisLanes(space, 'columns', 2, 0) };
  const [first, last] = [space.start % space.s.nx, space.usable.lastIndexOf(1) % space.s.nx];
  const mainWith = (n: number) => {
    const main = lanes.rows.plain[n];
    const cross = lanes.columns.plain.find((set) => set?.lanes[0] === first && set.lanes.at(-1) === last);
    if (!main || !cross) throw new Error('no lanes');
    return { main, cross };
  };
  const serpentine = (n: number) => {
    const { main, cross } = mainWith(n);
    const expected = expectedLength(space, main);
    const choice: LaneChoice = { axis: 'rows', main, cross, minGap: 2, nodes: 0, expected, parity: '0 0' };
    const grid = gridOfChoice(space, choice, mouths, TURN_WEIGHT);
    if (!grid) throw new Error('no grid');
    const { nx, ny } = grid.task;
    const nodes = Int32Array.from({ length: nx * ny }, (_, k) => {
      const j = Math.floor(k / nx);
      return j * nx + (j % 2 === 0 ? k % nx : nx - 1 - (k % nx));
    });
    const route = {
      kind: 'route' as const,
      nodes,
      ...measureRoute(grid.task, nodes),
      bound: 0,
      proven: false,
      work: 0,
    };
    return { choice, grid, route, copied: false };
  };

  it('cannot get longer where its outermost lanes lie along the walls: null', () => {
    // By hand: every run goes from wall to wall, and the steps add up to the way from the first run to the last.
    const laid = serpentine(9);
    const height = laid.grid.rows[8] - laid.grid.rows[0];
    const spare = (space.usable.lastIndexOf(1) - (space.usable.lastIndexOf(1) % space.s.nx)) / space.s.nx;
    const up = (spare - laid.grid.rows[0] - height) * 30;
    expect(stretchRoute(space, laid, lanes, mouths, TURN_WEIGHT, [up + 30, up + 5000])).toBeNull();
  });

  it('gets shorter where its outermost lanes move in, by their move times the runs', () => {
    const laid = serpentine(9);
    const stretched = stretchRoute(space, laid, lanes, mouths, TURN_WEIGHT, [-300, -150]);
    expect(stretched).not.toBeNull();
    if (!stretched) return;
    const { grid } = stretched;
    const [columns, rows] = [grid.columns, grid.rows].map((set) => set[set.length - 1] - set[0]);
    const [wide, high] = [laid.grid.columns, laid.grid.rows].map((set) => set[set.length - 1] - set[0]);
    const shorter = 30 * (9 * (wide - columns) + (high - rows));
    expect(shorter).toBeGreaterThanOrEqual(150);
    expect(shorter).toBeLessThanOrEqual(300);
  });

  it('nothing asked for: the lanes it has already, where they leave least cold', () => {
    const laid = serpentine(9);
    const moved = stretchLanes(laid.choice, laid, lanes, 30, [0, 0]);
    expect(moved?.longer).toBe(0);
    expect(moved && moved.rows.cold + moved.columns.cold).toBeLessThanOrEqual(
      laid.choice.main.cold + laid.choice.cross.cold + 1e-3,
    );
  });
});
