import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaOf, intersect } from '../../../solver/geometry/region.js';
import { laneGrid, studsOfRoute } from '../../../solver/search/lane-grid.js';
import { mouthsOf } from '../../../solver/search/mouths.js';
import { zoneSpace } from '../../../solver/search/zone-space.js';
import { joined, type LatticeRoom, latticeRooms } from '../../helpers/lattice-room.js';
import { box, roomOf, settingOf } from '../../helpers/routing-rooms.js';

const RUNS = { seed: 31, numRuns: 150 };

/** Channels with gaps of 1 to 4 studs, the given one among them. */
const lanesThrough = (forced: number, count: number, gaps: readonly number[]): Int32Array => {
  const lanes = [forced];
  let k = 0;
  for (let c = forced - gaps[k++ % gaps.length]; c > 0; c -= gaps[k++ % gaps.length]) lanes.unshift(c);
  for (let c = forced + gaps[k++ % gaps.length]; c < count - 1; c += gaps[k++ % gaps.length]) lanes.push(c);
  return Int32Array.from(lanes);
};

interface Case {
  readonly room: LatticeRoom;
  readonly gaps: readonly number[];
  readonly most: number;
}

const cases = fc.record({
  room: latticeRooms(200, 1000),
  gaps: fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 7, maxLength: 7 }),
  most: fc.integer({ min: 1, max: 5 }),
});

const gridOf = ({ room, gaps, most }: Case) => {
  const space = zoneSpace(room.zone, room.setting);
  const { s, start } = space;
  if (start < 0) return { space, grid: null };
  const grid = laneGrid(s, space.floor, {
    columns: lanesThrough(start % s.nx, s.nx, gaps),
    rows: lanesThrough(Math.floor(start / s.nx), s.ny, [...gaps].reverse()),
    usable: space.usable,
    mouths: mouthsOf(space, most),
    start,
    turnWeight: 600,
    heatRadius: space.heatRadius,
    sums: space.sums,
  });
  return { space, grid };
};

describe('grid of lanes in random rooms', () => {
  it('has a node wherever two lanes cross on usable floor, the start among them', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { space, grid } = gridOf(given);
        if (!grid) return expect(space.usable[space.start] ?? 0).toBe(0);
        const { columns, rows, node, task } = grid;
        const crossings = [...rows].flatMap((j) => [...columns].map((i) => j * space.s.nx + i));
        expect([...node]).toEqual(crossings);
        expect([...task.present]).toEqual(crossings.map((v) => space.usable[v]));
        expect(node[task.start]).toBe(space.start);
      }),
      RUNS,
    );
  });

  it('joins two nodes exactly when every stud and channel piece between them is usable', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { space, grid } = gridOf(given);
        const { s, usable } = space;
        if (!grid) return;
        const { node, task } = grid;
        const straight = (a: number, b: number, step: number): boolean => {
          for (let v = a; v !== b; v += step)
            if (!usable[v] || !usable[v + step] || !joined(s, v, v + step)) return false;
          return true;
        };
        const wrong: number[] = [];
        for (let v = 0; v < node.length; v++) {
          const east = v % task.nx < task.nx - 1 && straight(node[v], node[v + 1], 1);
          const north = v + task.nx < node.length && straight(node[v], node[v + task.nx], s.nx);
          if (task.east[v] !== Number(east) || task.north[v] !== Number(north)) wrong.push(v);
        }
        expect(wrong).toEqual([]);
      }),
      RUNS,
    );
  });

  it('a route may end exactly where some channel leads into the buffer before it meets another lane crossing', () => {
    fc.assert(
      fc.property(cases, (given) => {
        const { space, grid } = gridOf(given);
        const { s, buffer } = space;
        const { most } = given;
        if (!grid) return;
        const { node, task } = grid;
        const wrong: number[] = [];
        const crossing = new Set([...node].filter((_, v) => task.present[v]));
        for (let v = 0; v < node.length; v++) {
          if (!task.present[v]) continue;
          const leads = [1, -1, s.nx, -s.nx].some((step) => {
            let w = node[v];
            for (let k = 1; k <= most && joined(s, w, w + step); k++) {
              w += step;
              if (buffer[w]) return true;
              if (crossing.has(w)) return false;
            }
            return false;
          });
          if (Number.isFinite(task.endCost[v]) !== leads) wrong.push(v);
        }
        expect(wrong).toEqual([]);
      }),
      RUNS,
    );
  });

  it('the studs of a walk over the grid are neighbours, begin and end on its nodes and pass all of them in order', () => {
    fc.assert(
      fc.property(cases, fc.infiniteStream(fc.integer({ min: 0, max: 3 })), (given, dice) => {
        const { space, grid } = gridOf(given);
        const { s } = space;
        if (!grid) return;
        const { node, task } = grid;
        const route = [task.start];
        for (let n = 0; n < 30; n++) {
          const v = route[route.length - 1];
          const ways = [
            task.east[v] ? v + 1 : -1,
            v > 0 && task.east[v - 1] ? v - 1 : -1,
            task.north[v] ? v + task.nx : -1,
            v >= task.nx && task.north[v - task.nx] ? v - task.nx : -1,
          ];
          const next = ways[dice.next().value];
          if (next >= 0) route.push(next);
        }
        const studs = studsOfRoute(grid, s, Int32Array.from(route));
        for (let k = 1; k < studs.length; k++) expect(joined(s, studs[k - 1], studs[k])).toBe(true);
        expect(studs[0]).toBe(node[route[0]]);
        expect(studs[studs.length - 1]).toBe(node[route[route.length - 1]]);
        let from = 0;
        for (const v of route) {
          from = studs.indexOf(node[v], from);
          expect(from).toBeGreaterThanOrEqual(0);
        }
      }),
      RUNS,
    );
  });
});

