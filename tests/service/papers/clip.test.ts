import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clipSegment, hatchLines, insideRing, rasterRows } from '../../../service/papers/clip.js';
import type { Point, Ring } from '../../../solver/problem.js';

const SQUARE: Ring = [
  [0, 0],
  [100, 0],
  [100, 100],
  [0, 100],
];
const U: Ring = [
  [0, 0],
  [300, 0],
  [300, 200],
  [200, 200],
  [200, 100],
  [100, 100],
  [100, 200],
  [0, 200],
];

/** Star-shaped polygon about (500, 500). */
const star = fc.array(fc.integer({ min: 60, max: 480 }), { minLength: 3, maxLength: 14 }).map(
  (radii): Ring =>
    radii.map((r, i): Point => {
      const angle = (i * 2 * Math.PI) / radii.length;
      return [500 + r * Math.cos(angle), 500 + r * Math.sin(angle)];
    }),
);

const area = (ring: Ring): number =>
  Math.abs(
    ring.reduce((sum, p, i) => {
      const q = ring[(i + 1) % ring.length] ?? p;
      return sum + (p[0] * q[1] - q[0] * p[1]) / 2;
    }, 0),
  );

const lengthOf = (lines: readonly (readonly [Point, Point])[]): number =>
  lines.reduce((sum, [a, b]) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]), 0);

describe('clipping', () => {
  it('splits a line at a notch', () => {
    expect(clipSegment([-10, 150], [310, 150], [U])).toEqual([
      [
        [0, 150],
        [100, 150],
      ],
      [
        [200, 150],
        [300, 150],
      ],
    ]);
  });

  it('keeps only what lies in every ring', () => {
    expect(clipSegment([-50, 50], [400, 50], [U, SQUARE])).toEqual([
      [
        [0, 50],
        [100, 50],
      ],
    ]);
    expect(clipSegment([-50, 50], [-10, 50], [SQUARE])).toEqual([]);
  });
});

describe('hatching', () => {
  it('fills the area: length of lines x distance between them = area (Cavalieri)', () => {
    fc.assert(
      fc.property(star, (ring) => {
        const gap = 2;
        expect(Math.abs(lengthOf(hatchLines([ring], gap)) * gap - area(ring))).toBeLessThan(
          area(ring) * 0.02 + 200,
        );
      }),
      { seed: 21, numRuns: 60 },
    );
  });

  it('never leaves the wall', () => {
    fc.assert(
      fc.property(star, (ring) => {
        for (const [a, b] of hatchLines([SQUARE.map(([x, y]): Point => [x * 9, y * 9]), ring], 20))
          for (const t of [0.001, 0.5, 0.999])
            expect(insideRing(ring, [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t])).toBe(true);
      }),
      { seed: 22, numRuns: 60 },
    );
  });
});

describe('raster', () => {
  it('puts its nodes on origin + k * step, inside the ring, none left out', () => {
    const rows = rasterRows(U, 30, [15, 15]);
    const nodes = rows.flatMap(([a, b]) =>
      Array.from({ length: Math.round((b[0] - a[0]) / 30) + 1 }, (_, k): Point => [a[0] + 30 * k, a[1]]),
    );
    const expected: Point[] = [];
    for (let y = 15; y < 200; y += 30)
      for (let x = 15; x < 300; x += 30) if (insideRing(U, [x, y])) expected.push([x, y]);
    expect(nodes).toEqual(expected);
  });
});
