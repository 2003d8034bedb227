/** Layouts that were found, judged on true geometry and brought into order. */
import { checkTrace } from './check/check-trace.js';
import type { CheckReport } from './check/report.js';
import { countedTurns } from './counted-turns.js';
import type { PlanTools } from './plan-types.js';
import { beyondLimits, densityCost, densityOf } from './search/density.js';
import type { Found } from './search/search-zone.js';
import type { ZoneSpace } from './search/zone-space.js';

const MM2 = 1e6;

/** A layout that the checker let through. */
export interface Legal {
  readonly found: Found;
  readonly check: CheckReport;
  /** Unheated area on true geometry + turns and oddities + deviation from the wished heat density, mm2. */
  readonly objective: number;
  /** W/m2 of the cable over the target area it heats. */
  readonly density: number;
  /** W/m2 above the most (+) or below the least (-) that the zone allows; 0 where nothing is wrong. */
  readonly beyond: number;
}

/**
 * Layouts are not judged whose score is above the objective of one that may be chosen, with the same cable, by so large a
 * share of the target area.
 */
const CLEARLY_WORSE = 0.02;

/**
 * The legal layouts, best first, but for those clearly worse than others of the same cable. What less effort finds is
 * judged first, as it would be alone, so that more effort never loses a layout that less effort chose.
 */
export function legalLayouts(space: ZoneSpace, all: readonly Found[], turnWeight: number): Legal[] {
  const { zone, setting } = space;
  const limits = new Map<string, number>();
  const inTurn = [...all].sort((a, b) => a.level - b.level || a.score - b.score);
  return inOrder(
    inTurn.flatMap((found): Legal[] => {
      const limit = limits.get(found.cable.id) ?? Infinity;
      if (found.score > limit) return [];
      const check = checkTrace(zone, setting, found.cable, found.trace);
      if (!check.ok) return [];
      const { coverage, length } = check;
      // Where some floor counts more than other floor, the search's own weighted measure decides.
      const cold = zone.priorities.length > 0 ? found.cold : coverage.unheatedArea * MM2;
      const heated = coverage.heatedArea * MM2;
      const density = densityOf(found.cable, heated);
      const wish = densityCost(zone.heatDensity, found.cable, heated, coverage.targetArea * MM2);
      const beyond = zone.heatDensity ? beyondLimits(zone.heatDensity, density) : 0;
      const objective = cold + turnWeight * countedTurns(length.turns, found.trace.path, setting) + wish;
      if (beyond === 0)
        limits.set(found.cable.id, Math.min(limit, objective + CLEARLY_WORSE * space.floor.total));
      return [{ found, check, objective, density, beyond }];
    }),
  );
}

export const inOrder = (legal: readonly Legal[]): Legal[] =>
  [...legal].sort((a, b) => a.objective - b.objective);

/** Share of the target area that an accepted layout may be worse by than the best. */
const ACCEPT_WITHIN = 0.01;

/** The best layout within the zone's limits, or one nearly as good that is also accepted. */
export function choose(
  space: ZoneSpace,
  layouts: readonly Legal[],
  accept: PlanTools['accept'],
): Legal | null {
  const legal = layouts.filter(({ beyond }) => beyond === 0);
  if (legal.length === 0) return null;
  const [best] = legal;
  if (!accept) return best;
  const limit = best.objective + ACCEPT_WITHIN * best.check.coverage.targetArea * MM2;
  let preferred = best;
  let most = 0;
  for (const layout of legal) {
    if (layout.objective > limit || most >= 1) break;
    const value = accept(space.zone, layout.found.trace);
    if (value <= most) continue;
    most = value;
    preferred = layout;
  }
  return preferred;
}
