import { describe, expect, it } from 'vitest';
import { verifyRoute } from '../../../solver/model/grid-cost.js';
import { solveFrontier } from '../../../solver/search/frontier.js';
import { Potentials } from '../../../solver/search/frontier-potential.js';
import { bruteForce } from '../../helpers/brute-force-grid.js';
import { gridTask, randomGridTask, seeded } from '../../helpers/grid-tasks.js';

const SWEEPS = [
  { sweep: 'rows', backward: false },
  { sweep: 'rows', backward: true },
  { sweep: 'columns', backward: false },
  { sweep: 'columns', backward: true },
] as const;

// Oracle: enumeration of all simple paths (tests/helpers/brute-force-grid.ts, itself checked against OEIS counts).
describe('frontier search against enumeration', () => {
  it.each([1, 2, 3, 4])('is exact on random grids with holes and random costs, seed %d', (seed) => {
    const random = seeded(seed);
    let feasible = 0;
    for (let k = 0; k < 600; k++) {
      const task = randomGridTask(random, 5, 20);
      const truth = bruteForce(task);
      if (Number.isFinite(truth.cost)) feasible++;
      // Every other task with potentials that all sweeps share.
      const shared = k % 2 === 0 ? {} : { potentials: new Potentials(task) };
      for (const sweep of SWEEPS) {
        const outcome = solveFrontier(task, { maxStates: 1e6, ...sweep, ...shared });
        if (!Number.isFinite(truth.cost)) {
          expect(outcome.kind, `seed ${seed} task ${k}`).toBe('infeasible');
          continue;
        }
        if (outcome.kind !== 'route') throw new Error(`seed ${seed} task ${k}: ${outcome.kind}`);
        expect(verifyRoute(task, outcome.nodes)).toBeNull();
        expect(outcome.cost).toBeCloseTo(truth.cost, 9);
        expect(outcome).toMatchObject({ proven: true, bound: outcome.cost });
      }
    }
    expect(feasible).toBeGreaterThan(250);
  });

  it('never claims too much when steps are cut', () => {
    const random = seeded(11);
    let routes = 0;
    let unproven = 0;
    for (let k = 0; k < 1500; k++) {
      const task = randomGridTask(random, 5, 20);
      const truth = bruteForce(task).cost;
      const outcome = solveFrontier(task, {
        maxStates: 1 + (k % 4),
        ...SWEEPS[Math.floor(k / 4) % 4],
        ...(k % 8 < 4 ? {} : { potentials: new Potentials(task) }),
      });
      if (outcome.kind === 'infeasible') {
        expect(truth).toBe(Number.POSITIVE_INFINITY);
        continue;
      }
      expect(outcome.bound).toBeLessThanOrEqual(truth + 1e-9);
      if (outcome.kind !== 'route') continue;
      routes++;
      expect(verifyRoute(task, outcome.nodes)).toBeNull();
      expect(outcome.cost).toBeGreaterThanOrEqual(truth - 1e-9);
      if (outcome.proven) expect(outcome.cost).toBeCloseTo(truth, 9);
      else unproven++;
    }
    expect(routes).toBeGreaterThan(500);
    expect(unproven).toBeGreaterThan(20);
  });

  it('finds only routes below the cutoff, and says when there are none', () => {
    const random = seeded(21);
    const seen = { below: 0, none: 0 };
    for (let k = 0; k < 1200; k++) {
      const task = randomGridTask(random, 5, 16);
      const truth = bruteForce(task).cost;
      if (!Number.isFinite(truth)) continue;
      const cutoff = truth + ((k % 3) - 1) * 0.25;
      const outcome = solveFrontier(task, { maxStates: 1e5, cutoff, ...SWEEPS[k % 4] });
      if (cutoff > truth) {
        seen.below++;
        expect(outcome).toMatchObject({ kind: 'route', proven: true });
      } else {
        seen.none++;
        expect(outcome).toMatchObject({ kind: 'exhausted', bound: cutoff });
      }
    }
    expect(Math.min(seen.below, seen.none)).toBeGreaterThan(150);
  });
});

describe('frontier search', () => {
  it('handles a start that is the only node', () => {
    expect(solveFrontier(gridTask(1, 1), { maxStates: 10 })).toMatchObject({ kind: 'route', proven: true });
    expect(solveFrontier(gridTask(1, 1, { ends: [] }), { maxStates: 10 }).kind).toBe('infeasible');
    // The start may not be the end while other nodes exist, even unreachable ones.
    const split = gridTask(2, 1, { skip: 1 });
    split.east.fill(0);
    expect(solveFrontier(split, { maxStates: 10 }).kind).toBe('infeasible');
  });

  it('pays for nodes it cannot reach and refuses when they are required', () => {
    const task = gridTask(5, 1, { skip: 4, ends: [1], absent: [2] });
    expect(solveFrontier(task, { maxStates: 10 })).toMatchObject({ kind: 'route', cost: 8, skipped: 2 });
    task.skipCost[4] = Number.POSITIVE_INFINITY;
    expect(solveFrontier(task, { maxStates: 10 }).kind).toBe('infeasible');
  });

  it('answers the same twice', () => {
    const task = gridTask(9, 9, { skip: 3, turn: 0.5, absent: [20, 21, 50] });
    const first = solveFrontier(task, { maxStates: 60 });
    expect(solveFrontier(task, { maxStates: 60 })).toEqual(first);
  });

  // 70 plugs: more than one key word, and more than the 32 bits of one shift.
  it.each(SWEEPS)('routes wide grids with few states: %o', (sweep) => {
    const nx = 70;
    const ny = 12;
    const ends = Array.from({ length: nx }, (_, i) => (ny - 1) * nx + i);
    const task = gridTask(nx, ny, { skip: 9, turn: 0.5, ends, absent: [200, 201, 270, 271] });
    const outcome = solveFrontier(task, { maxStates: 100, ...sweep });
    if (outcome.kind !== 'route') throw new Error(outcome.kind);
    expect(verifyRoute(task, outcome.nodes)).toBeNull();
    expect(outcome.bound).toBeLessThanOrEqual(outcome.cost);
    // Least turns of a covering path are 2 min(m, n) - 2 without the hole: at a turn cost of 0.5 that is 11.
    expect(outcome.bound).toBeGreaterThan(8);
  });
});

describe('a guard that fires', () => {
  it('ends a search without a route and without a claim', () => {
    const outcome = solveFrontier(gridTask(6, 6), { maxStates: 100, sweep: 'rows', expired: () => true });
    expect(outcome).toMatchObject({ kind: 'exhausted', bound: Number.NEGATIVE_INFINITY });
  });
});
