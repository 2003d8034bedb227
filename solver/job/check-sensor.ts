/** Judges a sensor's place by the plain drawing; shares nothing with the search but measures and types. */
import {
  distance,
  meetingPoint,
  pointInRing,
  pointSegmentDistance,
  ringDistance,
  segmentDistance,
} from '../geometry/measure.js';
import type { Point, Ring } from '../problem.js';
import type { SensorPlace, SensorTask } from './sensor.js';

export type SensorRule = 'dry-floor' | 'midway' | 'depth' | 'lead-at-wall' | 'lead-crosses' | 'lead-on-floor';

export interface SensorFault {
  readonly rule: SensorRule;
  readonly at: Point;
  /** mm. */
  readonly size: number;
  readonly message: string;
}

const NEAR = 0.5;

const legs = (line: Ring): [Point, Point][] => line.slice(1).map((p, k) => [line[k], p]);
const edges = (ring: Ring): [Point, Point][] => ring.map((p, k) => [p, ring[(k + 1) % ring.length]]);

/** Every rule the place breaks; `wet` are the outlines of showers. Common practice, no source. */
export function checkSensor(
  task: SensorTask,
  place: SensorPlace,
  wet: readonly Ring[] = [],
): readonly SensorFault[] {
  const faults: SensorFault[] = [];
  const { at, lead } = place;
  const { zone } = task;
  if (!pointInRing(at, zone.outline) || wet.some((ring) => pointInRing(at, ring)) || zone.wet)
    faults.push({
      rule: 'dry-floor',
      at,
      size: ringDistance(at, zone.outline),
      message: 'The sensor lies off the dry floor.',
    });

  const heating = legs(task.trace.path);
  const sides = [sideOf(at, heating, 0), sideOf(at, heating, 1)].map(([one, two]) => ({
    one,
    two,
    off: Math.abs(one - two),
  }));
  const fits = sides.some(
    ({ one, two, off }) => off <= NEAR && one + two <= task.spacing.max * task.lattice.pitch + NEAR,
  );
  const nearest = Math.min(
    ...[...heating, ...legs(task.trace.reserve), ...task.heating.flatMap(legs)].map(([a, b]) =>
      pointSegmentDistance(at, a, b),
    ),
  );
  const half = Math.min(...sides.filter(({ off }) => off <= NEAR).map(({ one }) => one));
  if (!fits || nearest < half - NEAR)
    faults.push({
      rule: 'midway',
      at,
      size: Math.min(...sides.map(({ off }) => off)),
      message: 'The sensor does not lie midway between two parallel runs.',
    });

  let depth = ringDistance(at, zone.outline) - zone.clearance;
  for (const { shape, clearance } of zone.exclusions) {
    if (shape.kind === 'circle')
      depth = Math.min(depth, distance(at, shape.center) - shape.radius - clearance);
    else if (shape.outline.length >= 3)
      depth = Math.min(
        depth,
        (pointInRing(at, shape.outline) ? 0 : ringDistance(at, shape.outline)) - clearance,
      );
  }
  if (depth < task.depth - NEAR)
    faults.push({
      rule: 'depth',
      at,
      size: task.depth - depth,
      message: `The sensor lies only ${depth.toFixed(0)} mm inside the heated area.`,
    });

  faults.push(...checkLead(task, place, lead));
  return faults;
}

/** Distance to the nearest piece on either side along one axis that runs across that axis; Infinity if none. */
function sideOf([x, y]: Point, heating: readonly [Point, Point][], axis: 0 | 1): [number, number] {
  const own = axis === 0 ? x : y;
  const cross = axis === 0 ? y : x;
  let [below, above] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const [a, b] of heating) {
    if (Math.abs(a[axis] - b[axis]) > NEAR) continue;
    const [low, high] = [Math.min(a[1 - axis], b[1 - axis]), Math.max(a[1 - axis], b[1 - axis])];
    if (cross < low - NEAR || cross > high + NEAR) continue;
    const d = a[axis] - own;
    if (d < 0) below = Math.min(below, -d);
    else above = Math.min(above, d);
  }
  return [below, above];
}

function checkLead(task: SensorTask, { at, length }: SensorPlace, lead: Ring): SensorFault[] {
  const faults: SensorFault[] = [];
  const { zone, lattice } = task;
  const box = task.thermostat.at;
  const start = lead[0] ?? at;
  const end = lead[lead.length - 1] ?? at;
  if (distance(end, at) > NEAR)
    faults.push({
      rule: 'lead-on-floor',
      at: end,
      size: distance(end, at),
      message: 'The lead does not end at the sensor.',
    });
  const shared = edges(zone.outline).some(
    ([a, b]) => pointSegmentDistance(start, a, b) <= NEAR && pointSegmentDistance(box, a, b) <= 100 + NEAR,
  );
  if (!shared)
    faults.push({
      rule: 'lead-at-wall',
      at: start,
      size: ringDistance(start, zone.outline),
      message: "The lead does not leave the thermostat's wall.",
    });
  const floor = legs(lead).reduce((sum, [a, b]) => sum + distance(a, b), 0);
  if (Math.abs(floor - length.floor) > NEAR)
    faults.push({
      rule: 'lead-on-floor',
      at: start,
      size: floor - length.floor,
      message: 'The length of the lead is stated wrongly.',
    });
  for (const [a, b] of legs(lead)) {
    if (!pointInRing(b, zone.outline))
      faults.push({
        rule: 'lead-on-floor',
        at: b,
        size: ringDistance(b, zone.outline),
        message: 'The lead leaves the floor.',
      });
    for (const { shape, id } of zone.exclusions) {
      const runsInto =
        shape.kind === 'circle'
          ? pointSegmentDistance(shape.center, a, b) < shape.radius - NEAR
          : shape.outline.length >= 3 &&
            (pointInRing(b, shape.outline) ||
              edges(shape.outline).some(([c, d]) => segmentDistance(a, b, c, d) === 0));
      if (runsInto)
        faults.push({ rule: 'lead-on-floor', at: b, size: 0, message: `The lead runs under "${id}".` });
    }
    for (const [c, d] of [task.trace.path, task.trace.reserve, ...task.heating].flatMap(legs))
      if (segmentDistance(a, b, c, d) < lattice.pitch / 2 - NEAR)
        faults.push({
          rule: 'lead-crosses',
          at: c,
          size: segmentDistance(a, b, c, d),
          message: 'The lead crosses or touches the heating cable.',
        });
    for (const [c, d] of task.coldLeads.flatMap(legs)) {
      const meets = meetingPoint(a, b, c, d);
      if (meets !== null && distance(meets, box) > 2 * lattice.pitch + 100)
        faults.push({
          rule: 'lead-crosses',
          at: meets,
          size: 0,
          message: 'The lead crosses a cold lead away from the thermostat.',
        });
    }
  }
  return faults;
}
