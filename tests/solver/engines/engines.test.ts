import GLPK from 'glpk.js/node';
import { describe, expect, it } from 'vitest';
import { createGlpkEngine } from '../../../solver/engines/glpk.js';
import { dualBound, verifySolution } from '../../../solver/engines/guard.js';
import { createHighsEngine } from '../../../solver/engines/highs.js';
import type { MipEngine, MipModel } from '../../../solver/engines/port.js';
import { seeded } from '../../helpers/grid-tasks.js';

const LIMITS = { seconds: 30 };
const engines: readonly MipEngine[] = [await createGlpkEngine(), await createHighsEngine()];

/** Small model with integers, binaries and a continuous variable; every row kind. */
function randomModel(random: () => number): MipModel {
  const whole = (low: number, high: number): number => low + Math.floor(random() * (high - low + 1));
  const variables = Array.from({ length: 6 }, (_, j) => {
    const lower = whole(-2, 0);
    return { cost: whole(-5, 5), lower, upper: lower + whole(0, 3), integer: j < 5 };
  });
  const rows = Array.from({ length: whole(1, 5) }, () => {
    const columns = variables.flatMap((_, j) => (random() < 0.6 ? [j] : []));
    const side = whole(-6, 6);
    const [lower, upper] = [
      [side, side],
      [side, Infinity],
      [-Infinity, side],
      [side, side + 4],
    ][whole(0, 3)];
    return {
      columns,
      coefficients: columns.map(() => whole(1, 4) * (random() < 0.5 ? -1 : 1)),
      lower,
      upper,
    };
  });
  return { variables, rows };
}

/** Best objective over every integer assignment, the last (continuous) variable at the ends of what the rows leave it. */
function enumerate(model: MipModel): number {
  let best = Infinity;
  const last = model.variables.length - 1;
  const values = model.variables.map((v) => v.lower);
  const walk = (j: number): void => {
    if (j < last) {
      for (let x = model.variables[j].lower; x <= model.variables[j].upper; x++) {
        values[j] = x;
        walk(j + 1);
      }
      return;
    }
    let { lower, upper } = model.variables[last];
    for (const row of model.rows) {
      let fixed = 0;
      let own = 0;
      for (const [k, c] of row.columns.entries()) {
        if (c === last) own = row.coefficients[k];
        else fixed += row.coefficients[k] * values[c];
      }
      if (own === 0 && (fixed < row.lower || fixed > row.upper)) return;
      if (own === 0) continue;
      const ends = [(row.lower - fixed) / own, (row.upper - fixed) / own];
      lower = Math.max(lower, Math.min(...ends));
      upper = Math.min(upper, Math.max(...ends));
    }
    if (lower > upper + 1e-9) return;
    values[last] = model.variables[last].cost > 0 ? lower : upper;
    best = Math.min(
      best,
      values.reduce((sum, x, k) => sum + x * model.variables[k].cost, 0),
    );
  };
  walk(0);
  return best;
}

