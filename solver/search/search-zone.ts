import { sweptArea } from '../bounds/area.js';
import type { MipEngine } from '../engines/port.js';
import type { Cable, Trace } from '../problem.js';
import type { EffortBudget } from './effort.js';
import { type LaneChoice, lanesName, leastGap } from './lane-choice.js';
import { LaneScout } from './lane-scout.js';
import { endPlay, lengthInZone } from './length-window.js';
import { type Mouths, mouthsOf } from './mouths.js';
import { turnWorth } from './objective.js';
import { routeForLength } from './route-for-length.js';
import { type LaneRoute, routeLanes, type TailLimits } from './route-lanes.js';
import { type Pair, RoutePool } from './route-pool.js';
import { shapeRoute } from './shape-route.js';
import { spine } from './spine.js';
import { isHopeful, isPoor, type Standing, worthAnotherRound } from './standing.js';
import { buildTail, type Tail } from './tail.js';
import type { ZoneSpace } from './zone-space.js';

export interface Found {
  readonly cable: Cable;
  readonly trace: Trace;
  /** Cold area + turns, mm2, as the search sees it (raster, tail not counted as heat). */
  readonly score: number;
  /** Cold area alone, weighted by priority, mm2. */
  readonly cold: number;
  /** Null for a layout grown without lanes. */
  readonly route: LaneRoute | null;
}

export interface SearchOptions {
  readonly turnWeight: number;
  readonly budgets: readonly EffortBudget[];
  readonly engine: MipEngine | null;
  /** A layout, roughly shaped, for every cable that may come near the best, not only for the best. */
  readonly each: boolean;
  expired(): boolean;
}

/** Lengths of a route, mm. */
export interface RoutedLength {
  /** From the entry to the buffer. */
  readonly main: number;
  /** In the buffer. */
  readonly tail: number;
  readonly turns: number;
  /** Least studs between its runs. */
  readonly minGap: number;
}

export interface SearchResult {
  /** Best first. */
  readonly found: readonly Found[];
  /** Cables that were shaped in vain: mm by which the layout stayed too long (+) or too short (-). */
  readonly missed: ReadonlyMap<string, number>;
  /** Longest stretch that was laid inside the buffer, mm. */
  readonly longestTail: number;
  readonly routed: readonly RoutedLength[];
  readonly guardFired: boolean;
  readonly work: number;
}

/** Searches one zone for the given cables: lanes by dynamic programming, routes on their grid, shape by local search. */
export function searchZone(space: ZoneSpace, cables: readonly Cable[], options: SearchOptions): SearchResult {
  const turnWeight = turnWorth(space, options.turnWeight);
  const search = new ZoneSearch(space, cables, { ...options, turnWeight });
  for (const budget of options.budgets) {
    if (options.expired()) break;
    search.run(budget);
  }
  return search.result();
}

/** States of a window's sweep that cost as much time as one state of a beam over the whole grid. */
const WINDOW_RATE = 8;

/** Work of a route over a coarse copy of a grid, in the same unit. */
const COARSE_WORK = 14_000;

/** A cable is tried although it is not the best one while it may come within this share of the target area. */
const TRY_WITHIN = 0.025;

/** Routes that miss its length by more than this share are not shaped. */
const TRY_MISS = 0.08;

/** Choices that promise more than the best score by so large a share of the target area are not screened for its sake. */
const WORTH_SCREENING = 0.05;

/** Lane choices screened for the sake of such a cable alone. */
const TRY_SCREENS = 3;
/** Share of the screening's work after which no such cable gets more than one. */
const TRY_SHARE = 1 / 8;

/** Grids of so few nodes have exact tries of their own, and more of their routes are worked out: shaping decides there. */
const SMALL_GRID = 150;
const SMALL_TRIES = 1;
const SMALL_REFINE = 3;

/** A route that comes so near to what the next choice promises ends the screening. */
const NEAR_PROMISE = 1.04;

/** Choices screened, and routes worked out beyond the first, whatever they cost. */
const LEAST_SCREENS = 4;
const LEAST_REFINED = 1;

/** In grids of more nodes what is promised rests on coarse copies, so that many choices are screened anyway. */
const LARGE_GRID = 1000;
const LEAST_SCREENS_IF_LARGE = 8;

/** Larger rooms may take longer: work added for every node beyond so many, up to a limit. */
const beyond = (nodes: number): number => Math.max(0, nodes - 900);
const screenWork = (budget: EffortBudget, nodes: number): number =>
  budget.screenWork + Math.min(450_000, beyond(nodes) * 1800);
const refineWork = (budget: EffortBudget, nodes: number): number =>
  budget.refineWork + Math.min(300_000, beyond(nodes) * 300);

