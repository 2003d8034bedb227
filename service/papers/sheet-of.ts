import { routingArea, targetArea } from '../../solver/geometry/zone-area.js';
import { type LaidRun, type MetreMarks, planLaying } from '../../solver/job/laying.js';
import {
  CHECKPOINT_ACTION,
  type LayingStep,
  layingSteps,
  METRIC,
  type Wording,
} from '../../solver/job/laying-steps.js';
import type { PlanOutcome, ZonePlan } from '../../solver/plan-types.js';
import type { Lattice, Spacing } from '../../solver/problem.js';
import type { PlanSheet, SheetRun, SheetStep, SheetZone } from './model.js';
import { feetInches } from './units.js';

/** Parts of a zone that the layout alone does not hold. */
export type ZoneExtras = Pick<
  SheetZone,
  'curb' | 'drain' | 'crossing' | 'joint' | 'coldLead' | 'readings' | 'electrical' | 'facts'
> & {
  /** Metre marks printed on the cable; without them checkpoints name the length laid. */
  readonly marks?: MetreMarks;
};

/** What a sheet needs beside the plan. Lengths mm. */
export interface SheetRequest
  extends Pick<PlanSheet, 'id' | 'title' | 'display' | 'spacing'>,
    Partial<Pick<PlanSheet, 'thermostat' | 'sensors' | 'electrical' | 'materials'>> {
  readonly placementSlopPerTurn: number;
  /** By zone id. */
  readonly extras?: ReadonlyMap<string, ZoneExtras>;
}

const IMPERIAL: Wording = {
  length: feetInches,
  place: ([x, y]) => `(${feetInches(x)}, ${feetInches(y)})`,
};

const sheetRun = (run: LaidRun): SheetRun => ({
  n: run.n,
  from: run.from,
  to: run.to,
  studs: run.beyond > 0.5 ? null : run.studsAlong,
  over: run.studsOver,
  turn: run.turn,
  length: run.length,
  cumulative: run.used,
});

/** Steps with the runs between two other steps drawn together: the run table holds their details. */
const shortSteps = (steps: readonly LayingStep[], wording: Wording): SheetStep[] => {
  const texts: string[] = [];
  let first: LayingStep | null = null;
  let last: LayingStep | null = null;
  const flush = (): void => {
    if (first === null || last === null) return;
    const which = first === last ? `run ${first.run}` : `runs ${first.run} to ${last.run}`;
    texts.push(`Lay ${which} as in the run table; ${wording.length(last.used)} of cable then lie.`);
    first = null;
    last = null;
  };
  for (const step of steps) {
    if (step.kind === 'run') {
      first ??= step;
      last = step;
      continue;
    }
    flush();
    texts.push(
      step.kind === 'checkpoint'
        ? `Checkpoint after run ${step.run}: compare with the table below.`
        : step.sentence,
    );
  }
  flush();
  return texts.map((text, i) => ({ n: i + 1, text }));
};

const sheetZone = (plan: ZonePlan, lattice: Lattice, spacing: Spacing, request: SheetRequest): SheetZone => {
  const { zone, cable, trace, check } = plan;
  const { marks, ...extras } = request.extras?.get(zone.id) ?? {};
  const laying = planLaying({
    wet: zone.wet,
    trace,
    lattice,
    spacing,
    placementSlopPerTurn: request.placementSlopPerTurn,
    leadIn: zone.leadIn,
    cable,
    marks: marks ?? null,
    span: null,
  });
  const wording = request.display === 'metric' ? METRIC : IMPERIAL;
  return {
    id: zone.id,
    wet: zone.wet,
    outline: zone.outline,
    clearance: zone.clearance,
    exclusions: zone.exclusions.filter(({ seam }) => !seam),
    buffer: zone.buffer,
    entry: zone.entry,
    path: trace.path,
    reserve: trace.reserve,
    runs: laying.runs.map(sheetRun),
    length: check.length,
    end: check.end,
    coverage: {
      targetArea: check.coverage.targetArea,
      heatedArea: check.coverage.heatedArea,
      unheatedArea: check.coverage.unheatedArea,
      fraction: check.coverage.fraction,
      upperBound: plan.upperBound,
      boundBasis: plan.boundBasis,
      cold: check.coverage.cold,
    },
    cable,
    rules: check.rules.map(({ rule, ok, worst, limit }) => ({ rule, ok, worst, limit })),
    target: targetArea(zone, routingArea(zone)),
    checkpoints: laying.checkpoints.map((point) => ({
      run: point.afterRun,
      mark: point.mark === null ? null : point.mark * 1000,
      laid: point.used,
      allowed: point.allowed,
      at: point.at,
      beyond: CHECKPOINT_ACTION,
    })),
    steps: shortSteps(layingSteps(laying, extras.curb !== undefined, wording), wording),
    ...extras,
  };
};

/** The papers of a planned layout. Parts that the request does not bring are left out of the papers. */
export const sheetOf = (
  planned: Extract<PlanOutcome, { kind: 'planned' }>,
  request: SheetRequest,
): PlanSheet => {
  const { placementSlopPerTurn: _slop, extras: _extras, ...head } = request;
  return {
    ...head,
    lattice: planned.lattice,
    zones: planned.zones.map((plan) => sheetZone(plan, planned.lattice, request.spacing, request)),
  };
};
