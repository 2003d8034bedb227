import type { MipEngine } from '../engines/port.js';
import { measureRoute } from '../model/grid-cost.js';
import type { GridRoute, GridTask } from '../model/grid-task.js';
import type { ModelReport } from '../plan-types.js';
import { cornerSaving } from '../problem.js';
import { coarseRoute } from './coarse-route.js';
import { flipRoute } from './flip-route.js';
import { solveFrontier } from './frontier.js';
import { Potentials, potentialBound } from './frontier-potential.js';
import { refineRoute, WINDOW_ROUNDS } from './frontier-window.js';
import { bandTask, withoutPrices } from './lane-band.js';
import type { LaneChoice } from './lane-choice.js';
import { type LaneGrid, laneGrid, studsOfRoute } from './lane-grid.js';
import { solveByMip } from './mip-route.js';
import type { Mouths } from './mouths.js';
import { STEP_TURNS, stepsOf } from './steps.js';
import { buildTail, countTurns, type Tail } from './tail.js';
import type { ZoneSpace } from './zone-space.js';

/** What a piece across the lanes costs, as a share of a turn: among equals, runs lie along their axis. */
const CROSS_SHARE = 1 / 60;

/** Share of the states that each of four sweeps gets: along and across the lanes, forwards and backwards. */
const EACH_SWEEP = 0.4;

/** Beam of each sweep over a coarse copy: such a share of the states, and so many at least. */
const COARSE_SHARE = 1 / 8;
const LEAST_COARSE_STATES = 20;

/** Beam of the search for a tail, whose grids are small. */
const TAIL_STATES = 200;

export interface TailLimits {
  readonly minGap: number;
  /** Tail length beyond which more is of no use, mm. */
  readonly wantedTail: number;
  /** Longest way from the last lane to the buffer, studs. */
  readonly maxOutside: number;
}

export interface RouteOptions extends TailLimits {
  readonly turnWeight: number;
  readonly maxStates: number;
  /** Nodes of a coarse copy of the grid, roughly. */
  readonly coarseNodes: number;
  /** Sweeps over the full grid where a coarse copy gave a route as well. */
  readonly sweeps: number;
  /** States of the sweeps that solve parts of the route anew, and how many parts. */
  readonly windowStates: number;
  readonly maxWindows: number;
  /** Flips of squares weighed for each node of the grid. */
  readonly flips: number;
  /** Grid nodes times states for solving a narrow grid to the end; 0 = not. */
  readonly exactWork: number;
  /** Integer programming for grids of up to mipNodes nodes; a result counts only when it is proven optimal. */
  readonly engine: MipEngine | null;
  readonly mipNodes: number;
  /** Largest number of integer solves. */
  readonly mipRounds: number;
  /** Guard of one integer solve, seconds. */
  readonly mipSeconds: number;
  expired(): boolean;
}

export interface LaneRoute {
  readonly choice: LaneChoice;
  readonly grid: LaneGrid;
  readonly route: GridRoute;
  readonly steps: number;
  /** Main stretch and tail as lattice nodes. */
  readonly studs: readonly number[];
  readonly tail: Tail;
  /** Laid length from the entry to the first node in the buffer, mm. */
  readonly main: number;
  readonly model: ModelReport;
  /** Whether the whole grid was swept, or a coarse copy of it only. */
  readonly swept: boolean;
  /** Whether a coarse copy of the grid gave a route. */
  readonly copied: boolean;
  readonly guardFired: boolean;
}

/**
 * Routes the lanes of a choice exactly or by beam search, and lays the tail. `known`: a route over them found with less
 * effort. Null where no route was found.
 */
export function routeLanes(
  space: ZoneSpace,
  choice: LaneChoice,
  mouths: Mouths,
  options: RouteOptions,
  known: LaneRoute | null = null,
): LaneRoute | null {
  const grid = known?.grid ?? gridOfChoice(space, choice, mouths, options.turnWeight);
  if (!grid) return null;
  const route = choice.band ? bandRoute : bestRoute;
  const found = route(grid, choice, options, known);
  return found && withTail(space, choice, grid, found, options);
}

