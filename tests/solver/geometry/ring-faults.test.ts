import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { segmentsMeet } from '../../../solver/geometry/measure.js';
import { ringFaults } from '../../../solver/geometry/ring-faults.js';
import type { Ring } from '../../../solver/problem.js';

const kinds = (ring: Ring): string[] => ringFaults(ring).map((fault) => fault.kind);

describe('ringFaults', () => {
  it('passes simple polygons of either winding', () => {
    const bay: Ring = [
      [0, 0],
      [400, 0],
      [500, 200],
      [250, 120],
      [0, 300],
    ];
    expect(kinds(bay)).toEqual([]);
    expect(kinds([...bay].reverse())).toEqual([]);
    expect(
      kinds([
        [0, 0],
        [200, 0],
        [400, 0],
        [400, 300],
        [0, 300],
      ]),
    ).toEqual([]); // a vertex on a straight wall
  });

  it('names each fault and its place', () => {
    expect(ringFaults([])).toEqual([{ kind: 'too-few-vertices', at: null, index: -1 }]);
    expect(
      kinds([
        [0, 0],
        [1, 1],
      ]),
    ).toEqual(['too-few-vertices']);
    expect(
      ringFaults([
        [0, 0],
        [9, 0],
        [9, 0],
        [0, 9],
      ]),
    ).toEqual([{ kind: 'repeated-vertex', at: [9, 0], index: 2 }]);
    expect(
      kinds([
        [0, 0],
        [9, 0],
        [0, 9],
        [0, 0],
      ]),
    ).toEqual(['repeated-vertex']);
    expect(
      ringFaults([
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ]),
    ).toEqual([{ kind: 'self-crossing', at: [5, 5], index: 2 }]);
    expect(
      kinds([
        [0, 0],
        [10, 0],
        [5, 0],
      ]),
    ).toContain('self-touching'); // runs back over itself
    expect(
      ringFaults([
        [0, 0],
        [10, 0],
        [10, 10],
        [5, 0],
        [0, 10],
      ])[0],
    ).toMatchObject({
      kind: 'self-touching',
      at: [5, 0],
    });
  });

  it('finds a meeting of two edges wherever trying all pairs finds one', () => {
    const coordinate = fc.integer({ min: 0, max: 12 });
    let simple = 0;
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate), { minLength: 4, maxLength: 7 }), (ring) => {
        const n = ring.length;
        const at = (k: number): readonly [number, number] => ring[k % n];
        fc.pre(ring.every((p, k) => p[0] !== at(k + 1)[0] || p[1] !== at(k + 1)[1]));
        let meets = false;
        for (let i = 0; i < n; i += 1) {
          for (let j = i + 2; j < n; j += 1) {
            if (i === 0 && j === n - 1) continue;
            meets ||= segmentsMeet(at(i), at(i + 1), at(j), at(j + 1));
          }
          const [a, b, c] = [at(i), at(i + 1), at(i + 2)];
          const back = (a[0] - b[0]) * (c[0] - b[0]) + (a[1] - b[1]) * (c[1] - b[1]) > 0;
          meets ||= back && (b[0] - a[0]) * (c[1] - a[1]) === (b[1] - a[1]) * (c[0] - a[0]);
        }
        if (!meets) simple += 1;
        expect(ringFaults(ring).length > 0).toBe(meets);
      }),
      { seed: 31, numRuns: 2000 },
    );
    expect(simple).toBeGreaterThan(100);
  });

  it('caps the list', () => {
    const comb: Ring = Array.from({ length: 60 }, (_, k) => [k % 2 === 0 ? 0 : 100, (k * 37) % 101]);
    expect(ringFaults(comb, 5)).toHaveLength(5);
  });
});
