import { cross, distance } from '../geometry/measure.js';
import type { Point, Trace } from '../problem.js';

/** A change of direction. `turn` is the angle in radians, positive to the left, pi for a reversal. */
export interface Corner {
  readonly at: Point;
  /** Sharp length from the start of the line. */
  readonly position: number;
  readonly turn: number;
  /** Cable that rounding the corner saves, mm. */
  readonly saving: number;
}

/**
 * Path and reserve as one polyline with straight vertices, repeated vertices and unusable points dropped.
 * Positions are sharp lengths from the start, mm.
 */
export interface Line {
  readonly points: readonly Point[];
  /** Position of each point. */
  readonly positions: readonly number[];
  readonly corners: readonly Corner[];
  /** Position where the path ends and the reserve begins. */
  readonly pathEnd: number;
  /** Position of the last point. */
  readonly end: number;
}

/** A turn of less than this (radians) is drawing noise. */
const STRAIGHT = 1e-6;

/** Points nearer than this (mm) are one. */
const SAME = 1e-6;

/** Coordinates beyond this (mm) are taken for mistakes. */
const FARTHEST = 1e7;

/** Whether p is a point that can be measured: finite and within 10 km. */
export const isUsable = (p: Point): boolean => Math.abs(p[0]) <= FARTHEST && Math.abs(p[1]) <= FARTHEST;

/** Angle from direction a-b to b-c, positive to the left. */
const turnAt = (a: Point, b: Point, c: Point): number => {
  const dot = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]);
  return Math.atan2(cross(a, b, c), dot);
};

/**
 * Cable saved by rounding a corner of `angle` radians with radius r: both tangents less the arc,
 * (2 tan(angle/2) - angle) r, which is (2 - pi/2) r at a right angle; sharper corners save no more than that one.
 */
const savingAt = (angle: number, radius: number): number => {
  const bounded = Math.min(Math.abs(angle), Math.PI / 2);
  return (2 * Math.tan(bounded / 2) - bounded) * radius;
};

/** The line that a trace draws; corners are rounded with `radius` mm. */
export const lineOf = (trace: Trace, radius: number): Line => {
  const raw = [...trace.path, ...trace.reserve].filter(isUsable);
  const pathCount = trace.path.filter(isUsable).length;
  const points: Point[] = [];
  const positions: number[] = [];
  const corners: Corner[] = [];
  let pathEnd = 0;
  let end = 0;
  raw.forEach((p, k) => {
    const last = points[points.length - 1];
    const step = last === undefined ? 0 : distance(last, p);
    if (last === undefined) {
      points.push(p);
      positions.push(0);
    } else if (step > SAME) {
      const before = points[points.length - 2];
      const turn = before === undefined ? 0 : turnAt(before, last, p);
      if (before !== undefined && Math.abs(turn) <= STRAIGHT) {
        points.pop();
        positions.pop();
      } else if (before !== undefined) {
        corners.push({ at: last, position: end, turn, saving: savingAt(turn, radius) });
      }
      end += step;
      points.push(p);
      positions.push(end);
    }
    if (k === pathCount - 1) pathEnd = end;
  });
  return { points, positions, corners, pathEnd, end };
};

/** Point of the line at a position (clamped to the line); the origin for an empty line. */
export const pointAt = (line: Line, position: number): Point => {
  const { points, positions } = line;
  const first = points[0];
  if (first === undefined) return [0, 0];
  let k = 1;
  let beyond = points.length - 1;
  while (k < beyond) {
    const middle = (k + beyond) >> 1;
    if (positions[middle] < position) k = middle + 1;
    else beyond = middle;
  }
  const [a, b] = [points[k - 1], points[k]];
  if (b === undefined || position <= 0) return first;
  const t = Math.min(1, (position - positions[k - 1]) / (positions[k] - positions[k - 1]));
  return t === 1 ? b : [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
};

/** The stretch from `from` to `to` as a polyline (one point if they are equal). */
export const stretch = (line: Line, from: number, to: number): Point[] => {
  const part: Point[] = [pointAt(line, from)];
  line.positions.forEach((position, k) => {
    if (position > from && position < to) part.push(line.points[k]);
  });
  if (to > from) part.push(pointAt(line, to));
  return part;
};

/**
 * Cable used up at a position: lead-in + sharp length - savings of the corners strictly before it. A corner's
 * saving is booked whole as soon as the line has passed the corner, as the length rule does with the last leg,
 * however short; so just behind a corner the cable used drops by the saving.
 */
export const cableAt = (line: Line, leadIn: number, position: number): number => {
  let used = leadIn + position;
  for (const corner of line.corners) if (corner.position < position) used -= corner.saving;
  return used;
};

/**
 * Furthest position at which no more than `cable` mm are used up, null if that is the end of the line with cable
 * to spare. Where the drop at a corner leaves two positions, this is the later one.
 */
export const latestAt = (line: Line, leadIn: number, cable: number): number | null => {
  let spare = cable - leadIn;
  let found = Math.max(0, Math.min(spare, line.corners[0]?.position ?? line.end));
  line.corners.forEach((corner, k) => {
    spare += corner.saving;
    if (spare < corner.position) return;
    found = Math.min(spare, line.corners[k + 1]?.position ?? line.end);
  });
  return spare > line.end ? null : found;
};

/** First position at which at least `cable` mm are used up; null if the line is shorter. */
export const earliestAt = (line: Line, leadIn: number, cable: number): number | null => {
  let needed = cable - leadIn;
  let begin = 0;
  for (const corner of line.corners) {
    if (needed <= corner.position) return Math.max(needed, begin);
    needed += corner.saving;
    begin = corner.position;
  }
  return needed <= line.end ? Math.max(needed, begin) : null;
};
