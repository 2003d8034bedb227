import { describe, expect, it } from 'vitest';
import { EFFORTS } from '../../../solver/search/effort.js';
import {
  furtherBudget,
  leastScreens,
  refineStates,
  refineSweeps,
  refineWork,
  roomWork,
  roundBudget,
  roundShares,
  screenWork,
} from '../../../solver/search/room-work.js';

// The project's own budgets: what is checked is how they hang together, no outside source.
const [quick] = EFFORTS.quick;
const NODES = [50, 150, 600, 900, 901, 1500, 2600, 10_000];

describe('work that a room may take', () => {
  it('rooms of everyday size get the budget, larger ones more, up to a limit', () => {
    for (const budget of EFFORTS.thorough)
      for (const [work, own] of [
        [screenWork, budget.screenWork],
        [refineWork, budget.refineWork],
      ] as const) {
        const works = NODES.map((nodes) => work(budget, nodes));
        expect(works.slice(0, 4)).toEqual([own, own, own, own]);
        expect(works).toEqual([...works].sort((a, b) => a - b));
        expect(work(budget, 1e6)).toBe(work(budget, 1e7));
      }
  });

  it('the most promising choice gets at least the states and sweeps of the others, at every effort', () => {
    for (const budget of EFFORTS.thorough)
      for (const nodes of NODES) {
        expect(refineStates(budget, nodes, true)).toBeGreaterThanOrEqual(refineStates(budget, nodes, false));
        expect(refineSweeps(budget, true)).toBeGreaterThanOrEqual(refineSweeps(budget, false));
      }
    expect(refineSweeps(quick, true)).toBe(2);
  });

  it('other choices get no more states than the budget has, and two thirds at least', () => {
    for (const budget of EFFORTS.thorough)
      for (const nodes of NODES) {
        const share = refineStates(budget, nodes, false) / budget.refineStates;
        expect(share).toBeLessThanOrEqual(1);
        expect(share).toBeGreaterThan(0.66);
      }
  });

  it('later rounds work out and finish half as much, at least one of each', () => {
    for (const budget of EFFORTS.thorough) {
      expect(roundBudget(budget, 1)).toBe(budget);
      const later = roundBudget({ ...budget, finish: 1 }, 2);
      expect(later).toEqual({ ...budget, finish: 1, refineWork: budget.refineWork / 2 });
      expect(roundBudget(budget, 3).finish).toBe(budget.finish / 2);
    }
  });

  it('only small rooms get a further round, only at quick, with more for screening and parities than before', () => {
    for (const budget of EFFORTS.thorough) {
      expect(furtherBudget(budget, 2.5, 2)).toBeNull();
      const further = furtherBudget(budget, 2.49, 2);
      expect(further !== null).toBe(budget === quick);
      if (!further) continue;
      expect(further.parityWork).toBeGreaterThan(budget.parityWork);
      expect(further).toEqual({ ...roundBudget(budget, 2), ...budget.smallRooms });
    }
  });

  it('a room of everyday size gets the budget, a larger one at most five times that, and more at every effort', () => {
    const areas = [0.5, 3, 6, 7, 10, 25, 100];
    for (const budget of EFFORTS.thorough) {
      const works = areas.map((area) => roomWork(budget, area));
      expect(works.slice(0, 3)).toEqual([budget.roomWork, budget.roomWork, budget.roomWork]);
      expect(works).toEqual([...works].sort((a, b) => a - b));
      expect(works[6]).toBeLessThanOrEqual(5 * budget.roomWork);
    }
    expect(roomWork(quick, 7) - roomWork(quick, 6)).toBe(quick.roomWorkPerArea);
    for (const area of areas) {
      const works = EFFORTS.thorough.map((budget) => roomWork(budget, area));
      expect(works).toEqual([...works].sort((a, b) => a - b));
    }
    const [first, later] = [roundShares(1), roundShares(2)];
    expect(roundShares(3)).toEqual(later);
    const shares = [first.refine, first.finish, later.refine, later.finish];
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
  });

  it('one screened choice is enough only in a first round and on a grid that is not large', () => {
    expect([leastScreens(600, 1), leastScreens(600, 2), leastScreens(1200, 1)]).toEqual([1, 4, 8]);
  });
});
