import type { Cable } from '../problem.js';
import { guessedDensityCost } from './density.js';
import type { LaneScout } from './lane-scout.js';
import { stretchRoute } from './lane-stretch.js';
import { lengthInZone, mainWindow } from './length-window.js';
import { missCost } from './miss-cost.js';
import type { Mouths } from './mouths.js';
import { type LaneRoute, type TailLimits, withTail } from './route-lanes.js';
import { STEP_TURNS } from './steps.js';
import type { ZoneSpace } from './zone-space.js';

/** Lanes are moved for the sake of a cable that a route misses by no more than this share, for so many cables. */
const STRETCH_MISS = 0.12;
const STRETCH_CABLES = 2;
/** Share of the length window that such a route keeps clear of at either end. */
const STRETCH_MARGIN = 0.1;

/** Rounding of what lanes cost, mm2. */
const EVEN_COST = 1;

/** A routed choice with a cable it suits. */
export interface Pair {
  readonly route: LaneRoute;
  readonly cable: Cable;
  /** mm by which the route misses the cable's length window. */
  readonly miss: number;
  readonly score: number;
}

/** The routes found so far, and which cables they suit. */
export class RoutePool {
  readonly routes: LaneRoute[] = [];

  constructor(
    private readonly space: ZoneSpace,
    private readonly scout: LaneScout,
    private readonly mouths: Mouths,
    private readonly turnWeight: number,
  ) {}

  /** Moves the lanes under a route for the cables it nearly suits, so that it suits them. */
  stretch(laid: LaneRoute, cables: readonly Cable[], tail: TailLimits): void {
    const { choice } = laid;
    const { main } = laid;
    const turns = laid.route.turns + laid.tail.turns;
    const near = cables
      .map((cable) => ({ cable, miss: this.missOf(cable, laid) }))
      .filter(({ cable, miss }) => miss <= STRETCH_MISS * cable.length)
      .sort((a, b) => a.miss - b.miss);
    if (near.length === 0 || near[0].miss === 0) return;
    const lanes = this.scout.lanesOf(choice);
    if (!lanes) return;
    for (const { cable } of near.slice(0, STRETCH_CABLES)) {
      const [low, high] = mainWindow(this.space, cable, turns, laid.tail.length);
      const inside = (high - low) * STRETCH_MARGIN;
      const stretched = stretchRoute(this.space, laid, lanes, this.mouths, this.turnWeight, [
        low + inside - main,
        high - inside - main,
      ]);
      if (!stretched) continue;
      const route = withTail(this.space, stretched.choice, stretched.grid, stretched.find, tail);
      if (route) this.routes.push(route);
    }
  }

  /** The route with its lanes spread as evenly as costs nothing and suits the cable as well; the route itself where it is. */
  evened(laid: LaneRoute, cable: Cable, tail: TailLimits): LaneRoute {
    const lanes = this.scout.lanesOf(laid.choice);
    if (!lanes || laid.choice.band || laid.choice.thinning || this.missOf(cable, laid) > 0) return laid;
    const turns = laid.route.turns + laid.tail.turns;
    const [low, high] = mainWindow(this.space, cable, turns, laid.tail.length);
    const window = [low - laid.main, high - laid.main] as const;
    const moved = stretchRoute(this.space, laid, lanes, this.mouths, this.turnWeight, window);
    const even = moved && withTail(this.space, moved.choice, moved.grid, moved.find, tail);
    if (!even || this.costFor(cable, even) > this.costFor(cable, laid) + EVEN_COST) return laid;
    return { ...even, model: laid.model, guardFired: laid.guardFired };
  }

  /** Every routed choice with every cable it suits, best first. */
  pairs(cables: readonly Cable[]): Pair[] {
    const pairs: Pair[] = [];
    for (const route of this.routes)
      for (const cable of cables) {
        const miss = this.missOf(cable, route);
        if (miss < Infinity)
          pairs.push({
            route,
            cable,
            miss,
            score: this.costOf(route) + missCost(miss, cable) + this.densityCost(cable),
          });
      }
    return pairs.sort((a, b) => a.score - b.score);
  }

  /** The same without routes that hardly differ from better ones. */
  distinctPairs(cables: readonly Cable[]): Pair[] {
    const seen = new Set<string>();
    return this.pairs(cables).filter(({ route, cable, miss }) => {
      const { turns, skipped, cost } = route.route;
      const key = [cable.id, turns, skipped, Math.round(cost), Math.round(miss)].join(' ');
      return !seen.has(key) && seen.add(key);
    });
  }

  /** Cost of a route and its steps, and of its missing the cable's length window, mm2. */
  costFor(cable: Cable, laid: LaneRoute): number {
    return this.costOf(laid) + missCost(this.missOf(cable, laid), cable);
  }

  /** mm by which a route misses the cable's length window; Infinity when cable and lanes do not agree. */
  missOf(cable: Cable, { choice, main, route, tail }: LaneRoute): number {
    return this.scout.miss(choice, cable, main, route.turns + tail.turns, tail.length);
  }

  /** Cost of a route and its steps, and of the floor that its lanes leave cold. */
  private costOf({ route, steps, choice }: LaneRoute): number {
    return route.cost + steps * STEP_TURNS * this.turnWeight + choice.main.cold + choice.cross.cold;
  }

  /** What the cable's heat density adds to its score, from the floor it would heat laid at the target spacing. */
  private densityCost(cable: Cable): number {
    const { zone, heatRadius, floor } = this.space;
    const heated = Math.min(floor.total, 2 * heatRadius * lengthInZone(this.space, cable));
    return guessedDensityCost(zone.heatDensity, cable, heated, floor.total);
  }
}
