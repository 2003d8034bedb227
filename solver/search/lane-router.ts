import type { MipEngine } from '../engines/port.js';
import type { Cable } from '../problem.js';
import type { EffortBudget } from './effort.js';
import type { LaneChoice } from './lane-choice.js';
import { LaneScout } from './lane-scout.js';
import { endPlay } from './length-window.js';
import type { Mouths } from './mouths.js';
import {
  BOUND_WORK,
  FLIP_WORK,
  LEAST_SCREENS,
  LOOK_WORK,
  leastScreens,
  NODE_WORK,
  refineStates,
  refineSweeps,
  refineWork,
  SMALL_GRID,
  STATE_WORK,
  screenWork,
} from './room-work.js';
import { routeForLength } from './route-for-length.js';
import { isNarrow, type LaneRoute, routeLanes, type TailLimits } from './route-lanes.js';
import { type Pair, RoutePool } from './route-pool.js';
import type { Approach } from './tight-buffer.js';
import type { ZoneSpace } from './zone-space.js';

export interface RouterOptions {
  readonly turnWeight: number;
  readonly engine: MipEngine | null;
  expired(): boolean;
}

/** States of a window's sweep that cost as much time as one state of a beam over the whole grid. */
const WINDOW_RATE = 8;

/** Work of a route over a coarse copy of a grid, in the same unit. */
const COARSE_WORK = 14_000;

/** A route that comes so near to what the next choice promises ends the screening. */
const NEAR_PROMISE = 1.04;

/** Routes worked out beyond the first, whatever they cost. */
const LEAST_REFINED = 1;

/** Exact tries that small grids have of their own. */
const SMALL_TRIES = 1;

/** Integer solves that picking cable and route together may take: with a length to meet they are hard. */
const LENGTH_ROUNDS = 2;

/** Routes lane choices: many briefly, to see which are good, and few with care. Keeps within a budget's work. */
export class LaneRouter {
  readonly pool: RoutePool;
  readonly mouths: Mouths;
  /** Longest way from the last lane to the buffer, studs. */
  readonly maxOutside: number;
  /** Least score that a choice of lanes promised, mm2. */
  promise = Infinity;
  /** Longest stretch that was laid inside the buffer, mm. */
  longestTail = 0;
  /** How often routes were sought with this budget. */
  round = 0;
  guardFired = false;
  private routing = 0;
  private readonly space: ZoneSpace;
  private readonly scout: LaneScout;
  /** Routes of this budget that were worked out, by their lanes. */
  private readonly reworked = new Map<LaneChoice, LaneRoute>();
  private refineSpent = 0;
  private refinedBeyond = 0;
  private exactTries = 0;
  private smallTries = 0;

  constructor(
    { space, mouths, maxOutside, stretch }: Approach,
    private readonly cables: readonly Cable[],
    private readonly options: RouterOptions,
  ) {
    this.space = space;
    this.mouths = mouths;
    this.maxOutside = maxOutside;
    this.scout = new LaneScout(space, mouths, options.turnWeight, cables, stretch);
    this.pool = new RoutePool(space, this.scout, this.mouths, options.turnWeight);
  }

  /** All that routes and looks at parities took, in units of `room-work.ts`. */
  get spent(): number {
    return this.routing + LOOK_WORK * this.scout.work + BOUND_WORK * this.scout.boundedNodes;
  }

  beginBudget(): void {
    this.exactTries = 0;
    this.smallTries = 0;
    this.reworked.clear();
    this.round = 0;
  }

  beginRound(): void {
    this.round++;
    this.refineSpent = 0;
    this.refinedBeyond = 0;
  }

  /**
   * Routes up to `most` of the most promising choices for these cables with a small beam, none that promises more than
   * `worth`. `best` gives the best pair so far that is to be worked out; none after the first once `mayGoOn` says no.
   */
  screen(
    cables: readonly Cable[],
    budget: EffortBudget,
    most: number,
    worth: number,
    best: () => Pair | undefined,
    mayGoOn: () => boolean,
  ): void {
    let spent = 0;
    for (let n = 0; n < most && !this.options.expired() && (n === 0 || mayGoOn()); n++) {
      const next = this.scout.next(cables, budget.screenStates, budget.parityWork);
      if (!next) break;
      const { choice, promise } = next;
      if (promise > worth) break;
      const known = n > 0 ? best() : undefined;
      this.promise = Math.min(this.promise, promise);
      if (spent >= screenWork(budget, choice.nodes) && n >= LEAST_SCREENS) break;
      const near = known?.miss === 0 && known.score <= promise * NEAR_PROMISE;
      if (near && choice.nodes > SMALL_GRID && n >= leastScreens(choice.nodes, this.round)) break;
      const route = this.route(choice, 'screen', budget);
      spent +=
        (route?.swept === false ? COARSE_WORK : choice.nodes * budget.screenStates) +
        (route ? route.route.work / WINDOW_RATE : 0);
      if (route) this.pool.stretch(route, cables, this.tailLimits(choice));
    }
  }

  /** What the best of the choices not screened yet promises, mm2. */
  nextPromise({ screenStates, parityWork }: EffortBudget): number {
    return this.scout.promise(this.cables, screenStates, parityWork);
  }

