import GLPK, { type GLPK as Glpk, type LP } from 'glpk.js/node';
import { boundsCross, DEFAULT_CAPS, type ModelCaps, validateModel, verifySolution } from './guard.js';
import type { MipEngine, MipLimits, MipModel, MipResult } from './port.js';

/** Longest guard in seconds: the time limit is an int32 of milliseconds inside the engine. */
const MAX_SECONDS = 86_400;

/**
 * GLPK compiled to WebAssembly (glpk.js, GPL-3.0). One instance per worker thread: its memory never shrinks,
 * and after an abort it refuses every further model.
 *
 * Integer models are always presolved (without it the engine answers zeros and status "undefined"); models
 * without integers never, so that infeasible is told apart from undecided and multipliers are exact.
 * Status 5 is optimal, 4 infeasible, 2 stopped with an incumbent, 1 stopped without. No bound is reported.
 */
export async function createGlpkEngine(caps: ModelCaps = DEFAULT_CAPS): Promise<MipEngine> {
  const glpk = await GLPK();
  let aborted = false;
  return {
    name: 'glpk.js',
    solve(model: MipModel, limits: MipLimits): MipResult {
      if (aborted) return { kind: 'failed', reason: 'the engine aborted on an earlier model' };
      const reason = validateModel(model, caps);
      if (reason !== null) return { kind: 'failed', reason };
      if (boundsCross(model)) return { kind: 'infeasible' };
      if (model.variables.length === 0) return { kind: 'optimal', objective: 0, values: new Float64Array(0) };
      try {
        return run(glpk, model, limits);
      } catch (error) {
        aborted = true;
        return { kind: 'failed', reason: `engine aborted: ${String(error).slice(0, 120)}` };
      }
    },
  };
}

function run(glpk: Glpk, model: MipModel, limits: MipLimits): MipResult {
  const isInteger = model.variables.some((v) => v.integer);
  const { result } = glpk.solve(translate(glpk, model), {
    msglev: glpk.GLP_MSG_OFF,
    presol: isInteger,
    mipgap: 0,
    tmlim: Math.min(Math.max(limits.seconds, 0.001), MAX_SECONDS),
  });
  if (result.status === glpk.GLP_NOFEAS) return { kind: 'infeasible' };
  if (result.status === glpk.GLP_UNBND) return { kind: 'failed', reason: 'the model is unbounded' };
  const hasSolution = result.status === glpk.GLP_OPT || (isInteger && result.status === glpk.GLP_FEAS);
  if (!hasSolution) return { kind: 'stopped', bound: -Infinity, incumbent: null };
  const raw = model.variables.map((_, j) => result.vars[`c${j}`]);
  const checked = verifySolution(model, raw);
  if (!checked.ok) return { kind: 'failed', reason: `solution does not fit the model: ${checked.reason}` };
  const { objective, values } = checked;
  if (result.status !== glpk.GLP_OPT)
    return { kind: 'stopped', bound: -Infinity, incumbent: { objective, values } };
  const { dual } = result;
  if (isInteger || dual === undefined) return { kind: 'optimal', objective, values };
  return {
    kind: 'optimal',
    objective,
    values,
    duals: Float64Array.from(model.rows, (_, i) => dual[`r${i}`] ?? 0),
  };
}

/**
 * Every variable goes into the objective, even at cost 0, so that columns keep their order. Integers are
 * declared "general", because "binary" would reset the bounds to 0..1.
 */
function translate(glpk: Glpk, model: MipModel): LP {
  const typed = (lower: number, upper: number) => {
    const isBelow = lower !== -Infinity;
    const isAbove = upper !== Infinity;
    if (isBelow && isAbove)
      return { type: lower === upper ? glpk.GLP_FX : glpk.GLP_DB, lb: lower, ub: upper };
    if (isBelow) return { type: glpk.GLP_LO, lb: lower, ub: 0 };
    if (isAbove) return { type: glpk.GLP_UP, lb: 0, ub: upper };
    return { type: glpk.GLP_FR, lb: 0, ub: 0 };
  };
  const subjectTo: LP['subjectTo'] = [];
  for (const [i, row] of model.rows.entries()) {
    if (row.columns.length === 0 || (row.lower === -Infinity && row.upper === Infinity)) continue;
    subjectTo.push({
      name: `r${i}`,
      vars: row.columns.map((column, k) => ({ name: `c${column}`, coef: row.coefficients[k] })),
      bnds: typed(row.lower, row.upper),
    });
  }
  const generals: string[] = [];
  const bounds: NonNullable<LP['bounds']> = [];
  for (const [j, v] of model.variables.entries()) {
    if (v.integer) generals.push(`c${j}`);
    const [lower, upper] = v.integer
      ? [Math.ceil(v.lower - 1e-6), Math.floor(v.upper + 1e-6)]
      : [v.lower, v.upper];
    bounds.push({ name: `c${j}`, ...typed(lower, upper) });
  }
  return {
    name: 'model',
    objective: {
      direction: glpk.GLP_MIN,
      name: 'cost',
      vars: model.variables.map((v, j) => ({ name: `c${j}`, coef: v.cost })),
    },
    subjectTo,
    bounds,
    generals,
  };
}
