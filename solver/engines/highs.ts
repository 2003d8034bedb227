import loader, { type Highs, type ModelData } from 'highs';
import { boundsCross, DEFAULT_CAPS, type ModelCaps, validateModel, verifySolution } from './guard.js';
import type { MipEngine, MipLimits, MipModel, MipResult } from './port.js';

/** The package's typings describe its CommonJS face; imported from ESM the default export is the loader itself. */
const loadHighs = loader as unknown as typeof loader.default;

/**
 * HiGHS compiled to WebAssembly (highs, MIT). The model goes in as sparse arrays and is disposed after every
 * solve. Gaps are zero, so that "optimal" means proven; a run stopped by the guard reports its dual bound.
 */
export async function createHighsEngine(caps: ModelCaps = DEFAULT_CAPS): Promise<MipEngine> {
  const highs = await loadHighs();
  let aborted = false;
  return {
    name: 'highs',
    solve(model: MipModel, limits: MipLimits): MipResult {
      if (aborted) return { kind: 'failed', reason: 'the engine aborted on an earlier model' };
      const reason = validateModel(model, caps);
      if (reason !== null) return { kind: 'failed', reason };
      if (boundsCross(model)) return { kind: 'infeasible' };
      if (model.variables.length === 0) return { kind: 'optimal', objective: 0, values: new Float64Array(0) };
      try {
        return run(highs, model, limits);
      } catch (error) {
        aborted = true;
        return { kind: 'failed', reason: `engine aborted: ${String(error).slice(0, 120)}` };
      }
    },
  };
}

function run(highs: Highs, model: MipModel, limits: MipLimits): MipResult {
  const isInteger = model.variables.some((v) => v.integer);
  const native = highs.createModel(translate(highs, model, isInteger));
  try {
    native.options.set({
      output_flag: false,
      time_limit: Math.max(limits.seconds, 0.001),
      mip_rel_gap: 0,
      mip_abs_gap: 1e-7,
      random_seed: 0,
    });
    native.run();
    const status = native.getModelStatus();
    const codes = highs.constants.modelStatus;
    if (status === codes.infeasible) return { kind: 'infeasible' };
    if (status === codes.unbounded || status === codes.unboundedOrInfeasible) {
      return {
        kind: 'failed',
        reason: 'the model is unbounded or infeasible, the engine does not tell which',
      };
    }
    const bound = isInteger ? Number(native.info.get('mip_dual_bound')) : -Infinity;
    const hasPrimal = Number(native.info.get('primal_solution_status')) === 2;
    const isDone = status === codes.optimal;
    const isStopped = status === codes.timeLimit || status === codes.interrupted;
    if (!isDone && !isStopped) return { kind: 'failed', reason: `engine status ${status}` };
    if (!hasPrimal || (isStopped && !isInteger)) return { kind: 'stopped', bound, incumbent: null };
    const solution = native.getSolution();
    const checked = verifySolution(model, solution.colValue);
    if (!checked.ok) return { kind: 'failed', reason: `solution does not fit the model: ${checked.reason}` };
    const { objective, values } = checked;
    if (isStopped) return { kind: 'stopped', bound, incumbent: { objective, values } };
    if (isInteger) return { kind: 'optimal', objective, values };
    return { kind: 'optimal', objective, values, duals: Float64Array.from(solution.rowDual) };
  } finally {
    native.dispose();
  }
}

function translate(highs: Highs, model: MipModel, isInteger: boolean): ModelData {
  const { variables, rows } = model;
  const starts = [0];
  const indices: number[] = [];
  const values: number[] = [];
  for (const row of rows) {
    for (const [k, column] of row.columns.entries()) {
      indices.push(column);
      values.push(row.coefficients[k]);
    }
    starts.push(indices.length);
  }
  const { continuous, integer } = highs.constants.variableType;
  return {
    numCols: variables.length,
    numRows: rows.length,
    colCost: variables.map((v) => v.cost),
    colLower: variables.map((v) => v.lower),
    colUpper: variables.map((v) => v.upper),
    rowLower: rows.map((r) => r.lower),
    rowUpper: rows.map((r) => r.upper),
    matrix: {
      format: 'csr',
      numRows: rows.length,
      numCols: variables.length,
      starts: Int32Array.from(starts),
      indices: Int32Array.from(indices),
      values: Float64Array.from(values),
    },
    ...(isInteger ? { integrality: variables.map((v) => (v.integer ? integer : continuous)) } : {}),
  };
}