describe('weights of grid nodes', () => {
  const space = zoneSpace(
    roomOf({ outline: box(0, 0, 960, 690), clearance: 30, buffer: box(750, 0, 960, 690) }),
    { ...settingOf(), lattice: { pitch: 30, origin: [0, 0] } },
  );
  const { s, start } = space;
  const grid = laneGrid(s, space.floor, {
    columns: lanesThrough(start % s.nx, s.nx, [3]),
    rows: lanesThrough(Math.floor(start / s.nx), s.ny, [3, 2]),
    usable: space.usable,
    mouths: mouthsOf(space, 4),
    start,
    turnWeight: 345,
    heatRadius: space.heatRadius,
    sums: space.sums,
  });

  it('leaving a node out costs the target area halfway to its neighbours, at most R away', () => {
    expect(grid).not.toBeNull();
    if (!grid) return;
    const { task, columns, rows } = grid;
    for (let v = 0; v < task.present.length; v++) {
      if (!task.present[v]) continue;
      const [i, j] = [v % task.nx, Math.floor(v / task.nx)];
      const x = (s.i0 + columns[i]) * 30;
      const y = (s.j0 + rows[j]) * 30;
      const reach = (lanes: Int32Array, k: number, step: 1 | -1) =>
        Math.min(45, (Math.abs((lanes[k + step] ?? Infinity) - lanes[k]) * 30) / 2);
      const cell = box(
        x - reach(columns, i, -1),
        y - reach(rows, j, -1),
        x + reach(columns, i, 1),
        y + reach(rows, j, 1),
      );
      expect(task.skipCost[v]).toBeCloseTo(areaOf(intersect(space.target, [cell])), 0);
    }
    expect(new Set(task.turnCost)).toEqual(new Set([345]));
  });

  it('no grid without the start on it', () => {
    const columns = lanesThrough((start % s.nx) + 1, s.nx, [3]).filter((i) => i !== start % s.nx);
    const none = laneGrid(s, space.floor, {
      columns,
      rows: lanesThrough(Math.floor(start / s.nx), s.ny, [3]),
      usable: space.usable,
      mouths: mouthsOf(space, 4),
      start,
      turnWeight: 345,
      heatRadius: space.heatRadius,
      sums: space.sums,
    });
    expect(none).toBeNull();
  });
});
