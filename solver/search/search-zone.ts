import { sweptArea } from '../bounds/area.js';
import type { MipEngine } from '../engines/port.js';
import { areaOf } from '../geometry/region.js';
import type { Cable, Trace } from '../problem.js';
import type { EffortBudget } from './effort.js';
import { lanesName, leastGap } from './lane-choice.js';
import { LaneRouter } from './lane-router.js';
import { endPlay, lengthInZone, mainWindow } from './length-window.js';
import { turnWorth } from './objective.js';
import {
  AGAIN_SHARE,
  COLD_TIMES,
  FURTHER_SHARE,
  furtherBudget,
  OTHERS_SHARE,
  roomWork,
  roundBudget,
  roundShares,
  SMALL_GRID,
} from './room-work.js';
import type { LaneRoute } from './route-lanes.js';
import type { Pair } from './route-pool.js';
import { shapeRoute } from './shape-route.js';
import { spine } from './spine.js';
import {
  isCold,
  isFarFromPromise,
  isHopeful,
  isPromising,
  isWanting,
  type Standing,
  worthAnotherRound,
} from './standing.js';
import { buildTail, type Tail } from './tail.js';
import { type Approach, approach } from './tight-buffer.js';
import type { ZoneSpace } from './zone-space.js';

export interface Found {
  readonly cable: Cable;
  readonly trace: Trace;
  /** Cold area + turns, mm2, as the search sees it (raster, tail not counted as heat). */
  readonly score: number;
  /** Cold area alone, weighted by priority, mm2. */
  readonly cold: number;
  /** Steps and legs of stubby fingers. */
  readonly jogs: number;
  /** Place of the budget it was found with. */
  readonly level: number;
  /** Null for a layout grown without lanes. */
  readonly route: LaneRoute | null;
}

export interface SearchOptions {
  readonly turnWeight: number;
  readonly budgets: readonly EffortBudget[];
  readonly engine: MipEngine | null;
  /** A layout, roughly shaped, for every cable that may come near the best, not only for the best. */
  readonly each: boolean;
  /** Work after which nothing more is screened, worked out or shaped, as `result.work` counts it; none by default. */
  readonly most?: number;
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
  const search = new ZoneSearch(approach(space, cables), cables, { ...options, turnWeight });
  for (const [level, budget] of options.budgets.entries()) {
    if (options.expired()) break;
    search.run(budget, level);
  }
  return search.result();
}

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

/**
 * In the first round routes over all but small grids that miss the cable by more than this share are not worked out:
 * what they taught about lengths and the buffer leads to better ones in the next.
 */
const FIRST_MISS = 0.03;

/** Layouts are smoothed with so many times the usual trials, up to such a share of the room's work. */
const SMOOTH_TIMES = 2;
const SMOOTH_SHARE = 1;

/** Share of the target area that a layout may leave cold and leave nothing to wish. */
const FLAWLESS = 0.0005;

const MM2_A_M2 = 1e6;

/** Small grids have more of their routes worked out. */
const SMALL_REFINE = 3;

/** A route worked out and roughly shaped for a cable. */
interface Draft {
  readonly route: LaneRoute;
  readonly cable: Cable;
  /** Of the rough shape, or of the route where that did not meet the cable, mm2. */
  readonly score: number;
  /** mm by which the rough shape misses the cable. */
  readonly miss: number;
}

/** Rough shapes that miss the cable by more than this share of its length are not shaped in full: none of 100 met it then. */
const FINISH_MISS = 0.005;

const nameOf = ({ route: { choice }, cable }: Pair, { refineStates }: EffortBudget): string =>
  `${refineStates} ${cable.id} ${lanesName(choice)}`;

const same = (a: Trace, b: Trace): boolean =>
  a.path.join() === b.path.join() && a.reserve.join() === b.reserve.join();

class ZoneSearch {
  private readonly space: ZoneSpace;
  private readonly router: LaneRouter;
  private readonly found: Found[] = [];
  private readonly missed = new Map<string, number>();
  private readonly refined = new Set<string>();
  private shaping = 0;
  /** Drafts left for the next round to be shaped in full. */
  private readonly postponed: Draft[] = [];
  private level = 0;

  constructor(
    way: Approach,
    private readonly cables: readonly Cable[],
    private readonly options: SearchOptions,
  ) {
    this.space = way.space;
    this.router = new LaneRouter(way, cables, options);
  }

  result(): SearchResult {
    return {
      found: [...this.found].sort((a, b) => a.score - b.score),
      missed: this.missed,
      longestTail: this.router.longestTail,
      routed: this.router.pool.routes.map((r) => ({
        main: r.main,
        minGap: r.choice.minGap,
        turns: r.route.turns + r.tail.turns,
        tail: r.tail.length,
      })),
      guardFired: this.router.guardFired || this.options.expired(),
      work: this.spent(),
    };
  }

