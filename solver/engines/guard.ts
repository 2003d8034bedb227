import type { MipModel, MipRow } from './port.js';

/** Largest model an engine is handed. WASM memory cannot be bounded from outside, so the size is. */
export interface ModelCaps {
  readonly columns: number;
  readonly rows: number;
  readonly nonZeros: number;
}

export const DEFAULT_CAPS: ModelCaps = { columns: 6000, rows: 12000, nonZeros: 120_000 };

/** Largest magnitude of a coefficient, cost or finite bound: beyond it the engines' tolerances mean nothing. */
const MAX_MAGNITUDE = 1e9;

const TOLERANCE = 1e-6;

const isSane = (value: number): boolean => Number.isFinite(value) && Math.abs(value) <= MAX_MAGNITUDE;

/** A finite number of sane size, or an infinity of the given sign. */
const isBound = (value: number, infinity: number): boolean => value === infinity || isSane(value);

/**
 * Reason why `model` must not be handed to an engine, or null. The engines answer a NaN or a duplicate
 * variable with a wrong optimum or an abort, so this runs before every solve.
 */
export function validateModel(model: MipModel, caps: ModelCaps = DEFAULT_CAPS): string | null {
  const { variables, rows } = model;
  if (variables.length > caps.columns) return `${variables.length} columns, at most ${caps.columns} allowed`;
  if (rows.length > caps.rows) return `${rows.length} rows, at most ${caps.rows} allowed`;
  for (const [j, v] of variables.entries()) {
    if (!isSane(v.cost)) return `column ${j}: cost ${v.cost}`;
    if (!isBound(v.lower, -Infinity)) return `column ${j}: lower bound ${v.lower}`;
    if (!isBound(v.upper, Infinity)) return `column ${j}: upper bound ${v.upper}`;
  }
  const lastRow = new Int32Array(variables.length).fill(-1);
  let nonZeros = 0;
  for (const [i, row] of rows.entries()) {
    if (row.columns.length !== row.coefficients.length)
      return `row ${i}: columns and coefficients differ in length`;
    if (!isBound(row.lower, -Infinity)) return `row ${i}: lower side ${row.lower}`;
    if (!isBound(row.upper, Infinity)) return `row ${i}: upper side ${row.upper}`;
    nonZeros += row.columns.length;
    if (nonZeros > caps.nonZeros) return `more than ${caps.nonZeros} non-zeros`;
    for (const [k, column] of row.columns.entries()) {
      if (!Number.isInteger(column) || column < 0 || column >= variables.length) {
        return `row ${i}: no column ${column}`;
      }
      if (lastRow[column] === i) return `row ${i}: column ${column} twice`;
      lastRow[column] = i;
      const coefficient = row.coefficients[k];
      if (!isSane(coefficient)) return `row ${i}: coefficient ${coefficient} at column ${column}`;
    }
  }
  return null;
}

/**
 * True when bounds alone rule out every solution: crossing bounds of a variable (an integer one after
 * rounding inwards) or of a row, or an empty row that zero does not satisfy.
 */
export function boundsCross(model: MipModel): boolean {
  const crossed = model.variables.some((v) =>
    v.integer ? Math.ceil(v.lower - TOLERANCE) > Math.floor(v.upper + TOLERANCE) : v.lower > v.upper,
  );
  return (
    crossed ||
    model.rows.some((r) => r.lower > r.upper || (r.columns.length === 0 && (r.lower > 0 || r.upper < 0)))
  );
}

/** Sum of a row at `values`. */
export function rowActivity(row: MipRow, values: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < row.columns.length; k++) {
    sum += row.coefficients[k] * values[row.columns[k]];
  }
  return sum;
}

/**
 * Lower bound on the objective by weak duality from any row multipliers (minimisation; signs as in `MipResult`):
 * multipliers of the wrong sign count as 0, so the bound holds whatever the engine returned. -Infinity where a
 * variable without a bound would have to pay.
 */
export function dualBound(model: MipModel, duals: Float64Array): number {
  const reduced = Float64Array.from(model.variables, (v) => v.cost);
  let bound = 0;
  for (const [i, row] of model.rows.entries()) {
    const y = duals[i];
    const side = y > 0 ? row.lower : row.upper;
    if (!Number.isFinite(y) || y === 0 || !Number.isFinite(side)) continue;
    bound += y * side;
    for (const [k, column] of row.columns.entries()) reduced[column] -= y * row.coefficients[k];
  }
  for (const [j, v] of model.variables.entries()) {
    if (reduced[j] !== 0) bound += reduced[j] > 0 ? reduced[j] * v.lower : reduced[j] * v.upper;
  }
  return bound;
}

export type Verified =
  | { readonly ok: true; readonly objective: number; readonly values: Float64Array }
  | { readonly ok: false; readonly reason: string };

/**
 * Checks an engine's solution against the model: integrality, variable bounds and rows within 1e-6 (rows:
 * relative to their largest coefficient where that is above 1). Returns the solution with integers rounded
 * and the objective computed afresh, free of the engine's noise.
 */
export function verifySolution(model: MipModel, raw: ArrayLike<number>): Verified {
  const { variables, rows } = model;
  if (raw.length !== variables.length)
    return { ok: false, reason: `${raw.length} values for ${variables.length} columns` };
  const values = new Float64Array(variables.length);
  let objective = 0;
  for (const [j, v] of variables.entries()) {
    let value = raw[j];
    if (!Number.isFinite(value)) return { ok: false, reason: `column ${j}: value ${value}` };
    if (v.integer) {
      const rounded = Math.round(value);
      if (Math.abs(value - rounded) > TOLERANCE)
        return { ok: false, reason: `column ${j}: ${value} is not whole` };
      value = rounded === 0 ? 0 : rounded;
    }
    if (value < v.lower - TOLERANCE || value > v.upper + TOLERANCE) {
      return { ok: false, reason: `column ${j}: ${value} outside ${v.lower} to ${v.upper}` };
    }
    values[j] = v.integer ? value : Math.min(Math.max(value, v.lower), v.upper);
    objective += v.cost * values[j];
  }
  for (const [i, row] of rows.entries()) {
    const activity = rowActivity(row, values);
    let scale = 1;
    for (const coefficient of row.coefficients) scale = Math.max(scale, Math.abs(coefficient));
    const slack = TOLERANCE * scale;
    if (activity < row.lower - slack || activity > row.upper + slack) {
      return { ok: false, reason: `row ${i}: ${activity} outside ${row.lower} to ${row.upper}` };
    }
  }
  return { ok: true, objective, values };
}
