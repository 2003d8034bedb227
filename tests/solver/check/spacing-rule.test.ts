import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lineOf } from '../../../solver/check/line.js';
import { spacingRule } from '../../../solver/check/spacing-rule.js';
import type { Point, Setting } from '../../../solver/problem.js';

const settingOf = (min: number): Setting => ({
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min, target: 3, max: 3 },
  placementSlopPerTurn: 2,
});

const rule = (path: readonly Point[], min: number) =>
  spacingRule(settingOf(min), lineOf({ path, reserve: [] }, 15));

/** Samples of the polyline every `step` mm with their positions. */
const samples = (path: readonly Point[], step: number): { at: Point; s: number }[] => {
  const list: { at: Point; s: number }[] = [{ at: path[0], s: 0 }];
  let s = 0;
  for (let k = 1; k < path.length; k += 1) {
    const [a, b] = [path[k - 1], path[k]];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const n = Math.max(1, Math.ceil(length / step));
    for (let i = 1; i <= n; i += 1) {
      const t = i / n;
      list.push({ at: [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])], s: s + t * length });
    }
    s += length;
  }
  return list;
};

/** The rule read off the contract, on all pairs of samples. */
const brute = (path: readonly Point[], limit: number, step: number, allowance: number): boolean => {
  const list = samples(path, step);
  for (let i = 0; i < list.length; i += 1) {
    for (let j = 0; j < i; j += 1) {
      const d = Math.hypot(list[i].at[0] - list[j].at[0], list[i].at[1] - list[j].at[1]);
      if (d < limit && list[i].s - list[j].s > Math.SQRT2 * d + allowance) return true;
    }
  }
  return false;
};

const directions = [
  [30, 0],
  [0, 30],
  [-30, 0],
  [0, -30],
] as const;

/** Walk on the lattice that never goes straight back; the last leg may end between nodes. */
const walk = fc
  .tuple(
    fc.array(fc.tuple(fc.constantFrom(1, 3, 0, 1, 3), fc.integer({ min: 1, max: 6 })), {
      minLength: 1,
      maxLength: 9,
    }),
    fc.integer({ min: 0, max: 25 }),
  )
  .map(([steps, extra]): Point[] => {
    let way = 0;
    const path: Point[] = [
      [0, 0],
      [60, 0],
    ];
    for (const [turn, count] of steps) {
      way = (way + turn) % 4;
      const [x, y] = path[path.length - 1];
      path.push([x + directions[way][0] * count, y + directions[way][1] * count]);
    }
    const [x, y] = path[path.length - 1];
    path[path.length - 1] = [x + (directions[way][0] / 30) * extra, y + (directions[way][1] / 30) * extra];
    return path;
  });

describe('spacing', () => {
  it('agrees with all pairs of a dense sampling on random lattice walks', () => {
    let [legal, illegal] = [0, 0];
    fc.assert(
      fc.property(walk, fc.constantFrom(1, 2, 3), (path, min) => {
        const ok = rule(path, min).ok;
        // Sampled at 5 mm both the lattice points and the distances between channels are hit exactly.
        expect(ok).toBe(!brute(path, min * 30 - 0.01, 5, 1));
        if (ok) legal += 1;
        else illegal += 1;
      }),
      { seed: 51, numRuns: 1500 },
    );
    expect(legal).toBeGreaterThan(200);
    expect(illegal).toBeGreaterThan(200);
  });

  it('agrees on slanted lines, up to the sampling', () => {
    const coordinate = fc.integer({ min: 0, max: 400 });
    let [legal, illegal] = [0, 0];
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate), { minLength: 2, maxLength: 6 }), (path) => {
        fc.pre(path.every((p, k) => k === 0 || p[0] !== path[k - 1][0] || p[1] !== path[k - 1][1]));
        if (rule(path, 2).ok) {
          legal += 1;
          expect(brute(path, 59.98, 4, 1)).toBe(false);
        } else {
          illegal += 1;
          // Some pair within 2 mm of a sample breaks it: allow for the step in distance and in length.
          expect(brute(path, 60 + 4, 4, 1 - 4 - 4 * Math.SQRT2)).toBe(true);
        }
      }),
      { seed: 52, numRuns: 600 },
    );
    expect(legal).toBeGreaterThan(30);
    expect(illegal).toBeGreaterThan(30);
  });

  it('lets staircases and single corners be, and no U-turn closer than the limit', () => {
    const stairs: Point[] = [
      [0, 0],
      [300, 0],
      [300, 30],
      [330, 30],
      [330, 60],
      [600, 60],
    ];
    expect(rule(stairs, 3).ok).toBe(true);
    expect(
      rule(
        [
          [0, 0],
          [300, 0],
          [300, 30],
          [0, 30],
        ],
        1,
      ).ok,
    ).toBe(true);
    expect(
      rule(
        [
          [0, 0],
          [300, 0],
          [300, 30],
          [0, 30],
        ],
        2,
      ).ok,
    ).toBe(false);
    expect(
      rule(
        [
          [0, 0],
          [300, 0],
          [300, 60],
          [0, 60],
        ],
        2,
      ),
    ).toMatchObject({ ok: true, worst: 60 });
    // A run that ends 59 mm short of crossing another.
    expect(
      rule(
        [
          [0, 0],
          [300, 0],
          [300, 300],
          [90, 300],
          [90, 59],
        ],
        2,
      ).ok,
    ).toBe(false);
    expect(
      rule(
        [
          [0, 0],
          [300, 0],
          [300, 300],
          [90, 300],
          [90, 60],
        ],
        2,
      ).ok,
    ).toBe(true);
  });

  it('lists one entry a place', () => {
    const zigzag: Point[] = [];
    for (let k = 0; k < 200; k += 1) zigzag.push([(k % 2) * 3000, 30 * k], [((k + 1) % 2) * 3000, 30 * k]);
    const { violations } = rule(zigzag, 2);
    expect(violations.length).toBeLessThanOrEqual(50);
    expect(violations.length).toBeGreaterThan(20);
  });
});
