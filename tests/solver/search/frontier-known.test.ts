import { describe, expect, it } from 'vitest';
import { solveFrontier } from '../../../solver/search/frontier.js';
import { gridTask } from '../../helpers/grid-tasks.js';

interface Cell {
  readonly x: number;
  readonly y: number;
}

const white = (c: Cell): boolean => (c.x + c.y) % 2 === 0;

/**
 * Case F3 of Itai, Papadimitriou and Szwarcfiter, SIAM J. Comput. 11 (1982) 676-686, for three rows and an even number
 * m of columns (conditions from memory; cells 1-based).
 */
function forbiddenInThreeRows(m: number, s: Cell, t: Cell): boolean {
  const blocked = (a: Cell, b: Cell): boolean =>
    !white(a) && white(b) && ((a.y === 2 && a.x < b.x) || (a.y !== 2 && a.x < b.x - 1));
  const flip = (c: Cell): Cell => ({ x: m + 1 - c.x, y: c.y });
  // A mirror in an even number of columns swaps the colours: judge the mirrored pair by its own colours.
  return blocked(s, t) || blocked(t, s) || blocked(flip(s), flip(t)) || blocked(flip(t), flip(s));
}

function hamiltonianPathExists(m: number, n: number, s: Cell, t: Cell): boolean {
  const differ = white(s) !== white(t);
  if ((m * n) % 2 === 0 ? !differ : !(white(s) && white(t))) return false;
  if (n === 1) return Math.min(s.x, t.x) === 1 && Math.max(s.x, t.x) === m;
  if (n === 2 && m > 2 && s.x === t.x && s.x > 1 && s.x < m) return false;
  return !(n === 3 && m % 2 === 0 && forbiddenInThreeRows(m, s, t));
}

/** Cells on the longest path, Keshavarz-Kohjerdi et al., Discrete Appl. Math. 160 (2012) 210-217 (from memory). */
function longestPath(m: number, n: number, s: Cell, t: Cell): number {
  const dx = Math.abs(s.x - t.x);
  if (n === 1) return dx + 1;
  if (n === 2 && (dx === 0 || (dx === 1 && s.y !== t.y))) return Math.max(s.x + t.x, 2 * m - s.x - t.x + 2);
  if ((m * n) % 2 === 0) {
    if (white(s) === white(t)) return m * n - 1;
    return n === 3 && m % 2 === 0 && forbiddenInThreeRows(m, s, t) ? m * n - 2 : m * n;
  }
  if (white(s) !== white(t)) return m * n - 1;
  return white(s) ? m * n : m * n - 2;
}

const RECTANGLES = [
  [5, 1],
  [4, 2],
  [5, 2],
  [3, 3],
  [4, 3],
  [5, 3],
  [6, 3],
  [8, 3],
  [4, 4],
  [5, 4],
  [5, 5],
] as const;

function pairs(m: number, n: number): [number, number][] {
  const all: [number, number][] = [];
  for (let s = 0; s < m * n; s++) for (let t = 0; t < m * n; t++) if (s !== t) all.push([s, t]);
  return all;
}

const cell = (v: number, m: number): Cell => ({ x: (v % m) + 1, y: Math.floor(v / m) + 1 });

describe('frontier search against the literature', () => {
  it.each(RECTANGLES)('Hamiltonian paths between all pairs of %d x %d', (m, n) => {
    for (const [s, t] of pairs(m, n)) {
      const exists = hamiltonianPathExists(m, n, cell(s, m), cell(t, m));
      const outcome = solveFrontier(gridTask(m, n, { start: s, ends: [t], turn: 0 }), { maxStates: 2000 });
      expect(outcome.kind, `${s} to ${t}`).toBe(exists ? 'route' : 'infeasible');
    }
  });

  it.each(RECTANGLES)('longest paths between all pairs of %d x %d', (m, n) => {
    for (const [s, t] of pairs(m, n)) {
      const task = gridTask(m, n, { start: s, ends: [t], turn: 0, skip: 1 });
      const outcome = solveFrontier(task, { maxStates: 2000 });
      if (outcome.kind !== 'route') throw new Error(outcome.kind);
      expect(outcome.proven).toBe(true);
      expect(outcome.nodes.length, `${s} to ${t}`).toBe(longestPath(m, n, cell(s, m), cell(t, m)));
    }
  });

  // 2n - 2 turns cover the n x n grid: Kranakis, Krizanc and Meertens, Ars Combin. 38 (1994); for m x n, with a corner
  // start, 2 min(m, n) - 2: the same argument, confirmed by enumeration.
  it.each([
    [2, 2],
    [3, 4],
    [3, 9],
    [4, 4],
    [5, 5],
    [6, 4],
    [7, 7],
    [9, 9],
    [12, 12],
    [10, 25],
  ])('fewest turns over a %d x %d grid', (m, n) => {
    const outcome = solveFrontier(gridTask(m, n), { maxStates: 200_000 });
    expect(outcome).toMatchObject({ kind: 'route', proven: true, turns: 2 * Math.min(m, n) - 2, skipped: 0 });
  });

  // Corner to opposite corner, by enumeration.
  it.each([
    [4, 5, 8],
    [5, 5, 8],
    [3, 5, 4],
    [3, 8, 4],
  ])('fewest turns from corner to corner of %d x %d', (m, n, turns) => {
    const outcome = solveFrontier(gridTask(m, n, { ends: [m * n - 1] }), { maxStates: 100_000 });
    expect(outcome).toMatchObject({ kind: 'route', proven: true, turns });
  });
});
