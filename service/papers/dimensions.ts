import type { Point, Ring } from '../../solver/problem.js';
import { type Box, boxOf, insideRing } from './clip.js';
import { flip, lineData, type Mark, textWidth } from './marks.js';
import type { Display } from './model.js';
import { INK, PENS, pen } from './pens.js';
import { dimensionText } from './units.js';

/** Text height, distance from the outline to the first dimension line, and between lines: mm on paper. */
export const DIMENSION_TEXT = 2.9;
const FIRST = 7;
const LEVEL = 5.5;
const GAP = 1.2;
const OVERRUN = 1.5;
const TICK = 1.2;

type Side = 'bottom' | 'top' | 'left' | 'right';

interface Interval {
  readonly from: number;
  readonly to: number;
  /** Coordinate of the measured edge across the dimension. */
  readonly at: number;
  readonly text: string;
}

interface Leg {
  readonly side: Side;
  readonly interval: Interval;
}

export interface Dimensions {
  readonly marks: readonly Mark[];
  /** Paper mm taken outside the outline on each side. */
  readonly depth: Readonly<Record<Side, number>>;
}

const edgesOf = (ring: Ring): [Point, Point][] =>
  ring.flatMap((a, i): [Point, Point][] => {
    const b = ring[(i + 1) % ring.length];
    return b === undefined || (a[0] === b[0] && a[1] === b[1]) ? [] : [[a, b]];
  });

