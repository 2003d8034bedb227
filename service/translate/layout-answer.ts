import { runsOf } from '../../solver/check/runs.js';
import type {
  CableVerdict,
  ModelReport,
  PlanOutcome,
  PlanRequest,
  ZonePlan,
} from '../../solver/plan-types.js';
import type { Lattice } from '../../solver/problem.js';
import { answerText } from '../http/reckon-handler.js';
import type { ZoneFittings } from '../pool/fit-out.js';
import { electricalResponseSchema } from '../schemas/electrical.js';
import type { LayoutAnswer } from '../schemas/layout-response.js';
import type { LayoutElectrics } from './electrics.js';
import { wireColdLead, wireCrossing, wireLaying, wireSensor } from './fittings.js';
import { boundPart, finite, mm, part, wirePoint, wireRing } from './numbers.js';
import { wireCoverage, wireEnd, wireLength, wireRule } from './report.js';
import { wireRun } from './run.js';

/** Fractions closer than this are the same. */
const SAME_FRACTION = 1e-6;

export const wireVerdict = (verdict: CableVerdict) => ({
  zone: verdict.zone,
  cable: verdict.cable,
  fits: verdict.fits,
  chosen: verdict.chosen,
  reason: verdict.reason,
  by: verdict.by === null ? null : finite(verdict.by),
  coverage: verdict.coverage === null ? null : part(verdict.coverage),
  turns: verdict.turns,
  detail: verdict.detail,
});

const wireModel = (model: ModelReport) => ({
  method: model.method,
  nodes: model.nodes,
  columns: model.columns,
  rows: model.rows,
  cost: mm(model.cost),
  bound: finite(model.bound),
  proven: model.proven,
});

const wireZone = (
  plan: ZonePlan,
  lattice: Lattice,
  fittings: ZoneFittings | undefined,
): LayoutAnswer['zones'][number] => ({
  id: plan.zone.id,
  cable: plan.cable.id,
  path: wireRing(plan.trace.path),
  reserve: wireRing(plan.trace.reserve),
  length: wireLength(plan.check.length),
  end: wireEnd(plan.check.end),
  coverage: {
    ...wireCoverage(plan.check.coverage),
    upperBound: boundPart(plan.upperBound),
    boundBasis: plan.boundBasis,
    provenOptimal: plan.upperBound - plan.check.coverage.fraction < SAME_FRACTION,
    turnBound: plan.turnBound,
    model: plan.model === null ? null : wireModel(plan.model),
  },
  runs: runsOf(plan.trace.path, lattice, plan.zone.leadIn).map(wireRun),
  rules: plan.check.rules.map(wireRule),
  ...(fittings === undefined
    ? {}
    : {
        laying: wireLaying(fittings.laying, fittings.overCurb),
        ...(fittings.crossing === null
          ? {}
          : { crossing: wireCrossing(fittings.crossing.dryZone, fittings.crossing.crossing) }),
        ...(fittings.coldLead === null ? {} : { coldLead: wireColdLead(fittings.coldLead) }),
        ...(fittings.sensor === null ? {} : { sensor: wireSensor(fittings.sensor) }),
      }),
});

const wireElectrics = (electrics: LayoutElectrics | null) => {
  if (electrics === null) return null;
  const { kind: _kind, ...report } = electrics.report;
  return electricalResponseSchema.parse(JSON.parse(answerText(report)));
};

/** Response body of a layout without its timings. */
export const toLayoutAnswer = (
  outcome: Extract<PlanOutcome, { kind: 'planned' }>,
  plan: PlanRequest,
  fittings: ReadonlyMap<string, ZoneFittings>,
  electrics: LayoutElectrics | null | undefined,
  id: string,
): LayoutAnswer => ({
  id,
  lattice: { pitch: plan.lattice.pitch, origin: wirePoint(outcome.lattice.origin) },
  zones: outcome.zones.map((zone) => wireZone(zone, outcome.lattice, fittings.get(zone.zone.id))),
  alternatives: outcome.verdicts.map(wireVerdict),
  ...(electrics === undefined ? {} : { electrical: wireElectrics(electrics) }),
  guardFired: outcome.guardFired,
});
