import type { GridTask } from './grid-task.js';

/** Route lengths one cable can meet: lower <= length <= upper (mm), at `cost` in the task's objective. */
export interface LengthWindow {
  readonly lower: number;
  readonly upper: number;
  readonly cost: number;
}

/** Couples the route's length to a choice of cable. Lengths mm; edge lengths are indexed like the task's costs. */
export interface PathLength {
  readonly eastLength: Float64Array;
  readonly northLength: Float64Array;
  /** Length saved by each corner. */
  readonly cornerSaving: number;
  readonly windows: readonly LengthWindow[];
}

/** Length of a route with its corners rounded, mm. */
export function routeLength(task: GridTask, length: PathLength, nodes: ArrayLike<number>): number {
  const isRow = (u: number, v: number): boolean => Math.abs(u - v) === 1 && task.nx > 1;
  let sum = 0;
  for (let k = 1; k < nodes.length; k++) {
    const u = nodes[k - 1];
    const v = nodes[k];
    sum += isRow(u, v) ? length.eastLength[Math.min(u, v)] : length.northLength[Math.min(u, v)];
    if (k > 1 && isRow(nodes[k - 2], u) !== isRow(u, v)) sum -= length.cornerSaving;
  }
  return sum;
}

/** Cheapest window that holds a route of `mm`, or -1. */
export function cheapestWindow(length: PathLength, mm: number): number {
  let best = -1;
  for (const [k, w] of length.windows.entries()) {
    const slack = 1e-6 * Math.max(1, w.upper);
    const fits = mm >= w.lower - slack && mm <= w.upper + slack;
    if (fits && (best < 0 || w.cost < length.windows[best].cost)) best = k;
  }
  return best;
}
