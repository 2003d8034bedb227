/**
 * Judges a crossing by the plain geometry of the drawing; shares nothing with the search but measures and types.
 * Sources of the rules: common practice, no source, unless said otherwise.
 */
import {
  cross,
  distance,
  pointInRing,
  pointSegmentDistance,
  ringDistance,
  segmentDistance,
} from '../geometry/measure.js';
import type { Point, Ring, Shape, Trace } from '../problem.js';
import { checkOwnRules } from './check-own-rules.js';
import type { Crossing, CrossingTask } from './crossing.js';

export type CrossingRule =
  | 'crosses-once'
  | 'square'
  | 'curb-body'
  | 'joint-on-dry-floor'
  | 'lead-on-channels'
  | 'lead-clear'
  | 'lead-spacing'
  | 'lead-bends'
  | 'entry'
  | 'length'
  | 'wrap'
  | 'cold-lead'
  | 'corridor';

export interface CrossingFault {
  readonly rule: CrossingRule;
  readonly at: Point;
  /** mm, or degrees for 'square', or a count for 'crosses-once'. */
  readonly size: number;
  readonly message: string;
}

/** Drawing tolerance, mm. */
const NEAR = 0.5;

const edges = (ring: Ring): [Point, Point][] => ring.map((p, k) => [p, ring[(k + 1) % ring.length]]);

const legs = (line: Ring): [Point, Point][] => line.slice(1).map((p, k) => [line[k], p]);

/** Every maximal stretch of the line inside the ring, with both ends on the line, by cutting it at every edge. */
function inside(line: Ring, ring: Ring): { from: Point; to: Point; leg: number }[] {
  const found: { from: Point; to: Point; leg: number }[] = [];
  legs(line).forEach(([a, b], leg) => {
    const ts = [0, 1];
    for (const [c, d] of edges(ring)) {
      const [u, v] = [cross(c, d, a), cross(c, d, b)];
      if (u * v >= 0) continue;
      const t = u / (u - v);
      const x: Point = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
      if (pointSegmentDistance(x, c, d) < 1e-6) ts.push(t);
    }
    ts.sort((u, v) => u - v);
    const at = (t: number): Point => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    for (let k = 1; k < ts.length; k += 1) {
      if (ts[k] - ts[k - 1] < 1e-9) continue;
      const middle = at((ts[k] + ts[k - 1]) / 2);
      if (!pointInRing(middle, ring) || ringDistance(middle, ring) < 1e-6) continue;
      const [from, to] = [at(ts[k - 1]), at(ts[k])];
      const last = found[found.length - 1];
      if (last !== undefined && distance(last.to, from) < 1e-6)
        found[found.length - 1] = { ...last, to, leg };
      else found.push({ from, to, leg });
    }
  });
  return found;
}

/** Distance of a segment from a no-heat area's shape; -1 where it runs into it, 0 where it only touches. */
const gapTo = (a: Point, b: Point, shape: Shape): number => {
  if (shape.kind === 'circle') {
    const gap = pointSegmentDistance(shape.center, a, b) - shape.radius;
    return gap < 0 ? -1 : gap;
  }
  if (shape.outline.length < 3) return Number.POSITIVE_INFINITY;
  if (inside([a, b], shape.outline).some((s) => distance(s.from, s.to) > NEAR)) return -1;
  return Math.min(...edges(shape.outline).map(([c, d]) => segmentDistance(a, b, c, d)));
};

/** Angle between the leg and the normal of the ring's edge that passes through p, degrees; 90 when there is none. */
const offSquare = (p: Point, a: Point, b: Point, ring: Ring): number => {
  let best = 90;
  for (const [c, d] of edges(ring)) {
    if (pointSegmentDistance(p, c, d) > NEAR) continue;
    const dot = (b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1]);
    best = Math.min(
      best,
      (Math.asin(Math.min(1, Math.abs(dot) / (distance(a, b) * distance(c, d)))) * 180) / Math.PI,
    );
  }
  return best;
};

