import { describe, expect, it } from 'vitest';
import { fewestPieces, fewestTurns, turnBound } from '../../../solver/bounds/turns.js';
import type { GridTask } from '../../../solver/model/grid-task.js';
import { solveFrontier } from '../../../solver/search/frontier.js';
import { bruteForce } from '../../helpers/brute-force-grid.js';
import { gridTask, randomGridTask, seeded } from '../../helpers/grid-tasks.js';

/** Fewest pieces by trying every direction for every node. */
function piecesByEnumeration(task: GridTask): number {
  const nodes = Array.from(task.present.keys()).filter((v) => task.present[v] === 1);
  let best = Number.POSITIVE_INFINITY;
  for (let labels = 0; labels < 2 ** nodes.length; labels++) {
    const horizontal = new Map(nodes.map((v, k) => [v, ((labels >> k) & 1) === 1]));
    let pieces = nodes.length;
    for (const v of nodes) {
      if (task.east[v] === 1 && horizontal.get(v) === true && horizontal.get(v + 1) === true) pieces--;
      if (task.north[v] === 1 && horizontal.get(v) === false && horizontal.get(v + task.nx) === false)
        pieces--;
    }
    best = Math.min(best, pieces);
  }
  return best;
}

/** Turns cost 1 and nothing else costs anything; nodes of finite skip cost may be left out. */
function turnsOnly(task: GridTask): GridTask {
  const flatten = (costs: Float64Array): Float64Array => costs.map((c) => (Number.isFinite(c) ? 0 : c));
  return {
    ...task,
    eastCost: flatten(task.eastCost),
    northCost: flatten(task.northCost),
    endCost: flatten(task.endCost),
    skipCost: flatten(task.skipCost),
    turnCost: task.turnCost.map(() => 1),
  };
}

describe('fewest straight pieces', () => {
  it('equals enumeration of all labellings on random grids', () => {
    const random = seeded(3);
    for (let k = 0; k < 250; k++) {
      const task = randomGridTask(random, 4, 11);
      expect(fewestPieces(task), `task ${k}`).toBe(piecesByEnumeration(task));
    }
  });

  // One piece for each of the shorter side's rows; a plus of five nodes needs three: by hand.
  it('knows rectangles and a plus', () => {
    expect(fewestPieces(gridTask(7, 4))).toBe(4);
    expect(fewestPieces(gridTask(4, 60))).toBe(4);
    expect(fewestPieces(gridTask(3, 3, { start: 4, absent: [0, 2, 6, 8] }))).toBe(3);
  });
});

describe('bound on turns', () => {
  // Oracle: enumeration of all covering paths.
  it.each([1, 2])('never exceeds the fewest turns of a covering path, seed %d', (seed) => {
    const random = seeded(seed);
    let covering = 0;
    let tight = 0;
    for (let k = 0; k < 1200; k++) {
      const task = randomGridTask(random, 5, 20);
      const truth = bruteForce(task).fewestTurns;
      const bound = turnBound(task).turns;
      expect(bound, `task ${k}`).toBeLessThanOrEqual(truth);
      if (!Number.isFinite(truth)) continue;
      covering++;
      if (bound === truth) tight++;
    }
    expect(covering).toBeGreaterThan(100);
    expect(tight / covering).toBeGreaterThan(0.8);
  });

  it('holds where nodes may be left out', () => {
    const random = seeded(8);
    let positive = 0;
    for (let k = 0; k < 1200; k++) {
      const task = turnsOnly(randomGridTask(random, 5, 20));
      const truth = bruteForce(task).cost;
      const bound = fewestTurns(task);
      expect(bound, `task ${k}`).toBeLessThanOrEqual(truth);
      if (bound > 0 && Number.isFinite(truth)) positive++;
    }
    expect(positive).toBeGreaterThan(100);
  });

  it('never exceeds the exact optimum on larger grids with holes', () => {
    const random = seeded(77);
    let solved = 0;
    for (let k = 0; k < 60; k++) {
      const absent = Array.from({ length: 63 }, (_, v) => v).filter((v) => v > 0 && random() < 0.1);
      const task = gridTask(7, 9, { absent });
      const outcome = solveFrontier(task, { maxStates: 100_000 });
      if (outcome.kind !== 'route') continue;
      solved++;
      expect(turnBound(task).turns).toBeLessThanOrEqual(outcome.turns);
    }
    expect(solved).toBeGreaterThan(5);
  });

  // 2 min(m, n) - 2: Kranakis, Krizanc and Meertens, Ars Combin. 38 (1994) for squares; enumeration for the rest.
  it.each([
    [2, 2],
    [3, 4],
    [5, 5],
    [7, 12],
    [10, 10],
    [20, 20],
    [25, 40],
  ])('is exact on the %d x %d rectangle', (m, n) => {
    expect(turnBound(gridTask(m, n))).toEqual({ pieces: Math.min(m, n), turns: 2 * Math.min(m, n) - 2 });
  });

  it.each([
    [4, 5, 8],
    [5, 5, 8],
    [3, 7, 4],
  ])('is exact from corner to opposite corner of %d x %d', (m, n, turns) => {
    expect(turnBound(gridTask(m, n, { ends: [m * n - 1] })).turns).toBe(turns);
  });

  it('tells that a cut-off node rules every covering path out', () => {
    expect(turnBound(gridTask(5, 1, { absent: [2] })).turns).toBe(Number.POSITIVE_INFINITY);
  });
});