/** The grid that the lanes of a choice make; null when the entry is not on it. */
export function gridOfChoice(
  space: ZoneSpace,
  { axis, main, cross, band, thinning }: Pick<LaneChoice, 'axis' | 'main' | 'cross' | 'band' | 'thinning'>,
  mouths: Mouths,
  turnWeight: number,
): LaneGrid | null {
  const { s, floor, usable, sums, heatRadius, start } = space;
  const rows = axis === 'rows';
  // A full grid takes fewest turns along the axis with fewer lanes; a price on such runs only makes spirals of them.
  const full =
    !band &&
    !thinning &&
    main.lanes.every((m) => cross.lanes.every((c) => usable[rows ? m * s.nx + c : c * s.nx + m]));
  const eastward = rows === (!full || main.lanes.length <= cross.lanes.length);
  const [lanes, beyond] =
    thinning?.side === 'low' ? [thinning.lanes, main.lanes] : [main.lanes, thinning?.lanes];
  return laneGrid(s, floor, {
    columns: rows ? cross.lanes : lanes,
    rows: rows ? lanes : cross.lanes,
    ...(thinning && beyond ? { beyond: { axis, at: thinning.at, lanes: beyond } } : {}),
    usable,
    mouths,
    start,
    turnWeight,
    eastCost: eastward ? 0 : turnWeight * CROSS_SHARE,
    northCost: eastward ? turnWeight * CROSS_SHARE : 0,
    heatRadius,
    sums,
  });
}

/** A route over a lane grid, and what found it. */
export interface GridFind {
  readonly route: GridRoute;
  readonly method: string;
  readonly swept: boolean;
  readonly copied: boolean;
  readonly guardFired: boolean;
}

/** Lays the tail behind a grid route; null when the buffer cannot be entered from its end. */
export function withTail(
  space: ZoneSpace,
  choice: LaneChoice,
  grid: LaneGrid,
  { route, method, swept, copied, guardFired }: GridFind,
  options: TailLimits,
): LaneRoute | null {
  const main = studsOfRoute(grid, space.s, route.nodes);
  const tail = buildTail(space.s, main, {
    buffer: space.buffer,
    minGap: options.minGap,
    wanted: options.wantedTail,
    maxOutside: options.maxOutside,
    maxStates: TAIL_STATES,
    jogStuds: 2 * space.setting.spacing.target,
  });
  if (!tail) return null;
  const upTo = [...main, ...tail.nodes.slice(0, tail.outside + 1)];
  const { lattice } = space.setting;
  return {
    choice,
    grid,
    route,
    steps: stepsOf(route.nodes),
    studs: [...main, ...tail.nodes],
    tail,
    main: (upTo.length - 1) * lattice.pitch - countTurns(upTo) * cornerSaving(lattice),
    model: {
      method,
      nodes: nodeCount(grid.task),
      columns: grid.columns.length,
      rows: grid.rows.length,
      cost: route.cost,
      bound: route.bound,
      proven: route.proven,
    },
    swept,
    copied,
    guardFired,
  };
}

export const nodeCount = ({ present }: GridTask): number => present.reduce((n, p) => n + p, 0);

/** Grids up to this many lanes wide are left to the frontier, which proves them faster than the integer programme. */
const NARROW = 12;

export const isNarrow = ({ nx, ny }: GridTask): boolean => Math.min(nx, ny) <= NARROW;

/** The best route with prices that make runs lie across in the band, at what it costs without them. */
function bandRoute(
  grid: LaneGrid,
  choice: LaneChoice,
  options: RouteOptions,
  known: LaneRoute | null,
): GridFind | null {
  const task = bandTask(grid, choice, options.turnWeight);
  const found = bestRoute({ ...grid, task }, choice, { ...options, engine: null }, known);
  return found && { ...found, route: withoutPrices(grid, found.route) };
}

