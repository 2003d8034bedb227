/** Invented floors for one or several cables, and what every layout in parts must hold. */
import { expect } from 'vitest';
import { checkTrace } from '../../solver/check/check-trace.js';
import { segmentDistance } from '../../solver/geometry/measure.js';
import type { PartsOutcome, PartsRequest } from '../../solver/parts/plan-parts.js';
import type { PlanTools } from '../../solver/plan-types.js';
import type { Cable, Point, Ring, Trace, Zone } from '../../solver/problem.js';

export const tools: PlanTools = { engine: null, expired: () => false };

export const cable = (length: number): Cable => ({
  id: `C${length}`,
  length,
  power: length / 80,
  voltage: 230,
  tolerance: 0.01,
  diameter: 5,
  minBendRadius: 15,
  coldLead: 3000,
});

export const rectangle = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

export const zone = (id: string, outline: Ring, buffer: Ring, change: Partial<Zone> = {}): Zone => ({
  id,
  wet: false,
  outline,
  clearance: 50,
  exclusions: [],
  buffer,
  entry: [60, 60],
  leadIn: 0,
  priorities: [],
  ...change,
});

export const request = (zones: readonly Zone[], change: Partial<PartsRequest> = {}): PartsRequest => ({
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
  zones,
  catalogue: [10_000, 12_000, 14_500, 17_500, 21_000].map(cable),
  insisted: new Map(),
  turnWeight: 500,
  effort: 'quick',
  split: 'needed',
  maxLoad: null,
  undivided: new Set(),
  ...change,
});

export const planned = (outcome: PartsOutcome): Extract<PartsOutcome, { kind: 'planned' }> => {
  if (outcome.kind !== 'planned') throw new Error(JSON.stringify(outcome.verdicts));
  return outcome;
};

const lineOf = ({ path, reserve }: Trace): Ring => [...path, ...reserve.slice(1)];

const gapTo = (p: Point, line: Ring): number =>
  line.slice(1).reduce((least, b, k) => Math.min(least, segmentDistance(p, p, line[k] ?? b, b)), Infinity);

/** What every split must hold; `own` are the request's settings. */
export const judge = (outcome: Extract<PartsOutcome, { kind: 'planned' }>, own: PartsRequest): void => {
  const { pitch, origin } = outcome.lattice;
  const setting = { lattice: { pitch, origin }, spacing: own.spacing, placementSlopPerTurn: 2 };
  for (const { zone: part, cable: chosen, trace } of outcome.zones)
    expect(checkTrace(part, setting, chosen, trace).ok, part.id).toBe(true);
  const target = own.spacing.target * pitch;
  for (const { split, zone: id } of outcome.splits) {
    const whole = own.zones.find((known) => known.id === id);
    const laid = outcome.zones.filter((plan) => plan.zone.id.startsWith(`${id}/`));
    expect(whole).toBeDefined();
    expect(laid.length).toBe(split.parts.length);
    if (!whole) continue;
    // Each part's cable obeys the rules of the zone as it was drawn, too: lattice, area, spacing, bends.
    for (const { cable: chosen, trace, zone: part } of laid) {
      const drawn = { ...whole, entry: part.entry, buffer: part.buffer, leadIn: part.leadIn };
      expect(checkTrace(drawn, setting, chosen, trace).ok).toBe(true);
    }
    // Different cables keep the least spacing.
    let nearest = Infinity;
    laid.forEach(({ trace: a }, k) => {
      for (const { trace: b } of laid.slice(k + 1)) {
        const [one, other] = [lineOf(a), lineOf(b)];
        for (let i = 1; i < one.length; i++)
          for (let j = 1; j < other.length; j++)
            nearest = Math.min(nearest, segmentDistance(one[i - 1], one[i], other[j - 1], other[j]));
      }
    });
    expect(nearest).toBeGreaterThanOrEqual(own.spacing.min * pitch - 0.01);
    expect(split.seam).toBeLessThanOrEqual(target);
    // No cold strip along a cut: hardly a place on it lies beyond half the target spacing of both cables, and the
    // width left between the two is nowhere more than the spacing beside such a place.
    for (const at of split.cuts) {
      const across = 1 - split.axis;
      const values = whole.outline.map((p) => p[across]);
      const places: Point[] = [];
      for (let v = Math.min(...values) + 60; v <= Math.max(...values) - 60; v += pitch / 2) {
        const p: Point = split.axis === 0 ? [at, v] : [v, at];
        const free = whole.exclusions.every(({ shape, clearance }) =>
          shape.kind === 'circle'
            ? Math.hypot(p[0] - shape.center[0], p[1] - shape.center[1]) > shape.radius + clearance + target
            : true,
        );
        const inBuffer = laid.some(({ zone: part }) => {
          const xs = part.buffer.map(([x]) => x);
          const ys = part.buffer.map(([, y]) => y);
          return (
            p[0] > Math.min(...xs) - target &&
            p[0] < Math.max(...xs) + target &&
            p[1] > Math.min(...ys) - target &&
            p[1] < Math.max(...ys) + target
          );
        });
        if (free && !inBuffer) places.push(p);
      }
      expect(places.length).toBeGreaterThan(10);
      const lines = laid.map(({ trace }) => trace.path);
      const cold = places.filter((p) => lines.every((line) => gapTo(p, line) > target / 2 + 0.5));
      expect(cold.length / places.length).toBeLessThan(0.1);
      for (const p of places) expect(Math.min(...lines.map((line) => gapTo(p, line)))).toBeLessThan(target);
    }
  }
};
