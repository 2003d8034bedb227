import { describe, expect, it } from 'vitest';
import { verifyRoute } from '../../../solver/model/grid-cost.js';
import { solveFrontier } from '../../../solver/search/frontier.js';
import { Potentials } from '../../../solver/search/frontier-potential.js';
import { sweepOnce } from '../../../solver/search/frontier-sweep.js';
import { windowBoard } from '../../../solver/search/window-board.js';
import { bruteForce } from '../../helpers/brute-force-grid.js';
import { gridTask, randomGridTask, seeded } from '../../helpers/grid-tasks.js';

describe('a route opened in one window', () => {
  // Oracle: enumeration of all routes that do outside the box what the route does.
  it('gets the cheapest route that is the same outside the box, though cells there take no step of their own', () => {
    const random = seeded(11);
    const pick = (n: number) => Math.floor(random() * n);
    let forced = 0;
    let better = 0;
    for (let k = 0; k < 3000; k++) {
      const task = randomGridTask(random, 6, 24);
      const rough = solveFrontier(task, { maxStates: 1 });
      if (rough.kind !== 'route' || rough.nodes.length < 2) continue;
      const [x, y] = [pick(task.nx), pick(task.ny)];
      const box = { x, y, width: 1 + pick(task.nx - x), height: 1 + pick(task.ny - y) };
      const sweep = random() < 0.5 ? 'rows' : 'columns';
      const board = windowBoard(task, rough.nodes, box, sweep, new Potentials(task).get(sweep, 20));
      const found = sweepOnce(board, 1e5, rough.cost + 1);
      if (found.kind !== 'route') throw new Error('the route itself is there');
      expect(verifyRoute(task, found.nodes)).toBeNull();
      expect(found.cost).toBeCloseTo(bruteForce(board.task).cost, 9);
      forced += board.forced?.reduce((sum, f) => sum + f, 0) ?? 0;
      if (found.cost < rough.cost - 1e-9) better++;
    }
    expect(forced).toBeGreaterThan(2000);
    expect(better).toBeGreaterThan(20);
  });

  it('comes to the same, beam or not, with every cell swept', () => {
    const random = seeded(12);
    const pick = (n: number) => Math.floor(random() * n);
    let forced = 0;
    let better = 0;
    for (let k = 0; k < 100; k++) {
      const [nx, ny] = [8 + pick(12), 8 + pick(12)];
      const absent = Array.from({ length: nx * ny }, (_, v) => v).filter((v) => v > 0 && random() < 0.06);
      const task = gridTask(nx, ny, { absent, skip: 6, turn: 0.5 });
      const rough = solveFrontier(task, { maxStates: 8, sweep: k % 2 === 0 ? 'rows' : 'columns' });
      if (rough.kind !== 'route') throw new Error('every node may be skipped');
      const potential = new Potentials(task).get('rows', 20);
      for (let n = 0; n < 10; n++) {
        const box = { x: pick(nx - 4), y: pick(ny - 4), width: 5, height: 5 };
        const board = windowBoard(task, rough.nodes, box, 'rows', potential);
        const { forced: cells, ...all } = board;
        for (const states of [60, 1e5]) {
          const fast = sweepOnce(board, states, rough.cost);
          const slow = sweepOnce(all, states, rough.cost);
          expect(fast.kind).toBe(slow.kind);
          if (fast.kind !== 'route' || slow.kind !== 'route') continue;
          expect(verifyRoute(task, fast.nodes)).toBeNull();
          expect(fast.cost).toBe(slow.cost);
          better++;
        }
        forced += cells?.reduce((sum, f) => sum + f, 0) ?? 0;
      }
    }
    expect(forced).toBeGreaterThan(20_000);
    expect(better).toBeGreaterThan(200);
  });
});
