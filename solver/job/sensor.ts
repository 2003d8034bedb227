/** Where the floor sensor goes, and the channel of its lead. */
import {
  distance,
  pointInRing,
  pointSegmentDistance,
  polylineLength,
  ringDistance,
  segmentsMeet,
} from '../geometry/measure.js';
import type { Lattice, Point, Ring, Spacing, Trace, Zone } from '../problem.js';
import { withoutStraights } from './bends.js';
import { type Thermostat, wallPoint } from './cold-lead.js';
import { type LayingRun, layingRuns } from './laying-runs.js';
import { closeAround, floodFromWall, type HalfLattice, halfLattice, halfPoint } from './sensor-field.js';

export interface SensorTask {
  /** A dry floor; its no-heat areas, the corridor of a shower's crossing and curbs among its exclusions. */
  readonly zone: Zone;
  readonly trace: Trace;
  readonly lattice: Lattice;
  readonly spacing: Spacing;
  readonly thermostat: Thermostat;
  /** Heating cable of a shower on this floor. */
  readonly heating: readonly Ring[];
  /** Cold leads on this floor, each from the thermostat. */
  readonly coldLeads: readonly Ring[];
  /** How far inside the routing area's edge (walls and no-heat areas with their clearances) the sensor lies, mm. */
  readonly depth: number;
  /** Also wanted: a second place with a lead of its own. */
  readonly spare: boolean;
}

/** About 1 ft; common practice, no source. */
export const SENSOR_DEPTH = 300;

export interface SensorPlace {
  readonly at: Point;
  /** From the wall to the sensor, straight or with corners. */
  readonly lead: Ring;
  /** Wall point where the lead leaves the wall. */
  readonly leaves: Point;
  /** Lead on the floor, in the wall beside the thermostat, and up to it; mm. */
  readonly length: {
    readonly floor: number;
    readonly inWall: number;
    readonly rise: number;
    readonly total: number;
  };
  readonly corners: number;
  /** Runs on either side, numbered as in the laying order from the joint. */
  readonly between: readonly [number, number];
  /** Centre to centre of these runs. */
  readonly gap: number;
  /** Distance to the routing area's edge. */
  readonly depth: number;
}

export type SensorRefusal = 'wet-zone' | 'thermostat-off-wall' | 'no-place' | 'closed-off';

export type SensorOutcome =
  | {
      readonly kind: 'placed';
      readonly sensor: SensorPlace;
      readonly spare: SensorPlace | null;
      /** Why there is no spare where one was wanted. */
      readonly spareMissing: string | null;
    }
  | {
      readonly kind: 'impossible';
      readonly reason: SensorRefusal;
      /** Nearest miss. */
      readonly at: Point | null;
      /** mm by which it misses. */
      readonly by: number | null;
      readonly message: string;
    };

/** A straight lead may be this much longer than one with a corner (it can be pulled out again), mm. Own default. */
const CORNER_WORTH = 2000;

/** All leads of a thermostat leave its box together: within this of it, in pitches, cold leads bar nothing. */
export const BUNDLE_PITCHES = 2;

interface Spot {
  readonly node: number;
  readonly at: Point;
  readonly between: readonly [number, number];
  readonly gap: number;
  readonly depth: number;
}

/** Distance from p to the routing area's edge, positive inside. */
export const routingDepth = (zone: Zone, p: Point): number => {
  let depth = (pointInRing(p, zone.outline) ? 1 : -1) * ringDistance(p, zone.outline) - zone.clearance;
  for (const { shape, clearance } of zone.exclusions) {
    const gap =
      shape.kind === 'circle'
        ? distance(p, shape.center) - shape.radius
        : shape.outline.length < 3
          ? Number.POSITIVE_INFINITY
          : (pointInRing(p, shape.outline) ? -1 : 1) * ringDistance(p, shape.outline);
    depth = Math.min(depth, gap - clearance);
  }
  return depth;
};

const legs = (line: Ring): [Point, Point][] => line.slice(1).map((p, k) => [line[k], p]);

const pieces = (task: SensorTask): [Point, Point][] =>
  [task.trace.path, task.trace.reserve, ...task.heating].flatMap(legs);

