/** From the rooms as they are to zones the planner can route: drains, curbs, crossings, cold leads. */
import { routingArea } from '../geometry/zone-area.js';
import { nearestFree, nodePoint, studLattice } from '../lattice/stud-lattice.js';
import type { Cable, Point, Ring, Setting, Trace, Zone } from '../problem.js';
import {
  barriers,
  type ColdLead,
  coldLeadTo,
  placeOnWay,
  type Thermostat,
  wallPoint,
  wallWay,
} from './cold-lead.js';
import { type Crossing, type CrossingTask, curbExclusion, leadStrips, planCrossing } from './crossing.js';
import type { Curb } from './curb.js';
import { type Drain, drainExclusion } from './drain.js';
import { SENSOR_DEPTH, type SensorTask } from './sensor.js';

export interface JobZone {
  /** As drawn: no drain or curb among the exclusions. `entry` and `leadIn` of a supplied shower are replaced. */
  readonly zone: Zone;
  readonly drain: Drain | null;
  readonly curb: Curb | null;
  /** Dry zone from which this wet zone is supplied; null where its entry and lead-in are the caller's own. */
  readonly dryZone: string | null;
  /** Where the caller would like the crossing and the joint. */
  readonly wish: { readonly crossing: Point | null; readonly joint: Point | null };
}

export interface JobInput {
  readonly setting: Setting;
  readonly zones: readonly JobZone[];
  readonly catalogue: readonly Cable[];
  /** Zone id -> cable id, where the caller insists on one. */
  readonly insisted: ReadonlyMap<string, string>;
  readonly thermostat: Thermostat | null;
}

export interface JobProblem {
  /** Keys into the request. */
  readonly path: readonly (string | number)[];
  readonly message: string;
  /** Size of the obstacle, mm; null where there is none. */
  readonly by: number | null;
}

export interface PreparedCrossing {
  readonly wetZone: string;
  readonly dryZone: string;
  readonly task: CrossingTask;
  readonly crossing: Crossing;
}

export interface PreparedJob {
  readonly kind: 'prepared';
  readonly zones: readonly Zone[];
  readonly crossings: readonly PreparedCrossing[];
  /** Zone id -> its cold lead, where a thermostat is given and the joint's place is known. */
  readonly coldLeads: ReadonlyMap<string, ColdLead>;
}

export type PrepareOutcome =
  | PreparedJob
  | { readonly kind: 'impossible'; readonly problems: readonly JobProblem[] };

/**
 * The zones with drains and curbs among their exclusions: all that can be said before the lattice has an origin (the
 * planner may choose the origin on these). Every curb bars every zone.
 */
export const furnishedZones = (zones: readonly JobZone[], pitch: number): readonly Zone[] =>
  zones.map(({ zone, drain }) => ({
    ...zone,
    exclusions: [
      ...zone.exclusions,
      ...(drain === null ? [] : [drainExclusion(drain, `${zone.id} drain`, pitch)]),
      ...zones.flatMap(({ zone: owner, curb }) =>
        curb === null ? [] : [curbExclusion(curb, `${owner.id} curb`, zone.clearance)],
      ),
    ],
  }));

const cablesFor = (input: JobInput, zone: string): readonly Cable[] => {
  const insisted = input.insisted.get(zone);
  return input.catalogue.filter(({ id }) => insisted === undefined || id === insisted);
};

/** The shortest cold lead among the cables the zone may get: the joint must suit whichever is chosen. */
const shortestLead = (input: JobInput, zone: string): number => {
  const leads = cablesFor(input, zone).map(({ coldLead }) => coldLead);
  return leads.length === 0 ? 0 : Math.min(...leads);
};

/** The widest bend that a cable of the zone may need, of those that can turn back between two runs at all. */
const widestBend = (input: JobInput, zone: string): number => {
  const most = (input.setting.spacing.max * input.setting.lattice.pitch) / 2;
  return Math.max(
    0,
    ...cablesFor(input, zone)
      .map((c) => c.minBendRadius)
      .filter((r) => r <= most),
  );
};

