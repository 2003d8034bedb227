/** How the heating cable of a shower gets there: joint on the dry floor, run to the curb, over its top, in. */
import { distance, pointInRing, pointSegmentDistance, segmentsMeet } from '../geometry/measure.js';
import { tube } from '../geometry/region.js';
import { routingArea } from '../geometry/zone-area.js';
import { nearestFree, nodePoint, reachable, type StudLattice, studLattice } from '../lattice/stud-lattice.js';
import type { Exclusion, Point, Ring, Setting, Zone } from '../problem.js';
import { withoutStraights } from './bends.js';
import {
  barriers,
  type ColdLead,
  coldLeadTo,
  placeOnWay,
  type RingPlace,
  type Thermostat,
  type WallWay,
  wallPoint,
  wallWay,
  wayLength,
} from './cold-lead.js';
import { type CrossingLine, crossingLines } from './crossing-lines.js';
import type { Curb, Groove } from './curb.js';
import { type FloorWalk, floorWalk } from './floor-walk.js';
import { keepsOwnRules, type LeadParts, lastStud, leadLength, leadParts } from './lead-parts.js';

export interface CrossingTask {
  readonly dry: Zone;
  readonly wet: Zone;
  /** Null: a level threshold, the two outlines meet. */
  readonly curb: Curb | null;
  readonly setting: Setting;
  readonly thermostat: Thermostat;
  /** Length of the cable's unheated lead, mm. */
  readonly coldLead: number;
  readonly minBendRadius: number;
  /** Where the caller would like the crossing and the joint; the nearest legal place is taken. */
  readonly wish: { readonly crossing: Point | null; readonly joint: Point | null };
  /** Heating cable of other showers that already lies on the dry floor. */
  readonly laid: readonly Ring[];
  /** Cold leads that already lie there; other cold leads may share their way, heating cable may not cross it. */
  readonly coldLeads: readonly Ring[];
}

export interface Crossing {
  /** Heating cable in plan from the joint to the shower's entry, corners sharp. */
  readonly lead: Ring;
  readonly joint: Point;
  /** First lattice node in the shower. */
  readonly entry: Point;
  /** Last lattice node on the dry floor. */
  readonly lastDry: Point;
  /** Dry and wet face of the curb on the crossing line (equal where outlines meet without a curb). */
  readonly enter: Point;
  readonly leave: Point;
  /** Deviation from square, degrees. */
  readonly slant: number;
  /** Stud that is wrapped, and the groove over the curb; null without a curb. */
  readonly stud: Point | null;
  readonly groove: Groove | null;
  readonly parts: LeadParts;
  readonly leadIn: number;
  readonly coldLead: ColdLead;
  /** Distance from the wished place to the one taken; null where there was no wish. */
  readonly missed: { readonly crossing: number | null; readonly joint: number | null };
  /** What the planner must add to each zone: curb, corridor of the crossing run, cold lead beside built-ins. */
  readonly dryExclusions: readonly Exclusion[];
  readonly wetExclusions: readonly Exclusion[];
}

export type CrossingRefusal =
  | 'thermostat-off-wall'
  | 'joint-in-shower'
  | 'no-dry-floor'
  | 'no-crossing'
  | 'no-joint'
  | 'no-run'
  | 'cold-lead-too-short'
  | 'cuts-dry-floor';

export type CrossingOutcome =
  | { readonly kind: 'crossing'; readonly crossing: Crossing }
  | {
      readonly kind: 'impossible';
      readonly reason: CrossingRefusal;
      readonly at: Point | null;
      /** Size of the obstacle in mm (missing lead, distance from the wall); null where there is none. */
      readonly by: number | null;
      readonly message: string;
    };

/** Least heating cable between the joint and the last stud, so that the stiff joint lies straight, mm. Own default. */
export const JOINT_RUN = 150;

/** Joints tried for one crossing line before it is given up. */
const JOINTS_TRIED = 60;

/** Share of the dry floor that a crossing run may cut off from the rest. Own default. */
const CUT_OFF = 0.01;

const refuse = (
  reason: CrossingRefusal,
  message: string,
  at: Point | null = null,
  by: number | null = null,
): CrossingOutcome => ({ kind: 'impossible', reason, at, by, message });