/** Every rule that the crossing breaks, with the finished traces of both floors where they are known. */
export function checkCrossing(
  task: CrossingTask,
  crossing: Crossing,
  traces: { readonly dry: Trace | null; readonly wet: Trace | null } = { dry: null, wet: null },
): readonly CrossingFault[] {
  const { lead } = crossing;
  if (lead.length < 2)
    return [
      { rule: 'crosses-once', at: crossing.joint, size: 0, message: 'The heating cable never crosses.' },
    ];
  return [
    ...checkLine(task, crossing),
    ...checkFloor(task, crossing),
    ...checkOwnRules(task, crossing),
    ...checkLengths(task, crossing),
    ...checkColdLead(task, crossing),
    ...checkTraces(task, crossing, traces),
  ];
}

/** Once, over the top, square; the joint and the way to it on the dry side, the entry on the wet side. */
function checkLine(task: CrossingTask, { lead, enter, leave }: Crossing): CrossingFault[] {
  const faults: CrossingFault[] = [];
  const { dry, wet, curb } = task;
  const ring = curb === null ? wet.outline : curb.outline;
  const over = inside(lead, ring);
  if (over.length !== 1) {
    faults.push({
      rule: 'crosses-once',
      at: over[1]?.from ?? enter,
      size: over.length,
      message: `The heating cable crosses ${over.length} times; it must cross exactly once.`,
    });
    return faults;
  }
  const only = over[0];
  const a = lead[only.leg];
  const b = lead[only.leg + 1];
  const sides =
    curb === null
      ? [offSquare(only.from, a, b, wet.outline), offSquare(enter, a, b, dry.outline)]
      : [offSquare(only.from, a, b, ring), offSquare(only.to, a, b, ring)];
  const worst = Math.max(...sides);
  if (worst > 3 + 1e-6)
    faults.push({
      rule: 'square',
      at: only.from,
      size: worst,
      message: `The crossing stands ${worst.toFixed(1)} degrees off square.`,
    });
  const misplaced = curb === null ? 0 : Math.max(distance(only.from, enter), distance(only.to, leave));
  if (misplaced > NEAR || only.leg !== lead.length - 2)
    faults.push({
      rule: 'curb-body',
      at: only.from,
      size: misplaced,
      message: 'The cable meets the curb elsewhere than at the faces stated, or turns on it.',
    });
  const others = inside(lead, wet.outline);
  if (others.length > 1 || (others[0] !== undefined && distance(others[0].to, lead[lead.length - 1]) > NEAR))
    faults.push({
      rule: 'crosses-once',
      at: others[0]?.from ?? enter,
      size: others.length,
      message: 'The heating cable enters the shower and leaves it again before its entry.',
    });
  if (!pointInRing(lead[0], dry.outline))
    faults.push({
      rule: 'joint-on-dry-floor',
      at: lead[0],
      size: ringDistance(lead[0], dry.outline),
      message: 'The joint lies outside the dry floor.',
    });
  return faults;
}

