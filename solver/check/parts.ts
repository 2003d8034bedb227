/** Judges cables that share one floor: how near they come to one another, and what they heat together. */
import { closestApproach } from '../geometry/measure.js';
import { areaOf, subtract, tube, uniteAll } from '../geometry/region.js';
import { routingArea, targetArea, withoutSlivers } from '../geometry/zone-area.js';
import { heatRadius, type Point, type Ring, type Setting, type Trace, type Zone } from '../problem.js';

export interface PartTrace {
  /** The part as a zone. */
  readonly zone: Zone;
  readonly trace: Trace;
}

export interface PartsReport {
  /** Least distance between lines of two cables, reserves included, mm; null for fewer than two cables. */
  readonly nearest: number | null;
  readonly nearestAt: Point | null;
  /** No two cables are nearer to one another than spacing.min. */
  readonly ok: boolean;
  /** m2; the parts' targets together, heated by any of the cables. */
  readonly targetArea: number;
  readonly heatedArea: number;
  readonly unheatedArea: number;
  readonly fraction: number;
  readonly cold: readonly Ring[];
}

/** mm; coordinates are floats. */
const NOISE = 0.01;

/** Cold patches smaller than this (mm2) are rounding. */
const SLIVER = 1;

const M2 = 1e-6;

export const judgeParts = (parts: readonly PartTrace[], setting: Setting): PartsReport => {
  let nearest = Number.POSITIVE_INFINITY;
  let nearestAt: Point | null = null;
  parts.forEach((a, k) => {
    for (const b of parts.slice(k + 1)) {
      const found = approach(lineOf(a.trace), lineOf(b.trace));
      if (found.distance >= nearest) continue;
      nearest = found.distance;
      nearestAt = found.onFirst;
    }
  });
  const floor = uniteAll(parts.map(({ zone }) => targetArea(zone, routingArea(zone))));
  const radius = heatRadius(setting);
  let cold = floor;
  for (const { trace } of parts) cold = subtract(cold, tube(trace.path, radius));
  cold = withoutSlivers(cold, SLIVER);
  const total = areaOf(floor);
  const unheated = Math.max(0, Math.min(total, areaOf(cold)));
  return {
    nearest: nearestAt === null ? null : nearest,
    nearestAt,
    ok: nearest >= setting.spacing.min * setting.lattice.pitch - NOISE,
    targetArea: total * M2,
    heatedArea: (total - unheated) * M2,
    unheatedArea: unheated * M2,
    fraction: total === 0 ? 1 : (total - unheated) / total,
    cold,
  };
};

const lineOf = ({ path, reserve }: Trace): Ring => [...path, ...reserve.slice(1)];

const approach = (a: Ring, b: Ring): { distance: number; onFirst: Point } => {
  let best = { distance: Number.POSITIVE_INFINITY, onFirst: a[0] ?? ([0, 0] as const) };
  for (let i = 1; i < a.length; i += 1)
    for (let j = 1; j < b.length; j += 1) {
      const found = closestApproach(a[i - 1], a[i], b[j - 1], b[j]);
      if (found.distance < best.distance) best = found;
    }
  return best;
};
