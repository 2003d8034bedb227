import { measureRoute } from '../model/grid-cost.js';
import type { GridOutcome, GridRoute, GridTask } from '../model/grid-task.js';
import { Selection } from './frontier-cut.js';
import { FrontierLayer, FrontierTrace } from './frontier-layer.js';
import type { Potential } from './frontier-potential.js';
import { edgePotential } from './frontier-potential.js';
import { Remainder } from './frontier-remainder.js';
import type { RestTable } from './frontier-rest.js';
import { restTable } from './frontier-rest.js';
import type { Finish } from './frontier-step.js';
import { FrontierStep, wordsFor } from './frontier-step.js';
import type { Sweep, SweepView } from './frontier-view.js';
import { sweepView } from './frontier-view.js';

export interface FrontierBudget {
  /** States kept per step; a step with more is cut to the most promising ones and the result may be unproven. */
  readonly maxStates: number;
  /** Default 'auto'. */
  readonly sweep?: Sweep;
  /** Sweep from the far row (column) to the near one. Default false: a sweep towards the ends finds better routes. */
  readonly backward?: boolean;
  /** Only routes cheaper than this are of interest; 'exhausted' with this bound means there is none. */
  readonly cutoff?: number;
}

/** Costs closer than this count as equal when states are pruned. */
const COST_EPSILON = 1e-9;
/** A narrow pass comes first when more states than this are allowed: its route prunes the wide pass. */
const NARROW_STATES = 1000;
/** Rounds of improving the edge potentials, for a beam and for a proof. */
const BEAM_ROUNDS = 60;
const PROOF_ROUNDS = 200;

interface Board {
  readonly task: GridTask;
  readonly view: SweepView;
  readonly potential: Potential;
  readonly rest: RestTable;
  readonly pairPrice: number;
}

/**
 * Cheapest route by dynamic programming over the frontier of a cell-by-cell sweep: a state is which edges cross the
 * frontier and how the path so far connects them. States that cannot beat the best route known are pruned by a bound
 * from edge potentials (Lagrangian multipliers) and cell colours, which keeps it exact as long as no step holds more
 * than maxStates states; beyond that it is a beam search and `bound` is the cheapest estimate ever discarded.
 * Costs within 1e-9 of each other count as equal. Deterministic. Work counts the states expanded.
 */
export function solveFrontier(task: GridTask, budget: FrontierBudget): GridOutcome {
  const wanted = budget.cutoff ?? Number.POSITIVE_INFINITY;
  const alone = aloneStart(task, wanted);
  if (alone !== null) return alone;
  const view = sweepView(task, budget.sweep ?? 'auto', budget.backward ?? false);
  if (view.unreachable === Number.POSITIVE_INFINITY) return { kind: 'infeasible', work: 0 };
  const wide = budget.maxStates > 2 * NARROW_STATES;
  const potential = edgePotential(view, wide ? PROOF_ROUNDS : BEAM_ROUNDS);
  const board: Board = {
    task,
    view,
    potential,
    rest: restTable(view, potential),
    pairPrice: 2 * meanTurnCost(view),
  };
  let work = 0;
  let bound = Number.NEGATIVE_INFINITY;
  let found: GridRoute | null = null;
  for (const states of wide ? [NARROW_STATES, budget.maxStates] : [budget.maxStates]) {
    const outcome = sweepOnce(board, states, found === null ? wanted : found.cost);
    work += outcome.work;
    if (outcome.kind === 'infeasible') return { kind: 'infeasible', work };
    bound = Math.max(bound, outcome.bound);
    if (outcome.kind === 'route') found = outcome;
    if (bound >= (found === null ? wanted : found.cost) - COST_EPSILON) break;
  }
  if (found === null) return { kind: 'exhausted', bound, work };
  const proven = bound >= found.cost - COST_EPSILON;
  return { ...found, bound: proven ? found.cost : bound, proven, work };
}

/** One sweep with at most maxStates states a step; only routes cheaper than `wanted` count. */
function sweepOnce(board: Board, maxStates: number, wanted: number): GridOutcome {
  const { task, view, potential, rest } = board;
  const words = wordsFor(view.width);
  const finish: Finish = { cost: Number.POSITIVE_INFINITY, parent: -1, choice: 0, cell: -1 };
  const step = new FrontierStep(view, rest.skipFrom, potential, finish);
  const remainder = new Remainder(view, rest, potential);
  const trace = new FrontierTrace();
  const selection = new Selection(maxStates, board.pairPrice);
  const cutoff = wanted - view.unreachable;
  let layer = new FrontierLayer(words);
  let next = new FrontierLayer(words);
  layer.offer(new Int32Array(words), 0, 0, -1, 0);
  let traceBase = -1;
  let work = 0;
  let row = 0;
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

function meanTurnCost(view: SweepView): number {
  let sum = 0;
  let count = 0;
  for (let t = 0; t < view.present.length; t++) {
    if (view.present[t] === 0) continue;
    sum += view.turnCost[t];
    count++;
  }
  return sum / count;
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

function readPath(board: Board, cells: readonly number[], trace: FrontierTrace, finish: Finish): Int32Array {
  const { view } = board;
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
  return Int32Array.from(nodes);
}
