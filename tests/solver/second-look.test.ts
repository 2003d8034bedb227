import { describe, expect, it } from 'vitest';
import { EFFORTS } from '../../solver/search/effort.js';
import { LIGHTLY } from '../../solver/second-look.js';

// The project's own budgets, no outside source. They once asked for more windows than quick itself took.
describe('second looks', () => {
  it('take no more of anything than quick does', () => {
    const [quick] = EFFORTS.quick;
    const [lightly] = LIGHTLY;
    const more = Object.keys(quick).filter((name) => {
      const [asked, usual] = [lightly, quick].map(
        (budget) => Object.entries(budget).find(([k]) => k === name)?.[1],
      );
      return asked > usual;
    });
    expect(LIGHTLY).toHaveLength(1);
    expect(more).toEqual([]);
    expect(lightly.smallRooms).toBeNull();
  });
});
