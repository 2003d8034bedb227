import { runsOf } from '../../solver/check/runs.js';
import { type PartsOutcome, type SplitReport, wholeId } from '../../solver/parts/plan-parts.js';
import type { CableVerdict, ModelReport, PlanRequest, ZonePlan } from '../../solver/plan-types.js';
import type { Lattice, Ring } from '../../solver/problem.js';
import type { MaterialReport } from '../../solver/trade/material.js';
import { answerText } from '../http/reckon-handler.js';
import type { SheetReadings } from '../papers/model.js';
import type { ZoneFittings } from '../pool/fit-out.js';
import { electricalResponseSchema } from '../schemas/electrical.js';
import type { LayoutAnswer } from '../schemas/layout-response.js';
import type { LayoutElectrics } from './electrics.js';
import { zoneReadings } from './electrics-sheet.js';
import { wireColdLead, wireCrossing, wireLaying, wireSensor } from './fittings.js';
import { wireMaterials } from './materials.js';
import { boundPart, finite, mm, part, wirePoint, wireRing } from './numbers.js';
import { wireCoverage, wireEnd, wireLength, wireRule } from './report.js';
import { wireRun } from './run.js';

/** Fractions closer than this are the same. */
const SAME_FRACTION = 1e-6;

const MM2_PER_M2 = 1e6;

/** Unit of a verdict's `by`. */
const unitOf = (reason: CableVerdict['reason']) =>
  reason === 'heat-density' ? ('W/m2' as const) : ('mm' as const);

export const wireVerdict = (verdict: CableVerdict) => ({
  zone: verdict.zone,
  cable: verdict.cable,
  fits: verdict.fits,
  chosen: verdict.chosen,
  reason: verdict.reason,
  by: verdict.by === null ? null : finite(verdict.by),
  unit: verdict.by === null ? null : unitOf(verdict.reason),
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

const wireBand = ({ nominal, low, high }: SheetReadings['conductor']) => ({
  nominal: part(nominal),
  low: part(low),
  high: part(high),
});

const wireReadings = ({ conductor, insulation, sensor, temperature }: SheetReadings) => ({
  conductor: wireBand(conductor),
  insulation: { ...insulation },
  ...(sensor === undefined ? {} : { sensor: wireBand(sensor) }),
  temperature,
});

const wireAssumed = (buffer: Ring) => ({
  buffer: { outline: buffer.map(wirePoint) },
  detail:
    'No buffer was named; the strip along the longest free wall away from the entry was taken. Name one to have the cable end elsewhere.',
});

/** What an answer holds beside the plan. */
export interface AnswerParts {
  readonly fittings: ReadonlyMap<string, ZoneFittings>;
  /** Undefined where the request has no supply, null where its figures lie outside what the report takes. */
  readonly electrics: LayoutElectrics | null | undefined;
  readonly materials: MaterialReport | undefined;
  /** Verdicts on cables that were left out before planning. */
  readonly leftOut: readonly CableVerdict[];
  /** Buffers that were assumed, by zone id. */
  readonly assumed: ReadonlyMap<string, Ring>;
}

const wireZone = (
  plan: ZonePlan,
  lattice: Lattice,
  { fittings: all, assumed, electrics }: AnswerParts,
): LayoutAnswer['zones'][number] => {
  const fittings = all.get(plan.zone.id);
  const buffer = assumed.get(plan.zone.id);
  const placed = fittings?.sensor?.kind === 'placed';
  const readings = electrics ? zoneReadings(electrics, plan.zone.id, placed) : null;
  return {
    id: plan.zone.id,
    cable: plan.cable.id,
    ...(wholeId(plan.zone.id) === plan.zone.id ? {} : { partOf: wholeId(plan.zone.id) }),
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
    ...(readings === null ? {} : { readings: wireReadings(readings) }),
    ...(buffer === undefined ? {} : { assumed: wireAssumed(buffer) }),
  };
};

const wireElectrics = (electrics: LayoutElectrics | null) => {
  if (electrics === null) return null;
  const { kind: _kind, ...report } = electrics.report;
  return electricalResponseSchema.parse(JSON.parse(answerText(report)));
};

const wireSplit = ({ zone, split, parts }: SplitReport) => ({
  zone,
  parts: split.parts.map((found) => ({
    id: found.zone.id,
    entry: wirePoint(found.zone.entry),
    entryAway: mm(found.entryAway),
    buffer: { outline: wireRing(found.zone.buffer), added: !found.ownBuffer },
    cutOff: part(found.cutOff / MM2_PER_M2),
  })),
  cuts: split.cuts.map((at) => ({ axis: split.axis === 0 ? ('x' as const) : ('y' as const), at: mm(at) })),
  seam: mm(split.seam),
  nearest: parts.nearest === null ? null : mm(parts.nearest),
  coverage: {
    targetArea: part(parts.targetArea),
    heatedArea: part(parts.heatedArea),
    unheatedArea: part(parts.unheatedArea),
    fraction: part(parts.fraction),
    cold: parts.cold.map(wireRing),
  },
});

/** Response body of a layout without its timings. */
export const toLayoutAnswer = (
  outcome: Extract<PartsOutcome, { kind: 'planned' }>,
  plan: PlanRequest,
  parts: AnswerParts,
  id: string,
): LayoutAnswer => ({
  id,
  lattice: { pitch: plan.lattice.pitch, origin: wirePoint(outcome.lattice.origin) },
  zones: outcome.zones.map((zone) => wireZone(zone, outcome.lattice, parts)),
  ...(outcome.splits.length === 0 ? {} : { splits: outcome.splits.map(wireSplit) }),
  alternatives: [...outcome.verdicts, ...parts.leftOut].map(wireVerdict),
  ...(parts.electrics === undefined ? {} : { electrical: wireElectrics(parts.electrics) }),
  ...(parts.materials === undefined ? {} : { materials: wireMaterials(parts.materials) }),
  guardFired: outcome.guardFired,
});