describe.each(engines)('$name', (engine) => {
  it('agrees with enumeration on random integer models', () => {
    const random = seeded(21);
    const kinds = { optimal: 0, infeasible: 0 };
    for (let k = 0; k < 400; k++) {
      const model = randomModel(random);
      const truth = enumerate(model);
      const result = engine.solve(model, LIMITS);
      if (truth === Infinity) {
        kinds.infeasible++;
        expect(result.kind, `model ${k}`).toBe('infeasible');
        continue;
      }
      kinds.optimal++;
      if (result.kind !== 'optimal') throw new Error(`model ${k}: ${JSON.stringify(result)}`);
      expect(result.objective, `model ${k}`).toBeCloseTo(truth, 6);
      expect(verifySolution(model, result.values).ok).toBe(true);
    }
    expect(Math.min(kinds.optimal, kinds.infeasible)).toBeGreaterThan(40);
  });

  it('gives multipliers that prove the optimum of a model without integers', () => {
    const random = seeded(22);
    let solved = 0;
    for (let k = 0; k < 200; k++) {
      const { variables, rows } = randomModel(random);
      const relaxed: MipModel = { variables: variables.map((v) => ({ ...v, integer: false })), rows };
      const result = engine.solve(relaxed, LIMITS);
      if (result.kind !== 'optimal') {
        expect(result.kind).toBe('infeasible');
        continue;
      }
      solved++;
      if (result.duals === undefined) throw new Error('no multipliers');
      expect(dualBound(relaxed, result.duals), `model ${k}`).toBeCloseTo(result.objective, 6);
    }
    expect(solved).toBeGreaterThan(80);
  });

  it('refuses unsound models and goes on working', () => {
    const variables = [{ cost: 1, lower: 0, upper: 1, integer: true }];
    const bad = { columns: [0, 0], coefficients: [1, 1], lower: 1, upper: 1 };
    expect(engine.solve({ variables, rows: [bad] }, LIMITS)).toMatchObject({
      kind: 'failed',
      reason: /twice/,
    });
    const nan = { columns: [0], coefficients: [Number.NaN], lower: 1, upper: 1 };
    expect(engine.solve({ variables, rows: [nan] }, LIMITS)).toMatchObject({ kind: 'failed' });
    const good = { columns: [0], coefficients: [1], lower: 1, upper: 1 };
    expect(engine.solve({ variables, rows: [good] }, LIMITS)).toMatchObject({
      kind: 'optimal',
      objective: 1,
    });
  });

  it('answers models without columns, rows or room', () => {
    expect(engine.solve({ variables: [], rows: [] }, LIMITS)).toMatchObject({
      kind: 'optimal',
      objective: 0,
    });
    const one = { cost: -1, lower: 0, upper: 3.5, integer: true };
    expect(engine.solve({ variables: [one], rows: [] }, LIMITS)).toMatchObject({
      kind: 'optimal',
      objective: -3,
    });
    const narrow = { cost: 1, lower: 0.2, upper: 0.8, integer: true };
    expect(engine.solve({ variables: [narrow], rows: [] }, LIMITS)).toMatchObject({ kind: 'infeasible' });
  });

  it('keeps a bound of a binary that is fixed', () => {
    const fixed = { cost: 5, lower: 1, upper: 1, integer: true };
    expect(engine.solve({ variables: [fixed], rows: [] }, LIMITS)).toMatchObject({
      kind: 'optimal',
      objective: 5,
    });
  });

  it('an unbounded model is a failure, not an optimum', () => {
    const endless = { cost: -1, lower: 0, upper: Infinity, integer: false };
    expect(engine.solve({ variables: [endless], rows: [] }, LIMITS).kind).toBe('failed');
  });

  it('a solve the guard cuts short is never called optimal', () => {
    const random = seeded(23);
    // Market split (Cornuejols and Dawande 1998): 4 equations over 30 binaries with slack, out of reach in a moment.
    const variables = [
      ...Array.from({ length: 30 }, () => ({ cost: 0, lower: 0, upper: 1, integer: true })),
      ...Array.from({ length: 8 }, () => ({ cost: 1, lower: 0, upper: 2000, integer: false })),
    ];
    const rows = Array.from({ length: 4 }, (_, i) => {
      const weights = Array.from({ length: 30 }, () => Math.floor(random() * 100));
      const half = Math.floor(weights.reduce((sum, w) => sum + w, 0) / 2);
      const columns = [...weights.keys(), 30 + 2 * i, 31 + 2 * i];
      return { columns, coefficients: [...weights, 1, -1], lower: half, upper: half };
    });
    const result = engine.solve({ variables, rows }, { seconds: 0.3 });
    expect(result.kind).toBe('stopped');
    if (result.kind === 'stopped' && result.incumbent !== null) {
      expect(verifySolution({ variables, rows }, result.incumbent.values).ok).toBe(true);
      expect(result.incumbent.objective).toBeGreaterThanOrEqual(result.bound);
    }
  });
});

describe('what glpk.js itself does, on which its engine relies', () => {
  const model = {
    name: 'm',
    objective: { direction: 1, name: 'cost', vars: [{ name: 'a', coef: 1 }] },
    subjectTo: [{ name: 'r', vars: [{ name: 'a', coef: 2 }], bnds: { type: 2, lb: 1, ub: 0 } }],
    bounds: [{ name: 'a', type: 4, lb: 0, ub: 1 }],
  };

  it('without presolve an integer model comes back undefined and zero', async () => {
    const glpk = await GLPK();
    const options = { msglev: 0, presol: false };
    expect(glpk.solve({ ...model, generals: ['a'] }, options).result).toMatchObject({ status: 1, z: 0 });
    expect(glpk.solve({ ...model, generals: ['a'] }, { msglev: 0 }).result).toMatchObject({
      status: 5,
      z: 1,
    });
  });

  it('with presolve an infeasible model without integers comes back undefined', async () => {
    const glpk = await GLPK();
    const tight = { ...model, bounds: [{ name: 'a', type: 4, lb: 0, ub: 0.25 }] };
    expect(glpk.solve(tight, { msglev: 0 }).result.status).toBe(1);
    expect(glpk.solve(tight, { msglev: 0, presol: false }).result.status).toBe(4);
  });

  it('"binaries" resets bounds, "generals" keeps them', async () => {
    const glpk = await GLPK();
    const fixed = { ...model, subjectTo: [], bounds: [{ name: 'a', type: 5, lb: 1, ub: 1 }] };
    expect(glpk.solve({ ...fixed, binaries: ['a'] }, { msglev: 0 }).result.z).toBe(0);
    expect(glpk.solve({ ...fixed, generals: ['a'] }, { msglev: 0 }).result.z).toBe(1);
  });

  it('a NaN coefficient passes for optimal', async () => {
    const glpk = await GLPK();
    const vars = ['a', 'b'].map((name) => ({ name, coef: 1 }));
    const bounds = ['a', 'b'].map((name) => ({ name, type: 4, lb: 0, ub: 1 }));
    const solve = (coef: number) => {
      const row = {
        name: 'r',
        vars: [
          { name: 'a', coef },
          { name: 'b', coef: 2 },
        ],
        bnds: { type: 2, lb: 1.5, ub: 0 },
      };
      const objective = { direction: 1, name: 'cost', vars };
      return glpk.solve(
        { name: 'm', objective, subjectTo: [row], bounds, generals: ['a', 'b'] },
        { msglev: 0 },
      ).result;
    };
    expect(solve(1)).toMatchObject({ status: 5, z: 1 });
    expect(solve(Number.NaN)).toMatchObject({ status: 5, z: 0 });
  });
});
