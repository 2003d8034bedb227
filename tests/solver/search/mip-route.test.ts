import { beforeAll, describe, expect, it } from 'vitest';
import { createGlpkEngine } from '../../../solver/engines/glpk.js';
import { createHighsEngine } from '../../../solver/engines/highs.js';
import type { MipEngine, MipModel } from '../../../solver/engines/port.js';
import { hasEdge, measureRoute, verifyRoute } from '../../../solver/model/grid-cost.js';
import type { GridRoute, GridTask } from '../../../solver/model/grid-task.js';
import { cheapestWindow, type PathLength, routeLength } from '../../../solver/model/path-length.js';
import { type MipRouteOptions, solveByMip } from '../../../solver/search/mip-route.js';
import { bruteForce } from '../../helpers/brute-force-grid.js';
import { gridTask, randomGridTask, seeded } from '../../helpers/grid-tasks.js';

let glpk: MipEngine;
let highs: MipEngine;
const OPTIONS: MipRouteOptions = { maxNodes: 400, maxRounds: 60, seconds: 60 };

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

function proven(task: GridTask): GridRoute {
  const outcome = solveByMip(task, glpk, OPTIONS);
  if (outcome.kind !== 'route' || !outcome.proven) throw new Error(`not proven: ${outcome.kind}`);
  return outcome;
}