/** Points midway between two parallel neighbouring runs, whatever their depth, outside the buffer. */
function spots(task: SensorTask, f: HalfLattice): Spot[] {
  const { pitch } = task.lattice;
  const runs = layingRuns(task.trace.path, task.spacing.max * pitch);
  const all = pieces(task);
  const found = new Map<number, Spot>();
  const least = task.spacing.min * pitch - 0.5;
  const most = task.spacing.max * pitch + 0.5;
  for (const a of runs)
    for (const b of runs) {
      if (b.n <= a.n) continue;
      const axis = parallelAxis(a, b);
      if (axis === null) continue;
      const other = 1 - axis;
      const gap = Math.abs(a.from[other] - b.from[other]);
      if (gap < least || gap > most) continue;
      const [low, high] = overlap(a, b, axis);
      const across = (a.from[other] + b.from[other]) / 2;
      const start = axis === 0 ? f.x0 : f.y0;
      for (let k = Math.ceil((low - start) / f.h); start + k * f.h <= high; k += 1) {
        const s = start + k * f.h;
        const at: Point = axis === 0 ? [s, across] : [across, s];
        const node = Math.round((at[1] - f.y0) / f.h) * f.nx + Math.round((at[0] - f.x0) / f.h);
        if (node < 0 || node >= f.open.length || distance(halfPoint(f, node), at) > 0.01) continue;
        if (pointInRing(at, task.zone.buffer)) continue;
        if (all.some(([p, q]) => pointSegmentDistance(at, p, q) < gap / 2 - 0.5)) continue;
        if (!found.has(node))
          found.set(node, { node, at, between: [a.n, b.n], gap, depth: routingDepth(task.zone, at) });
      }
    }
  return [...found.values()];
}

/** 0 when both runs lie along x, 1 when both lie along y, null otherwise. */
const parallelAxis = (a: LayingRun, b: LayingRun): 0 | 1 | null => {
  const along = ({ from, to }: LayingRun): 0 | 1 | null =>
    Math.abs(from[1] - to[1]) < 0.01 ? 0 : Math.abs(from[0] - to[0]) < 0.01 ? 1 : null;
  const axis = along(a);
  return axis === along(b) ? axis : null;
};

const overlap = (a: LayingRun, b: LayingRun, axis: 0 | 1): [number, number] => [
  Math.max(Math.min(a.from[axis], a.to[axis]), Math.min(b.from[axis], b.to[axis])),
  Math.min(Math.max(a.from[axis], a.to[axis]), Math.max(b.from[axis], b.to[axis])),
];

/** The floor with every cable closed off: heating cable by half the smallest spacing, cold leads to a hair. */
function passable(task: SensorTask, foot: Point, extra: readonly Ring[]): HalfLattice {
  const { pitch } = task.lattice;
  const f = halfLattice(task.zone, task.lattice);
  const keep = (task.spacing.min * pitch) / 2 - 0.5;
  const bundle = (p: Point): boolean => distance(p, foot) <= BUNDLE_PITCHES * pitch;
  const nowhere = (): boolean => false;
  for (const line of [task.trace.path, task.trace.reserve, ...task.heating])
    closeAround(f, line, keep, nowhere);
  for (const line of [...task.coldLeads, ...extra]) closeAround(f, line, f.h / 2 + 0.01, bundle);
  return f;
}

/**
 * The place for the sensor: midway between two neighbouring parallel runs of the path, `depth` inside the routing
 * area, outside the buffer (whose filling is settled last). Its lead reaches the thermostat's wall without meeting
 * any cable; straight leads first, then short ones.
 */
export function placeSensor(task: SensorTask): SensorOutcome {
  if (task.zone.wet)
    return {
      kind: 'impossible',
      reason: 'wet-zone',
      at: null,
      by: null,
      message: 'The sensor never lies in a shower; ask for it on the dry floor.',
    };
  const wall = wallPoint(task.zone.outline, task.thermostat.at);
  if (wall.kind === 'off-wall')
    return {
      kind: 'impossible',
      reason: 'thermostat-off-wall',
      at: task.thermostat.at,
      by: wall.by,
      message: `The thermostat is ${wall.by.toFixed(0)} mm from the nearest wall of this floor; put it on a wall.`,
    };
  const f = passable(task, wall.at, []);
  const all = spots(task, f);
  const deep = all.filter((s) => s.depth >= task.depth - 0.01);
  if (deep.length === 0) {
    const nearest = all.reduce<Spot | null>(
      (best, s) => (best === null || s.depth > best.depth ? s : best),
      null,
    );
    return {
      kind: 'impossible',
      reason: 'no-place',
      at: nearest?.at ?? null,
      by: nearest === null ? null : task.depth - nearest.depth,
      message:
        nearest === null
          ? 'No two neighbouring parallel runs leave a place midway between them.'
          : `No place midway between two runs is ${task.depth} mm inside the heated area; the deepest is ${nearest.depth.toFixed(0)} mm, between runs ${nearest.between.join(' and ')}.`,
    };
  }
  const sensor = best(task, f, deep, wall);
  if (sensor === null) return closedOff(task, f, all, deep, wall);
  if (!task.spare) return { kind: 'placed', sensor, spare: null, spareMissing: null };
  const g = passable(task, wall.at, [sensor.lead]);
  const elsewhere = deep.filter((s) => s.between.join() !== sensor.between.join());
  const spare = best(task, g, elsewhere, wall, [sensor.lead]);
  return {
    kind: 'placed',
    sensor,
    spare,
    spareMissing:
      spare === null
        ? 'No other gap between two runs can be reached from the thermostat past the first lead.'
        : null,
  };
}

