import { dualBound } from '../engines/guard.js';
import type { MipEngine, MipRow } from '../engines/port.js';
import { measureRoute, verifyRoute } from '../model/grid-cost.js';
import type { GridOutcome, GridTask } from '../model/grid-task.js';
import { reduceTask } from '../model/path-graph.js';
import { cheapestWindow, type PathLength, routeLength } from '../model/path-length.js';
import { buildPathModel, cutRow, isSingleNode, type PathModel, visitLevel } from '../model/path-mip.js';
import { mergePieces, readPieces, strayCycles } from '../model/path-pieces.js';

export interface MipRouteOptions {
  /** Largest number of nodes (after reduction) the model is built for. */
  readonly maxNodes: number;
  /** Largest number of integer solves. */
  readonly maxRounds: number;
  /** Guard on each integer solve, seconds. */
  readonly seconds: number;
  /** A known route, start to end; ignored when it is not legal. */
  readonly cutoffRoute?: Int32Array;
  /** Couples the route's length to a choice of cable, whose cost then counts in the route's. */
  readonly length?: PathLength;
  /** Guard on the whole call, asked before each round. */
  expired?(): boolean;
}

/**
 * `cable` is the chosen window's number when a length was given. `guardFired` tells that a time guard, or an engine
 * that gave up, ended the loop, so that the result may differ from run to run.
 */
export type MipRouteOutcome = GridOutcome & { readonly guardFired: boolean; readonly cable?: number };

interface Incumbent {
  readonly nodes: Int32Array;
  readonly cost: number;
  readonly turns: number;
  readonly skipped: number;
  readonly cable: number;
}

/**
 * Exact route by a cut loop. Each round solves the integer model to optimality (a lower bound), joins stray cycles to
 * the path (an upper bound), and stops when the two meet; else every stray cycle is cut off and the next round begins.
 * The work counted is the number of integer solves; the guards only ever turn "proven" into "not proven".
 *
 * With a length, a route counts only when it meets one of the windows, and its cost includes the window's.
 * A model too large for the engine, or one it fails on, gives 'exhausted' or the cutoff route, never an exception.
 */
export function solveByMip(task: GridTask, engine: MipEngine, options: MipRouteOptions): MipRouteOutcome {
  const length = options.length ?? null;
  if (isSingleNode(task)) {
    const only = assess(task, length, Int32Array.of(task.start));
    return only === null ? infeasible(0) : report(only, only.cost, 0, false);
  }
  const known = options.cutoffRoute === undefined ? null : assess(task, length, options.cutoffRoute);
  const graph = reduceTask(task);
  if (graph === null) return infeasible(0);
  const size = graph.kept.reduce((sum, k) => sum + k, 0);
  if (size > options.maxNodes) return report(known, -Infinity, 0, false);
  return cutLoop(buildPathModel(graph, length), engine, options, known);
}

function cutLoop(
  path: PathModel,
  engine: MipEngine,
  options: MipRouteOptions,
  known: Incumbent | null,
): MipRouteOutcome {
  const { task } = path.graph;
  const { variables } = path.model;
  const rows = [...path.model.rows];
  let best = known;
  let bound = -Infinity;
  for (let round = 1; round <= options.maxRounds; round++) {
    if (options.expired?.() === true) return report(best, bound, round - 1, true);
    const result = engine.solve({ variables, rows }, { seconds: options.seconds });
    if (result.kind === 'infeasible') return infeasible(round);
    if (result.kind !== 'optimal') {
      return report(best, Math.max(bound, relaxedBound(path, rows, engine, options.seconds)), round, true);
    }
    bound = Math.max(bound, result.objective + path.constant);
    const pieces = readPieces(path, result.values);
    const merged = mergePieces(pieces);
    const candidate = merged === null ? null : assess(task, options.length ?? null, merged);
    if (candidate !== null && (best === null || candidate.cost < best.cost)) best = candidate;
    const strays = strayCycles(pieces);
    if (strays.length === 0 || (best !== null && meets(best.cost, bound)))
      return report(best, bound, round, false);
    for (const inside of strays) rows.push(cutOff(path, result.values, inside));
  }
  return report(best, bound, options.maxRounds, false);
}

/** Bound by weak duality from the model without integrality; -Infinity when the engine does not manage even that. */
function relaxedBound(path: PathModel, rows: readonly MipRow[], engine: MipEngine, seconds: number): number {
  const variables = path.model.variables.map((v) => ({ ...v, integer: false }));
  const result = engine.solve({ variables, rows }, { seconds });
  if (result.kind !== 'optimal' || result.duals === undefined) return -Infinity;
  return dualBound({ variables, rows }, result.duals) + path.constant;
}

/** The cut for a stray cycle, at the node that is hardest to leave out. */
function cutOff(path: PathModel, values: Float64Array, inside: Uint8Array): MipRow {
  let chosen = -1;
  for (let v = 0; v < inside.length; v++) {
    if (inside[v] === 0 || visitLevel(path, values, v) < 0.5) continue;
    const isDearer = chosen < 0 || path.graph.task.skipCost[v] > path.graph.task.skipCost[chosen];
    if (path.graph.must[v] === 1) return cutRow(path, inside, v);
    if (isDearer) chosen = v;
  }
  return cutRow(path, inside, chosen);
}

const meets = (cost: number, bound: number): boolean => cost - bound <= 1e-6 * Math.max(1, Math.abs(cost));

function assess(task: GridTask, length: PathLength | null, nodes: Int32Array): Incumbent | null {
  if (verifyRoute(task, nodes) !== null) return null;
  const measure = measureRoute(task, nodes);
  if (length === null) return { nodes, ...measure, cable: -1 };
  const cable = cheapestWindow(length, routeLength(task, length, nodes));
  if (cable < 0) return null;
  return { nodes, ...measure, cost: measure.cost + length.windows[cable].cost, cable };
}

const infeasible = (work: number): MipRouteOutcome => ({ kind: 'infeasible', work, guardFired: false });

function report(best: Incumbent | null, bound: number, work: number, guardFired: boolean): MipRouteOutcome {
  if (best === null) return { kind: 'exhausted', bound, work, guardFired };
  const { cable, ...route } = best;
  return {
    kind: 'route',
    ...route,
    bound: Math.min(bound, best.cost),
    proven: meets(best.cost, bound),
    work,
    guardFired,
    ...(cable >= 0 ? { cable } : {}),
  };
}
