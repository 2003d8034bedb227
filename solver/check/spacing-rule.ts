import { closestApproach, cross, distance, nearestOnSegment } from '../geometry/measure.js';
import type { Point, Setting } from '../problem.js';
import type { Line } from './line.js';
import type { RuleVerdict, Violation } from './report.js';
import { segmentGrid } from './segment-grid.js';
import { mm, verdictOf, type Worst } from './verdict.js';

/** Path length that two near points may have between them beyond sqrt(2) times their distance, mm. */
const CORNER_ALLOWANCE = 1;

/** Points this little (mm) nearer than the limit are at the limit: coordinates are floats. */
const NOISE = 0.01;

/** After this many violating pairs of segments the rest is left unread: the verdict cannot change. */
const ENOUGH = 2000;

/** One segment with the sharp length from the start of the line to its first point. */
interface Leg {
  readonly from: Point;
  readonly to: Point;
  readonly position: number;
  readonly length: number;
}

const at = (leg: Leg, s: number): Point => {
  const t = leg.length === 0 ? 0 : s / leg.length;
  return [leg.from[0] + t * (leg.to[0] - leg.from[0]), leg.from[1] + t * (leg.to[1] - leg.from[1])];
};

/**
 * Most by which the path from p (at position `position`) to a point q of the later leg exceeds sqrt(2) |pq|, over
 * the q within `reach` of p; -Infinity where there is none. With q at u along the leg, measured from p's foot at
 * height h, the excess is u - sqrt(2) sqrt(h^2 + u^2) + const: concave, greatest at u = h.
 */
const excessFrom = (p: Point, position: number, later: Leg, reach: number): number => {
  const { from, to, length } = later;
  const foot = ((p[0] - from[0]) * (to[0] - from[0]) + (p[1] - from[1]) * (to[1] - from[1])) / length;
  const height = Math.abs(cross(from, to, p)) / length;
  const half = Math.sqrt(Math.max(0, reach * reach - height * height));
  const low = Math.max(0, foot - half);
  const high = Math.min(length, foot + half);
  if (height > reach || low > high) return Number.NEGATIVE_INFINITY;
  const u = Math.min(high, Math.max(low, foot + height));
  return later.position + u - position - Math.SQRT2 * Math.hypot(height, u - foot);
};

/**
 * Whether a point s of the earlier leg and a point t of the later one lie within `reach` with a path of more than
 * sqrt(2) times their distance + CORNER_ALLOWANCE between them. For straight legs t - s is linear and the distance
 * convex in (s, t), so the excess is concave and the pairs within reach form a convex set: what is left after
 * maximising over t in closed form is concave in s on an interval, and a section search finds its maximum.
 */
const breaks = (earlier: Leg, later: Leg, reach: number, near: Point): boolean => {
  const excess = (s: number): number => excessFrom(at(earlier, s), earlier.position + s, later, reach);
  const middle = distance(earlier.from, near);
  if (excess(middle) > CORNER_ALLOWANCE) return true;
  // End of the interval of s within reach of the later leg, from the nearest point outwards.
  const edge = (outer: number): number => {
    const far = (s: number): boolean => {
      const p = at(earlier, s);
      return distance(p, nearestOnSegment(p, later.from, later.to)) > reach;
    };
    if (!far(outer)) return outer;
    let [inside, outside] = [middle, outer];
    for (let k = 0; k < 50; k += 1) {
      const half = (inside + outside) / 2;
      if (far(half)) outside = half;
      else inside = half;
    }
    return inside;
  };
  let low = edge(0);
  let high = edge(earlier.length);
  if (Math.max(excess(low), excess(high)) > CORNER_ALLOWANCE) return true;
  const golden = (Math.sqrt(5) - 1) / 2;
  let [left, right] = [high - golden * (high - low), low + golden * (high - low)];
  let [atLeft, atRight] = [excess(left), excess(right)];
  while (high - low > 1e-4) {
    if (Math.max(atLeft, atRight) > CORNER_ALLOWANCE) return true;
    if (atLeft > atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - golden * (high - low);
      atLeft = excess(left);
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + golden * (high - low);
      atRight = excess(right);
    }
  }
  return false;
};

/** What is wrong between two legs; `turn`: angle of the corner they make, null where they make none. */
const messageOf = (apart: number, limit: number, turn: number | null): string => {
  if (turn !== null && turn < Math.PI - 1e-3)
    return `A corner of ${Math.round((turn * 180) / Math.PI)} degrees is sharper than a right angle: its legs come within ${mm(limit)} of one another.`;
  return apart < NOISE
    ? 'The cable crosses or touches itself.'
    : `Two runs are ${mm(apart)} apart, ${mm(limit)} is the least.`;
};

/**
 * Any two points of path and reserve that are nearer than spacing.min x pitch have at most sqrt(2) times their
 * distance (+ 1 mm) of sharp path between them. `worst` is the least distance between two stretches that are not
 * the legs of one corner, looked for up to one stud beyond the limit.
 */
export const spacingRule = (setting: Setting, line: Line): RuleVerdict => {
  const limit = setting.spacing.min * setting.lattice.pitch;
  const reach = limit - NOISE;
  const legs: Leg[] = [];
  for (let k = 0; k + 1 < line.points.length; k += 1) {
    const position = line.positions[k];
    const length = line.positions[k + 1] - position;
    legs.push({ from: line.points[k], to: line.points[k + 1], position, length });
  }
  const look = limit + setting.lattice.pitch;
  const grid = segmentGrid(line.points, line.end, look);
  const violations: Violation[] = [];
  let worst: Worst = { value: Number.POSITIVE_INFINITY, at: null };
  const judge = (earlier: Leg, later: Leg, turn: number | null): void => {
    const span = later.position + later.length - earlier.position;
    if (span <= CORNER_ALLOWANCE) return;
    const near = closestApproach(earlier.from, earlier.to, later.from, later.to);
    // The corner's own legs, and any stretch too short to stray from its ends.
    const tame = span <= Math.SQRT2 * near.distance + CORNER_ALLOWANCE;
    const broken = !tame && near.distance < reach && breaks(earlier, later, reach, near.onFirst);
    if (!broken && near.distance < reach) return;
    if (near.distance < worst.value) worst = { value: near.distance, at: near.onFirst };
    if (!broken) return;
    const message = messageOf(near.distance, limit, turn);
    violations.push({ at: near.onFirst, size: near.distance, message });
  };
  for (let k = 1; k < legs.length && violations.length < ENOUGH; k += 1) {
    grid.earlierNear(k, (other) => {
      const corner = line.corners[k - 1];
      const turn = other === k - 1 ? Math.abs(corner.turn) : null;
      // The legs of a corner of up to a right angle keep the rule: |legs| <= distance / cos(turn / 2).
      if (turn !== null && turn <= Math.PI / 2 + 1e-6) return;
      judge(legs[other], legs[k], turn);
    });
  }
  return verdictOf('spacing', limit, worst, violations, limit, -1);
};
