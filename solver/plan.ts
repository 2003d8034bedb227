import { coverageBound } from './bounds/area.js';
import { checkTrace } from './check/check-trace.js';
import type { CheckReport } from './check/report.js';
import { chooseOrigin } from './lattice/choose-origin.js';
import type { CableVerdict, PlanOutcome, PlanRequest, PlanTools, ZonePlan } from './plan-types.js';
import type { Cable, Setting, Zone } from './problem.js';
import { EFFORTS } from './search/effort.js';
import { type Found, searchZone } from './search/search-zone.js';
import { type ZoneSpace, zoneSpace } from './search/zone-space.js';
import { refusalBeforeSearch, verdictsOf } from './verdicts.js';

/** Plans every zone of a request: the cable, its route, the proof. The same request gives the same outcome. */
export function planLayout(request: PlanRequest, tools: PlanTools): PlanOutcome {
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
    const outcome = planZone(zone, setting, cables, request, tools);
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
): ZoneOutcome {
  tools.onPhase?.('prepare');
  const space = zoneSpace(zone, setting);
  const refused = cables.flatMap((cable) => refusalBeforeSearch(space, cable) ?? []);
  const open = cables.filter(({ id }) => !refused.some(({ cable }) => cable === id));
  if (open.length === 0) return { plan: null, verdicts: refused, work: 0 };
  tools.onPhase?.('solve');
  const searched = searchZone(space, open, {
    turnWeight: request.turnWeight,
    budgets: EFFORTS[request.effort],
    engine: tools.engine,
    each: false,
    expired: tools.expired,
  });
  tools.onPhase?.('verify');
  const proven = firstLegal(space, searched.found, tools.accept);
  const verdicts = [...refused, ...verdictsOf(space, open, searched, proven)];
  if (!proven) return { plan: null, verdicts, work: searched.work };
  const bound = coverageBound(zone, setting, cables);
  const { found, check } = proven;
  return {
    plan: {
      zone,
      cable: found.cable,
      trace: found.trace,
      check,
      upperBound: bound.fraction,
      boundBasis: bound.basis,
      turnBound: null,
      model: found.route?.model ?? null,
    },
    verdicts,
    work: searched.work,
  };
}

/** Share of the target area that an accepted layout may be worse by than the best. */
const ACCEPT_WITHIN = 0.01;

/** Most layouts read for the sake of `accept`. */
const MOST_ASKED = 24;

/** The best layout the checker lets through, or one nearly as good that is also accepted. */
function firstLegal(
  space: ZoneSpace,
  all: readonly Found[],
  accept: PlanTools['accept'],
): { found: Found; check: CheckReport } | null {
  let best: { found: Found; check: CheckReport } | null = null;
  let limit = Infinity;
  let asked = 0;
  for (const found of all) {
    if (found.score > limit || asked === MOST_ASKED) break;
    const check = checkTrace(space.zone, space.setting, found.cable, found.trace);
    if (!check.ok) continue;
    if (!accept || accept(space.zone, found.trace)) return { found, check };
    asked += 1;
    if (best) continue;
    best = { found, check };
    limit = found.score + ACCEPT_WITHIN * check.coverage.targetArea * 1e6;
  }
  return best;
}