interface WallFoot {
  readonly at: Point;
  readonly edge: number;
}

const flood = (task: SensorTask, f: HalfLattice, wall: WallFoot, extra: readonly Ring[]) => {
  const { outline, exclusions } = task.zone;
  const b = outline[(wall.edge + 1) % outline.length];
  const near = BUNDLE_PITCHES * task.lattice.pitch;
  const bodies = exclusions.map(({ shape }) => shape);
  const leads = [...task.coldLeads, ...extra].flatMap(legs);
  const free = (p: Point, q: Point): boolean =>
    bodies.every((shape) =>
      shape.kind === 'circle'
        ? pointSegmentDistance(shape.center, p, q) > shape.radius
        : !pointInRing(p, shape.outline) &&
          !legs([...shape.outline, ...shape.outline.slice(0, 1)]).some(([c, d]) => segmentsMeet(p, q, c, d)),
    ) && leads.every(([c, d]) => distance(p, wall.at) <= near || !segmentsMeet(p, q, c, d));
  return floodFromWall(f, outline[wall.edge], b, wall.at, Math.round(CORNER_WORTH / f.h), free);
};

function best(
  task: SensorTask,
  f: HalfLattice,
  among: readonly Spot[],
  wall: WallFoot,
  extra: readonly Ring[] = [],
): SensorPlace | null {
  const leads = flood(task, f, wall, extra);
  let chosen: Spot | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const spot of among) {
    const cost = leads.cost(spot.node);
    if (cost < 0 || cost > least || (cost === least && chosen !== null && spot.node > chosen.node)) continue;
    least = cost;
    chosen = spot;
  }
  if (chosen === null) return null;
  const lead = withoutStraights(leads.leadTo(chosen.node));
  const floor = polylineLength(lead);
  const inWall = distance(lead[0], wall.at);
  const rise = task.thermostat.height;
  return {
    at: chosen.at,
    lead,
    leaves: lead[0],
    length: { floor, inWall, rise, total: floor + inWall + rise },
    corners: Math.max(0, lead.length - 2),
    between: chosen.between,
    gap: chosen.gap,
    depth: chosen.depth,
  };
}

/** Places exist, no lead reaches one: say how far the deepest reachable one gets. */
function closedOff(
  task: SensorTask,
  f: HalfLattice,
  all: readonly Spot[],
  deep: readonly Spot[],
  wall: WallFoot,
): SensorOutcome {
  const leads = flood(task, f, wall, []);
  let reached: Spot | null = null;
  for (const s of all)
    if (leads.cost(s.node) >= 0 && (reached === null || s.depth > reached.depth)) reached = s;
  let nearest = deep[0];
  for (const s of deep) if (distance(s.at, wall.at) < distance(nearest.at, wall.at)) nearest = s;
  const [x, y] = nearest.at;
  return {
    kind: 'impossible',
    reason: 'closed-off',
    at: reached?.at ?? nearest.at,
    by: reached === null ? null : task.depth - reached.depth,
    message:
      reached === null
        ? `Every gap between two runs is closed by cable on the thermostat's side; the nearest place, between runs ${nearest.between.join(' and ')} at ${x.toFixed(0)}, ${y.toFixed(0)}, cannot be reached. Put the thermostat on a wall that the gaps open to.`
        : `The gaps that open to the thermostat's wall reach only ${reached.depth.toFixed(0)} mm into the heated area, ${task.depth} are needed. Put the thermostat on another wall.`,
  };
}