  /** Grants routing that choice with care: within the work of this round, few beyond it, `any` while nothing is laid. */
  grantRework({ nodes }: LaneChoice, budget: EffortBudget, any: boolean): boolean {
    const cost = nodes * budget.refineStates;
    if (any || this.refineSpent + cost <= refineWork(budget, nodes)) return true;
    return ++this.refinedBeyond <= LEAST_REFINED;
  }

  /** The better of a route and a route over the same lanes with more effort, for that cable. */
  rework(route: LaneRoute, cable: Cable, budget: EffortBudget): LaneRoute {
    const { choice } = route;
    let better = this.reworked.get(choice) ?? null;
    if (!better && !this.isAsGoodAsProven(route, cable)) {
      better = this.route(choice, 'refine', budget, route);
      this.refineSpent += choice.nodes * budget.refineStates;
      if (better) this.reworked.set(choice, better);
    }
    return better && this.pool.costFor(cable, better) <= this.pool.costFor(cable, route) + 1e-9
      ? better
      : route;
  }

  /** Whether it suits the cable and more effort cannot save a single turn; narrow grids are proven to the last mm2. */
  private isAsGoodAsProven(laid: LaneRoute, cable: Cable): boolean {
    const { route, grid } = laid;
    if (route.proven) return true;
    if (isNarrow(grid.task) || this.pool.missOf(cable, laid) > 0) return false;
    return route.cost - route.bound < this.options.turnWeight;
  }

  /** The route with its lanes spread as evenly as costs nothing. */
  evened(route: LaneRoute, cable: Cable): LaneRoute {
    return this.pool.evened(route, cable, this.tailLimits(route.choice));
  }

  /** Lets the integer programme pick cable and route together where the route at hand is too long or too short. */
  fitLength(route: LaneRoute, budget: EffortBudget): { route: LaneRoute; cable: Cable } | null {
    const { engine } = this.options;
    const missed = (cable: Cable) => this.pool.missOf(cable, route);
    if (!engine || this.exactTries >= budget.exactTries || route.choice.nodes > budget.mipNodes / 2)
      return null;
    if (this.cables.some((cable) => missed(cable) === 0)) return null;
    this.exactTries++;
    const fitted = routeForLength(this.space, route, this.cables, {
      ...this.tailLimits(route.choice),
      engine,
      mipRounds: LENGTH_ROUNDS,
      seconds: budget.mipSeconds,
      expired: this.options.expired,
    });
    this.guardFired ||= fitted.guardFired;
    return fitted.kind === 'fitted' ? fitted : null;
  }

  /** `known`: a route over the choice found with less effort. */
  private route(
    choice: LaneChoice,
    stage: 'screen' | 'refine',
    budget: EffortBudget,
    known: LaneRoute | null = null,
  ): LaneRoute | null {
    const refine = stage === 'refine';
    const first = this.refineSpent === 0;
    const small = choice.nodes <= SMALL_GRID;
    const tries =
      budget.exactTries > 0 && small ? SMALL_TRIES - this.smallTries : budget.exactTries - this.exactTries;
    const exact = refine && tries > 0;
    if (exact && small) this.smallTries++;
    else if (exact) this.exactTries++;
    const options = {
      ...this.tailLimits(choice),
      turnWeight: this.options.turnWeight,
      maxStates: refine ? refineStates(budget, choice.nodes, first) : budget.screenStates,
      sweeps: refine ? refineSweeps(budget, first) : budget.screenSweeps,
      coarseNodes: budget.coarseNodes,
      windowStates: budget.windowStates,
      flips: refine ? budget.refineFlips : budget.screenFlips,
      maxWindows: refine ? budget.maxWindows : budget.maxWindows / 2,
      exactWork: exact ? budget.exactWork : 0,
      engine: exact ? this.options.engine : null,
      mipNodes: budget.mipNodes,
      mipRounds: budget.mipRounds,
      mipSeconds: budget.mipSeconds,
      expired: this.options.expired,
    };
    const route = routeLanes(this.space, choice, this.mouths, options, known);
    this.routing +=
      (NODE_WORK + FLIP_WORK * options.flips) * choice.nodes + STATE_WORK * (route?.route.work ?? 0);
    if (!route) return null;
    this.pool.routes.push(route);
    this.guardFired ||= route.guardFired;
    this.longestTail = Math.max(this.longestTail, route.tail.length);
    this.scout.learn(choice, {
      main: route.main,
      tail: route.tail.length,
      turns: route.route.turns + route.tail.turns,
      cost: route.route.cost,
      bound: route.route.bound,
    });
    return route;
  }

  /** A longer tail is of no use than the end's play, and one run either way to meet the cable. */
  private tailLimits(choice: LaneChoice): TailLimits {
    const run = choice.main.runLength / choice.main.lanes.length;
    const length = choice.expected * 1.1 + 1000;
    const play = Math.max(
      ...this.cables.map((cable) =>
        endPlay(this.space, { ...cable, length }, 2 * choice.main.lanes.length + 12),
      ),
    );
    return { minGap: choice.minGap, wantedTail: 2 * play + 2 * run + 200, maxOutside: this.maxOutside };
  }
}
