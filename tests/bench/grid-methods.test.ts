import { describe, expect, it } from 'vitest';
import { routeByEngine, routeByFrontier } from '../../bench/grid-methods.js';
import { createGlpkEngine } from '../../solver/engines/glpk.js';
import type { MipEngine } from '../../solver/engines/port.js';
import { measureRoute, verifyRoute } from '../../solver/model/grid-cost.js';
import { bruteForce } from '../helpers/brute-force-grid.js';
import { randomGridTask, seeded } from '../helpers/grid-tasks.js';

const glpk = await createGlpkEngine();

/** Calls the engine's optimum something the clock stopped, and gives a bound below it. */
const hasty: MipEngine = {
  name: 'hasty',
  solve(model, limits) {
    const result = glpk.solve(model, limits);
    if (result.kind !== 'optimal') return result;
    const { objective, values } = result;
    return { kind: 'stopped', bound: objective - 1, incumbent: { objective, values } };
  },
};

// Oracle: enumeration of every route of small random tasks.
describe('methods on one lane grid', () => {
  it('prove the enumerated optimum, or find nothing where there is nothing', () => {
    const random = seeded(11);
    let routed = 0;
    for (let k = 0; k < 150; k++) {
      const task = randomGridTask(random, 5, 18);
      const truth = bruteForce(task).cost;
      for (const result of [routeByEngine(task, glpk, 10), routeByFrontier(task, 'rows', 10)]) {
        if (truth === Number.POSITIVE_INFINITY) {
          expect(result).toMatchObject({ nodes: null, proven: false });
          continue;
        }
        if (result.nodes === null) throw new Error(`no route on task ${k}`);
        routed++;
        expect(result.proven).toBe(true);
        expect(result.cost).toBeCloseTo(truth, 5);
        expect(verifyRoute(task, result.nodes)).toBeNull();
        expect(measureRoute(task, result.nodes).turns).toBe(result.turns);
      }
    }
    expect(routed).toBeGreaterThan(100);
  });

  it('keep the incumbent and the bound of a solve that the clock stopped', () => {
    const random = seeded(12);
    let kept = 0;
    for (let k = 0; k < 80; k++) {
      const task = randomGridTask(random, 5, 18);
      const truth = bruteForce(task).cost;
      const result = routeByEngine(task, hasty, 10);
      if (result.nodes === null) continue;
      expect(verifyRoute(task, result.nodes)).toBeNull();
      expect(result.cost).toBeGreaterThanOrEqual(truth - 1e-6);
      if (result.proven) continue;
      kept++;
      expect(result.bound).toBeLessThanOrEqual(truth + 1e-6);
      expect(result.bound).toBeGreaterThan(-Infinity);
    }
    expect(kept).toBeGreaterThan(20);
  });
});