function checkFloor(task: CrossingTask, crossing: Crossing): CrossingFault[] {
  const faults: CrossingFault[] = [];
  const { dry, wet, curb, setting } = task;
  const { lead, joint, entry, lastDry, enter } = crossing;
  const { pitch, origin } = setting.lattice;
  if (distance(joint, lead[0]) > NEAR || distance(entry, lead[lead.length - 1]) > NEAR)
    faults.push({
      rule: 'joint-on-dry-floor',
      at: joint,
      size: distance(joint, lead[0]),
      message: 'The lead does not run from the joint to the entry.',
    });
  if (pointInRing(joint, wet.outline) || (curb !== null && pointInRing(joint, curb.outline)))
    faults.push({
      rule: 'joint-on-dry-floor',
      at: joint,
      size: ringDistance(joint, wet.outline),
      message: 'The joint lies in the shower or in its curb.',
    });
  for (const p of lead.slice(0, -1)) {
    const off =
      Math.max(
        ...[0, 1].map((k) => Math.abs((p[k] - origin[k]) / pitch - Math.round((p[k] - origin[k]) / pitch))),
      ) * pitch;
    if (off > NEAR)
      faults.push({
        rule: 'lead-on-channels',
        at: p,
        size: off,
        message: 'A corner of the run over the dry floor is not on a stud channel crossing.',
      });
  }
  const dryLegs = [...legs([...lead.slice(0, -1), lastDry])];
  for (const [a, b] of dryLegs) {
    if (Math.abs(a[0] - b[0]) > NEAR && Math.abs(a[1] - b[1]) > NEAR)
      faults.push({
        rule: 'lead-on-channels',
        at: a,
        size: distance(a, b),
        message: 'The run over the dry floor leaves the stud channels.',
      });
    const wall = Math.min(...edges(dry.outline).map(([c, d]) => segmentDistance(a, b, c, d)));
    if (wall < dry.clearance - NEAR || !pointInRing(a, dry.outline))
      faults.push({
        rule: 'lead-clear',
        at: a,
        size: dry.clearance - wall,
        message: `The run over the dry floor comes within ${wall.toFixed(0)} mm of a wall; ${dry.clearance} mm are kept.`,
      });
    if (curb !== null) {
      const gap = gapTo(a, b, { kind: 'polygon', outline: curb.outline });
      if (gap < dry.clearance - NEAR)
        faults.push({
          rule: 'curb-body',
          at: a,
          size: dry.clearance - gap,
          message: 'The run over the dry floor lies too near the curb.',
        });
    }
  }
  for (const zone of [dry, wet])
    for (const x of zone.exclusions) {
      const worst = Math.min(...legs(lead).map(([a, b]) => gapTo(a, b, x.shape)));
      if (worst < x.clearance - NEAR)
        faults.push({
          rule: 'lead-clear',
          at: enter,
          size: x.clearance - worst,
          message: `The heating cable to the shower comes too near the no-heat area "${x.id}".`,
        });
    }
  for (const line of [...task.laid, ...task.coldLeads])
    for (const [a, b] of legs(line))
      for (const [c, d] of legs(lead)) {
        if (segmentDistance(a, b, c, d) > 0) continue;
        faults.push({
          rule: 'lead-clear',
          at: a,
          size: 0,
          message: 'The heating cable to the shower crosses a lead that already lies there.',
        });
      }
  const depth = ringDistance(entry, wet.outline);
  if (!pointInRing(entry, wet.outline) || depth < wet.clearance - NEAR)
    faults.push({
      rule: 'entry',
      at: entry,
      size: wet.clearance - depth,
      message: 'The entry of the shower lies outside its routing area.',
    });
  return faults;
}

function checkLengths(
  task: CrossingTask,
  { lead, enter, leave, parts, leadIn, stud, lastDry }: Crossing,
): CrossingFault[] {
  const faults: CrossingFault[] = [];
  const { curb, setting } = task;
  const r = setting.lattice.pitch / 2;
  const climbs = curb !== null && curb.height > 0;
  let plan = 0;
  let saved = 0;
  legs(lead).forEach(([a, b], k) => {
    plan += distance(a, b);
    const c = lead[k + 2];
    if (c === undefined) return;
    const turn = Math.acos(
      Math.max(
        -1,
        Math.min(
          1,
          ((b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])) / (distance(a, b) * distance(b, c)),
        ),
      ),
    );
    saved += 2 * r * Math.tan(turn / 2) - r * turn;
  });
  const over = climbs ? curb.height + curb.descent + Math.PI * r - 4 * (2 - Math.PI / 2) * r : 0;
  const expected = plan - saved + over;
  if (Math.abs(expected - leadIn) > 0.1)
    faults.push({
      rule: 'length',
      at: enter,
      size: leadIn - expected,
      message: `The heating cable before the shower measures ${expected.toFixed(1)} mm, stated are ${leadIn.toFixed(1)} mm.`,
    });
  const sum = parts.run + parts.climb + parts.top + parts.descent + parts.wrap - parts.cornerSaving;
  if (Math.abs(sum - leadIn) > 0.1 || Math.abs(parts.top - distance(enter, leave)) > 0.1)
    faults.push({
      rule: 'length',
      at: enter,
      size: sum - leadIn,
      message: 'The parts of the lead do not add up to its length.',
    });
  if (climbs && (stud === null || Math.abs(distance(stud, lastDry) - r * Math.SQRT2) > NEAR))
    faults.push({
      rule: 'wrap',
      at: lastDry,
      size: stud === null ? 0 : distance(stud, lastDry),
      message: 'The cable does not wrap the last stud before the climb.',
    });
  return faults;
}

