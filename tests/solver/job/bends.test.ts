import { describe, expect, it } from 'vitest';
import { bendSaving, planBends, turnAt, withoutStraights } from '../../../solver/job/bends.js';

describe('bendSaving', () => {
  it('shortens a right angle by (2 - pi/2) r', () => {
    // derived: r 20 -> 8.584 mm, r 15 -> 6.438 mm
    expect(bendSaving(Math.PI / 2, 20)).toBeCloseTo(8.584, 3);
    expect(bendSaving(-Math.PI / 2, 15)).toBeCloseTo(6.438, 3);
  });

  it('sums to 0.515 m over sixty corners of radius 20', () => {
    // derived: 60 corners -> 0.515 m
    expect((60 * bendSaving(Math.PI / 2, 20)) / 1000).toBeCloseTo(0.515, 3);
  });

  it('shortens a corner of 45 degrees by two tangents less the arc', () => {
    // derived: 2 x 15 x tan(22.5) - 15 x pi/4 = 12.4264 - 11.7810
    expect(bendSaving(Math.PI / 4, 15)).toBeCloseTo(0.6454, 3);
  });

  it('leaves a straight line as long as it is', () => {
    expect(bendSaving(0, 15)).toBe(0);
  });
});

describe('planBends', () => {
  it('counts corners and not straight vertices', () => {
    const bends = planBends(
      [
        [0, 0],
        [100, 0],
        [200, 0],
        [200, 100],
        [300, 100],
      ],
      15,
    );
    expect(bends.turns).toBe(2);
    expect(bends.saving).toBeCloseTo(12.876, 3);
  });
});

describe('turnAt', () => {
  it('is positive to the left as seen walking along', () => {
    expect(turnAt([0, 0], [1, 0], [1, 1])).toBeCloseTo(Math.PI / 2);
    expect(turnAt([0, 0], [1, 0], [1, -1])).toBeCloseTo(-Math.PI / 2);
  });
});

describe('withoutStraights', () => {
  it('keeps ends and corners only', () => {
    expect(
      withoutStraights([
        [0, 0],
        [0, 0],
        [30, 0],
        [60, 0],
        [60, 30],
      ]),
    ).toEqual([
      [0, 0],
      [60, 0],
      [60, 30],
    ]);
  });
});
