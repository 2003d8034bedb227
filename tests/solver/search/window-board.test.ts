import { describe, expect, it } from 'vitest';
import { verifyRoute } from '../../../solver/model/grid-cost.js';
import { solveFrontier } from '../../../solver/search/frontier.js';
import { Potentials } from '../../../solver/search/frontier-potential.js';
import { sweepOnce } from '../../../solver/search/frontier-sweep.js';
import { windowBoard } from '../../../solver/search/window-board.js';
import { bruteForce } from '../../helpers/brute-force-grid.js';
import { randomGridTask, seeded } from '../../helpers/grid-tasks.js';

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

  it('comes to the same with every cell swept', () => {
    const random = seeded(12);
    const pick = (n: number) => Math.floor(random() * n);
    let forced = 0;
    for (let k = 0; k < 60; k++) {
      const task = randomGridTask(random, 22, 400);
      const rough = solveFrontier(task, { maxStates: 5 });
      if (rough.kind !== 'route' || rough.nodes.length < 2) continue;
      const [width, height] = [Math.min(7, task.nx), Math.min(7, task.ny)];
      const box = { x: pick(task.nx - width + 1), y: pick(task.ny - height + 1), width, height };
      const board = windowBoard(task, rough.nodes, box, 'rows', new Potentials(task).get('rows', 20));
      const { forced: cells, ...all } = board;
      const [fast, slow] = [board, all].map((b) => sweepOnce(b, 1e5, rough.cost + 1));
      if (fast.kind !== 'route' || slow.kind !== 'route') throw new Error('the route itself is there');
      expect(fast.cost).toBe(slow.cost);
      forced += cells?.reduce((sum, f) => sum + f, 0) ?? 0;
    }
    expect(forced).toBeGreaterThan(1000);
  });
});