/** An engine whose answers are `change`d after the first `sound` solves. */
function unreliable(sound: number, change: () => ReturnType<MipEngine['solve']>): MipEngine {
  let calls = 0;
  return {
    name: 'unreliable',
    solve: (model, limits) =>
      model.variables.some((v) => v.integer) && ++calls > sound ? change() : glpk.solve(model, limits),
  };
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

describe('with the length coupled to a choice of cable', () => {
  /** Cheapest route + window by walking every simple path. */
  function enumerate(task: GridTask, length: PathLength): number {
    let best = Infinity;
    const path: number[] = [];
    const walk = (v: number): void => {
      path.push(v);
      const window =
        verifyRoute(task, path) === null ? cheapestWindow(length, routeLength(task, length, path)) : -1;
      if (window >= 0) best = Math.min(best, measureRoute(task, path).cost + length.windows[window].cost);
      for (const u of [v - task.nx, v - 1, v + 1, v + task.nx]) {
        if (u >= 0 && u < task.present.length && hasEdge(task, u, v) && !path.includes(u)) walk(u);
      }
      path.pop();
    };
    walk(task.start);
    return best;
  }

  it('agrees with enumeration', () => {
    const random = seeded(13);
    const kinds = { route: 0, infeasible: 0 };
    for (let k = 0; k < 400; k++) {
      const task = randomGridTask(random, 4, 13);
      const mm = (): number => 60 + 30 * Math.floor(3 * random());
      const lengths = Float64Array.from(task.present, mm);
      const windows = Array.from({ length: 3 }, () => {
        const lower = 900 * random();
        return { lower, upper: lower + 250 * random(), cost: Math.floor(6 * random()) };
      });
      const length = {
        eastLength: lengths,
        northLength: Float64Array.from(task.present, mm),
        cornerSaving: 6.4,
        windows,
      };
      const truth = enumerate(task, length);
      const outcome = solveByMip(task, k % 4 === 0 ? highs : glpk, { ...OPTIONS, length });
      if (truth === Infinity) {
        kinds.infeasible++;
        expect(outcome.kind, `grid ${k}`).toBe('infeasible');
        continue;
      }
      kinds.route++;
      if (outcome.kind !== 'route') throw new Error(`grid ${k}: ${outcome.kind}, enumeration has ${truth}`);
      expect(outcome.cost, `grid ${k}`).toBeCloseTo(truth, 6);
      expect(outcome.proven, `grid ${k}`).toBe(true);
      expect(verifyRoute(task, outcome.nodes)).toBeNull();
      expect(outcome.cable).toBe(cheapestWindow(length, routeLength(task, length, outcome.nodes)));
    }
    expect(Math.min(kinds.route, kinds.infeasible)).toBeGreaterThan(50);
  });
});

describe('published values', () => {
  /** 1-based column and row of node v. */
  const at = (v: number, m: number): [x: number, y: number] => [(v % m) + 1, Math.floor(v / m) + 1];
  const isWhite = (v: number, m: number): boolean => (at(v, m)[0] + at(v, m)[1]) % 2 === 0;

  /** Case F3 of the same paper: three rows, an even number m of columns. */
  function isF3(m: number, n: number, s: number, t: number): boolean {
    if (n !== 3 || m % 2 === 1) return false;
    for (const [p, q] of [
      [s, t],
      [t, s],
    ]) {
      for (const mirror of [false, true]) {
        const place = (v: number): [x: number, y: number] =>
          mirror ? [m + 1 - at(v, m)[0], at(v, m)[1]] : at(v, m);
        const [px, py] = place(p);
        const [qx, qy] = place(q);
        if ((px + py) % 2 === 0 || (qx + qy) % 2 === 1) continue;
        if ((py === 2 && px < qx) || (py !== 2 && px < qx - 1)) return true;
      }
    }
    return false;
  }

  // Itai, Papadimitriou, Szwarcfiter, SIAM J. Comput. 11 (1982), theorem on rectangular grid graphs (from memory).
  it.each([
    [4, 2],
    [6, 2],
    [4, 3],
    [6, 3],
    [5, 3],
    [5, 4],
    [4, 4],
  ])('Hamiltonian s-t paths of %i x %i', (m, n) => {
    for (let s = 0; s < m * n; s++) {
      for (let t = 0; t < m * n; t++) {
        if (s === t) continue;
        const isEven = (m * n) % 2 === 0;
        const colours = isEven ? isWhite(s, m) !== isWhite(t, m) : isWhite(s, m) && isWhite(t, m);
        const isBarrier = n === 2 && at(s, m)[0] === at(t, m)[0] && at(s, m)[0] > 1 && at(s, m)[0] < m;
        const outcome = solveByMip(gridTask(m, n, { start: s, ends: [t] }), glpk, OPTIONS);
        expect(outcome.kind, `${at(s, m)} to ${at(t, m)}`).toBe(
          colours && !isBarrier && !isF3(m, n, s, t) ? 'route' : 'infeasible',
        );
      }
    }
  });

  // Keshavarz-Kohjerdi, Bagheri, Asgharian-Sardroud, Discrete Appl. Math. 160 (2012) 210-217 (from memory).
  it.each([
    [4, 3],
    [5, 3],
    [4, 4],
    [5, 4],
    [5, 2],
  ])('longest s-t paths of %i x %i', (m, n) => {
    const size = m * n;
    for (let s = 0; s < size; s++) {
      for (let t = 0; t < size; t++) {
        if (s === t) continue;
        const [sx, sy] = at(s, m);
        const [tx, ty] = at(t, m);
        const isShort = n === 2 && (sx === tx || (Math.abs(sx - tx) === 1 && sy !== ty));
        const whites = Number(isWhite(s, m)) + Number(isWhite(t, m));
        let longest = size % 2 === 1 ? [size - 2, size - 1, size][whites] : size - 1;
        if (size % 2 === 0 && whites === 1) longest = isF3(m, n, s, t) ? size - 2 : size;
        if (isShort) longest = Math.max(sx + tx, 2 * m - sx - tx + 2);
        const route = proven(gridTask(m, n, { start: s, ends: [t], skip: 1, turn: 0 }));
        expect(size - route.cost, `${[sx, sy]} to ${[tx, ty]}`).toBeCloseTo(longest, 6);
      }
    }
  });

  // Kranakis, Krizanc, Meertens, Ars Combin. 38 (1994): 2n - 2 for n x n; on m x n 2 min(m, n) - 2 (own enumeration).
  it.each([
    [4, 4],
    [5, 5],
    [6, 6],
    [8, 8],
    [7, 4],
    [9, 6],
    [5, 11],
  ])('fewest turns of %i x %i from a corner', (m, n) => {
    const route = proven(gridTask(m, n));
    expect(route.turns).toBe(2 * Math.min(m, n) - 2);
    expect(route.skipped).toBe(0);
  });

  // Own enumeration of every Hamiltonian path between the corners.
  it.each([
    [5, 4, 8],
    [4, 5, 8],
    [5, 5, 8],
    [3, 4, 4],
    [3, 7, 4],
  ])('corner to far corner of %i x %i: %i turns', (m, n, turns) => {
    expect(proven(gridTask(m, n, { ends: [m * n - 1] })).turns).toBe(turns);
  });
});

describe('limits', () => {
  /** Takes several rounds of cuts. */
  const task = gridTask(7, 7, { absent: [24], skip: 20, ends: [48] });

  it('glpk.js and HiGHS prove the same cost on larger grids with holes', () => {
    for (const absent of [[40], [40, 41, 49, 50], [0, 1, 22, 23, 60]]) {
      const larger = gridTask(9, 9, { start: 2, absent, skip: 9, turn: 0.5 });
      const a = solveByMip(larger, glpk, OPTIONS);
      const b = solveByMip(larger, highs, OPTIONS);
      if (a.kind !== 'route' || b.kind !== 'route') throw new Error(`${a.kind}, ${b.kind}`);
      expect(a.proven && b.proven).toBe(true);
      expect(a.cost).toBeCloseTo(b.cost, 6);
    }
  });

  it('gives the same route again', () => {
    expect(solveByMip(task, glpk, OPTIONS)).toEqual(solveByMip(task, glpk, OPTIONS));
  });

  it('a task above maxNodes costs no solve and falls back to the known route', () => {
    const options = { ...OPTIONS, maxNodes: 20 };
    expect(solveByMip(task, glpk, options)).toMatchObject({ kind: 'exhausted', bound: -Infinity, work: 0 });
    const cutoffRoute = proven(task).nodes;
    const outcome = solveByMip(task, glpk, { ...options, cutoffRoute });
    expect(outcome).toMatchObject({ kind: 'route', nodes: cutoffRoute, proven: false, bound: -Infinity });
  });

  it('an illegal known route is ignored', () => {
    const cutoffRoute = Int32Array.of(0, 8, 16);
    expect(solveByMip(task, glpk, { ...OPTIONS, maxNodes: 20, cutoffRoute }).kind).toBe('exhausted');
  });

  it('a solve stopped by the guard leaves a bound that holds and the known route unproven', () => {
    const { nodes, cost } = proven(task);
    const stop = unreliable(0, () => ({ kind: 'stopped', bound: -Infinity, incumbent: null }));
    const outcome = solveByMip(task, stop, { ...OPTIONS, cutoffRoute: nodes });
    if (outcome.kind !== 'route') throw new Error(outcome.kind);
    expect(outcome).toMatchObject({ cost, guardFired: true });
    expect(outcome.bound).toBeGreaterThan(0);
    expect(outcome.bound).toBeLessThanOrEqual(cost + 1e-6);
    expect(solveByMip(task, stop, OPTIONS)).toMatchObject({ kind: 'exhausted', guardFired: true });
  });

  it('an engine that fails or an expired guard never passes for a proof', () => {
    const fail = unreliable(1, () => ({ kind: 'failed', reason: 'test' }));
    const first = solveByMip(task, glpk, { ...OPTIONS, maxRounds: 1 });
    expect(first).toMatchObject({ kind: 'route', proven: false, guardFired: false, work: 1 });
    expect(solveByMip(task, fail, OPTIONS)).toMatchObject({ kind: 'route', proven: false, guardFired: true });
    const expired = solveByMip(task, glpk, { ...OPTIONS, expired: () => true });
    expect(expired).toMatchObject({ kind: 'exhausted', guardFired: true, work: 0 });
  });

  it('adds cuts that only ever raise the bound, and never past the optimum', () => {
    const optimum = proven(task);
    const seen: MipModel[] = [];
    const spy: MipEngine = {
      name: 'spy',
      solve: (model, limits) => {
        seen.push(model);
        return glpk.solve(model, limits);
      },
    };
    const outcome = solveByMip(task, spy, OPTIONS);
    expect(outcome).toMatchObject({ kind: 'route', cost: optimum.cost, work: seen.length });
    const bounds = seen
      .map((model) => glpk.solve(model, { seconds: 60 }))
      .map((r) => (r.kind === 'optimal' ? r.objective : NaN));
    expect(bounds).toEqual([...bounds].sort((a, b) => a - b));
    expect(bounds.at(-1)).toBeLessThanOrEqual(optimum.cost + 1e-6);
  });
});
