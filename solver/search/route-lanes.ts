import type { MipEngine } from '../engines/port.js';
import type { GridRoute } from '../model/grid-task.js';
import type { ModelReport } from '../plan-types.js';
import { solveFrontier } from './frontier.js';
import type { LaneChoice } from './lane-choice.js';
import { type LaneGrid, laneGrid, studsOfRoute } from './lane-grid.js';
import { solveByMip } from './mip-route.js';
import { buildTail, type Tail } from './tail.js';
import type { ZoneSpace } from './zone-space.js';

/** Beam of the search for a tail, whose grids are small. */
const TAIL_STATES = 200;

export interface RouteOptions {
  readonly minGap: number;
  readonly turnWeight: number;
  /** Tail length beyond which more is of no use, mm. */
  readonly wantedTail: number;
  /** Longest way from the last lane to the buffer, studs. */
  readonly maxOutside: number;
  readonly maxStates: number;
  /** States with which narrow grids are solved to the end; 0 = not. */
  readonly exactStates: number;
  /** Integer programming for grids of up to mipNodes nodes; a result counts only when it is proven optimal. */
  readonly engine: MipEngine | null;
  readonly mipNodes: number;
  /** Guard of one integer solve, seconds. */
  readonly mipSeconds: number;
}

export interface LaneRoute {
  readonly choice: LaneChoice;
  readonly grid: LaneGrid;
  readonly route: GridRoute;
  /** Main stretch and tail as lattice nodes. */
  readonly studs: readonly number[];
  readonly tail: Tail;
  readonly model: ModelReport;
  readonly guardFired: boolean;
}

/** Cost of ending at each node: how far the buffer is straight ahead; Infinity where it is out of reach. */
export function mouthCosts(space: ZoneSpace, maxOutside: number): Float64Array {
  const { s, usable, buffer } = space;
  const cost = new Float64Array(s.free.length).fill(Infinity);
  for (let v = 0; v < cost.length; v++) {
    if (!usable[v]) continue;
    for (const [step, pieces, back] of [
      [1, s.east, 0],
      [-1, s.east, -1],
      [s.nx, s.north, 0],
      [-s.nx, s.north, -s.nx],
    ] as const) {
      let w = v;
      for (let k = 1; k <= maxOutside; k++) {
        if (!pieces[w + back]) break;
        w += step;
        if (buffer[w]) {
          cost[v] = Math.min(cost[v], 20 * (k - 1));
          break;
        }
      }
    }
  }
  return cost;
}

/** Routes the lanes of a choice exactly or by beam search, and lays the tail. Null where no route was found. */
export function routeLanes(
  space: ZoneSpace,
  choice: LaneChoice,
  endCost: Float64Array,
  options: RouteOptions,
): LaneRoute | null {
  const { s, floor, usable, sums, heatRadius, start } = space;
  const rows = choice.axis === 'rows';
  const grid = laneGrid(s, floor, {
    columns: rows ? choice.cross.lanes : choice.main.lanes,
    rows: rows ? choice.main.lanes : choice.cross.lanes,
    usable,
    endCost,
    start,
    turnWeight: options.turnWeight,
    heatRadius,
    sums,
  });
  if (!grid) return null;
  const found = bestRoute(grid, choice, options);
  if (!found) return null;
  const main = studsOfRoute(grid, s, found.route.nodes);
  const tail = buildTail(s, main, {
    buffer: space.buffer,
    minGap: options.minGap,
    wanted: options.wantedTail,
    maxOutside: options.maxOutside,
    maxStates: TAIL_STATES,
  });
  if (!tail) return null;
  return {
    choice,
    grid,
    route: found.route,
    studs: [...main, ...tail.nodes],
    tail,
    model: {
      method: found.method,
      nodes: grid.task.present.reduce((n, p) => n + p, 0),
      columns: grid.columns.length,
      rows: grid.rows.length,
      cost: found.route.cost,
      bound: found.route.bound,
      proven: found.route.proven,
    },
    guardFired: found.guardFired,
  };
}

/** Grids up to this many lanes wide are solved to proven optimality by the frontier alone. */
const NARROW = 11;

/** Largest number of integer solves of one route. */
const MIP_ROUNDS = 40;

function bestRoute(
  grid: LaneGrid,
  choice: LaneChoice,
  options: RouteOptions,
): { route: GridRoute; method: string; guardFired: boolean } | null {
  const { task } = grid;
  let best: GridRoute | null = null;
  for (const backward of [false, true]) {
    const found = solveFrontier(task, { maxStates: options.maxStates, sweep: choice.axis, backward });
    if (found.kind === 'route' && (!best || found.cost < best.cost - 1e-9)) best = found;
    if (best?.proven) break;
  }
  if (!best?.proven && options.exactStates > 0 && Math.min(task.nx, task.ny) <= NARROW) {
    const found = solveFrontier(task, { maxStates: options.exactStates, sweep: 'auto' });
    if (found.kind === 'route' && (!best || found.cost <= best.cost)) best = found;
  }
  if (best?.proven || !options.engine) return best && { route: best, method: 'frontier', guardFired: false };
  const nodes = task.present.reduce((n, p) => n + p, 0);
  if (nodes > options.mipNodes) return best && { route: best, method: 'frontier', guardFired: false };
  const exact = solveByMip(task, options.engine, {
    maxNodes: options.mipNodes,
    maxRounds: MIP_ROUNDS,
    seconds: options.mipSeconds,
    ...(best ? { cutoffRoute: best.nodes } : {}),
  });
  const guardFired =
    exact.work < MIP_ROUNDS && !(exact.kind === 'route' && exact.proven) && exact.kind !== 'infeasible';
  if (exact.kind === 'route' && exact.proven)
    return { route: exact, method: options.engine.name, guardFired };
  return best && { route: best, method: 'frontier', guardFired };
}