/** The curb as no-heat area of a zone: the cable keeps the zone's clearance from it as from a wall. */
export const curbExclusion = (curb: Curb, id: string, clearance: number): Exclusion => ({
  id,
  shape: { kind: 'polygon', outline: curb.outline },
  clearance,
});

const withCurb = (zone: Zone, curb: Curb | null, id: string): Zone =>
  curb === null
    ? zone
    : { ...zone, exclusions: [...zone.exclusions, curbExclusion(curb, id, zone.clearance)] };

interface Candidate {
  readonly line: CrossingLine;
  readonly walk: FloorWalk;
  readonly bars: readonly number[];
  readonly joint: number;
  readonly cost: readonly number[];
}

interface JointPlace {
  readonly node: number;
  readonly point: Point;
  readonly place: RingPlace;
}

const compare = (a: readonly number[], b: readonly number[]): number => {
  for (let k = 0; k < a.length; k += 1) if (Math.abs(a[k] - b[k]) > 1e-6) return a[k] - b[k];
  return 0;
};

/** Nodes beside the wall: only the margin lies between them and the cold lead's way. */
function jointPlaces(floor: StudLattice, way: WallWay): JointPlace[] {
  const found: JointPlace[] = [];
  for (let v = 0; v < floor.free.length; v += 1) {
    if (floor.free[v] === 0) continue;
    const point = nodePoint(floor, v);
    const place = placeOnWay(way, point);
    if (place.off < way.reach - 1e-6) found.push({ node: v, point, place });
  }
  return found;
}

/**
 * Finds the crossing whose heating cable before the shower is shortest (or, with a wish, nearest to it), whose joint
 * the cold lead reaches along the wall, and that leaves the dry floor in one piece.
 */
export function planCrossing(task: CrossingTask): CrossingOutcome {
  const { dry, wet, curb, setting, wish } = task;
  const keep = setting.spacing.min * setting.lattice.pitch;
  const wall = wallPoint(dry.outline, task.thermostat.at);
  if (wall.kind === 'off-wall')
    return refuse(
      'thermostat-off-wall',
      `The thermostat is ${wall.by.toFixed(0)} mm from the nearest wall of the dry floor; put it on a wall.`,
      task.thermostat.at,
      wall.by,
    );
  if (wish.joint !== null && pointInRing(wish.joint, wet.outline))
    return refuse(
      'joint-in-shower',
      'The joint is wished inside the shower; it must lie on the dry floor.',
      wish.joint,
    );
  const dryFloor = studLattice(setting.lattice, routingArea(withCurb(dry, curb, 'curb')));
  const wetFloor = studLattice(setting.lattice, routingArea(withCurb(wet, curb, 'curb')));
  const way = wallWay(
    withCurb(dry, curb, 'curb'),
    { ...task.thermostat, at: wall.at },
    setting.lattice.pitch,
  );
  const dryEntry = nearestFree(dryFloor, dry.entry);
  if (dryEntry < 0 || way === null)
    return refuse(
      'no-dry-floor',
      'The dry floor has no room for cable, so the shower cannot be supplied from it.',
    );
  const entryPoint = nodePoint(dryFloor, dryEntry);
  const blocked = blockedNodes(dryFloor, entryPoint, task.laid, keep);
  const lines = crossingLines(dry, wet, curb, dryFloor, wetFloor).filter(
    (line) =>
      pointSegmentDistance(entryPoint, line.from, line.to) >= keep - 0.25 &&
      blocked[line.node] === 0 &&
      !task.coldLeads.some((lead) => meetsLine(line.from, line.to, lead)),
  );
  if (lines.length === 0)
    return refuse(
      'no-crossing',
      'No stud channel leads squarely from the dry floor to the shower; check that both zones reach the curb and that no-heat areas leave a way.',
    );
  const places = jointPlaces(dryFloor, way).filter(({ point }) => !pointInRing(point, wet.outline));
  const { candidates, shortest } = weigh(task, lines, places, way, dryFloor, blocked);
  if (candidates.length === 0) {
    if (!Number.isFinite(shortest))
      return refuse(
        'no-joint',
        `No place beside a wall is joined to the curb by ${JOINT_RUN} mm or more of free channel and reached by the cold lead.`,
      );
    if (shortest <= task.coldLead)
      return refuse(
        'no-run',
        'Every run from a place for the joint to the curb turns back too sharply or too near itself; wish the joint or the crossing elsewhere.',
      );
    const by = shortest - task.coldLead;
    return refuse(
      'cold-lead-too-short',
      `The cold lead of ${task.coldLead.toFixed(0)} mm misses the nearest place for the joint by ${by.toFixed(0)} mm.`,
      wall.at,
      by,
    );
  }
  // A wish for the joint gives way where every run from there would cut the floor.
  const freely = (): Candidate[] =>
    wish.joint === null
      ? []
      : weigh({ ...task, wish: { ...wish, joint: null } }, lines, places, way, dryFloor, blocked).candidates;
  for (const choose of [() => candidates, freely])
    for (const candidate of choose()) {
      const crossing = assemble(task, candidate, dryFloor, way);
      if (crossing !== null && leavesFloorWhole(dry, dryFloor, dryEntry, crossing, keep))
        return { kind: 'crossing', crossing };
    }
  return refuse(
    'cuts-dry-floor',
    'Every crossing run would cut the dry floor in two; wish the joint or the crossing elsewhere, or move the entry of the dry floor.',
  );
}