/** What is wrong with the wiring of zones to zones, before any geometry. */
function wiringProblems({ zones, thermostat }: JobInput): JobProblem[] {
  const problems: JobProblem[] = [];
  zones.forEach(({ zone, curb, drain, dryZone }, k) => {
    const bad = (key: string, message: string): void => {
      problems.push({ path: ['zones', k, key], message, by: null });
    };
    if (!zone.wet && curb !== null)
      bad('curb', `Zone "${zone.id}" is dry; give the curb to the wet zone behind it.`);
    if (!zone.wet && drain !== null) bad('drain', `Zone "${zone.id}" is dry; only a wet zone has a drain.`);
    if (dryZone === null) return;
    const dry = zones.find((other) => other.zone.id === dryZone);
    if (!zone.wet) bad('dryZone', `Zone "${zone.id}" is dry; only a wet zone is supplied from a dry one.`);
    else if (dry === undefined)
      bad('dryZone', `There is no zone "${dryZone}"; name the dry zone beside the shower.`);
    else if (dry.zone.wet) bad('dryZone', `Zone "${dryZone}" is wet; the joint must lie on a dry floor.`);
    if (zone.leadIn > 0)
      bad('leadIn', `The lead-in of zone "${zone.id}" is computed from its crossing; leave it out.`);
    if (thermostat === null)
      problems.push({
        path: ['thermostat'],
        message: `Zone "${zone.id}" is supplied across the dry floor; say where the thermostat is.`,
        by: null,
      });
  });
  return problems;
}

/**
 * Plans the crossings and cold leads one after another, in the order of the zones: later ones keep clear of earlier
 * ones. Problems carry the place in the request.
 */
export function prepareJob(input: JobInput): PrepareOutcome {
  const problems = wiringProblems(input);
  if (problems.length > 0) return { kind: 'impossible', problems };
  const { setting, thermostat } = input;
  const zones = [...furnishedZones(input.zones, setting.lattice.pitch)];
  const crossings: PreparedCrossing[] = [];
  const coldLeads = new Map<string, ColdLead>();
  input.zones.forEach(({ zone, curb, dryZone, wish }, k) => {
    if (dryZone === null || thermostat === null) return;
    const d = zones.findIndex(({ id }) => id === dryZone);
    const others = crossings.filter((other) => other.dryZone === dryZone);
    const notCurb = ({ id }: { id: string }): boolean => id !== `${zone.id} curb`;
    const task: CrossingTask = {
      dry: { ...zones[d], exclusions: zones[d].exclusions.filter(notCurb) },
      wet: { ...zones[k], exclusions: zones[k].exclusions.filter(notCurb) },
      curb,
      setting,
      thermostat,
      coldLead: shortestLead(input, zone.id),
      minBendRadius: widestBend(input, zone.id),
      wish,
      laid: others.map(({ crossing }) => onDryFloor(crossing)),
      coldLeads: others.map(({ crossing }) => crossing.coldLead.path),
    };
    const outcome = planCrossing(task);
    if (outcome.kind === 'impossible') {
      const onThermostat = outcome.reason === 'thermostat-off-wall';
      problems.push({
        path: onThermostat
          ? ['thermostat', 'at']
          : ['zones', k, outcome.reason === 'joint-in-shower' ? 'joint' : 'dryZone'],
        message: outcome.message,
        by: outcome.by,
      });
      return;
    }
    const { crossing } = outcome;
    zones[k] = { ...zones[k], entry: crossing.entry, leadIn: crossing.leadIn };
    zones[d] = {
      ...zones[d],
      exclusions: [...zones[d].exclusions.filter(notCurb), ...crossing.dryExclusions],
    };
    crossings.push({ wetZone: zone.id, dryZone, task, crossing });
    coldLeads.set(zone.id, crossing.coldLead);
  });
  if (thermostat !== null) problems.push(...dryLeads(input, thermostat, zones, crossings, coldLeads));
  return problems.length > 0
    ? { kind: 'impossible', problems }
    : { kind: 'prepared', zones, crossings, coldLeads };
}

