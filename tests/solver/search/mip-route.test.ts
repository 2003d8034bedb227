import { beforeAll, describe, expect, it } from 'vitest';
import { createGlpkEngine } from '../../../solver/engines/glpk.js';
import { createHighsEngine } from '../../../solver/engines/highs.js';
import type { MipEngine } from '../../../solver/engines/port.js';
import { measureRoute, verifyRoute } from '../../../solver/model/grid-cost.js';
import type { GridTask } from '../../../solver/model/grid-task.js';
import { solveByMip } from '../../../solver/search/mip-route.js';
import { bruteForce } from '../../helpers/brute-force-grid.js';
import { randomGridTask, seeded } from '../../helpers/grid-tasks.js';

let glpk: MipEngine;
let highs: MipEngine;
const OPTIONS = { maxNodes: 400, maxRounds: 60, seconds: 60 };

beforeAll(async () => {
  glpk = await createGlpkEngine();
  highs = await createHighsEngine();
});

/** Solves and checks the outcome against full enumeration. */
function agree(task: GridTask, engine: MipEngine, label: string): void {
  const truth = bruteForce(task);
  const outcome = solveByMip(task, engine, OPTIONS);
  if (truth.cost === Infinity) {
    expect(outcome.kind, label).toBe('infeasible');
    return;
  }
  if (outcome.kind !== 'route') throw new Error(`${label}: ${outcome.kind}, enumeration has ${truth.cost}`);
  expect(verifyRoute(task, outcome.nodes), label).toBeNull();
  expect(measureRoute(task, outcome.nodes).cost, label).toBe(outcome.cost);
  expect(outcome.proven, label).toBe(true);
  expect(outcome.cost, label).toBeCloseTo(truth.cost, 6);
  expect(outcome.bound, label).toBeLessThanOrEqual(truth.cost + 1e-6);
}

describe('against full enumeration of small random grids', () => {
  it('glpk.js', () => {
    const random = seeded(11);
    for (let k = 0; k < 1500; k++) agree(randomGridTask(random, 5, 18), glpk, `grid ${k}`);
  });

  it('HiGHS', () => {
    const random = seeded(12);
    for (let k = 0; k < 300; k++) agree(randomGridTask(random, 5, 18), highs, `grid ${k}`);
  });
});
