import { measureRoute } from '../model/grid-cost.js';
import type { GridOutcome, GridTask } from '../model/grid-task.js';
import { Selection } from './frontier-cut.js';
import { FrontierLayer, FrontierTrace, originOf } from './frontier-layer.js';
import type { Potential } from './frontier-potential.js';
import type { Estimate } from './frontier-remainder.js';
import type { Finish } from './frontier-step.js';
import { FrontierStep, wordsFor } from './frontier-step.js';
import type { SweepView } from './frontier-view.js';

/** Costs closer than this count as equal when states are pruned. */
export const COST_EPSILON = 1e-9;

/** A task made ready for sweeping. */
export interface Board {
  readonly task: GridTask;
  readonly view: SweepView;
  readonly potential: Potential;
  readonly remainder: Estimate;
  /** 1 for cells at which all states do alike (see `FrontierStep.force`); by default none is known to be such. */
  readonly forced?: Uint8Array;
  /** See `Selection`. */
  readonly pairPrice: number;
}

/**
 * One sweep with at most maxStates states a step; only routes cheaper than `wanted` count. `expired` is asked at every
 * row and ends the sweep, without a bound.
 */
export function sweepOnce(
  board: Board,
  maxStates: number,
  wanted: number,
  expired?: () => boolean,
): GridOutcome {
  const { task, view, potential, remainder, forced } = board;
  const words = wordsFor(view.width);
  const finish: Finish = { cost: Number.POSITIVE_INFINITY, parent: -1 };
  const trace = new FrontierTrace();
  const selection = new Selection(maxStates, board.pairPrice);
  const cutoff = wanted - view.unreachable;
  let layer = new FrontierLayer(words);
  let next = new FrontierLayer(words);
  const step = new FrontierStep(view, potential, finish, next);
  layer.offer(new Int32Array(words), 0, 0, 0, originOf(-1, 0));
  let traceBase = -1;
  let work = 0;
  let row = 0;
  const cells: number[] = [];
  for (let cell = 0; cell < view.present.length && layer.count > 0; cell++) {
    if (view.present[cell] === 0) continue;
    const here = Math.floor(cell / view.width);
    if (here !== row && expired?.() === true)
      return { kind: 'exhausted', bound: Number.NEGATIVE_INFINITY, work };
    work += layer.count;
    if (forced?.[cell] === 1) {
      step.force(layer, cell, here !== row);
      row = here;
      continue;
    }
    next.clear();
    step.run(layer, next, traceBase, cell, here !== row);
    row = here;
    cells.push(cell);
    remainder.enter(cell);
    selection.prune(next, remainder, Math.min(cutoff, finish.cost) - COST_EPSILON);
    traceBase = trace.append(next);
    [layer, next] = [next, layer];
  }
  const lost = selection.lost + view.unreachable;
  if (finish.cost >= cutoff - COST_EPSILON) {
    const none = finish.cost === Number.POSITIVE_INFINITY && !selection.limited;
    if (none && lost === Number.POSITIVE_INFINITY) return { kind: 'infeasible', work };
    return { kind: 'exhausted', bound: Math.min(lost, wanted), work };
  }
  const nodes = readPath(board, cells, trace, finish);
  const measure = measureRoute(task, nodes);
  const bound = Math.min(measure.cost, lost);
  return { kind: 'route', nodes, ...measure, bound, proven: bound === measure.cost, work };
}

function readPath(board: Board, cells: readonly number[], trace: FrontierTrace, finish: Finish): Int32Array {
  const { view, forced } = board;
  const { width, right, down } = view;
  const neighbours = new Int32Array(view.present.length * 2).fill(-1);
  const link = (a: number, b: number): void => {
    neighbours[2 * a + (neighbours[2 * a] < 0 ? 0 : 1)] = b;
    neighbours[2 * b + (neighbours[2 * b] < 0 ? 0 : 1)] = a;
  };
  trace.read(finish.parent).forEach((choice, k) => {
    if ((choice & 1) !== 0) link(cells[k], cells[k] + 1);
    if ((choice & 2) !== 0) link(cells[k], cells[k] + width);
  });
  for (let t = 0; forced && t < forced.length; t++) {
    if (forced[t] === 0) continue;
    if (right[t] === 1) link(t, t + 1);
    if (down[t] === 1) link(t, t + width);
  }
  const nodes: number[] = [];
  let before = -1;
  for (let at = view.start; at >= 0; ) {
    nodes.push(view.node[at]);
    const first = neighbours[2 * at];
    const onward = first === before ? neighbours[2 * at + 1] : first;
    before = at;
    at = onward;
  }
  return Int32Array.from(nodes);
}
