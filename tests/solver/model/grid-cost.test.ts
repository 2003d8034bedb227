import { describe, expect, it } from 'vitest';
import { hasEdge, measureRoute, routeCost, verifyRoute } from '../../../solver/model/grid-cost.js';
import { gridTask } from '../../helpers/grid-tasks.js';

// All expected values worked out by hand on the picture of the grid:
//   6 7 8
//   3 4 5
//   0 1 2
describe('cost of a route', () => {
  const task = gridTask(3, 3, { skip: 7, turn: 2, ends: [2, 8] });
  task.eastCost.set([1, 2, 0, 4, 8, 0, 16, 32, 0]);
  task.northCost.set([0.5, 0.25, 0.125, 1 / 16, 1 / 32, 1 / 64, 0, 0, 0]);
  task.turnCost[4] = 5;
  task.endCost[8] = 100;

  it('adds edges, corners, skipped nodes and the end', () => {
    // 0 -> 3 -> 4 -> 5 -> 8: corners at 3 and 5, edges 0-3, 3-4, 4-5, 5-8, skipped 1 2 6 7.
    expect(measureRoute(task, [0, 3, 4, 5, 8])).toEqual({
      cost: 0.5 + 4 + 8 + 1 / 64 + 2 * 2 + 4 * 7 + 100,
      turns: 2,
      skipped: 4,
    });
    // 0 -> 1 -> 4 -> 5 -> 2: corners at 1, 4 (dearer) and 5.
    expect(routeCost(task, [0, 1, 4, 5, 2])).toBe(1 + 0.25 + 8 + 0.125 + 2 + 5 + 2 + 4 * 7);
  });

  it('measures a single column', () => {
    const column = gridTask(1, 4, { turn: 1 });
    column.northCost.fill(3);
    expect(measureRoute(column, [0, 1, 2, 3])).toEqual({ cost: 9, turns: 0, skipped: 0 });
    expect(verifyRoute(column, [0, 1, 2, 3])).toBeNull();
  });

  it('knows edges in both directions and none around the rim', () => {
    expect(hasEdge(task, 4, 3)).toBe(true);
    expect(hasEdge(task, 1, 4)).toBe(true);
    expect(hasEdge(task, 2, 3)).toBe(false);
    expect(hasEdge(task, 0, 4)).toBe(false);
  });
});

describe('verification of a route', () => {
  const task = gridTask(3, 3, { skip: 1, ends: [2, 8], absent: [6] });
  task.endOnly[5] = 1;
  task.skipCost[1] = Number.POSITIVE_INFINITY;
  task.east[3] = 0;

  it('accepts a legal route', () => expect(verifyRoute(task, [0, 1, 2])).toBeNull());

  it.each([
    ['empty', [], /empty/],
    ['wrong start', [1, 2], /start/],
    ['missing edge', [0, 3, 4, 1, 2], /no edge between 3 and 4/],
    ['jump', [0, 1, 5], /no edge/],
    ['absent node', [0, 3, 6, 7, 8], /does not exist/],
    ['twice', [0, 1, 0, 1, 2], /twice/],
    ['through an end-only node', [0, 1, 4, 5, 8], /only be the end/],
    ['forbidden end', [0, 1, 4], /may not end/],
    ['required node left out', [0, 3], /may not end/],
    ['stops at once', [0], /may not end/],
  ])('rejects: %s', (_, nodes, message) => expect(verifyRoute(task, nodes)).toMatch(message));

  it('rejects a route that leaves out a required node', () => {
    const strict = gridTask(2, 2, { ends: [2] });
    expect(verifyRoute(strict, [0, 2])).toMatch(/node 1 must be visited/);
  });

  it('lets the start be the end only when it is alone', () => {
    expect(verifyRoute(gridTask(1, 1), [0])).toBeNull();
    expect(verifyRoute(gridTask(2, 1, { skip: 0 }), [0])).toMatch(/only node/);
  });
});
