import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measureRoute, verifyRoute } from '../../../solver/model/grid-cost.js';
import type { GridTask } from '../../../solver/model/grid-task.js';
import { coarseRoute } from '../../../solver/search/coarse-route.js';
import { solveFrontier } from '../../../solver/search/frontier.js';
import { bruteForce } from '../../helpers/brute-force-grid.js';
import { gridTask } from '../../helpers/grid-tasks.js';

/** Grid with boxes taken out, so that many neighbouring lanes are alike; the path ends anywhere on the last column. */
const boxedTasks = (least: number, most: number): fc.Arbitrary<GridTask> =>
  fc
    .record({
      nx: fc.integer({ min: least, max: most }),
      ny: fc.integer({ min: least, max: most }),
      boxes: fc.array(
        fc.record({
          x: fc.double({ min: 0, max: 1, noNaN: true }),
          y: fc.double({ min: 0, max: 1, noNaN: true }),
          w: fc.double({ min: 0, max: 0.4, noNaN: true }),
          h: fc.double({ min: 0, max: 0.4, noNaN: true }),
        }),
        { maxLength: 2 },
      ),
      skip: fc.integer({ min: 2, max: 9 }),
    })
    .map(({ nx, ny, boxes, skip }) => {
      const absent: number[] = [];
      for (let v = 0; v < nx * ny; v++) {
        const [i, j] = [v % nx, Math.floor(v / nx)];
        const inside = boxes.some(
          ({ x, y, w, h }) => i >= x * nx && i < (x + w) * nx && j >= y * ny && j < (y + h) * ny,
        );
        if (inside && v !== 0 && i < nx - 1) absent.push(v);
      }
      const ends = Array.from({ length: ny }, (_, j) => j * nx + nx - 1);
      return gridTask(nx, ny, { start: 0, ends, skip, turn: 1, absent });
    });

describe('route over a coarse copy', () => {
  it('is a route over the full grid, from its start to one of its ends', () => {
    let found = 0;
    let none = 0;
    fc.assert(
      fc.property(boxedTasks(4, 30), fc.integer({ min: 12, max: 120 }), (task, nodes) => {
        const route = coarseRoute(task, { nodes, maxStates: 15 });
        if (!route) {
          none++;
          return;
        }
        found++;
        expect(verifyRoute(task, route)).toBeNull();
        expect(route[0]).toBe(task.start);
        expect(task.endCost[route[route.length - 1]]).toBe(0);
      }),
      { seed: 701, numRuns: 300 },
    );
    expect(found).toBeGreaterThan(200);
    expect(none).toBeLessThan(80);
  });

  it('never costs less than the best of all routes', () => {
    let found = 0;
    let best = 0;
    fc.assert(
      fc.property(boxedTasks(3, 8), (task) => {
        if (task.present.reduce((sum, there) => sum + there, 0) > 24) return;
        const route = coarseRoute(task, { nodes: 8, maxStates: 40 });
        if (!route) return;
        found++;
        // Outside source: every simple path from the start, walked.
        const { cost } = bruteForce(task);
        const own = measureRoute(task, route).cost;
        expect(own).toBeGreaterThanOrEqual(cost - 1e-9);
        if (own <= cost + 1e-9) best++;
      }),
      { seed: 709, numRuns: 400 },
    );
    expect(found).toBeGreaterThan(60);
    expect(best).toBeGreaterThan(found / 3);
  });

  it.each([
    [9, 41],
    [11, 30],
    [21, 64],
    [33, 35],
  ])('an empty grid of %d rows and %d columns: fewest turns, 2 (rows - 1), all nodes visited', (ny, nx) => {
    // From corner to the far end with an odd number of rows: a plain serpentine (bound as in the tests of the frontier).
    const ends = Array.from({ length: ny }, (_, j) => j * nx + nx - 1);
    const task = gridTask(nx, ny, { start: 0, ends, skip: 9 });
    const route = coarseRoute(task, { nodes: 100, maxStates: 15 });
    if (!route) throw new Error('no route');
    expect(measureRoute(task, route)).toMatchObject({ turns: 2 * (ny - 1), skipped: 0 });
  });

  it('a wide room: as good as a beam over the full grid that does twenty times the work', () => {
    const ny = 17;
    const nx = 36;
    const absent: number[] = [];
    for (let j = 0; j < 5; j++) for (let i = 0; i < 8; i++) absent.push(j * nx + i);
    const ends = Array.from({ length: ny }, (_, j) => j * nx + nx - 1);
    const task = gridTask(nx, ny, { start: 10 * nx, ends, skip: 9, absent });
    const route = coarseRoute(task, { nodes: 100, maxStates: 15 });
    const full = solveFrontier(task, { maxStates: 200, sweep: 'rows' });
    if (!route || full.kind !== 'route') throw new Error('no route');
    expect(measureRoute(task, route).cost).toBeLessThanOrEqual(full.cost);
  });

  it('no lanes alike: none', () => {
    const nx = 8;
    // A staircase: no two neighbouring rows or columns have the same nodes.
    const absent: number[] = [];
    for (let j = 0; j < nx; j++) for (let i = nx - j; i < nx; i++) absent.push(j * nx + i);
    expect(coarseRoute(gridTask(nx, nx, { absent, skip: 5 }), { nodes: 20, maxStates: 15 })).toBeNull();
  });
});