/** Sweeps for the most promising choice of a round: which of the four does best cannot be told beforehand. */
const SWEEPS_OF_FIRST = 4;

/** Large grids are worked out with fewer states, but for the one that promises most: a narrow beam loses itself there. */
const LEAST_SHARE = 2 / 3;
const STATES_OF_FIRST = 600;
const refineStates = (budget: EffortBudget, nodes: number, first: boolean): number => {
  const { refineStates: states, refineWork } = budget;
  const usual = Math.max(LEAST_SHARE * states, Math.min(states, (1.5 * refineWork) / nodes));
  return first && beyond(nodes) > 0 ? Math.max(usual, STATES_OF_FIRST) : usual;
};

/** Integer solves that picking cable and route together may take: with a length to meet they are hard. */
const LENGTH_ROUNDS = 2;

/** A route worked out and roughly shaped for a cable. */
interface Draft {
  readonly route: LaneRoute;
  readonly cable: Cable;
  /** Of the rough shape, or of the route where that did not meet the cable, mm2. */
  readonly score: number;
}

const nameOf = ({ route: { choice }, cable }: Pair, { refineStates }: EffortBudget): string =>
  `${refineStates} ${cable.id} ${lanesName(choice)}`;

class ZoneSearch {
  private readonly scout: LaneScout;
  private readonly pool: RoutePool;
  private readonly found: Found[] = [];
  private readonly missed = new Map<string, number>();
  private readonly refined = new Set<string>();
  /** Routes of this budget's second stage, by their lanes. */
  private readonly reworked = new Map<LaneChoice, LaneRoute>();
  private readonly maxOutside: number;
  private readonly mouths: Mouths;
  /** Least score that a choice of lanes promised, mm2. */
  private promise = Infinity;
  private longestTail = 0;
  /** How often routes were sought with this budget. */
  private round = 0;
  private guardFired = false;
  private refineSpent = 0;
  private refinedBeyond = 0;
  private exactTries = 0;
  private smallTries = 0;
  private work = 0;

  constructor(
    private readonly space: ZoneSpace,
    private readonly cables: readonly Cable[],
    private readonly options: SearchOptions,
  ) {
    this.maxOutside = space.setting.spacing.max + 1;
    this.mouths = mouthsOf(space, this.maxOutside);
    this.scout = new LaneScout(space, this.mouths, options.turnWeight, cables);
    this.pool = new RoutePool(space, this.scout, this.mouths, options.turnWeight);
  }

  result(): SearchResult {
    return {
      found: [...this.found].sort((a, b) => a.score - b.score),
      missed: this.missed,
      longestTail: this.longestTail,
      routed: this.pool.routes.map((r) => ({
        main: r.main,
        minGap: r.choice.minGap,
        turns: r.route.turns + r.tail.turns,
        tail: r.tail.length,
      })),
      guardFired: this.guardFired || this.options.expired(),
      work: this.work,
    };
  }

  run(budget: EffortBudget): void {
    this.exactTries = 0;
    this.smallTries = 0;
    this.reworked.clear();
    this.round = 0;
    do {
      this.round++;
      this.lay(budget);
    } while (!this.options.expired() && worthAnotherRound(this.standing()));
    const allowed = this.work + budget.screenWork * TRY_SHARE;
    if (this.options.each && this.found.length > 0)
      for (const cable of this.cables)
        if (!this.fits(cable) && this.worthTrying(cable)) this.tryOn(cable, budget, allowed);
    const longestFirst = [...this.cables].sort((a, b) => b.length - a.length);
    for (const cable of longestFirst.slice(0, budget.fits))
      if (this.found.length === 0 && !this.options.expired()) this.fit(cable, budget);
    for (const cable of longestFirst)
      if (this.found.length === 0 && !this.options.expired())
        this.grow(cable, { ...budget, annealTrials: 0 });
    // Descent alone can end in a few wide fingers that leave no room for more.
    for (const cable of longestFirst)
      if (this.found.length === 0 && !this.options.expired()) this.grow(cable, budget);
  }

  /** Screens choices, works the best out, and shapes the best of those in full. */
  private lay(budget: EffortBudget): void {
    this.refineSpent = 0;
    this.refinedBeyond = 0;
    this.screen(this.cables, budget, budget.screens);
    const drafts = this.fresh(this.cables, budget)
      .filter(
        ({ route }, k) =>
          k < budget.refine || (route.choice.nodes <= SMALL_GRID && k < SMALL_REFINE * budget.refine),
      )
      .flatMap((pair) => this.refine(pair, budget));
    drafts.sort((a, b) => a.score - b.score);
    for (const [k, draft] of drafts.entries()) {
      if (this.options.expired() && this.found.length > 0) break;
      const small = draft.route.choice.nodes <= SMALL_GRID;
      const standing = this.standing();
      if (!isHopeful(draft.score, standing)) continue;
      if (k < budget.finish || (isPoor(standing) && (small || k < 2 * budget.finish)))
        this.finish(draft, budget);
    }
  }