/** The route with squares of the grid flipped wherever that saves turns, cold floor or steps. */
function flipped(task: GridTask, route: GridRoute, nodes: number, options: RouteOptions): GridRoute {
  const trials = Math.ceil(options.flips * nodes);
  const { turnWeight } = options;
  const better = flipRoute(task, route.nodes, { trials, turnWeight, stepTurns: STEP_TURNS });
  if (better === route.nodes) return route;
  const measure = measureRoute(task, better);
  const proven = measure.cost <= route.bound + 1e-9;
  return { ...route, ...measure, nodes: better, proven, bound: Math.min(route.bound, measure.cost) };
}

/** Beam first, then parts of its route anew, then an exact stage where the grid is small enough for one. */
function bestRoute(
  grid: LaneGrid,
  choice: LaneChoice,
  options: RouteOptions,
  known: LaneRoute | null,
): GridFind | null {
  const { task } = grid;
  const potentials = new Potentials(task);
  let best: GridRoute | null = null;
  let bound = -Infinity;
  let work = 0;
  const maxStates = Math.ceil(EACH_SWEEP * options.maxStates);
  const { axis } = choice;
  const other = axis === 'rows' ? 'columns' : 'rows';
  const sweeps = [
    [axis, false],
    [other, false],
    [axis, true],
    [other, true],
  ] as const;
  const coarseStates = Math.max(LEAST_COARSE_STATES, Math.round(COARSE_SHARE * options.maxStates));
  // With the fewest states a copy yields what it yielded before.
  const again = !known || (known.copied && coarseStates > LEAST_COARSE_STATES);
  const coarse = again ? coarseRoute(task, { nodes: options.coarseNodes, maxStates: coarseStates }) : null;
  const copied = known?.copied ?? coarse !== null;
  for (const nodes of [known?.route.nodes, coarse]) {
    if (!nodes) continue;
    bound = potentialBound(potentials.get('rows', WINDOW_ROUNDS));
    const measure = measureRoute(task, nodes);
    if (!best || measure.cost < best.cost)
      best = { ...measure, kind: 'route', nodes, bound, proven: false, work };
  }
  for (const [sweep, backward] of sweeps.slice(0, copied ? options.sweeps : sweeps.length)) {
    if (best && (best.proven || bound >= best.cost - 1e-9)) break;
    const swept = solveFrontier(task, { maxStates, sweep, backward, potentials });
    if (swept.kind === 'infeasible') return null;
    if (swept.kind !== 'route') continue;
    bound = Math.max(bound, swept.bound);
    work += swept.work;
    if (!best || swept.cost < best.cost) best = swept;
  }
  if (best && !best.proven) {
    const proven = bound >= best.cost - 1e-9;
    best = { ...best, bound: Math.min(bound, best.cost), proven, work };
  }
  if (best && !best.proven)
    best = refineRoute(task, best, {
      maxStates: options.windowStates,
      maxWindows: options.maxWindows,
      potentials,
      expired: options.expired,
    });
  const nodes = nodeCount(task);
  if (best && !best.proven && options.flips > 0) best = flipped(task, best, nodes, options);
  const narrow = isNarrow(task);
  if (!best?.proven && options.exactWork > 0 && narrow && !options.expired()) {
    const cutoff = best ? { cutoff: best.cost + 1e-6 } : {};
    const found = solveFrontier(task, {
      maxStates: Math.ceil(options.exactWork / nodes),
      sweep: 'auto',
      expired: options.expired,
      ...cutoff,
    });
    if (found.kind === 'route' && (!best || found.cost <= best.cost + 1e-9)) best = found;
  }
  const found = (route: GridRoute | null, method: string, guardFired: boolean) =>
    route && { route, method, copied, swept: !copied || options.sweeps > 0, guardFired };
  if (best?.proven || narrow || !options.engine || nodes > options.mipNodes)
    return found(best, 'frontier', false);
  const exact = solveByMip(task, options.engine, {
    maxNodes: options.mipNodes,
    maxRounds: options.mipRounds,
    seconds: options.mipSeconds,
    expired: options.expired,
    ...(best ? { cutoffRoute: best.nodes } : {}),
  });
  if (exact.kind === 'route' && exact.proven) return found(exact, options.engine.name, false);
  return found(best, 'frontier', exact.guardFired);
}