/** Nodes too near the dry floor's own entry or anything already laid. */
function blockedNodes(floor: StudLattice, entry: Point, laid: readonly Ring[], keep: number): Uint8Array {
  const blocked = new Uint8Array(floor.free.length);
  for (let v = 0; v < blocked.length; v += 1) {
    if (floor.free[v] === 0) continue;
    const p = nodePoint(floor, v);
    if (distance(p, entry) < keep - 0.25 || laid.some((line) => lineDistance(p, line) < keep - 0.25))
      blocked[v] = 1;
  }
  return blocked;
}

const lineDistance = (p: Point, line: Ring): number => {
  let least = Number.POSITIVE_INFINITY;
  for (let k = 1; k < line.length; k += 1)
    least = Math.min(least, pointSegmentDistance(p, line[k - 1], line[k]));
  return least;
};

const meetsLine = (a: Point, b: Point, line: Ring): boolean =>
  line.some((p, k) => k > 0 && segmentsMeet(a, b, line[k - 1], p));

/** The best joint of every line, best line first; `shortest` is the least cold lead any place would need. */
function weigh(
  task: CrossingTask,
  lines: readonly CrossingLine[],
  places: readonly JointPlace[],
  way: WallWay,
  floor: StudLattice,
  blocked: Uint8Array,
): { candidates: Candidate[]; shortest: number } {
  const { pitch } = task.setting.lattice;
  const { wish } = task;
  const candidates: Candidate[] = [];
  let shortest = Number.POSITIVE_INFINITY;
  for (const line of lines) {
    const walk = floorWalk(floor, line.node, line.heading, blocked);
    const bars = barriers(way, [...task.laid, [line.from, line.to]]);
    const straight =
      distance(line.from, line.enter) + distance(line.leave, line.to) + distance(line.enter, line.leave);
    const middle: Point = [(line.enter[0] + line.leave[0]) / 2, (line.enter[1] + line.leave[1]) / 2];
    const open: { joint: number; cost: readonly number[] }[] = [];
    for (const { node, point, place } of places) {
      if (walk.steps[node] < 0 || walk.steps[node] * pitch < JOINT_RUN) continue;
      const { needed } = wayLength(way, place, bars);
      shortest = Math.min(shortest, needed);
      if (needed > task.coldLead) continue;
      const cost = [
        wish.crossing === null ? 0 : distance(middle, wish.crossing),
        wish.joint === null ? 0 : distance(point, wish.joint),
        line.slant > 1e-6 ? 1 : 0,
        walk.steps[node] * pitch + straight,
        walk.turns(node),
        needed,
      ];
      open.push({ joint: node, cost });
    }
    open.sort((a, b) => compare(a.cost, b.cost));
    const best = open.slice(0, JOINTS_TRIED).find(({ joint }) => {
      const nodes = walk.pathFrom(floor, joint);
      return keepsOwnRules(nodes, withoutStraights([...nodes, line.to]), task.setting, task.minBendRadius);
    });
    if (best !== undefined) candidates.push({ line, walk, bars, ...best });
  }
  candidates.sort((a, b) => compare(a.cost, b.cost));
  return { candidates, shortest };
}

