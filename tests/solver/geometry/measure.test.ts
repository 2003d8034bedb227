import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  depthInRing,
  isAxisParallel,
  meetingPoint,
  pointInRing,
  pointSegmentDistance,
  polylineLength,
  segmentDistance,
  segmentsMeet,
  signedArea,
} from '../../../solver/geometry/measure.js';
import type { Point, Ring } from '../../../solver/problem.js';

const small = fc.integer({ min: -20, max: 20 });
const point = fc.tuple(small, small);

const gcd = (a: number, b: number): number => (b === 0 ? Math.abs(a) : gcd(b, a % b));

/** Star-shaped lattice polygon about the origin: always simple. */
const star = fc
  .uniqueArray(point, { minLength: 3, maxLength: 14, selector: (p) => Math.atan2(p[1], p[0]) })
  .map((points) =>
    points
      .filter(([x, y]) => x !== 0 || y !== 0)
      .sort((a, b) => Math.atan2(a[1], a[0]) - Math.atan2(b[1], b[0])),
  );

/** Gap between neighbouring directions below a half turn, so that the origin is inside. */
const roundOrigin = (ring: Ring): boolean =>
  ring.length >= 3 &&
  ring.every((p, k) => {
    const q = ring[(k + 1) % ring.length];
    return p[0] * q[1] - p[1] * q[0] > 0;
  });

describe('segments', () => {
  it('the distance between two segments is the least over their points', () => {
    fc.assert(
      fc.property(point, point, point, point, (a, b, c, d) => {
        const exact = segmentDistance(a, b, c, d);
        let sampled = Number.POSITIVE_INFINITY;
        for (let k = 0; k <= 400; k += 1) {
          const t = k / 400;
          const p: Point = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
          sampled = Math.min(sampled, pointSegmentDistance(p, c, d));
        }
        expect(exact).toBeLessThanOrEqual(sampled + 1e-9);
        expect(sampled - exact).toBeLessThan(0.15);
        expect(segmentsMeet(a, b, c, d)).toBe(exact === 0);
        const where = meetingPoint(a, b, c, d);
        if (where !== null) {
          expect(pointSegmentDistance(where, a, b)).toBeLessThan(1e-9);
          expect(pointSegmentDistance(where, c, d)).toBeLessThan(1e-9);
        } else expect(exact).toBeGreaterThan(0);
      }),
      { seed: 21, numRuns: 1500 },
    );
  });

  it('knows textbook cases', () => {
    expect(pointSegmentDistance([0, 3], [-4, 0], [4, 0])).toBe(3);
    expect(pointSegmentDistance([7, 4], [-4, 0], [4, 0])).toBe(5);
    expect(pointSegmentDistance([3, 4], [0, 0], [0, 0])).toBe(5);
    expect(segmentDistance([0, 0], [10, 0], [0, 5], [10, 5])).toBe(5);
    expect(meetingPoint([0, 0], [10, 10], [0, 10], [10, 0])).toEqual([5, 5]);
    expect(
      polylineLength([
        [0, 0],
        [3, 4],
        [3, 4],
        [3, 14],
      ]),
    ).toBe(15);
    expect(isAxisParallel([0, 0], [0, 5])).toBe(true);
    expect(isAxisParallel([0, 0], [5, 0.1], 0.2)).toBe(true);
    expect(isAxisParallel([0, 0], [1, 1])).toBe(false);
  });
});

describe('rings', () => {
  it("agree with Pick's theorem: A = I + B/2 - 1", () => {
    let seen = 0;
    fc.assert(
      fc.property(star, (ring) => {
        fc.pre(roundOrigin(ring));
        seen += 1;
        let boundary = 0;
        ring.forEach((p, k) => {
          const q = ring[(k + 1) % ring.length];
          boundary += gcd(q[0] - p[0], q[1] - p[1]);
        });
        let inside = 0;
        for (let x = -20; x <= 20; x += 1) {
          for (let y = -20; y <= 20; y += 1) if (pointInRing([x, y], ring)) inside += 1;
        }
        // pointInRing counts the boundary in, so I = inside - B.
        expect(signedArea(ring)).toBe(inside - boundary + boundary / 2 - 1);
        expect(signedArea([...ring].reverse())).toBe(-signedArea(ring));
      }),
      { seed: 22, numRuns: 400 },
    );
    expect(seen).toBeGreaterThan(100);
  });

  it('tell how deep a point lies', () => {
    const room: Ring = [
      [0, 0],
      [100, 0],
      [100, 60],
      [0, 60],
    ];
    expect(depthInRing([50, 20], room)).toBe(20);
    expect(depthInRing([50, -7], room)).toBe(-7);
    expect(depthInRing([103, 64], room)).toBe(-5);
    expect(depthInRing([100, 30], room)).toBe(0);
  });
});
