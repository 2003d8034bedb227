import { checkCrossing } from '../../solver/job/check-crossing.js';
import { checkSensor } from '../../solver/job/check-sensor.js';
import type { ColdLead } from '../../solver/job/cold-lead.js';
import { type Laying, type MetreMarks, planLaying } from '../../solver/job/laying.js';
import {
  type JobInput,
  type PreparedCrossing,
  type PreparedJob,
  sensorTaskOf,
} from '../../solver/job/prepare.js';
import { placeSensor, type SensorOutcome, type SensorPlace } from '../../solver/job/sensor.js';
import { wholeId } from '../../solver/parts/plan-parts.js';
import type { PlanOutcome, ZonePlan } from '../../solver/plan-types.js';
import type { Setting, Trace, Zone } from '../../solver/problem.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import type { WireZone } from '../schemas/zone.js';

/** What belongs to a laid zone beside its cable's path. */
export interface ZoneFittings {
  readonly crossing: PreparedCrossing | null;
  readonly coldLead: ColdLead | null;
  /** Null where no sensor is wanted. */
  readonly sensor: SensorOutcome | null;
  readonly marks: MetreMarks | null;
  readonly laying: Laying;
  readonly overCurb: boolean;
}

type Planned = Extract<PlanOutcome, { kind: 'planned' }>;

interface Scene {
  readonly request: LayoutRequest;
  readonly input: JobInput;
  readonly prepared: PreparedJob;
  readonly planned: Planned;
}

/** A crossing or sensor that its own judge rejects is never handed out. */
const insist = (
  faults: readonly { readonly rule: string; readonly message: string }[],
  what: string,
): void => {
  const [first] = faults;
  if (first !== undefined) throw new Error(`${what} breaks rule ${first.rule}: ${first.message}`);
};

const judgedCrossing = ({ prepared, planned }: Scene, zone: string): PreparedCrossing | null => {
  const found = prepared.crossings.find(({ wetZone }) => wetZone === zone);
  if (found === undefined) return null;
  const traceOf = (id: string) => planned.zones.find((plan) => plan.zone.id === id)?.trace ?? null;
  const traces = { dry: traceOf(found.dryZone), wet: traceOf(found.wetZone) };
  insist(checkCrossing(found.task, found.crossing, traces), `crossing to "${zone}"`);
  return found;
};

/** A lead no longer than this needs no improvement, mm on the floor. Own default. */
const SHORT_LEAD = 600;

/** Value of a lead: 1 where it is short and straight, falling towards 1/2 with its length. */
const leadValue = ({ length: { floor }, corners }: SensorPlace): number =>
  corners === 0 && floor <= SHORT_LEAD ? 1 : 0.5 + 0.4 * Math.min(1, SHORT_LEAD / floor);

/**
 * How well the sensor wanted in a zone, and its spare, find a place beside a trace; undefined where no zone wants one,
 * so that the planner need not ask.
 */
export const sensorFits = (
  request: LayoutRequest,
  input: JobInput,
  prepared: PreparedJob,
): ((zone: Zone, trace: Trace) => number) | undefined => {
  const wanted = request.zones.filter(({ wet, sensor }) => !wet && sensor?.wanted !== false);
  if (input.thermostat === null || wanted.length === 0) return undefined;
  return (zone, trace) => {
    const wire = wanted.find(({ id }) => id === zone.id);
    if (wire === undefined) return 1;
    const task = sensorTaskOf(input, prepared, zone, trace, wire.sensor?.spare ?? false);
    if (task === null) return 1;
    const outcome = placeSensor(task);
    if (outcome.kind !== 'placed') return 0;
    const value = leadValue(outcome.sensor);
    if (!task.spare) return value;
    return outcome.spare === null ? value / 2 : (value + leadValue(outcome.spare)) / 2;
  };
};

const judgedSensor = (scene: Scene, plan: ZonePlan, wire: WireZone): SensorOutcome | null => {
  if (wire.wet || wire.sensor?.wanted === false) return null;
  const { input, prepared } = scene;
  const zone = { ...plan.zone, id: wire.id };
  const task = sensorTaskOf(input, prepared, zone, plan.trace, wire.sensor?.spare ?? false);
  if (task === null) return null;
  const outcome = placeSensor(task);
  if (outcome.kind === 'placed') {
    const wet = input.zones.filter(({ zone }) => zone.wet).map(({ zone }) => zone.outline);
    for (const place of [outcome.sensor, outcome.spare]) {
      if (place !== null) insist(checkSensor(task, place, wet), `sensor in "${wire.id}"`);
    }
  }
  return outcome;
};

/** Whether the cable of a plan begins where the zone of the request does: all do but some parts of a zone. */
const atEntry = ({ zone }: ZonePlan, prepared: PreparedJob): boolean => {
  const whole = prepared.zones.find(({ id }) => id === wholeId(zone.id));
  return whole !== undefined && whole.entry[0] === zone.entry[0] && whole.entry[1] === zone.entry[1];
};

/** Crossings, leads, sensors and the order of work of a planned layout, each judged before it is handed out. */
export const fitOut = (scene: Scene, setting: Setting): ReadonlyMap<string, ZoneFittings> => {
  const { request, prepared, planned } = scene;
  const fittings = new Map<string, ZoneFittings>();
  for (const plan of planned.zones) {
    const { id, wet, leadIn } = plan.zone;
    const wire = request.zones.find((zone) => zone.id === wholeId(id));
    if (wire === undefined) continue;
    // Of the parts of a zone, the one at the zone's own entry takes its lead and its sensor; marks belong to one cable.
    const main = atEntry(plan, prepared);
    const marks = wire.id === id ? (wire.marks ?? request.marks ?? null) : null;
    fittings.set(id, {
      crossing: judgedCrossing(scene, id),
      coldLead: main ? (prepared.coldLeads.get(wire.id) ?? null) : null,
      sensor: main ? judgedSensor(scene, plan, wire) : null,
      marks,
      laying: planLaying({
        ...setting,
        wet,
        leadIn,
        marks,
        trace: plan.trace,
        cable: plan.cable,
        span: null,
      }),
      overCurb: wire.curb !== undefined,
    });
  }
  return fittings;
};
