import type { MipEngine, MipResult } from '../solver/engines/port.js';
import { measureRoute, verifyRoute } from '../solver/model/grid-cost.js';
import type { GridRoute, GridTask } from '../solver/model/grid-task.js';
import { reduceTask } from '../solver/model/path-graph.js';
import { buildPathModel } from '../solver/model/path-mip.js';
import { mergePieces, readPieces } from '../solver/model/path-pieces.js';
import { solveFrontier } from '../solver/search/frontier.js';
import type { Sweep } from '../solver/search/frontier-view.js';
import { refineRoute } from '../solver/search/frontier-window.js';
import { solveByMip } from '../solver/search/mip-route.js';

/** What a method made of a lane grid in the time it had. */
export interface GridResult {
  /** Null when it found no legal route. */
  readonly nodes: Int32Array | null;
  /** mm2 of cold floor and turns, as the task weighs them; Infinity without a route. */
  readonly cost: number;
  readonly turns: number;
  /** Proven lower bound on `cost`, -Infinity when there is none. */
  readonly bound: number;
  readonly proven: boolean;
  readonly seconds: number;
}

/** Rounds of the cut loop: the clock ends it, not the count. */
const ROUNDS = 100_000;
const NODES = 100_000;
/** For the bound from the model without integers, on top of the time the method has. */
const RELAXED = { seconds: 5 };

const seconds = (since: number): number => (performance.now() - since) / 1000;

/**
 * The path-piece model with its cut loop under one engine, from nothing. A solve that the clock stops still counts: the
 * stray cycles of its incumbent are joined to the path, and the engine's bound is taken if it tells one.
 */
export function routeByEngine(task: GridTask, engine: MipEngine, budget: number): GridResult {
  const began = performance.now();
  let stopped: Extract<MipResult, { kind: 'stopped' }> | null = null;
  let hasBound = false;
  const clocked: MipEngine = {
    name: engine.name,
    solve(model, limits) {
      // After a stopped solve the loop asks for the model without integers: a second turn only where no bound was told.
      const isRelaxed = !model.variables.some(({ integer }) => integer);
      if (isRelaxed)
        return hasBound ? { kind: 'failed', reason: 'time is up' } : engine.solve(model, RELAXED);
      const left = budget - seconds(began);
      const result = engine.solve(model, { seconds: Math.max(0.05, Math.min(limits.seconds, left)) });
      if (result.kind === 'stopped') {
        stopped = result;
        hasBound = result.bound > -Infinity;
      }
      return result;
    },
  };
  const outcome = solveByMip(task, clocked, {
    maxNodes: NODES,
    maxRounds: ROUNDS,
    seconds: budget,
    expired: () => seconds(began) >= budget,
  });
  const spent = seconds(began);
  const late = stopped === null ? null : rescue(task, stopped);
  const bound = Math.max(outcome.kind === 'infeasible' ? -Infinity : outcome.bound, late?.bound ?? -Infinity);
  const route = outcome.kind === 'route' ? outcome : null;
  const isLateBetter = late?.nodes && (route === null || late.cost < route.cost);
  if (isLateBetter) return { ...late, bound: Math.min(bound, late.cost), proven: false, seconds: spent };
  if (route === null) return { nodes: null, cost: Infinity, turns: 0, bound, proven: false, seconds: spent };
  const { nodes, cost, turns, proven } = route;
  return { nodes, cost, turns, bound: Math.min(bound, cost), proven, seconds: spent };
}

/** Route and bound that a solve stopped by the clock still holds. */
function rescue(
  task: GridTask,
  stopped: Extract<MipResult, { kind: 'stopped' }>,
): { nodes: Int32Array | null; cost: number; turns: number; bound: number } {
  const none = { nodes: null, cost: Infinity, turns: 0 };
  const graph = reduceTask(task);
  if (graph === null) return { ...none, bound: -Infinity };
  const path = buildPathModel(graph, null);
  const bound = stopped.bound + path.constant;
  if (stopped.incumbent === null) return { ...none, bound };
  const nodes = mergePieces(readPieces(path, stopped.incumbent.values));
  if (nodes === null || verifyRoute(task, nodes) !== null) return { ...none, bound };
  const { cost, turns } = measureRoute(task, nodes);
  return { nodes, cost, turns, bound };
}

/** First beam, and how many times wider each next one is. */
const STATES = 200;
const WIDER = 4;
const MOST_STATES = 400_000;
/** A sweep is begun only when it is likely to end in time: it takes this many times the one before. */
const SLOWER = 4;
const WINDOWS = 1000;

/** The frontier search with its windows, beam after wider beam, until the route is proven or the time is used up. */
export function routeByFrontier(task: GridTask, axis: Sweep, budget: number): GridResult {
  const began = performance.now();
  let best: GridRoute | null = null;
  let bound = -Infinity;
  for (let states = STATES; states <= MOST_STATES; states *= WIDER) {
    const before = seconds(began);
    const found = solveFrontier(task, {
      maxStates: states,
      sweep: states === STATES ? axis : 'auto',
      ...(best === null ? {} : { cutoff: best.cost }),
    });
    bound = Math.max(bound, found.kind === 'infeasible' ? -Infinity : found.bound);
    if (found.kind === 'route') {
      const refined = refineRoute(task, found, { maxStates: 2 * STATES, maxWindows: WINDOWS });
      if (best === null || refined.cost < best.cost) best = refined;
    }
    const now = seconds(began);
    const isDone = best !== null && (best.proven || bound >= best.cost - 1e-6);
    if (isDone || now + SLOWER * (now - before) > budget) break;
  }
  const spent = seconds(began);
  if (best === null) return { nodes: null, cost: Infinity, turns: 0, bound, proven: false, seconds: spent };
  const { nodes, cost, turns } = best;
  const proven = best.proven || bound >= cost - 1e-6;
  return { nodes, cost, turns, bound: proven ? cost : Math.min(bound, cost), proven, seconds: spent };
}
