import { describe, expect, it } from 'vitest';
import { measureRoute, verifyRoute } from '../../../solver/model/grid-cost.js';
import { flipRoute } from '../../../solver/search/flip-route.js';
import { solveFrontier } from '../../../solver/search/frontier.js';
import { stepsOf } from '../../../solver/search/steps.js';
import { bruteForce } from '../../helpers/brute-force-grid.js';
import { gridTask, randomGridTask, seeded } from '../../helpers/grid-tasks.js';

const TURN = 1;

describe('routes improved by flipping squares', () => {
  // Oracle: enumeration.
  it('small grids: legal, never dearer, never below the optimum, and a quarter of the poor ones better', () => {
    const random = seeded(41);
    let [poor, mended] = [0, 0];
    for (let k = 0; k < 1500; k++) {
      const task = randomGridTask(random, 5, 20);
      const rough = solveFrontier(task, { maxStates: 1 });
      if (rough.kind !== 'route') continue;
      const truth = bruteForce(task).cost;
      const flipped = flipRoute(task, rough.nodes, { trials: 2000, turnWeight: TURN, stepTurns: 0 });
      expect(verifyRoute(task, flipped), `task ${k}`).toBeNull();
      const { cost } = measureRoute(task, flipped);
      expect(cost).toBeLessThanOrEqual(rough.cost);
      expect(cost).toBeGreaterThanOrEqual(truth - 1e-9);
      if (rough.cost <= truth + 1e-9) continue;
      poor++;
      if (cost < rough.cost - 1e-9) mended++;
    }
    expect(poor).toBeGreaterThan(30);
    expect(mended).toBeGreaterThan(poor / 4);
  });

  it('larger grids: legal, never dearer with their steps, most of them better, and the same every time', () => {
    const random = seeded(42);
    let improved = 0;
    for (let k = 0; k < 24; k++) {
      const [nx, ny] = [14 + (k % 7), 22 - (k % 9)];
      const absent = Array.from({ length: nx * ny }, (_, v) => v).filter((v) => v > 0 && random() < 0.05);
      const task = gridTask(nx, ny, { absent, skip: 6, turn: TURN });
      task.eastCost.fill(0.05);
      const rough = solveFrontier(task, { maxStates: 30, sweep: k % 2 === 0 ? 'rows' : 'columns' });
      if (rough.kind !== 'route') continue;
      const budget = { trials: 4000, turnWeight: TURN, stepTurns: 1 };
      const flipped = flipRoute(task, rough.nodes, budget);
      expect(verifyRoute(task, flipped)).toBeNull();
      const whole = (nodes: Int32Array) => measureRoute(task, nodes).cost + stepsOf(nodes);
      expect(whole(flipped)).toBeLessThanOrEqual(whole(rough.nodes) + 1e-6);
      expect(flipRoute(task, rough.nodes, budget)).toEqual(flipped);
      if (whole(flipped) < whole(rough.nodes) - 1e-6) improved++;
    }
    expect(improved).toBeGreaterThan(18);
  });

  it('a serpentine that steps over by one lane is laid straight', () => {
    const [nx, ny] = [12, 3];
    const row = (from: number, to: number, y: number) =>
      Array.from({ length: to - from + 1 }, (_, k) => y * nx + from + k);
    const stepped = Int32Array.from([...row(0, 5, 0), ...row(5, 11, 1), 2 * nx + 11]);
    const task = gridTask(nx, ny, { skip: 3, turn: TURN, ends: [2 * nx + 11] });
    expect(verifyRoute(task, stepped)).toBeNull();
    expect(stepsOf(stepped)).toBe(1);
    const flipped = flipRoute(task, stepped, { trials: 4000, turnWeight: TURN, stepTurns: 1 });
    expect(verifyRoute(task, flipped)).toBeNull();
    expect(stepsOf(flipped)).toBe(0);
    // Three runs, four corners, nothing left out.
    expect(measureRoute(task, flipped)).toEqual({ cost: 4 * TURN, turns: 4, skipped: 0 });
  });

  it('single lanes, and routes of one piece, stay as they are', () => {
    const lane = Int32Array.of(0, 1, 2, 3);
    const budget = { trials: 100, turnWeight: TURN, stepTurns: 1 };
    expect(flipRoute(gridTask(4, 1), lane, budget)).toBe(lane);
    const piece = Int32Array.of(0, 1);
    expect(flipRoute(gridTask(2, 2, { skip: 1 }), piece, budget)).toBe(piece);
  });
});

describe('steps of a route', () => {
  it('are pieces between two in the same direction; a U-turn and a plain corner are none', () => {
    const nx = 10;
    expect(stepsOf([0, 1, 1 + nx, 2 + nx])).toBe(1);
    expect(stepsOf([0, 1, 1 + nx, nx])).toBe(0);
    expect(stepsOf([0, 1, 2, 2 + nx, 2 + 2 * nx])).toBe(0);
    expect(stepsOf([0, 1, 1 + nx, 2 + nx, 2 + 2 * nx, 3 + 2 * nx])).toBe(3);
    expect(stepsOf([])).toBe(0);
  });
});