  /** Routes with cables they suit that were not worked out with this budget yet. */
  private fresh(cables: readonly Cable[], budget: EffortBudget): Pair[] {
    return this.pool.distinctPairs(cables).filter((pair) => !this.refined.has(nameOf(pair, budget)));
  }

  private standing(): Standing {
    return {
      score: this.leastScore(),
      cold: this.found.reduce((least, { cold }) => Math.min(least, cold), Infinity),
      promise: this.promise,
      total: this.space.floor.total,
      round: this.round,
    };
  }

  private leastScore(): number {
    return this.found.reduce((least, { score }) => Math.min(least, score), Infinity);
  }

  private fits(cable: Cable): boolean {
    return this.found.some((f) => f.cable.id === cable.id);
  }

  /** A layout for this very cable, if lanes give one. */
  private fit(cable: Cable, budget: EffortBudget): void {
    this.screen([cable], budget, Math.ceil(budget.screens / 3));
    for (const pair of this.fresh([cable], budget).slice(0, budget.refine)) {
      for (const draft of this.refine(pair, budget)) this.finish(draft, budget);
      if (this.fits(cable)) return;
    }
  }

  /** Whether the cable could leave hardly more floor cold than the best layout does. */
  private worthTrying(cable: Cable): boolean {
    const { space } = this;
    const coldAtLeast = space.floor.total - sweptArea(space.setting, lengthInZone(space, cable));
    const best = Math.min(...this.found.map(({ cold }) => cold));
    // Where other things than cold floor count, any cable may be the best.
    if (space.zone.priorities.length > 0 || space.zone.heatDensity) return true;
    return coldAtLeast < best + TRY_WITHIN * space.floor.total;
  }

  /** A layout for this very cable from routes at hand, or from few new ones (one once work reaches `allowed`). */
  private tryOn(cable: Cable, budget: EffortBudget, allowed: number): void {
    const lightly = { ...budget, annealTrials: 0, maxWindows: budget.maxWindows / 4 };
    for (let round = 0; round <= TRY_SCREENS && !this.options.expired(); round++) {
      if (round > 1 && this.work > allowed) return;
      if (round > 0)
        this.screen([cable], lightly, 1, this.leastScore() + WORTH_SCREENING * this.space.floor.total);
      for (const { route, miss } of this.pool.pairs([cable]).slice(0, 2)) {
        const key = `lightly ${budget.screenStates} ${cable.id} ${this.pool.routes.indexOf(route)}`;
        if (this.refined.has(key)) continue;
        this.refined.add(key);
        if (miss <= TRY_MISS * cable.length) this.keep(cable, route.studs, route.tail, lightly, route);
        else this.miss(cable, route.main > lengthInZone(this.space, cable) ? miss : -miss);
        if (this.fits(cable)) return;
      }
    }
  }

  /** Routes the most promising choices for these cables with a small beam. */
  private screen(cables: readonly Cable[], budget: EffortBudget, most: number, worth = Infinity): void {
    let spent = 0;
    for (let n = 0; n < most && !this.options.expired(); n++) {
      const next = this.scout.next(cables, budget.screenStates, budget.parityWork);
      if (!next) break;
      const { choice, promise } = next;
      if (promise > worth) break;
      const [best] = n > 0 ? this.fresh(cables, budget) : [];
      this.promise = Math.min(this.promise, promise);
      if (spent >= screenWork(budget, choice.nodes) && n >= LEAST_SCREENS) break;
      const near = best?.miss === 0 && best.score <= promise * NEAR_PROMISE;
      const few = choice.nodes > LARGE_GRID ? LEAST_SCREENS_IF_LARGE : this.round === 1 ? 1 : LEAST_SCREENS;
      if (near && choice.nodes > SMALL_GRID && n >= few) break;
      const route = this.route(choice, 'screen', budget);
      spent +=
        (route?.swept === false ? COARSE_WORK : choice.nodes * budget.screenStates) +
        (route ? route.route.work / WINDOW_RATE : 0);
      if (route) this.pool.stretch(route, cables, this.tailLimits(choice));
    }
    this.work += spent;
  }

