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
}

/** `cable` is the chosen window's number when a length was given. */
export type MipRouteOutcome = GridOutcome & { readonly cable?: number };

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
 * The work counted is the number of rounds; the guard only ever turns "proven" into "not proven".
 */
export function solveByMip(task: GridTask, engine: MipEngine, options: MipRouteOptions): MipRouteOutcome {
  const length = options.length ?? null;
  let best = options.cutoffRoute === undefined ? null : assess(task, length, options.cutoffRoute);
  if (isSingleNode(task)) {
    best = assess(task, length, Int32Array.of(task.start));
    return best === null ? { kind: 'infeasible', work: 0 } : report(best, best.cost, 0);
  }
  const graph = reduceTask(task);
  if (graph === null) return { kind: 'infeasible', work: 0 };
  const size = graph.kept.reduce((sum, k) => sum + k, 0);
  if (size > options.maxNodes) return report(best, -Infinity, 0);

  const path = buildPathModel(graph, length);
  const cuts: MipRow[] = [];
  let bound = -Infinity;
  for (let round = 1; round <= options.maxRounds; round++) {
    const { variables, rows } = path.model;
    const result = engine.solve({ variables, rows: [...rows, ...cuts] }, { seconds: options.seconds });
    if (result.kind === 'infeasible') return { kind: 'infeasible', work: round };
    if (result.kind !== 'optimal') return report(best, bound, round);
    bound = Math.max(bound, result.objective + path.constant);
    const pieces = readPieces(path, result.values);
    const merged = mergePieces(pieces);
    const candidate = merged === null ? null : assess(task, length, merged);
    if (candidate !== null && (best === null || candidate.cost < best.cost)) best = candidate;
    if (best !== null && meets(best.cost, bound)) return report(best, bound, round);
    const strays = strayCycles(pieces);
    if (strays.length === 0) return report(best, bound, round);
    cuts.push(...strays.map((inside) => cutOff(path, result.values, inside)));
  }
  return report(best, bound, options.maxRounds);
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

function report(best: Incumbent | null, bound: number, work: number): MipRouteOutcome {
  if (best === null) return { kind: 'exhausted', bound, work };
  const { cable, ...route } = best;
  return {
    kind: 'route',
    ...route,
    bound: Math.min(bound, best.cost),
    proven: meets(best.cost, bound),
    work,
    ...(cable >= 0 ? { cable } : {}),
  };
}