  run(budget: EffortBudget, level: number): void {
    this.level = level;
    const next = () => this.router.nextPromise(budget);
    this.router.beginBudget();
    const before = this.spent();
    const target = areaOf(this.space.target) / MM2_A_M2;
    const most = roomWork(budget, target);
    const within = (share: number) =>
      this.mayGoOn() &&
      (this.found.length === 0 ||
        this.spent() - before < share * most * (isCold(this.standing()) ? COLD_TIMES : 1));
    do {
      this.router.beginRound();
      this.lay(roundBudget(budget, this.router.round), within);
    } while (
      !this.options.expired() &&
      within(AGAIN_SHARE) &&
      worthAnotherRound(this.standing(), budget.rounds, next)
    );
    const further = furtherBudget(budget, target, this.router.round + 1);
    if (further && this.leavesToWish() && !this.options.expired() && within(FURTHER_SHARE)) {
      this.router.beginRound();
      this.lay(further, within);
    }
    this.smooth(budget, within);
    const allowed = this.spent() + budget.screenWork * TRY_SHARE;
    if (this.options.each && this.found.length > 0)
      for (const cable of this.cables)
        if (within(OTHERS_SHARE) && !this.fits(cable) && this.worthTrying(cable))
          this.tryOn(cable, budget, allowed);
    if (budget.fits === 0) return;
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

  /** Screens choices, works the best out, and shapes the best of those in full. `within`: such a share of the room's work. */
  private lay(budget: EffortBudget, within: (share: number) => boolean): void {
    const shares = roundShares(this.router.round);
    this.screen(this.cables, budget, budget.screens, () => within(shares.screen));
    const drafts = this.fresh(this.cables, budget)
      .filter(
        ({ route }, k) =>
          k < budget.refine || (route.choice.nodes <= SMALL_GRID && k < SMALL_REFINE * budget.refine),
      )
      .flatMap((pair) => {
        const near = pair.miss <= FIRST_MISS * pair.cable.length || pair.route.choice.nodes <= SMALL_GRID;
        const worth = (near || this.router.round > 1) && isPromising(pair.score, this.standing());
        return worth && within(shares.refine) ? this.refine(pair, budget) : [];
      });
    drafts.push(...this.postponed.splice(0));
    drafts.sort((a, b) => a.score - b.score);
    // Shaping in full does not make up for that, and the work is wanted for other lanes.
    const poor = this.found.length > 0 && isFarFromPromise(this.standing());
    if (poor && this.router.round < budget.rounds && within(AGAIN_SHARE)) {
      this.postponed.push(...drafts);
      return;
    }
    for (const [k, draft] of drafts.entries()) {
      if (this.options.expired() && this.found.length > 0) break;
      const small = draft.route.choice.nodes <= SMALL_GRID;
      const standing = this.standing();
      if (!within(shares.finish)) break;
      if (!isHopeful(draft.score, standing)) continue;
      if (k < (small ? 2 : 1) * budget.finish || (isWanting(standing) && (small || k < 2 * budget.finish)))
        this.finish(draft, budget);
    }
  }

  /** Routes with cables they suit that were not worked out with this budget yet. */
  private fresh(cables: readonly Cable[], budget: EffortBudget): Pair[] {
    return this.router.pool.distinctPairs(cables).filter((pair) => !this.refined.has(nameOf(pair, budget)));
  }

  private mayGoOn(): boolean {
    return this.spent() < (this.options.most ?? Infinity);
  }

  /** In units of `room-work.ts`. */
  private spent(): number {
    return this.shaping + this.router.spent;
  }

  private standing(): Standing {
    return {
      score: this.leastScore(),
      cold: this.found.reduce((least, { cold }) => Math.min(least, cold), Infinity),
      promise: this.router.promise,
      total: this.space.floor.total,
      round: this.router.round,
    };
  }

  /** Whether the best layout leaves floor cold, or has steps or stubby fingers. */
  private leavesToWish(): boolean {
    const best = this.best();
    return best !== null && (best.jogs > 0 || best.cold > FLAWLESS * this.space.floor.total);
  }

  private best(): Found | null {
    return this.found.reduce<Found | null>((best, f) => (best && best.score <= f.score ? best : f), null);
  }

  private leastScore(): number {
    return this.best()?.score ?? Infinity;
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
      if (round > 1 && this.spent() > allowed) return;
      if (round > 0)
        this.screen(
          [cable],
          lightly,
          1,
          () => true,
          this.leastScore() + WORTH_SCREENING * this.space.floor.total,
        );
      for (const { route, miss } of this.router.pool.pairs([cable]).slice(0, 2)) {
        const key = `lightly ${budget.screenStates} ${cable.id} ${this.router.pool.routes.indexOf(route)}`;
        if (this.refined.has(key)) continue;
        this.refined.add(key);
        if (miss <= TRY_MISS * cable.length) this.keep(cable, route.studs, route.tail, lightly, route);
        else this.miss(cable, route.main > lengthInZone(this.space, cable) ? miss : -miss);
        if (this.fits(cable)) return;
      }
    }
  }