function assemble(
  task: CrossingTask,
  candidate: Candidate,
  floor: StudLattice,
  way: WallWay,
): Crossing | null {
  const { dry, wet, curb, setting } = task;
  const { line } = candidate;
  const coldLead = coldLeadTo(way, nodePoint(floor, candidate.joint), candidate.bars);
  if (coldLead === null) return null;
  const onFloor = candidate.walk.pathFrom(floor, candidate.joint);
  const lead = withoutStraights([...onFloor, line.to]);
  const joint = lead[0];
  const parts = leadParts(lead, line, curb, setting);
  const keep = setting.spacing.min * setting.lattice.pitch;
  const corridor = tube(withoutStraights([...onFloor, line.enter]), keep)[0] ?? [];
  const middle: Point = [(line.enter[0] + line.leave[0]) / 2, (line.enter[1] + line.leave[1]) / 2];
  const climbs = curb !== null && curb.height > 0;
  return {
    lead,
    joint,
    entry: line.to,
    lastDry: line.from,
    enter: line.enter,
    leave: line.leave,
    slant: (line.slant * 180) / Math.PI,
    stud: climbs
      ? lastStud(line.from, line.heading, onFloor[onFloor.length - 2] ?? line.from, setting.lattice.pitch)
      : null,
    groove: climbs ? curb.groove : null,
    parts,
    leadIn: leadLength(parts),
    coldLead,
    missed: {
      crossing: task.wish.crossing === null ? null : distance(middle, task.wish.crossing),
      joint: task.wish.joint === null ? null : distance(joint, task.wish.joint),
    },
    dryExclusions: [
      ...(curb === null ? [] : [curbExclusion(curb, `${wet.id} curb`, dry.clearance)]),
      { id: `${wet.id} crossing`, shape: { kind: 'polygon', outline: corridor }, clearance: 0 },
      ...leadStrips(coldLead, dry, setting.lattice.pitch / 2, `${wet.id} cold lead`),
    ],
    wetExclusions: curb === null ? [] : [curbExclusion(curb, `${wet.id} curb`, wet.clearance)],
  };
}

/** Where a cold lead leaves the wall and passes a built-in, the heating cable of the floor must make room for it. */
export function leadStrips(lead: ColdLead, zone: Zone, halfWidth: number, id: string): Exclusion[] {
  const wallDistance = (p: Point): number => lineDistance(p, [...zone.outline, zone.outline[0]]);
  const strips: Exclusion[] = [];
  // The last piece only hops from the wall's way to the joint.
  for (let k = 1; k + 1 < lead.path.length; k += 1) {
    const [a, b] = [lead.path[k - 1], lead.path[k]];
    const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    if (wallDistance(middle) <= zone.clearance / 2 + 1) continue;
    const outline = tube([a, b], halfWidth)[0];
    if (outline !== undefined)
      strips.push({ id: `${id} ${strips.length + 1}`, shape: { kind: 'polygon', outline }, clearance: 0 });
  }
  return strips;
}

/** Whether the floor outside the corridor stays joined to its entry, and its buffer with it. */
function leavesFloorWhole(
  dry: Zone,
  floor: StudLattice,
  entry: number,
  crossing: Crossing,
  keep: number,
): boolean {
  const onDry = withoutStraights([...crossing.lead.slice(0, -1), crossing.enter]);
  const free = new Uint8Array(floor.free.length);
  let open = 0;
  const before = reachable(floor, entry);
  for (let v = 0; v < free.length; v += 1)
    if (before[v] === 1 && lineDistance(nodePoint(floor, v), onDry) >= keep - 0.25) {
      free[v] = 1;
      open += 1;
    }
  if (free[entry] === 0) return false;
  const east = floor.east.map((e, v) => (e === 1 && free[v] === 1 && free[v + 1] === 1 ? 1 : 0));
  const north = floor.north.map((e, v) => (e === 1 && free[v] === 1 && free[v + floor.nx] === 1 ? 1 : 0));
  const after = reachable({ ...floor, free, east, north }, entry);
  let joined = 0;
  let buffer = false;
  for (let v = 0; v < free.length; v += 1) {
    if (after[v] === 0) continue;
    joined += 1;
    if (!buffer && pointInRing(nodePoint(floor, v), dry.buffer)) buffer = true;
  }
  return buffer && open - joined <= CUT_OFF * open;
}
