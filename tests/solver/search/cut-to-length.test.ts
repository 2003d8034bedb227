import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nodePoint, studLattice } from '../../../solver/lattice/stud-lattice.js';
import type { Point } from '../../../solver/problem.js';
import { cutToLength } from '../../../solver/search/cut-to-length.js';
import { laidLengthOf, verticesOf } from '../../helpers/lattice-room.js';
import { box } from '../../helpers/routing-rooms.js';

const PITCH = 30;
/** (2 - pi/2) r, r = 15 mm: 6.438 mm, derived. */
const SAVING = (2 - Math.PI / 2) * 15;
const s = studLattice({ pitch: PITCH, origin: [7, 3] }, [box(0, 0, 3000, 3000)]);

/** A walk without reversals; the first three straight pieces have at least two studs. */
const walks = fc
  .array(fc.record({ left: fc.boolean(), studs: fc.integer({ min: 1, max: 7 }) }), {
    minLength: 2,
    maxLength: 12,
  })
  .map((legs) => {
    const walk = [50 * s.nx + 50];
    let [dx, dy] = [1, 0];
    for (const { left, studs } of legs) {
      for (let k = 0; k < studs; k++) walk.push(walk[walk.length - 1] + dx + dy * s.nx);
      [dx, dy] = left ? [-dy, dx] : [dy, -dx];
    }
    return walk;
  });

/** Whether the points follow each other along the walk: all on one of its pieces, in order. */
const onWalk = (points: readonly Point[], walk: readonly number[]): boolean => {
  const all = verticesOf(s, walk);
  let piece = 1;
  return points.every(([x, y]) => {
    for (; piece < all.length; piece++) {
      const [[ax, ay], [bx, by]] = [all[piece - 1], all[piece]];
      const beside = Math.abs((bx - ax) * (y - ay) - (by - ay) * (x - ax));
      const inside = (x - ax) * (x - bx) + (y - ay) * (y - by);
      if (beside < 1e-6 && inside < 1e-6) return true;
    }
    return false;
  });
};

describe('a walk cut to a length', () => {
  it('has that length to a thousandth of a millimetre, and the reserve the rest', () => {
    fc.assert(
      fc.property(
        walks,
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (walk, share, rest) => {
          const whole = laidLengthOf(verticesOf(s, walk), PITCH);
          const length = share * whole;
          const spare = rest * (whole - length) * 0.99;
          const trace = cutToLength(s, walk, length, spare);
          expect(trace).not.toBeNull();
          if (!trace) return;
          const { path, reserve } = trace;
          expect(Math.abs(laidLengthOf(path, PITCH) - length)).toBeLessThan(1e-3);
          expect(reserve[0]).toEqual(path[path.length - 1]);
          expect(path[0]).toEqual(nodePoint(s, walk[0]));
          // The end is a vertex of both; where it lies on a straight piece it is no corner.
          const joined = [...path, ...reserve.slice(1)].filter((p, k, all) => {
            const [a, b] = [all[k - 1], all[k + 1]];
            return !a || !b || Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) > 1e-6;
          });
          expect(Math.abs(laidLengthOf(joined, PITCH) - length - spare)).toBeLessThan(1e-3);
          expect(onWalk([...path, ...reserve], walk)).toBe(true);
        },
      ),
      { seed: 79, numRuns: 1500 },
    );
  });

  it('is exact beside corners: just before, at, and within the corner saving behind them', () => {
    fc.assert(
      fc.property(
        walks,
        fc.nat(),
        fc.constantFrom(-SAVING - 0.5, -SAVING, -1, -1e-4, 0, 1e-4, 0.5, 20),
        (walk, pick, by) => {
          const corners = [...walk.keys()].filter(
            (k) => k > 0 && k + 1 < walk.length && walk[k] - walk[k - 1] !== walk[k + 1] - walk[k],
          );
          if (corners.length === 0) return;
          const k = corners[pick % corners.length];
          const upTo = laidLengthOf(verticesOf(s, walk.slice(0, k + 1)), PITCH);
          const length = upTo + by;
          if (length <= 0) return;
          const trace = cutToLength(s, walk, length, 0);
          if (!trace) return expect(laidLengthOf(verticesOf(s, walk), PITCH)).toBeLessThan(length + 1e-6);
          expect(Math.abs(laidLengthOf(trace.path, PITCH) - length)).toBeLessThan(1e-3);
        },
      ),
      { seed: 83, numRuns: 1500 },
    );
  });

  it('is null when the walk is shorter than length and spare together, and only then', () => {
    fc.assert(
      fc.property(
        walks,
        fc.double({ min: -60, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        (walk, by, spare) => {
          // A walk that ends in a long straight piece: its laid length grows to the end.
          const straight = [...walk];
          const step = walk[walk.length - 1] - walk[walk.length - 2];
          for (let k = 0; k < 6; k++) straight.push(straight[straight.length - 1] + step);
          const whole = laidLengthOf(verticesOf(s, straight), PITCH);
          const length = whole - spare + by;
          if (Math.abs(by) < 1e-6 || length <= 0) return;
          expect(cutToLength(s, straight, length, spare) === null).toBe(by > 0);
        },
      ),
      { seed: 89, numRuns: 500 },
    );
  });
});
