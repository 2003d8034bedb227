import {
  closestApproach,
  depthInRing,
  distance,
  nearestOnSegment,
  segmentsMeet,
} from '../geometry/measure.js';
import type { Exclusion, Point, Ring, Zone } from '../problem.js';
import { deepest, type Peak } from './deepest.js';
import type { Line } from './line.js';
import type { RuleVerdict, Violation } from './report.js';
import { mm, verdictOf, type Worst } from './verdict.js';

/** How far the centre line may leave the routing area, mm. */
export const AREA_TOLERANCE = 0.5;

/** Float noise of a distance between coordinates of some metres, mm. */
const NOISE = 1e-6;

const shapeDepth = ({ shape }: Exclusion, p: Point): number =>
  shape.kind === 'circle' ? shape.radius - distance(p, shape.center) : depthInRing(p, shape.outline);

/**
 * Distance of a point inside the routing area's boundaries, mm (negative outside): the least of its depth in the
 * outline less the clearance and its distance from each exclusion less that exclusion's clearance.
 */
export const marginAt = (zone: Zone, p: Point): number => {
  let margin = depthInRing(p, zone.outline) - zone.clearance;
  for (const exclusion of zone.exclusions) {
    if (exclusion.shape.kind === 'polygon' && exclusion.shape.outline.length === 0) continue;
    margin = Math.min(margin, -shapeDepth(exclusion, p) - exclusion.clearance);
  }
  return margin;
};

const meetsRing = (a: Point, b: Point, ring: Ring): boolean =>
  ring.some((q, k) => segmentsMeet(a, b, ring[(k + ring.length - 1) % ring.length], q));

/** Nearest that the segment a-b comes to the ring's edges, as a negated distance. */
const nearestEdge = (a: Point, b: Point, ring: Ring): Peak => {
  let best: Peak = { value: Number.NEGATIVE_INFINITY, at: a };
  ring.forEach((q, k) => {
    const near = closestApproach(a, b, ring[(k + ring.length - 1) % ring.length], q);
    if (-near.distance > best.value) best = { value: -near.distance, at: near.onFirst };
  });
  return best;
};

/**
 * Deepest point of the segment a-b on the wrong side of a ring, as a signed depth (negative: that far on the right
 * side). `side` is 1 when inside is wrong (an exclusion), -1 when outside is (the outline).
 */
const ringIntrusion = (a: Point, b: Point, ring: Ring, side: 1 | -1, clearance: number): Peak => {
  const depth = (p: Point): number => side * depthInRing(p, ring);
  // Clear of the edges and begun on the right side: the nearest edge decides, exactly.
  if (depth(a) < 0 && !meetsRing(a, b, ring)) return nearestEdge(a, b, ring);
  return deepest(depth, a, b, AREA_TOLERANCE - clearance);
};

const exclusionIntrusion = (a: Point, b: Point, { shape, clearance }: Exclusion): Peak => {
  if (shape.kind === 'polygon') return ringIntrusion(a, b, shape.outline, 1, clearance);
  const at = nearestOnSegment(shape.center, a, b);
  return { value: shape.radius - distance(at, shape.center), at };
};

/** Least margin (see `marginAt`) over the segment a-b; exact down to where the segment leaves the area. */
export const segmentMargin = (zone: Zone, a: Point, b: Point): number => {
  let margin = -ringIntrusion(a, b, zone.outline, -1, zone.clearance).value - zone.clearance;
  for (const exclusion of zone.exclusions) {
    if (exclusion.shape.kind === 'polygon' && exclusion.shape.outline.length === 0) continue;
    margin = Math.min(margin, -exclusionIntrusion(a, b, exclusion).value - exclusion.clearance);
  }
  return margin;
};

/** The centre line of path and reserve stays in the routing area; sizes are mm beyond it. */
export const areaRule = (zone: Zone, line: Line): RuleVerdict => {
  const violations: Violation[] = [];
  let worst: Worst = { value: Number.POSITIVE_INFINITY, at: null };
  const judge = (peak: Peak, clearance: number, where: string): void => {
    const margin = -peak.value - clearance;
    if (margin < worst.value) worst = { value: margin, at: peak.at };
    if (margin >= -AREA_TOLERANCE - NOISE) return;
    const message = `The cable comes ${mm(-margin)} too near to ${where} (clearance ${mm(clearance)}).`;
    violations.push({ at: peak.at, size: -margin, message });
  };
  line.points.forEach((b, k) => {
    const a = line.points[k - 1] ?? b;
    if (k === 0 && line.points.length > 1) return;
    judge(ringIntrusion(a, b, zone.outline, -1, zone.clearance), zone.clearance, 'the wall line');
    for (const exclusion of zone.exclusions) {
      if (exclusion.shape.kind === 'polygon' && exclusion.shape.outline.length === 0) continue;
      judge(exclusionIntrusion(a, b, exclusion), exclusion.clearance, `exclusion "${exclusion.id}"`);
    }
  });
  return verdictOf('routing-area', -AREA_TOLERANCE, worst, violations, 20);
};
