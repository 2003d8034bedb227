import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkTrace } from '../../../solver/check/check-trace.js';
import { pointInRing, pointSegmentDistance } from '../../../solver/geometry/measure.js';
import { areaOf } from '../../../solver/geometry/region.js';
import type { Point, Zone } from '../../../solver/problem.js';
import * as good from '../../helpers/good-layout.js';

/** Bathroom with a slanted wall, a basin and a round drain; the judge reads the good layout's path in it. */
const zone: Zone = {
  ...good.zone,
  outline: [
    [0, 0],
    [1500, 0],
    [1500, 1400],
    [900, 1500],
    [0, 1300],
  ],
  clearance: 40,
  exclusions: [
    { id: 'drain', shape: { kind: 'circle', center: [700, 500], radius: 60 }, clearance: 30 },
    {
      id: 'basin',
      shape: {
        kind: 'polygon',
        outline: [
          [-50, 300],
          [350, 300],
          [200, 800],
          [-50, 800],
        ],
      },
      clearance: 0,
    },
  ],
  buffer: [
    [1200, -20],
    [1600, -20],
    [1600, 1600],
    [1200, 1600],
  ],
};

const report = (trace = good.trace, where = zone, cable = good.cable) =>
  checkTrace(where, good.setting, cable, trace).coverage;

/** Target and heated area by sampling the definitions on a raster, m2. */
const sampled = (path: readonly Point[]): { target: number; heated: number; bufferHeated: number } => {
  const step = 6.13; // no channel or wall falls on a line of samples
  let [target, heated, bufferHeated] = [0, 0, 0];
  const edge = (p: Point, ring: readonly Point[]): number =>
    Math.min(...ring.map((q, k) => pointSegmentDistance(p, q, ring[(k + 1) % ring.length])));
  for (let x = step / 2; x < 1500; x += step) {
    for (let y = step / 2; y < 1500; y += step) {
      const p: Point = [x, y];
      if (!pointInRing(p, zone.outline) || edge(p, zone.outline) < zone.clearance) continue;
      if (Math.hypot(x - 700, y - 500) < 90) continue;
      if (
        pointInRing(p, [
          [-50, 300],
          [350, 300],
          [200, 800],
          [-50, 800],
        ])
      )
        continue;
      const hot = path.some((q, k) => k > 0 && pointSegmentDistance(p, path[k - 1], q) <= 45);
      if (x > 1200) bufferHeated += hot ? step * step : 0;
      else {
        target += step * step;
        heated += hot ? step * step : 0;
      }
    }
  }
  return { target: target * 1e-6, heated: heated * 1e-6, bufferHeated: bufferHeated * 1e-6 };
};

describe('coverage', () => {
  it('agrees with a raster of the definitions', () => {
    const lattice = fc.integer({ min: 2, max: 46 }).map((k) => k * 30);
    const wander = fc
      .array(fc.tuple(lattice, lattice), { minLength: 1, maxLength: 6 })
      .map((nodes): Point[] =>
        nodes.flatMap(([x, y], k): Point[] => {
          const next = nodes[k + 1];
          return next === undefined
            ? [[x, y]]
            : [
                [x, y],
                [next[0], y],
              ];
        }),
      );
    fc.assert(
      fc.property(fc.oneof(wander, fc.constant([...good.trace.path])), (path) => {
        const exact = report({ path, reserve: [] });
        const raster = sampled(path);
        // Raster error: boundary lengths of some metres, half a step wide, mostly cancelling.
        expect(Math.abs(exact.targetArea - raster.target)).toBeLessThan(0.005);
        expect(Math.abs(exact.heatedArea - raster.heated)).toBeLessThan(0.01);
        expect(Math.abs(exact.bufferHeatedArea - raster.bufferHeated)).toBeLessThan(0.005);
      }),
      { seed: 71, numRuns: 6 },
    );
  });

  it('adds up', () => {
    const c = report();
    expect(c.heatedArea + c.unheatedArea).toBeCloseTo(c.targetArea, 12);
    expect(c.fraction).toBeCloseTo(c.heatedArea / c.targetArea, 12);
    expect(areaOf(c.cold) * 1e-6).toBeCloseTo(c.unheatedArea, 9);
    for (const ring of c.cold) expect(Math.abs(areaOf([ring]))).toBeGreaterThanOrEqual(1);
    expect(c.bufferHeatedArea).toBeLessThanOrEqual(c.bufferArea);
  });

  it('of the shortest and the longest cable is that of the path cut or gone on there', () => {
    for (const tolerance of [0, 0.01, 0.03]) {
      const cable = { ...good.cable, tolerance };
      const wide: Zone = {
        ...zone,
        buffer: [
          [0, 1400],
          [10, 1400],
          [0, 1410],
        ],
      };
      const { end, coverage } = checkTrace(wide, good.setting, cable, good.trace);
      const upTo = (x: number): Point[] => [...good.trace.path.slice(0, -1), [x, 1050]];
      const shortest = report({ path: upTo(end.earliest[0]), reserve: [] }, wide).fraction;
      const longest = report({ path: upTo(end.latest[0]), reserve: [] }, wide).fraction;
      expect(coverage.fractionShortest).toBeCloseTo(shortest, 6);
      expect(coverage.fractionLongest).toBeCloseTo(longest, 6);
      expect(coverage.fractionShortest).toBeLessThan(coverage.fraction);
      expect(coverage.fractionLongest).toBeGreaterThan(coverage.fraction);
    }
  });

  it('of an empty target is whole, of an empty path nothing', () => {
    expect(
      report(good.trace, {
        ...zone,
        buffer: [
          [-9, -9],
          [2000, -9],
          [2000, 2000],
          [-9, 2000],
        ],
      }),
    ).toMatchObject({
      targetArea: 0,
      heatedArea: 0,
      fraction: 1,
    });
    const none = report({ path: [], reserve: [] });
    expect(none.fraction).toBe(0);
    expect(none.unheatedArea).toBe(none.targetArea);
  });

  it('of parallel runs in an empty rectangle is a closed formula', () => {
    // Runs 90 apart with R = 45 leave nothing between them; outside the outermost half circles end the strips.
    const c = checkTrace(
      {
        ...good.zone,
        clearance: 0,
        buffer: [
          [0, 1100],
          [1, 1100],
          [0, 1101],
        ],
      },
      good.setting,
      good.cable,
      { path: good.serpentine(good.rows, good.RUN_LENGTH), reserve: [] },
    ).coverage;
    const R = 45;
    const height = (good.RUNS - 1) * good.GAP;
    // Box of the centre line grown by R, less what lies beyond R in the bays between two ends that no connector joins.
    const body = (good.RUN_LENGTH + 2 * R) * (height + 2 * R) - (4 - Math.PI) * R * R;
    // Each side has a bay wherever the connector is on the other side: a run end's half circle on both sides of it.
    const bays = good.RUNS - 1 - 1;
    const bay = R * good.GAP - (Math.PI * R * R) / 2;
    expect(c.heatedArea * 1e6).toBeGreaterThan(body - (bays + 2) * bay);
    expect(c.heatedArea * 1e6).toBeLessThan(body);
  });
});
