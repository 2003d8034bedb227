import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pointSegmentDistance, polylineLength } from '../../../solver/geometry/measure.js';
import {
  ARC_TOLERANCE,
  areaOf,
  contains,
  grow,
  intersect,
  regionOf,
  subtract,
  tube,
  unite,
  uniteAll,
} from '../../../solver/geometry/region.js';
import type { Point, Ring } from '../../../solver/problem.js';

const coordinate = fc.integer({ min: -1500, max: 1500 });
const anyRing = fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 12 });

const rectangle = (x: number, y: number, w: number, h: number): Ring => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
];

/** Convex hull by the monotone chain. */
const hull = (points: readonly Point[]): Point[] => {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly Point[]): Point[] => {
    const chain: Point[] = [];
    for (const p of list) {
      while (chain.length >= 2) {
        const [a, b] = [chain[chain.length - 2], chain[chain.length - 1]];
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break;
        chain.pop();
      }
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half([...sorted].reverse())];
};

describe('set operations', () => {
  it('|A u B| + |A n B| = |A| + |B| and |A - B| = |A| - |A n B| (measure theory)', () => {
    fc.assert(
      fc.property(anyRing, anyRing, (ringA, ringB) => {
        const [a, b] = [regionOf(ringA), regionOf(ringB)];
        const both = areaOf(intersect(a, b));
        // Crossings are rounded to 1/1000 mm: up to a few mm2 over the tens of metres of edges.
        expect(Math.abs(areaOf(unite(a, b)) + both - areaOf(a) - areaOf(b))).toBeLessThan(15);
        expect(Math.abs(areaOf(subtract(a, b)) - areaOf(a) + both)).toBeLessThan(15);
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  it('does not depend on the winding', () => {
    const ring = rectangle(0, 0, 300, 200);
    expect(areaOf(regionOf([...ring].reverse()))).toBe(60_000);
    expect(areaOf(regionOf(ring))).toBe(60_000);
    const hole = regionOf(rectangle(100, 50, 50, 50).toReversed());
    expect(areaOf(subtract(regionOf([...ring].reverse()), hole))).toBe(57_500);
  });

  it('unites any number at once', () => {
    const parts = [0, 1, 2, 3].map((k) => regionOf(rectangle(k * 50, 0, 100, 10)));
    expect(areaOf(uniteAll(parts))).toBe(2500);
    expect(uniteAll([])).toEqual([]);
  });

  it('takes empty input', () => {
    const a = regionOf(rectangle(0, 0, 10, 10));
    expect(areaOf(unite([], a))).toBe(100);
    expect(areaOf(subtract(a, []))).toBe(100);
    expect(subtract([], a)).toEqual([]);
    expect(intersect(a, [])).toEqual([]);
    expect(grow([], 5)).toEqual([]);
    expect(tube([], 5)).toEqual([]);
    expect(regionOf([])).toEqual([]);
  });
});

describe('grow', () => {
  it('insets a rectangle exactly', () => {
    const inner = grow(regionOf(rectangle(10, 20, 1000, 600)), -50);
    expect(areaOf(inner)).toBe(900 * 500);
    expect(inner.flat().map(String).sort()).toEqual(rectangle(60, 70, 900, 500).map(String).sort());
    expect(grow(regionOf(rectangle(0, 0, 1000, 100)), -50)).toEqual([]);
  });

  it('grows a convex polygon by Steiner: A + P d + pi d^2', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 20 }),
        fc.integer({ min: 5, max: 300 }),
        (points, d) => {
          const ring = hull(points);
          fc.pre(ring.length >= 3 && areaOf(regionOf(ring)) > 10_000);
          const perimeter = polylineLength([...ring, ring[0]]);
          const expected = areaOf(regionOf(ring)) + perimeter * d + Math.PI * d * d;
          const grown = areaOf(grow(regionOf(ring), d));
          // Chords lie inside the arcs by at most the arc tolerance along an arc length of 2 pi d in all.
          expect(grown).toBeLessThan(expected + 0.002 * perimeter + 1);
          expect(grown).toBeGreaterThan(expected - ARC_TOLERANCE * 2 * Math.PI * d - 0.002 * perimeter - 1);
        },
      ),
      { seed: 12, numRuns: 200 },
    );
  });

  it('insets holes outwards', () => {
    const plate = subtract(regionOf(rectangle(0, 0, 400, 400)), regionOf(rectangle(100, 100, 200, 200)));
    const inner = areaOf(grow(plate, -20));
    const hole = 200 * 200 + 4 * 200 * 20 + Math.PI * 400;
    expect(Math.abs(inner - (360 * 360 - hole))).toBeLessThan(5);
  });
});