  private route(choice: LaneChoice, stage: 'screen' | 'refine', budget: EffortBudget): LaneRoute | null {
    const refine = stage === 'refine';
    const first = this.refineSpent === 0;
    const small = choice.nodes <= SMALL_GRID;
    const exact = refine && (small ? this.smallTries < SMALL_TRIES : this.exactTries < budget.exactTries);
    if (exact && small) this.smallTries++;
    else if (exact) this.exactTries++;
    const route = routeLanes(this.space, choice, this.mouths, {
      ...this.tailLimits(choice),
      turnWeight: this.options.turnWeight,
      maxStates: refine ? refineStates(budget, choice.nodes, first) : budget.screenStates,
      sweeps: refine ? Math.max(first ? SWEEPS_OF_FIRST : 0, budget.refineSweeps) : budget.screenSweeps,
      coarseNodes: budget.coarseNodes,
      windowStates: budget.windowStates,
      maxWindows: refine ? budget.maxWindows : budget.maxWindows / 2,
      exactWork: exact ? budget.exactWork : 0,
      engine: exact ? this.options.engine : null,
      mipNodes: budget.mipNodes,
      mipRounds: budget.mipRounds,
      mipSeconds: budget.mipSeconds,
      expired: this.options.expired,
    });
    if (!route) return null;
    this.pool.routes.push(route);
    this.guardFired ||= route.guardFired;
    this.longestTail = Math.max(this.longestTail, route.tail.length);
    this.scout.learn(choice, {
      main: route.main,
      tail: route.tail.length,
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

  /** Routes a pair's lanes again with more effort, shapes the result on the stud lattice and fits it to the cable. */
  private refine(pair: Pair, budget: EffortBudget): Draft[] {
    if (this.options.expired() && this.found.length > 0) return [];
    const { route, cable } = pair;
    const key = nameOf(pair, budget);
    if (this.refined.has(key)) return [];
    this.refined.add(key);
    const cost = route.choice.nodes * budget.refineStates;
    if (
      this.found.length > 0 &&
      this.refineSpent + cost > refineWork(budget, route.choice.nodes) &&
      ++this.refinedBeyond > LEAST_REFINED
    )
      return [];
    let better = this.reworked.get(route.choice) ?? null;
    if (!route.route.proven && !better) {
      better = this.route(route.choice, 'refine', budget);
      this.refineSpent += cost;
      if (better) this.reworked.set(route.choice, better);
    }
    const best =
      better && this.pool.costFor(cable, better) <= this.pool.costFor(cable, route) + 1e-9 ? better : route;
    const exact = this.fitLength(best, budget);
    const even = { route: this.pool.evened(best, cable, this.tailLimits(best.choice)), cable };
    const drafts = exact ? [exact, even] : [even];
    const lightly = { ...budget, annealTrials: 0 };
    return drafts.map((draft) => {
      const shaped = this.keep(draft.cable, draft.route.studs, draft.route.tail, lightly, draft.route);
      return { ...draft, score: shaped < Infinity ? shaped : this.pool.costFor(draft.cable, draft.route) };
    });
  }

  private finish({ route, cable }: Draft, budget: EffortBudget): void {
    this.keep(cable, route.studs, route.tail, budget, route);
  }

  /** Lets the integer programme pick cable and route together where the route at hand is too long or too short. */
  private fitLength(route: LaneRoute, budget: EffortBudget): { route: LaneRoute; cable: Cable } | null {
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

  /** Shapes a layout and keeps it; its score, Infinity where the length could not be met. */
  private keep(
    cable: Cable,
    studs: readonly number[],
    tail: Tail,
    budget: EffortBudget,
    route: LaneRoute | null,
  ): number {
    const shaped = shapeRoute(this.space, cable, studs, tail, {
      turnWeight: this.options.turnWeight,
      minGap: leastGap(this.space, cable.minBendRadius),
      polishTrials: budget.polishTrials,
      annealTrials: budget.annealTrials,
      expired: this.options.expired,
    });
    this.work += shaped.work;
    if (shaped.kind === 'fitted') {
      this.found.push({ cable, trace: shaped.trace, score: shaped.score, cold: shaped.cold, route });
      return shaped.score;
    }
    this.miss(cable, shaped.by);
    return Infinity;
  }

  private miss(cable: Cable, by: number): void {
    const known = this.missed.get(cable.id);
    if (known === undefined || Math.abs(by) < Math.abs(known)) this.missed.set(cable.id, by);
  }

  /** A cable that suits no lane set: the shortest way to the buffer, grown finger by finger. */
  private grow(cable: Cable, budget: EffortBudget): void {
    const way = spine(this.space, this.mouths);
    if (!way) return;
    const tail = buildTail(this.space.s, way, {
      buffer: this.space.buffer,
      minGap: leastGap(this.space, cable.minBendRadius),
      wanted: 2 * endPlay(this.space, cable, 40) + 500,
      maxOutside: this.maxOutside,
      maxStates: budget.screenStates,
    });
    if (tail) this.keep(cable, [...way, ...tail.nodes], tail, budget, null);
  }
}