  /** Routes the most promising choices for these cables with a small beam, all but the first only while `within` allows it. */
  private screen(
    cables: readonly Cable[],
    budget: EffortBudget,
    most: number,
    within: () => boolean = () => true,
    worth = Infinity,
  ): void {
    const best = () => this.fresh(cables, budget)[0];
    this.router.screen(cables, budget, most, worth, best, () => this.mayGoOn() && within());
  }

  /** Routes a pair's lanes again with more effort, shapes the result on the stud lattice and fits it to the cable. */
  private refine(pair: Pair, budget: EffortBudget): Draft[] {
    if (this.options.expired() && this.found.length > 0) return [];
    const { route, cable } = pair;
    const key = nameOf(pair, budget);
    if (this.refined.has(key)) return [];
    this.refined.add(key);
    if (!this.router.grantRework(route.choice, budget, this.found.length === 0)) return [];
    const best = this.router.rework(route, cable, budget);
    const exact = this.router.fitLength(best, budget);
    const even = { route: this.router.evened(best, cable), cable };
    const drafts = exact ? [exact, even] : [even];
    const lightly = { ...budget, annealTrials: 0 };
    return drafts.map((draft) => {
      const shaped = this.keep(draft.cable, draft.route.studs, draft.route.tail, lightly, draft.route);
      const score = shaped.miss > 0 ? this.router.pool.costFor(draft.cable, draft.route) : shaped.score;
      return { ...draft, score, miss: shaped.miss };
    });
  }

  private finish({ route, cable, miss }: Draft, budget: EffortBudget): void {
    if (miss <= FINISH_MISS * cable.length) this.keep(cable, route.studs, route.tail, budget, route);
  }

  /** Shapes the best layouts once more, firm about steps and stubby fingers, where they have any. */
  private smooth(budget: EffortBudget, within: (share: number) => boolean): void {
    const firm = { ...budget, annealTrials: SMOOTH_TIMES * budget.annealTrials };
    const seen = new Set<LaneRoute>();
    for (const { cable, route, jogs } of [...this.found].sort((a, b) => a.score - b.score)) {
      if (!route || seen.has(route)) continue;
      if (jogs === 0 || seen.size >= budget.smoothed || !within(SMOOTH_SHARE) || this.options.expired())
        return;
      seen.add(route);
      this.keep(cable, route.studs, route.tail, firm, route, true);
    }
  }

  /** Shapes a layout and keeps it, once if it comes out the same again; its score, and the mm by which it misses the cable. */
  private keep(
    cable: Cable,
    studs: readonly number[],
    tail: Tail,
    budget: EffortBudget,
    route: LaneRoute | null,
    firm = false,
  ): { readonly score: number; readonly miss: number } {
    const shaped = shapeRoute(this.space, cable, studs, tail, {
      turnWeight: this.options.turnWeight,
      minGap: leastGap(this.space, cable.minBendRadius),
      polishTrials: budget.polishTrials,
      annealTrials: budget.annealTrials,
      firm,
      expired: this.options.expired,
    });
    this.shaping += shaped.work;
    if (shaped.kind === 'fitted') {
      const { trace, score, cold, jogs } = shaped;
      const known = this.found.some(
        (f) => f.cable.id === cable.id && f.score === score && same(f.trace, trace),
      );
      if (!known) this.found.push({ cable, trace, score, cold, jogs, level: this.level, route });
      return { score, miss: 0 };
    }
    this.miss(cable, shaped.by);
    return { score: Infinity, miss: Math.abs(shaped.by) };
  }

  private miss(cable: Cable, by: number): void {
    const known = this.missed.get(cable.id);
    if (known === undefined || Math.abs(by) < Math.abs(known)) this.missed.set(cable.id, by);
  }

  /** A cable that suits no lane set: the shortest way to the buffer, grown finger by finger. */
  private grow(cable: Cable, budget: EffortBudget): void {
    const way = spine(this.space, this.router.mouths);
    if (!way) return;
    const tail = buildTail(this.space.s, way, {
      buffer: this.space.buffer,
      minGap: leastGap(this.space, cable.minBendRadius),
      wanted: 2 * endPlay(this.space, cable, 40) + 500,
      maxOutside: this.router.maxOutside,
      maxStates: budget.screenStates,
    });
    if (!tail) return;
    // Each turn adds to the play: what a path without turns cannot end in, none can.
    const [least, most] = mainWindow(this.space, cable, 0, tail.length);
    if (least <= most) this.keep(cable, [...way, ...tail.nodes], tail, budget, null);
  }
}