describe('tube', () => {
  it('has the area 2 R l + pi R^2 about one segment', () => {
    for (const [to, radius] of [
      [[1000, 0], 45],
      [[300, 400], 30],
      [[0, -77], 60],
    ] as const) {
      const length = Math.hypot(to[0], to[1]);
      const expected = 2 * radius * length + Math.PI * radius ** 2;
      expect(Math.abs(areaOf(tube([[0, 0], to], radius)) - expected)).toBeLessThan(
        ARC_TOLERANCE * 2 * Math.PI * radius,
      );
    }
  });

  it('is a disc about a point, repeated or not', () => {
    for (const path of [
      [[7, 9]],
      [
        [7, 9],
        [7, 9],
      ],
    ] as Ring[]) {
      expect(Math.abs(areaOf(tube(path, 50)) - Math.PI * 2500)).toBeLessThan(
        ARC_TOLERANCE * 2 * Math.PI * 50,
      );
    }
  });

  it('never beats 2 R l + pi R^2 on a bent path, and agrees with the distance to it', () => {
    const step = fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: 1, max: 5 }));
    const directions = [
      [30, 0],
      [0, 30],
      [-30, 0],
      [0, -30],
    ] as const;
    let seen = 0;
    fc.assert(
      fc.property(
        fc.array(step, { minLength: 1, maxLength: 25 }),
        fc.integer({ min: 20, max: 75 }),
        fc.array(fc.tuple(fc.integer({ min: -200, max: 200 }), fc.integer({ min: -200, max: 200 })), {
          minLength: 40,
          maxLength: 40,
        }),
        (steps, radius, probes) => {
          const path: Point[] = [[0, 0]];
          for (const [way, count] of steps) {
            const [x, y] = path[path.length - 1];
            const [dx, dy] = directions[way];
            path.push([x + dx * count, y + dy * count]);
          }
          const hot = tube(path, radius);
          const most = 2 * radius * polylineLength(path) + Math.PI * radius ** 2;
          expect(areaOf(hot)).toBeLessThan(most + 0.5);
          for (const probe of probes) {
            let d = Number.POSITIVE_INFINITY;
            for (let k = 1; k < path.length; k += 1) {
              d = Math.min(d, pointSegmentDistance(probe, path[k - 1], path[k]));
            }
            if (Math.abs(d - radius) < 0.03) continue;
            expect(contains(hot, probe)).toBe(d < radius);
            seen += 1;
          }
        },
      ),
      { seed: 13, numRuns: 150 },
    );
    expect(seen).toBeGreaterThan(5000);
  });
});

describe('circle', () => {
  it('is circumscribed within the tolerance, and its area follows', () => {
    for (const radius of [1, 15, 150, 1200]) {
      const center: Point = [123.4, -55.5];
      const region = regionOf({ kind: 'circle', center, radius });
      expect(areaOf(region)).toBeGreaterThan(Math.PI * radius ** 2);
      expect(areaOf(region)).toBeLessThan(Math.PI * (radius + ARC_TOLERANCE) ** 2);
      const [ring] = region;
      ring.forEach((p, k) => {
        expect(Math.hypot(p[0] - center[0], p[1] - center[1])).toBeLessThanOrEqual(radius + ARC_TOLERANCE);
        expect(pointSegmentDistance(center, p, ring[(k + 1) % ring.length])).toBeGreaterThanOrEqual(radius);
      });
    }
    expect(regionOf({ kind: 'circle', center: [0, 0], radius: 0 })).toEqual([]);
  });
});

describe('contains', () => {
  it('counts the boundary in, of outer rings and of holes', () => {
    const plate = subtract(regionOf(rectangle(0, 0, 400, 400)), regionOf(rectangle(100, 100, 200, 200)));
    for (const p of [
      [0, 0],
      [400, 200],
      [100, 100],
      [300, 250],
      [50, 50],
      [200, 100],
    ] as Point[]) {
      expect(contains(plate, p)).toBe(true);
    }
    for (const p of [
      [-1, 0],
      [401, 200],
      [101, 101],
      [200, 200],
      [-5, 100],
      [500, 100],
    ] as Point[]) {
      expect(contains(plate, p)).toBe(false);
    }
    expect(contains([], [0, 0])).toBe(false);
  });
});
