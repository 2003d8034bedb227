import { measureRoute } from '../model/grid-cost.js';
import type { GridOutcome, GridRoute, GridTask } from '../model/grid-task.js';
import { Selection } from './frontier-cut.js';
import { FrontierLayer, FrontierTrace } from './frontier-layer.js';
import { Remainder } from './frontier-remainder.js';
import { restTable } from './frontier-rest.js';
import type { Finish } from './frontier-step.js';
import { FrontierStep, wordsFor } from './frontier-step.js';
import type { Sweep, SweepView } from './frontier-view.js';
import { sweepView } from './frontier-view.js';

export interface FrontierBudget {
  /** States kept per step; a step with more is cut to the most promising ones and the result is no longer proven. */
  readonly maxStates: number;
  /** Default 'auto'. */
  readonly sweep?: Sweep;
  /** Sweep from the far row (column) to the near one. Default false. */
  readonly backward?: boolean;
  /** Only routes cheaper than this are of interest; 'exhausted' with this bound means there is none. */
  readonly cutoff?: number;
}

/** Costs closer than this count as equal when states are pruned. */
const COST_EPSILON = 1e-9;

/**
 * Shortest route by dynamic programming over the frontier of a cell-by-cell sweep. Exact while no step holds more than
 * maxStates states; beyond that a beam search whose `bound` is the cheapest estimate ever discarded. Deterministic.
 * Work counts the states expanded.
 */
export function solveFrontier(task: GridTask, budget: FrontierBudget): GridOutcome {
  const alone = aloneStart(task, budget.cutoff ?? Number.POSITIVE_INFINITY);
  if (alone !== null) return alone;
  const view = sweepView(task, budget.sweep ?? 'auto', budget.backward ?? false);
  if (view.unreachable === Number.POSITIVE_INFINITY) return { kind: 'infeasible', work: 0 };
  const rest = restTable(view);
  const words = wordsFor(view.width);
  const finish: Finish = { cost: Number.POSITIVE_INFINITY, parent: -1, choice: 0, cell: -1 };
  const step = new FrontierStep(view, rest.skipFrom, finish);
  const remainder = new Remainder(view, rest);
  const trace = new FrontierTrace();
  const selection = new Selection(budget.maxStates);
  const cutoff = (budget.cutoff ?? Number.POSITIVE_INFINITY) - view.unreachable;

  let layer = new FrontierLayer(words);
  let next = new FrontierLayer(words);
  layer.offer(new Int32Array(words), 0, -1, 0);
  let traceBase = -1;
  let work = 0;
  let row = 0;
  let limited = false;
  const cells: number[] = [];
  for (let cell = 0; cell < view.present.length && layer.count > 0; cell++) {
    if (view.present[cell] === 0) continue;
    const here = Math.floor(cell / view.width);
    next.clear();
    work += layer.count;
    step.run(layer, next, traceBase, cell, here !== row);
    row = here;
    cells.push(cell);
    remainder.enter(cell);
    if (selection.prune(next, remainder, Math.min(cutoff, finish.cost) - COST_EPSILON)) limited = true;
    traceBase = trace.append(next);
    [layer, next] = [next, layer];
  }
  const lost = selection.lost + view.unreachable;
  if (finish.cost >= cutoff) {
    if (selection.lost === Number.POSITIVE_INFINITY) {
      if (!limited && finish.cost === Number.POSITIVE_INFINITY) return { kind: 'infeasible', work };
      return { kind: 'exhausted', bound: cutoff + view.unreachable, work };
    }
    return { kind: 'exhausted', bound: Math.min(lost, cutoff + view.unreachable), work };
  }
  const nodes = readPath(task, view, cells, trace, finish);
  const measure = measureRoute(task, nodes);
  const route: GridRoute = {
    kind: 'route',
    nodes,
    ...measure,
    bound: Math.min(measure.cost, lost),
    proven: lost >= measure.cost,
    work,
  };
  return route;
}

/** The start is the end only when nothing else exists. */
function aloneStart(task: GridTask, cutoff: number): GridOutcome | null {
  for (let v = 0; v < task.present.length; v++) {
    if (v !== task.start && task.present[v] === 1) return null;
  }
  const cost = task.endCost[task.start];
  if (cost === Number.POSITIVE_INFINITY) return { kind: 'infeasible', work: 0 };
  if (cost >= cutoff) return { kind: 'exhausted', bound: cutoff, work: 0 };
  const nodes = Int32Array.of(task.start);
  return { kind: 'route', nodes, cost, turns: 0, skipped: 0, bound: cost, proven: true, work: 0 };
}

function readPath(
  task: GridTask,
  view: SweepView,
  cells: readonly number[],
  trace: FrontierTrace,
  finish: Finish,
): Int32Array {
  const { width } = view;
  const neighbours = new Int32Array(view.present.length * 2).fill(-1);
  const link = (a: number, b: number): void => {
    neighbours[2 * a + (neighbours[2 * a] < 0 ? 0 : 1)] = b;
    neighbours[2 * b + (neighbours[2 * b] < 0 ? 0 : 1)] = a;
  };
  trace.read(finish.parent).forEach((choice, k) => {
    if ((choice & 1) !== 0) link(cells[k], cells[k] + 1);
    if ((choice & 2) !== 0) link(cells[k], cells[k] + width);
  });
  const nodes: number[] = [];
  let before = -1;
  for (let at = view.start; at >= 0; ) {
    nodes.push(view.node[at]);
    const first = neighbours[2 * at];
    const onward = first === before ? neighbours[2 * at + 1] : first;
    before = at;
    at = onward;
  }
  if (nodes[0] !== task.start) throw new Error('frontier trace lost its start');
  return Int32Array.from(nodes);
}
