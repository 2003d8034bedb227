import { coverageBound } from './bounds/area.js';
import { fewestPieces, fewestTurns } from './bounds/turns.js';
import { checkTrace } from './check/check-trace.js';
import type { CheckReport } from './check/report.js';
import { chooseOrigin } from './lattice/choose-origin.js';
import type { CableVerdict, PlanOutcome, PlanRequest, PlanTools, ZonePlan } from './plan-types.js';
import type { Cable, Setting, Zone } from './problem.js';
import { EFFORTS } from './search/effort.js';
import { turnWorth } from './search/objective.js';
import type { LaneRoute } from './search/route-lanes.js';
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
  const proven = bestLegal(space, searched.found, turnWorth(space, request.turnWeight), tools.accept);
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
      turnBound: found.route ? routeTurnBound(found.route) : null,
      model: found.route?.model ?? null,
    },
    verdicts,
    work: searched.work,
  };
}

/** Rounds of the turn bound's ascent. */
const TURN_BOUND_ROUNDS = 250;

/** No route over the lane-grid nodes this one visits turns less often. */
function routeTurnBound({ grid, route }: LaneRoute): ZonePlan['turnBound'] {
  const { task } = grid;
  const present = new Uint8Array(task.present.length);
  for (const v of route.nodes) present[v] = 1;
  const both = (edges: Uint8Array, step: number) =>
    edges.map((e, v) => e & present[v] & (present[v + step] ?? 0));
  const visited = {
    ...task,
    present,
    east: both(task.east, 1),
    north: both(task.north, task.nx),
    skipCost: task.skipCost.map(() => Infinity),
  };
  const pieces = fewestPieces(visited);
  return { pieces, turns: Math.max(pieces - 1, fewestTurns(visited, TURN_BOUND_ROUNDS)), route: route.turns };
}

/** Share of the target area that an accepted layout may be worse by than the best. */
const ACCEPT_WITHIN = 0.01;

interface Legal {
  readonly found: Found;
  readonly check: CheckReport;
  /** Unheated area on true geometry + turns, mm2. */
  readonly objective: number;
}

/** The best layout the checker lets through, or one nearly as good that is also accepted. */
function bestLegal(
  space: ZoneSpace,
  all: readonly Found[],
  turnWeight: number,
  accept: PlanTools['accept'],
): Legal | null {
  const legal = all
    .map((found): Legal & { ok: boolean } => {
      const check = checkTrace(space.zone, space.setting, found.cable, found.trace);
      // Where some floor counts more than other floor, the search's own weighted measure decides.
      const cold = space.zone.priorities.length > 0 ? found.cold : check.coverage.unheatedArea * 1e6;
      return { found, check, objective: cold + turnWeight * check.length.turns, ok: check.ok };
    })
    .filter(({ ok }) => ok)
    .sort((a, b) => a.objective - b.objective);
  if (legal.length === 0) return null;
  const [best] = legal;
  if (!accept) return best;
  const limit = best.objective + ACCEPT_WITHIN * best.check.coverage.targetArea * 1e6;
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
