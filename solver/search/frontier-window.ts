import type { GridRoute, GridTask } from '../model/grid-task.js';
import { type Potential, Potentials, restrictedPotential } from './frontier-potential.js';
import { PlainRemainder } from './frontier-remainder.js';
import { COST_EPSILON, sweepOnce } from './frontier-sweep.js';
import { type SweepView, sweepView } from './frontier-view.js';
import { routeSlack } from './route-slack.js';

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

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
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
      const found = solveWindow(
        task,
        best,
        box,
        sweep,
        potentials.get(sweep, WINDOW_ROUNDS),
        budget.maxStates,
      );
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

function solveWindow(
  task: GridTask,
  route: GridRoute,
  box: Box,
  sweep: 'rows' | 'columns',
  potential: Potential,
  maxStates: number,
): ReturnType<typeof sweepOnce> {
  const open = frozenOutside(task, route.nodes, box);
  const view = sweepView(open, sweep, false);
  const restricted = restrictedPotential(view, potential);
  const remainder = new PlainRemainder(view, restricted);
  const board = {
    task: open,
    view,
    potential: restricted,
    remainder,
    forced: forcedOutside(task, view, route.nodes, box),
    pairPrice: 0,
  };
  return sweepOnce(board, maxStates, route.cost);
}

/** The task with every node outside the box bound to what the route does there. */
function frozenOutside(task: GridTask, nodes: Int32Array, box: Box): GridTask {
  const { nx } = task;
  const size = task.present.length;
  const inside = new Uint8Array(size);
  for (let y = box.y; y < box.y + box.height; y++) {
    inside.fill(1, y * nx + box.x, y * nx + box.x + box.width);
  }
  const east = new Uint8Array(size);
  const north = new Uint8Array(size);
  const endCost = task.endCost.slice();
  const skipCost = task.skipCost.slice();
  for (let v = 0; v < size; v++) {
    if (inside[v] === 0) endCost[v] = Number.POSITIVE_INFINITY;
    else {
      east[v] = task.east[v] & inside[v + 1];
      north[v] = v + nx < size ? task.north[v] & inside[v + nx] : 0;
    }
  }
  for (let k = 0; k < nodes.length; k++) {
    const v = nodes[k];
    if (inside[v] === 0) skipCost[v] = Number.POSITIVE_INFINITY;
    if (k + 1 === nodes.length) continue;
    const low = Math.min(v, nodes[k + 1]);
    if (Math.abs(v - nodes[k + 1]) === 1 && nx > 1) east[low] = 1;
    else north[low] = 1;
  }
  const last = nodes[nodes.length - 1];
  if (inside[last] === 0) {
    endCost.fill(Number.POSITIVE_INFINITY);
    endCost[last] = task.endCost[last];
  }
  return { ...task, east, north, endCost, skipCost };
}

/**
 * 1 for cells outside the box at which every state of a sweep does alike: it follows the route, or skips. Not for the
 * route's ends, nor where pieces of path are joined or a cell of the box may fail to use the edge that leads here.
 */
function forcedOutside({ nx }: GridTask, view: SweepView, nodes: Int32Array, box: Box): Uint8Array {
  const { width, right, down, node } = view;
  const size = node.length;
  const outside = new Uint8Array(size);
  for (let t = 0; t < size; t++) {
    const x = node[t] % nx;
    const y = (node[t] - x) / nx;
    if (x < box.x || x >= box.x + box.width || y < box.y || y >= box.y + box.height) outside[t] = 1;
  }
  const end = nodes[nodes.length - 1];
  const forced = new Uint8Array(size);
  for (let t = 0; t < size; t++) {
    if (view.present[t] === 0 || outside[t] === 0 || t === view.start || node[t] === end) continue;
    const left = t % width > 0 && right[t - 1] === 1;
    const up = t >= width && down[t - width] === 1;
    if ((left && up) || (left && outside[t - 1] === 0) || (up && outside[t - width] === 0)) continue;
    forced[t] = 1;
  }
  return forced;
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
