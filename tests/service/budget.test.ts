import { describe, expect, it } from 'vitest';
import { layoutBudget } from '../../service/budget.js';

const square = (metres: number) => ({
  outline: [
    [0, 0],
    [metres * 1000, 0],
    [metres * 1000, metres * 1000],
    [0, metres * 1000],
  ] as [number, number][],
});

describe('layoutBudget', () => {
  it('guards each zone by its effort, larger ones in proportion, all within ten minutes', () => {
    expect(layoutBudget('quick', [square(1)], 30).hardMs).toBe(40_000);
    expect(layoutBudget('normal', [square(3), square(2)], 30).hardMs).toBe(200_000);
    expect(layoutBudget('quick', [square(10)], 30).hardMs).toBe(400_000);
    expect(layoutBudget('thorough', Array(12).fill(square(20)), 30).hardMs).toBe(600_000);
  });

  it('gives a finer lattice on the same floor more time', () => {
    expect(layoutBudget('quick', [square(5)], 15).hardMs).toBe(400_000);
  });

  it('tells the solver to come to an end well before its thread is stopped', () => {
    const { softMs, hardMs } = layoutBudget('quick', [square(2)], 30);
    expect(softMs).toBeGreaterThan(hardMs / 2);
    expect(softMs).toBeLessThan(hardMs * 0.8);
  });
});