function checkColdLead(task: CrossingTask, { coldLead, joint, lead }: Crossing): CrossingFault[] {
  const faults: CrossingFault[] = [];
  const { path } = coldLead;
  const bad = (at: Point, size: number, message: string): void => {
    faults.push({ rule: 'cold-lead', at, size, message });
  };
  const first = path[0] ?? joint;
  const end = path[path.length - 1] ?? joint;
  if (distance(first, task.thermostat.at) > 100 + NEAR || ringDistance(first, task.dry.outline) > NEAR)
    bad(first, distance(first, task.thermostat.at), 'The cold lead does not begin at the thermostat.');
  if (distance(end, joint) > NEAR) bad(end, distance(end, joint), 'The cold lead does not end at the joint.');
  const needed = legs(path).reduce((sum, [a, b]) => sum + distance(a, b), 0) + task.thermostat.height;
  if (needed > task.coldLead + NEAR)
    bad(end, needed - task.coldLead, `The cold lead is ${(needed - task.coldLead).toFixed(0)} mm too short.`);
  if (Math.abs(needed - coldLead.needed) > 1)
    bad(end, needed - coldLead.needed, 'The length of the cold lead is stated wrongly.');
  for (const [a, b] of legs(path)) {
    const onWall = ringDistance(a, task.dry.outline) < NEAR && ringDistance(b, task.dry.outline) < NEAR;
    if (inside([a, b], task.wet.outline).some((s) => distance(s.from, s.to) > NEAR))
      bad(a, 0, 'The cold lead runs into the shower.');
    const curbed = task.curb;
    if (curbed !== null && inside([a, b], curbed.outline).some((s) => distance(s.from, s.to) > NEAR))
      bad(a, 0, 'The cold lead runs into the curb.');
    if (onWall) continue;
    for (const x of task.dry.exclusions) {
      const runsUnder = gapTo(a, b, x.shape) < 0;
      if (runsUnder) bad(a, 0, `The cold lead runs under "${x.id}".`);
    }
    for (const [c, d] of legs(lead))
      if (segmentDistance(a, b, c, d) === 0 && distance(b, joint) > NEAR)
        bad(a, 0, 'The cold lead crosses the heating cable to the shower.');
  }
  return faults;
}

function checkTraces(
  task: CrossingTask,
  { lead, entry, lastDry, enter }: Crossing,
  traces: { readonly dry: Trace | null; readonly wet: Trace | null },
): CrossingFault[] {
  const faults: CrossingFault[] = [];
  const keep = task.setting.spacing.min * task.setting.lattice.pitch;
  const onDry = [...lead.slice(0, -1), lastDry, enter];
  if (traces.dry !== null)
    for (const [a, b] of [...legs(traces.dry.path), ...legs(traces.dry.reserve)]) {
      const gap = Math.min(...legs(onDry).map(([c, d]) => segmentDistance(a, b, c, d)));
      if (gap < keep - NEAR)
        faults.push({
          rule: 'corridor',
          at: a,
          size: keep - gap,
          message: `The dry floor's cable comes within ${gap.toFixed(0)} mm of the run to the shower.`,
        });
    }
  const start = traces.wet?.path[0];
  if (start !== undefined && distance(start, entry) > NEAR)
    faults.push({
      rule: 'entry',
      at: start,
      size: distance(start, entry),
      message: "The shower's cable does not begin where the crossing ends.",
    });
  const { curb } = task;
  if (curb === null) return faults;
  for (const trace of [traces.dry, traces.wet]) {
    if (trace === null) continue;
    for (const [a, b] of [...legs(trace.path), ...legs(trace.reserve)])
      if (gapTo(a, b, { kind: 'polygon', outline: curb.outline }) < NEAR)
        faults.push({
          rule: 'curb-body',
          at: a,
          size: 0,
          message: 'A cable runs under or through the curb.',
        });
  }
  return faults;
}