/** Ticked dimension line between two model points, text above it; `out` is the unit direction away from the outline. */
const dimensionLine = (
  measured: readonly [Point, Point],
  line: readonly [Point, Point],
  text: string,
  scale: number,
): Mark[] => {
  const [p, q] = line;
  const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const ux = (q[0] - p[0]) / length;
  const uy = (q[1] - p[1]) / length;
  const extension = (from: Point, to: Point): string => {
    const d = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (d < 1e-9) return '';
    const ex = (to[0] - from[0]) / d;
    const ey = (to[1] - from[1]) / d;
    const g = Math.min(GAP * scale, d / 2);
    const o = OVERRUN * scale;
    return lineData([flip([from[0] + ex * g, from[1] + ey * g]), flip([to[0] + ex * o, to[1] + ey * o])]);
  };
  const t = TICK * scale;
  const tick = (at: Point): string =>
    lineData([
      flip([at[0] - t * (ux - uy) * Math.SQRT1_2, at[1] - t * (uy + ux) * Math.SQRT1_2]),
      flip([at[0] + t * (ux - uy) * Math.SQRT1_2, at[1] + t * (uy + ux) * Math.SQRT1_2]),
    ]);
  const stroke = pen(PENS.dimension, scale);
  // Readable from below or from the right: the text never stands on its head.
  let angle = (-Math.atan2(uy, ux) * 180) / Math.PI;
  if (angle > 90 - 1e-6) angle -= 180;
  if (angle <= -90 - 1e-6) angle += 180;
  const rad = (angle * Math.PI) / 180;
  const middle = flip([(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]);
  const lift = 0.9 * scale;
  return [
    { kind: 'path', part: 'dimension', d: extension(measured[0], p) + extension(measured[1], q), stroke },
    { kind: 'path', part: 'dimension', d: lineData([flip(p), flip(q)]), stroke },
    { kind: 'path', part: 'dimension', d: tick(p) + tick(q), stroke: pen(PENS.frame, scale) },
    {
      kind: 'text',
      part: 'dimension',
      text,
      at: [middle[0] + Math.sin(rad) * lift, middle[1] - Math.cos(rad) * lift],
      size: DIMENSION_TEXT * scale,
      anchor: 'middle',
      rotate: angle,
      bold: false,
      color: INK,
    },
  ];
};

const stacked = (intervals: readonly Interval[], scale: number): { interval: Interval; level: number }[] => {
  const placed: { low: number; high: number; level: number }[] = [];
  return [...intervals]
    .sort((a, b) => a.to - a.from - (b.to - b.from) || a.from - b.from || a.at - b.at)
    .map((interval) => {
      const middle = (interval.from + interval.to) / 2;
      const half = Math.max(
        (interval.to - interval.from) / 2,
        (textWidth(interval.text, DIMENSION_TEXT) / 2 + 0.6) * scale,
      );
      const low = middle - half + 1e-6;
      const high = middle + half - 1e-6;
      let level = 0;
      while (placed.some((p) => p.level === level && p.low < high && low < p.high)) level++;
      placed.push({ low, high, level });
      return { interval, level };
    });
};

/** Aligned dimension beside a slanted edge. */
const aligned = (a: Point, b: Point, normal: Point, display: Display, scale: number): Mark[] => {
  const off = FIRST * scale;
  const shift = (p: Point): Point => [p[0] + normal[0] * off, p[1] + normal[1] * off];
  return dimensionLine(
    [a, b],
    [shift(a), shift(b)],
    dimensionText(Math.hypot(b[0] - a[0], b[1] - a[1]), display),
    scale,
  );
};

/**
 * Dimensions of all sides of the outlines (ISO 129-1: extension lines, oblique ticks, text above the line).
 * Sides along an axis are measured outside the whole drawing, stacked so that nothing overlaps; equal ones once.
 * `extent` is what else the drawing holds: the lines stay clear of it.
 */
export const dimensionMarks = (
  outlines: readonly Ring[],
  display: Display,
  scale: number,
  extent: Box = boxOf(outlines.flat()),
): Dimensions => {
  const all: Box = boxOf(outlines.flat());
  const legs: Leg[] = [];
  const marks: Mark[] = [];
  const slanted = new Set<Side>();
  for (const ring of outlines) {
    for (const [a, b] of edgesOf(ring)) {
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      const probe = Math.min(1, length / 10);
      const left: Point = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length];
      const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
      const inward = insideRing(ring, [middle[0] + left[0] * probe, middle[1] + left[1] * probe]);
      const out: Point = inward ? [-left[0], -left[1]] : left;
      const text = dimensionText(length, display);
      if (Math.abs(a[1] - b[1]) < 1e-6) {
        const interval = { from: Math.min(a[0], b[0]), to: Math.max(a[0], b[0]), at: a[1], text };
        legs.push({ side: out[1] < 0 ? 'bottom' : 'top', interval });
      } else if (Math.abs(a[0] - b[0]) < 1e-6) {
        const interval = { from: Math.min(a[1], b[1]), to: Math.max(a[1], b[1]), at: a[0], text };
        legs.push({ side: out[0] < 0 ? 'left' : 'right', interval });
      } else if (length > (textWidth(text, DIMENSION_TEXT) + 2) * scale) {
        marks.push(...aligned(a, b, out, display, scale));
        slanted.add(out[0] < 0 ? 'left' : 'right').add(out[1] < 0 ? 'bottom' : 'top');
      }
    }
  }
  const opposite: Record<Side, Side> = { bottom: 'top', top: 'bottom', left: 'right', right: 'left' };
  const edgeAt: Record<Side, number> = { bottom: all.minY, top: all.maxY, left: all.minX, right: all.maxX };
  const same = (p: Interval, q: Interval): boolean =>
    Math.abs(p.from - q.from) < 1e-6 && Math.abs(p.to - q.to) < 1e-6;
  const depth: Record<Side, number> = { bottom: 0, top: 0, left: 0, right: 0 };
  const reach = (leg: Leg): number => Math.abs(leg.interval.at - edgeAt[leg.side]);
  const keep = (side: Side): Interval[] => {
    const kept: Leg[] = [];
    for (const leg of legs) {
      if (leg.side !== side) continue;
      const twins = legs.filter(
        (other) => other.side === opposite[side] && same(other.interval, leg.interval),
      );
      const first = side === 'bottom' || side === 'left';
      if (twins.some((twin) => (first ? reach(twin) < reach(leg) : reach(twin) <= reach(leg)))) continue;
      if (kept.some((other) => same(other.interval, leg.interval))) continue;
      kept.push(leg);
    }
    return kept.map((leg) => leg.interval);
  };
  const overhang: Record<Side, number> = {
    bottom: all.minY - extent.minY,
    top: extent.maxY - all.maxY,
    left: all.minX - extent.minX,
    right: extent.maxX - all.maxX,
  };
  for (const side of ['bottom', 'top', 'left', 'right'] as const) {
    const clear = overhang[side] > 0 ? overhang[side] / scale + 3 : 0;
    const base = Math.max(slanted.has(side) ? FIRST + LEVEL : FIRST, FIRST + clear);
    if (slanted.has(side) || clear > 0) depth[side] = base;
    const sign = side === 'bottom' || side === 'left' ? -1 : 1;
    for (const { interval, level } of stacked(keep(side), scale)) {
      const away = base + level * LEVEL;
      depth[side] = Math.max(depth[side], away + LEVEL);
      const across = edgeAt[side] + sign * away * scale;
      const point = (along: number, other: number): Point =>
        side === 'bottom' || side === 'top' ? [along, other] : [other, along];
      marks.push(
        ...dimensionLine(
          [point(interval.from, interval.at), point(interval.to, interval.at)],
          [point(interval.from, across), point(interval.to, across)],
          interval.text,
          scale,
        ),
      );
    }
  }
  return { marks, depth };
};
