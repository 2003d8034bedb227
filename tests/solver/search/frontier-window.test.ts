import { describe, expect, it } from 'vitest';
import { measureRoute, verifyRoute } from '../../../solver/model/grid-cost.js';
import type { GridRoute } from '../../../solver/model/grid-task.js';
import { solveFrontier } from '../../../solver/search/frontier.js';
import { refineRoute } from '../../../solver/search/frontier-window.js';
import { bruteForce } from '../../helpers/brute-force-grid.js';
import { gridTask, randomGridTask, seeded } from '../../helpers/grid-tasks.js';

describe('window refinement', () => {
  // Oracle: enumeration. One window holds the whole of such a small grid, so the refined route must be optimal.
  it('finds the optimum where one window holds the grid', () => {
    const random = seeded(5);
    let improved = 0;
    for (let k = 0; k < 1200; k++) {
      const task = randomGridTask(random, 5, 20);
      const truth = bruteForce(task).cost;
      const rough = solveFrontier(task, { maxStates: 1 });
      if (rough.kind !== 'route') continue;
      const refined = refineRoute(task, rough, { maxStates: 1e5, maxWindows: 20 });
      expect(verifyRoute(task, refined.nodes)).toBeNull();
      expect(refined.cost).toBeCloseTo(truth, 9);
      expect(refined.bound).toBeLessThanOrEqual(truth + 1e-9);
      if (refined.cost < rough.cost - 1e-9) improved++;
    }
    expect(improved).toBeGreaterThan(20);
  });

  it('keeps routes legal and never makes them dearer on larger grids', () => {
    const random = seeded(6);
    let improved = 0;
    for (let k = 0; k < 25; k++) {
      const nx = 14 + (k % 7);
      const ny = 22 - (k % 9);
      const absent = Array.from({ length: nx * ny }, (_, v) => v).filter((v) => v > 0 && random() < 0.05);
      const task = gridTask(nx, ny, { absent, skip: 6, turn: 0.5 });
      task.eastCost.fill(0.05);
      const rough = solveFrontier(task, { maxStates: 30, sweep: k % 2 === 0 ? 'rows' : 'columns' });
      if (rough.kind !== 'route') continue;
      const refined = refineRoute(task, rough, { maxStates: 100, maxWindows: 60 });
      expect(verifyRoute(task, refined.nodes)).toBeNull();
      expect(refined).toMatchObject(measureRoute(task, refined.nodes));
      expect(refined.cost).toBeLessThanOrEqual(rough.cost);
      expect(refined.bound).toBeLessThanOrEqual(refined.cost);
      expect(refineRoute(task, rough, { maxStates: 100, maxWindows: 60 })).toEqual(refined);
      if (refined.cost < rough.cost - 1e-9) improved++;
    }
    expect(improved).toBeGreaterThan(15);
  });

  it('spends no more on windows that keep many states than on as many usual ones', () => {
    const random = seeded(7);
    let reached = 0;
    for (let k = 0; k < 3; k++) {
      const absent = Array.from({ length: 576 }, (_, v) => v).filter((v) => v > 0 && random() < 0.05);
      const task = gridTask(24, 24, { absent, skip: 3, turn: 1 });
      const rough = solveFrontier(task, { maxStates: 10, sweep: 'rows' });
      if (rough.kind !== 'route') throw new Error('every node may be skipped');
      const refined = refineRoute(task, rough, { maxStates: 3000, maxWindows: 100 });
      // 15,000 states a window; the last one may go beyond by all it can hold.
      expect(refined.work - rough.work).toBeLessThan(100 * 15_000 + 121 * 3000);
      if (refined.work - rough.work > 100 * 15_000) reached++;
    }
    expect(reached).toBeGreaterThan(0);
  });

  // A comb over 8 x 6 nodes with teeth of two turns each, unrolled by hand into 10 turns (2 min(m, n) - 2).
  it('unrolls a route that was laid the long way', () => {
    const nx = 8;
    const ny = 6;
    const nodes: number[] = [];
    for (let x = 0; x < nx; x++) {
      for (let y = 0; y < ny; y++) nodes.push((x % 2 === 0 ? y : ny - 1 - y) * nx + x);
    }
    const task = gridTask(nx, ny);
    const measure = measureRoute(task, nodes);
    expect(measure.turns).toBe(14);
    const comb: GridRoute = {
      kind: 'route',
      nodes: Int32Array.from(nodes),
      ...measure,
      bound: Number.NEGATIVE_INFINITY,
      proven: false,
      work: 0,
    };
    expect(refineRoute(task, comb, { maxStates: 1e4, maxWindows: 10 }).turns).toBe(10);
  });
});
