import { describe, expect, it } from 'vitest';
import { bruteForce } from './brute-force-grid.js';
import { gridTask } from './grid-tasks.js';

function hamiltonianPaths(nx: number, ny: number): number {
  let directed = 0;
  for (let start = 0; start < nx * ny; start++) directed += bruteForce(gridTask(nx, ny, { start })).covering;
  return directed / 2;
}

describe('brute force over grid paths', () => {
  // OEIS A332307: undirected Hamiltonian paths in the m x n grid graph (values from memory).
  it.each([
    [3, [1, 8, 20, 62, 132]],
    [4, [1, 14, 62, 276]],
  ])('counts the Hamiltonian paths of %d x n grids', (side, counts) => {
    expect(counts.map((_, k) => hamiltonianPaths(side, k + 1))).toEqual(counts);
  });

  // OEIS A333580: Hamiltonian paths between opposite corners (values from memory).
  it.each([
    [4, 5, 20],
    [5, 5, 104],
    [5, 6, 378],
  ])('counts the paths between opposite corners of %d x %d', (nx, ny, count) => {
    expect(bruteForce(gridTask(nx, ny, { ends: [nx * ny - 1] })).covering).toBe(count);
  });

  it('weighs skipped nodes, corners, edges and the end by hand', () => {
    const task = gridTask(3, 2, { ends: [2], skip: 10, turn: 1 });
    task.eastCost.fill(0.5);
    task.northCost.fill(0.25);
    task.endCost[2] = 3;
    // Straight: 3 skipped, 2 east edges, end. Over the far row: none skipped is impossible, the detours leave 2 or 0.
    // 0-3-4-1-2: skips 5, edges 0.25 + 0.5 + 0.25 + 0.5, corners at 3, 4, 1. 0-3-4-5-2: skips 1, corners at 3 and 5.
    expect(bruteForce(task)).toMatchObject({ cost: 10 + 2 + 1.5 + 3, nodes: [0, 3, 4, 5, 2] });
  });
});
