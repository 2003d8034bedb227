/** Exact floating-point measures on points, segments and rings (mm, mm2); no polygon library. */
import type { Point, Ring } from '../problem.js';

export const distance = (a: Point, b: Point): number => {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  // Several times as fast as `Math.hypot`, which guards against squares beyond what a number holds.
  return Math.sqrt(dx * dx + dy * dy);
};

/** Point of the segment a-b that is nearest to p. */
export const nearestOnSegment = (p: Point, a: Point, b: Point): Point => {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const square = dx * dx + dy * dy;
  if (square === 0) return a;
  const t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square;
  if (t <= 0) return a;
  if (t >= 1) return b;
  return [a[0] + t * dx, a[1] + t * dy];
};

/** Distance from p to the closed segment a-b. */
export const pointSegmentDistance = (p: Point, a: Point, b: Point): number =>
  distance(p, nearestOnSegment(p, a, b));

/** Twice the signed area of the triangle a-b-c: positive when c lies to the left of a-b. */
export const cross = (a: Point, b: Point, c: Point): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

const inBox = (p: Point, a: Point, b: Point): boolean =>
  Math.min(a[0], b[0]) <= p[0] &&
  p[0] <= Math.max(a[0], b[0]) &&
  Math.min(a[1], b[1]) <= p[1] &&
  p[1] <= Math.max(a[1], b[1]);

/** Whether the closed segments a-b and c-d have a point in common. */
export const segmentsMeet = (a: Point, b: Point, c: Point, d: Point): boolean => {
  const c1 = cross(a, b, c);
  const c2 = cross(a, b, d);
  const c3 = cross(c, d, a);
  const c4 = cross(c, d, b);
  if (((c1 > 0 && c2 < 0) || (c1 < 0 && c2 > 0)) && ((c3 > 0 && c4 < 0) || (c3 < 0 && c4 > 0))) return true;
  return (
    (c1 === 0 && inBox(c, a, b)) ||
    (c2 === 0 && inBox(d, a, b)) ||
    (c3 === 0 && inBox(a, c, d)) ||
    (c4 === 0 && inBox(b, c, d))
  );
};

/** Nearest points of two segments: `onFirst` on a-b, `onSecond` on c-d. */
export interface Approach {
  readonly distance: number;
  readonly onFirst: Point;
  readonly onSecond: Point;
}

/** Nearest points of the closed segments a-b and c-d. */
export const closestApproach = (a: Point, b: Point, c: Point, d: Point): Approach => {
  const shared = meetingPoint(a, b, c, d);
  if (shared !== null) return { distance: 0, onFirst: shared, onSecond: shared };
  let best: Approach = { distance: Number.POSITIVE_INFINITY, onFirst: a, onSecond: c };
  const offer = (onFirst: Point, onSecond: Point): void => {
    const gap = distance(onFirst, onSecond);
    if (gap < best.distance) best = { distance: gap, onFirst, onSecond };
  };
  offer(a, nearestOnSegment(a, c, d));
  offer(b, nearestOnSegment(b, c, d));
  offer(nearestOnSegment(c, a, b), c);
  offer(nearestOnSegment(d, a, b), d);
  return best;
};

/** Distance between the closed segments a-b and c-d; 0 when they meet. */
export const segmentDistance = (a: Point, b: Point, c: Point, d: Point): number =>
  segmentsMeet(a, b, c, d)
    ? 0
    : Math.min(
        pointSegmentDistance(a, c, d),
        pointSegmentDistance(b, c, d),
        pointSegmentDistance(c, a, b),
        pointSegmentDistance(d, a, b),
      );

/** Point where the segments meet (a shared end where they overlap), or null. */
export const meetingPoint = (a: Point, b: Point, c: Point, d: Point): Point | null => {
  if (!segmentsMeet(a, b, c, d)) return null;
  const denominator = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
  if (denominator === 0) {
    for (const p of [c, d]) if (pointSegmentDistance(p, a, b) === 0) return p;
    return a;
  }
  const t = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / denominator;
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
};

/** Signed area of a ring: positive when counter-clockwise. */
export const signedArea = (ring: Ring): number => {
  const origin = ring[0];
  if (origin === undefined) return 0;
  let twice = 0;
  let previous = origin;
  for (const p of ring) {
    twice += cross(origin, previous, p);
    previous = p;
  }
  return twice / 2;
};

/** Length of an open polyline. */
export const polylineLength = (path: Ring): number => {
  let sum = 0;
  for (let k = 1; k < path.length; k += 1) sum += distance(path[k - 1], path[k]);
  return sum;
};

/** Distance from p to the closed ring's edges; Infinity for an empty ring. */
export const ringDistance = (p: Point, ring: Ring): number => {
  let best = Number.POSITIVE_INFINITY;
  let previous = ring[ring.length - 1];
  for (const q of ring) {
    if (previous !== undefined) best = Math.min(best, pointSegmentDistance(p, previous, q));
    previous = q;
  }
  return best;
};

/** Even-odd test against a simple ring; a point exactly on an edge is inside. */
export const pointInRing = (p: Point, ring: Ring): boolean => {
  let inside = false;
  let a = ring[ring.length - 1];
  for (const b of ring) {
    if (a !== undefined) {
      const side = cross(a, b, p);
      if (side === 0 && inBox(p, a, b)) return true;
      if (a[1] > p[1] !== b[1] > p[1] && side > 0 === b[1] > a[1]) inside = !inside;
    }
    a = b;
  }
  return inside;
};

/** Distance to the ring's boundary: positive inside, negative outside. */
export const depthInRing = (p: Point, ring: Ring): number => {
  const d = ringDistance(p, ring);
  return pointInRing(p, ring) ? d : -d;
};

export const isHorizontal = (a: Point, b: Point, within = 0): boolean => Math.abs(a[1] - b[1]) <= within;
export const isVertical = (a: Point, b: Point, within = 0): boolean => Math.abs(a[0] - b[0]) <= within;

/** Whether the segment runs along x or y (a segment of no length does both). */
export const isAxisParallel = (a: Point, b: Point, within = 0): boolean =>
  isHorizontal(a, b, within) || isVertical(a, b, within);
