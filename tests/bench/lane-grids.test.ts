import { describe, expect, it } from 'vitest';
import { gridOf, routeCoverage } from '../../bench/lane-grids.js';
import { narrowRooms } from '../../bench/narrow-rooms.js';
import { coverageOf } from '../../solver/check/coverage.js';
import { lineOf } from '../../solver/check/line.js';
import { nodePoint } from '../../solver/lattice/stud-lattice.js';
import { cornerRadius } from '../../solver/problem.js';
import { solveFrontier } from '../../solver/search/frontier.js';
import { studsOfRoute } from '../../solver/search/lane-grid.js';

describe('narrow rooms', () => {
  it('are the same every time, of the stated sizes', () => {
    const rooms = narrowRooms(12);
    expect(narrowRooms(12)).toEqual(rooms);
    expect(new Set(rooms.map(({ name }) => name)).size).toBe(12);
    for (const { area } of rooms) {
      expect(area).toBeGreaterThanOrEqual(0.75 * 1.2);
      expect(area).toBeLessThanOrEqual(1.1 * 3.4);
    }
  });
});

describe('coverage of a route over lanes', () => {
  // The checker measures coverage by another way: it takes the tube off the floor piece by piece.
  it('is what the checker measures', () => {
    for (const room of narrowRooms(4)) {
      const lanes = gridOf(room);
      if (lanes === null) throw new Error(`no lanes in ${room.name}`);
      const route = solveFrontier(lanes.grid.task, { maxStates: 50 });
      if (route.kind !== 'route') throw new Error(route.kind);
      const { space, grid } = lanes;
      const path = studsOfRoute(grid, space.s, route.nodes).map((v) => nodePoint(space.s, v));
      const line = lineOf({ path, reserve: [] }, cornerRadius(space.setting.lattice));
      const window = { tolerance: 0, earliest: line.pathEnd, latest: line.pathEnd, missing: 0 };
      const { fraction } = coverageOf(space.zone, space.setting, line, window);
      expect(routeCoverage(lanes, route.nodes)).toBeCloseTo(fraction, 4);
      expect(fraction).toBeGreaterThan(0.9);
    }
  });
});
