import { coverageBound } from './bounds/area.js';
import { type ZoneLimits, zoneLimits } from './bounds/fit.js';
import { choose, inOrder, type Legal, legalLayouts } from './choose.js';
import { chooseOrigin } from './lattice/choose-origin.js';
import { agreeing } from './length-verdicts.js';
import type { CableVerdict, PlanOutcome, PlanRequest, PlanTools, ZonePlan } from './plan-types.js';
import type { Cable, Effort, Setting, Zone } from './problem.js';
import { refuser } from './refusals.js';
import { EFFORTS, type EffortBudget } from './search/effort.js';
import { turnWorth } from './search/objective.js';
import { searchZone } from './search/search-zone.js';
import { type ZoneSpace, zoneSpace } from './search/zone-space.js';
import { BESIDE_SHARE, LIGHTLY, SecondLook, together } from './second-look.js';
import { routeTurnBound } from './turn-bound.js';
import { clearlyColder, verdictsOf } from './verdicts.js';

/**
 * Plans every zone of a request: the cable, its route, the proof. The same request gives the same outcome.
 * `insistent`: a zone is given up only when single cables have been searched for in vain as well.
 */
export function planLayout(request: PlanRequest, tools: PlanTools, insistent = true): PlanOutcome {
  tools.onPhase?.('prepare');
  const { pitch } = request.lattice;
  const origin = request.lattice.origin ?? chooseOrigin(request.zones, pitch);
  const setting: Setting = {
    lattice: { pitch, origin },
    spacing: request.spacing,
    placementSlopPerTurn: request.placementSlopPerTurn,
  };
  const plans: ZonePlan[] = [];
  const verdicts: CableVerdict[] = [];
  const unplanned: string[] = [];
  let work = 0;
  for (const zone of request.zones) {
    const insisted = request.insisted.get(zone.id);
    const cables = request.catalogue.filter(({ id }) => insisted === undefined || id === insisted);
    const outcome = planZone(zone, setting, cables, request, tools, insistent);
    work += outcome.work;
    verdicts.push(...outcome.verdicts);
    if (outcome.plan) plans.push(outcome.plan);
    else unplanned.push(zone.id);
  }
  const guardFired = tools.expired();
  return unplanned.length > 0
    ? { kind: 'impossible', zones: unplanned, verdicts, guardFired }
    : { kind: 'planned', lattice: setting.lattice, zones: plans, verdicts, guardFired, work };
}

const boundWork = (effort: Effort): number => Math.max(...EFFORTS[effort].map((budget) => budget.boundWork));

interface ZoneOutcome {
  readonly plan: ZonePlan | null;
  readonly verdicts: readonly CableVerdict[];
  readonly work: number;
}

function planZone(
  zone: Zone,
  setting: Setting,
  cables: readonly Cable[],
  request: PlanRequest,
  tools: PlanTools,
  insistent: boolean,
): ZoneOutcome {
  const alone = insistent ? 'failing' : 'never';
  const { space, limits, chosen, verdicts, work } = judgeCables(zone, setting, cables, request, tools, alone);
  if (!chosen) return { plan: null, verdicts, work };
  const bound = coverageBound(zone, setting, cables, limits);
  const { found, check } = chosen;
  return {
    plan: {
      zone,
      cable: found.cable,
      trace: found.trace,
      check,
      upperBound: bound.fraction,
      boundBasis: bound.basis,
      turnBound: found.route
        ? routeTurnBound(space, found.cable, found.route, boundWork(request.boundEffort ?? request.effort))
        : null,
      model: found.route?.model ?? null,
    },
    verdicts,
    work,
  };
}

/** What a search told of the cables of one zone. */
export interface JudgedCables {
  readonly space: ZoneSpace;
  readonly limits: ZoneLimits;
  /** Legal layouts, best first; several of one cable are possible. */
  readonly legal: readonly Legal[];
  readonly chosen: Legal | null;
  /** One for each cable, in their order. */
  readonly verdicts: readonly CableVerdict[];
  readonly work: number;
}

/**
 * Searches a zone for layouts with any of the cables, and says of each cable what became of it. `alone` says when
 * cables that this found no layout for are searched for by themselves before anything is said against them.
 */
export function judgeCables(
  zone: Zone,
  setting: Setting,
  cables: readonly Cable[],
  request: Pick<PlanRequest, 'turnWeight' | 'effort'>,
  tools: PlanTools,
  alone: 'always' | 'failing' | 'never',
): JudgedCables {
  tools.onPhase?.('prepare');
  const space = zoneSpace(zone, setting);
  const limits = zoneLimits(zone, setting);
  const refusalOf = refuser(space, limits);
  const refused = cables.flatMap((cable) => refusalOf(cable) ?? []);
  const open = cables.filter(({ id }) => !refused.some(({ cable }) => cable === id));
  if (open.length === 0) return { space, limits, legal: [], chosen: null, verdicts: refused, work: 0 };
  tools.onPhase?.('solve');
  const search = (wanted: readonly Cable[], budgets: readonly EffortBudget[], most = Infinity) =>
    searchZone(space, wanted, {
      turnWeight: request.turnWeight,
      budgets,
      engine: tools.engine,
      each: true,
      most,
      expired: tools.expired,
    });
  const turnWeight = turnWorth(space, request.turnWeight);
  let searched = search(open, EFFORTS[request.effort]);
  tools.onPhase?.('verify');
  let legal = legalLayouts(space, searched.found, turnWeight);
  let chosen = choose(space, legal, tools.accept);
  const judge = () => [...refused, ...verdictsOf(space, open, searched, legal, chosen)];
  let known = judge();
  const again = new SecondLook(open, chosen !== null);
  for (;;) {
    const best = chosen;
    const next =
      (alone === 'always' || (alone === 'failing' && !best)) && !tools.expired()
        ? again.next(known, (cable) => clearlyColder(space, cable, best))
        : null;
    if (!next) break;
    const second = search([next], LIGHTLY, best ? BESIDE_SHARE * searched.work : Infinity);
    const more = legalLayouts(space, second.found, turnWeight);
    again.note(next, more.length > 0);
    searched = together(searched, second);
    legal = inOrder([...legal, ...more]);
    // What a layout would take stays the choice.
    chosen ??= choose(space, legal, tools.accept);
    known = judge();
  }
  const verdicts = agreeing(
    cables.flatMap(({ id }) => known.filter(({ cable }) => cable === id)),
    cables,
  );
  return { space, limits, legal, chosen, verdicts, work: searched.work };
}