/** The heating cable of a crossing up to the curb. */
const onDryFloor = ({ lead, enter }: Crossing): Ring => [...lead.slice(0, -1), enter];

/** Cold leads of the dry zones whose joint is their entry; adds to `zones` and `coldLeads`. */
function dryLeads(
  input: JobInput,
  thermostat: Thermostat,
  zones: Zone[],
  crossings: readonly PreparedCrossing[],
  coldLeads: Map<string, ColdLead>,
): JobProblem[] {
  const problems: JobProblem[] = [];
  const { lattice } = input.setting;
  const dry = zones.map((zone, k) => ({ zone, k })).filter(({ zone }) => !zone.wet);
  const onWall = dry.filter(({ zone }) => wallPoint(zone.outline, thermostat.at).kind === 'wall');
  if (dry.length > 0 && onWall.length === 0) {
    const off = dry.map(({ zone }) => wallPoint(zone.outline, thermostat.at));
    const by = Math.min(...off.map((p) => (p.kind === 'wall' ? 0 : p.by)));
    const message = `The thermostat is ${by.toFixed(0)} mm from the nearest wall of a dry floor; put it on a wall.`;
    return [{ path: ['thermostat', 'at'], message, by }];
  }
  for (const { zone, k } of onWall) {
    const wall = wallPoint(zone.outline, thermostat.at);
    if (zone.leadIn > 0 || wall.kind === 'off-wall') continue;
    const bad = (message: string, by: number | null): void => {
      problems.push({ path: ['zones', k, 'entry'], message, by });
    };
    const floor = studLattice(lattice, routingArea(zone));
    const entry = nearestFree(floor, zone.entry);
    const way = wallWay(zone, { ...thermostat, at: wall.at }, lattice.pitch);
    // A zone without floor is the planner's to refuse.
    if (entry < 0 || way === null) continue;
    const joint = nodePoint(floor, entry);
    const { off } = placeOnWay(way, joint);
    if (off >= way.reach) {
      bad(
        `The joint at the entry of zone "${zone.id}" lies ${off.toFixed(0)} mm inside the floor, so its cold lead would cross heated floor; put the entry beside a wall.`,
        off - way.reach,
      );
      continue;
    }
    const bars = barriers(
      way,
      crossings.filter((c) => c.dryZone === zone.id).map(({ crossing }) => onDryFloor(crossing)),
    );
    const lead = coldLeadTo(way, joint, bars);
    if (lead === null) {
      bad(
        `The cold lead of zone "${zone.id}" cannot reach its joint without crossing the heating cable of a shower; move the entry or the thermostat.`,
        null,
      );
      continue;
    }
    const missing = lead.needed - shortestLead(input, zone.id);
    if (missing > 0) {
      bad(
        `The cold lead of zone "${zone.id}" needs ${lead.needed.toFixed(0)} mm to the thermostat and is ${missing.toFixed(0)} mm too short; move the entry nearer to the thermostat.`,
        missing,
      );
      continue;
    }
    coldLeads.set(zone.id, lead);
    const strips = leadStrips(lead, zone, lattice.pitch / 2, `${zone.id} cold lead`);
    zones[k] = { ...zone, exclusions: [...zone.exclusions, ...strips] };
  }
  return problems;
}

/** The sensor's task on a planned dry floor, with everything that was prepared on it as obstacle. */
export function sensorTaskOf(
  input: JobInput,
  prepared: PreparedJob,
  zone: Zone,
  trace: Trace,
  spare: boolean,
): SensorTask | null {
  if (input.thermostat === null) return null;
  const { lattice, spacing } = input.setting;
  const here = prepared.crossings.filter(({ dryZone }) => dryZone === zone.id);
  const own = prepared.coldLeads.get(zone.id);
  return {
    zone,
    trace,
    lattice,
    spacing,
    thermostat: input.thermostat,
    heating: here.map(({ crossing }) => onDryFloor(crossing)),
    coldLeads: [
      ...(own === undefined ? [] : [own.path]),
      ...here.map(({ crossing }) => crossing.coldLead.path),
    ],
    depth: SENSOR_DEPTH,
    spare,
  };
}
