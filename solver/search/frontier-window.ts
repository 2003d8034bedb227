import type { GridRoute, GridTask } from '../model/grid-task.js';
import { Potentials } from './frontier-potential.js';
import { COST_EPSILON, sweepOnce } from './frontier-sweep.js';
import { routeSlack } from './route-slack.js';
import { type Box, windowBoard } from './window-board.js';

export interface RefineBudget {
  /** States kept per step of a window's sweep. */
  readonly maxStates: number;
  /** Windows tried in all; fewer where they take more work than windows usually do. */
  readonly maxWindows: number;
  /** Potentials of the task, where the caller has them. */
  readonly potentials?: Potentials;
  /** Guard, asked before each window. */
  expired?(): boolean;
}

/** Window sizes in nodes, tried one after the other. */
const SHAPES = [
  [8, 8],
  [16, 5],
  [5, 16],
  [11, 11],
] as const;

/** Rounds of the ascent behind the potentials of a grid whose windows are solved anew. */
export const WINDOW_ROUNDS = 60;

/** States that a window may take on average; most take half as many, those of sparse routes several times more. */
const WINDOW_WORK = 15_000;

/** A box in which a route pays less than this share of a turn too much is left as it is. */
const LEAST_GAIN = 0.02;

/**
 * Improves a legal route by solving windows of the grid anew while the route outside stays as it is: of each size
 * first those in which the route pays most beyond what the potentials ask for (see `routeSlack`), and none in which it
 * can gain nothing to speak of. Never returns a dearer route; `work` adds the states expanded here. Bound and proof of
 * the given route are kept where they hold.
 */
export function refineRoute(task: GridTask, route: GridRoute, budget: RefineBudget): GridRoute {
  if (route.proven) return route;
  const potentials = budget.potentials ?? new Potentials(task);
  const slackOf = (nodes: Int32Array) =>
    boxSums(task, routeSlack(task, nodes, potentials.get('rows', WINDOW_ROUNDS)));
  const least = LEAST_GAIN * task.turnCost.reduce((most, cost) => Math.max(most, cost), 0);
  let best = route;
  let slack = slackOf(best.nodes);
  let work = route.work;
  const mostWork = route.work + budget.maxWindows * WINDOW_WORK;
  let windows = 0;
  for (const [width, height] of SHAPES) {
    const boxes = cover(task, width, height);
    // A box is worth trying once, and again when the route changed in it.
    const pending = new Set(boxes);
    while (windows < budget.maxWindows && work < mostWork && budget.expired?.() !== true) {
      const box = dearest(pending, slack, least);
      if (!box) break;
      pending.delete(box);
      windows++;
      const sweep = box.width <= box.height ? 'rows' : 'columns';
      const board = windowBoard(task, best.nodes, box, sweep, potentials.get(sweep, WINDOW_ROUNDS));
      const found = sweepOnce(board, budget.maxStates, best.cost);
      work += found.work;
      if (found.kind !== 'route' || found.cost >= best.cost - COST_EPSILON) continue;
      best = found;
      slack = slackOf(best.nodes);
      for (const other of boxes) if (overlap(box, other)) pending.add(other);
    }
  }
  const proven = best.cost <= route.bound + COST_EPSILON;
  return { ...best, work, proven, bound: proven ? best.cost : route.bound };
}

/** The box with the largest sum, if that is worth while. */
function dearest(boxes: ReadonlySet<Box>, sumOf: (box: Box) => number, least: number): Box | null {
  let best: Box | null = null;
  let most = least;
  for (const box of boxes) {
    const sum = sumOf(box);
    if (sum <= most) continue;
    most = sum;
    best = box;
  }
  return best;
}

/** Sums of node values over boxes. */
function boxSums({ nx, ny }: GridTask, values: Float64Array): (box: Box) => number {
  const sums = new Float64Array((nx + 1) * (ny + 1));
  for (let y = 0; y < ny; y++) {
    let row = 0;
    for (let x = 0; x < nx; x++) {
      row += values[y * nx + x];
      sums[(y + 1) * (nx + 1) + x + 1] = sums[y * (nx + 1) + x + 1] + row;
    }
  }
  const at = (x: number, y: number): number => sums[y * (nx + 1) + x];
  return ({ x, y, width, height }) =>
    at(x + width, y + height) - at(x, y + height) - at(x + width, y) + at(x, y);
}

function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

/** Boxes of the given size (less where the grid is smaller), half overlapping, that hold at least one node. */
function cover(task: GridTask, width: number, height: number): Box[] {
  const w = Math.min(width, task.nx);
  const h = Math.min(height, task.ny);
  const boxes: Box[] = [];
  for (const y of offsets(task.ny, h))
    for (const x of offsets(task.nx, w)) boxes.push({ x, y, width: w, height: h });
  return boxes;
}

function offsets(total: number, length: number): number[] {
  const all: number[] = [];
  for (let at = 0; at + length < total; at += Math.ceil(length / 2)) all.push(at);
  all.push(total - length);
  return all;
}
