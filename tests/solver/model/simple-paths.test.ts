import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { onSimplePaths } from '../../../solver/model/simple-paths.js';

describe('nodes on simple paths', () => {
  it('are those that enumeration finds on small graphs (block of the added edge: Hopcroft and Tarjan 1973)', () => {
    let [some, all] = [0, 0];
    const places = fc.uniqueArray(fc.nat(6), { minLength: 1, maxLength: 3 });
    const pairs = fc.array(fc.tuple(fc.nat(6), fc.nat(6)), { maxLength: 12 });
    fc.assert(
      fc.property(pairs, places, places, (edges, starts, ends) => {
        const near = Array.from({ length: 7 }, (_, v) =>
          edges.flatMap(([a, b]) => (a === b ? [] : a === v ? [b] : b === v ? [a] : [])),
        );
        const expected = new Uint8Array(7);
        const path: number[] = [];
        const go = (v: number): void => {
          path.push(v);
          if (ends.includes(v)) for (const w of path) expected[w] = 1;
          for (const w of near[v]) if (!path.includes(w)) go(w);
          path.pop();
        };
        for (const v of starts) go(v);
        const graph = {
          count: 7,
          degree: (v: number) => near[v].length + 1,
          neighbour: (v: number, k: number) => near[v][k] ?? -1,
        };
        expect(onSimplePaths(graph, starts, ends)).toEqual(expected);
        const count = expected.reduce((sum, on) => sum + on, 0);
        if (count > 0 && count < 7) some++;
        if (count === 7) all++;
      }),
      { seed: 401, numRuns: 4000 },
    );
    expect(some).toBeGreaterThan(1000);
    expect(all).toBeGreaterThan(100);
  });
});
