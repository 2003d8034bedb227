import type { GridOutcome, GridRoute, GridTask } from '../model/grid-task.js';
import { edgePotential, type Potentials } from './frontier-potential.js';
import { Remainder } from './frontier-remainder.js';
import { restTable } from './frontier-rest.js';
import { type Board, COST_EPSILON, sweepOnce } from './frontier-sweep.js';
import type { Sweep, SweepView } from './frontier-view.js';
import { sweepView } from './frontier-view.js';
import { refineRoute } from './frontier-window.js';

export interface FrontierBudget {
  /** States kept per step; a step with more is cut to the most promising ones and the result may be unproven. */
  readonly maxStates: number;
  /** Default 'auto'. */
  readonly sweep?: Sweep;
  /** Sweep from the far row (column) to the near one. Default false. */
  readonly backward?: boolean;
  /** Only routes cheaper than this are of interest; 'exhausted' with this bound means there is none. */
  readonly cutoff?: number;
  /** Windows of the best route to solve anew (see `refineRoute`). Default 0, or 300 where maxStates exceeds 2000. */
  readonly windows?: number;
  /** Rounds of improving the edge potentials; by default few for a quick look, many from so many states on. */
  readonly rounds?: number;
  /** Potentials of the task, where the caller has them; used for sweeps along a named axis. */
  readonly potentials?: Potentials;
  /** Guard, asked now and then; once it fires the search ends with what it has. */
  expired?(): boolean;
}

/** A narrow pass comes first when more states than this are allowed: its route prunes the wide pass. */
const NARROW_STATES = 1000;
/** States a step of a window. */
const WINDOW_STATES = 300;
const WIDE_WINDOWS = 300;
const MANY_STATES = 500;
const FEW_ROUNDS = 60;
const MANY_ROUNDS = 200;

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
  const rounds = budget.rounds ?? (budget.maxStates >= MANY_STATES ? MANY_ROUNDS : FEW_ROUNDS);
  const { sweep } = budget;
  const shared = (sweep === 'rows' || sweep === 'columns') && budget.potentials;
  const potential = shared
    ? shared.get(sweep, rounds, budget.backward ?? false)
    : edgePotential(view, rounds);
  const board: Board = {
    task,
    view,
    potential,
    remainder: new Remainder(view, restTable(view, potential), potential),
    pairPrice: 2 * meanTurnCost(view),
  };
  let work = 0;
  let bound = Number.NEGATIVE_INFINITY;
  let found: GridRoute | null = null;
  const windows = budget.windows ?? (wide ? WIDE_WINDOWS : 0);
  for (const states of wide ? [NARROW_STATES, budget.maxStates] : [budget.maxStates]) {
    const outcome = sweepOnce(board, states, found === null ? wanted : found.cost, budget.expired);
    work += outcome.work;
    if (outcome.kind === 'infeasible') return { kind: 'infeasible', work };
    bound = Math.max(bound, outcome.bound);
    if (outcome.kind === 'route') {
      found = outcome;
      if (bound < found.cost - COST_EPSILON && windows > 0) {
        const refined = refineRoute(task, found, {
          maxStates: WINDOW_STATES,
          maxWindows: windows,
          ...(budget.potentials ? { potentials: budget.potentials } : {}),
          ...(budget.expired ? { expired: budget.expired } : {}),
        });
        work += refined.work - found.work;
        found = refined;
      }
    }
    if (bound >= (found === null ? wanted : found.cost) - COST_EPSILON) break;
  }
  if (found === null) return { kind: 'exhausted', bound, work };
  const proven = bound >= found.cost - COST_EPSILON;
  return { ...found, bound: proven ? found.cost : bound, proven, work };
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
