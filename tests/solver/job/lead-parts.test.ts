import { describe, expect, it } from 'vitest';
import { withoutStraights } from '../../../solver/job/bends.js';
import { keepsOwnRules, lastStud, leadLength, leadParts } from '../../../solver/job/lead-parts.js';
import type { Point, Ring } from '../../../solver/problem.js';
import { CURB, SETTING } from './bathroom.js';

/** Every node of a run along channels of 30 mm. */
const nodes = (corners: Ring): Ring =>
  corners.flatMap((b, k): Point[] => {
    const a = corners[k - 1];
    if (a === undefined) return [b];
    const steps = Math.round(Math.hypot(b[0] - a[0], b[1] - a[1]) / 30);
    return Array.from({ length: steps }, (_, n): Point => {
      const t = (n + 1) / steps;
      return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    });
  });

const keeps = (corners: Ring, minBendRadius = 15): boolean =>
  keepsOwnRules(nodes(corners), withoutStraights(corners), SETTING, minBendRadius);

// All numbers derived by hand.
describe('leadParts', () => {
  const lead: Ring = [
    [2340, 300],
    [2340, 600],
    [2550, 600],
  ];
  const over = { enter: [2400, 600] as Point, leave: [2500, 600] as Point };

  it('measures floor, climb, top, descent, half turn and corners', () => {
    const parts = leadParts(lead, over, { ...CURB, height: 90, descent: 120 }, SETTING);
    expect(parts).toMatchObject({ run: 410, climb: 90, top: 100, descent: 120, turns: 5 });
    expect(parts.wrap).toBeCloseTo(47.124, 3);
    expect(parts.cornerSaving).toBeCloseTo(5 * 6.438, 2);
    expect(leadLength(parts)).toBeCloseTo(410 + 90 + 100 + 120 + 47.124 - 32.19, 1);
  });

  it('has neither climb nor half turn on a strip that is level', () => {
    const parts = leadParts(lead, over, { ...CURB, height: 0, descent: 0 }, SETTING);
    expect(parts).toMatchObject({ run: 410, climb: 0, top: 100, descent: 0, wrap: 0, turns: 1 });
    expect(leadLength(parts)).toBeCloseTo(510 - 6.438, 2);
  });
});

describe('lastStud', () => {
  it('lies behind the node on the side the cable comes from', () => {
    expect(lastStud([2340, 600], [1, 0], [2340, 570], 30)).toEqual([2325, 585]);
    expect(lastStud([2340, 600], [1, 0], [2340, 630], 30)).toEqual([2325, 615]);
  });
});

describe('keepsOwnRules', () => {
  it('lets corners and steps to the side pass', () => {
    expect(
      keeps([
        [0, 0],
        [300, 0],
        [300, 300],
      ]),
    ).toBe(true);
    expect(
      keeps([
        [0, 0],
        [300, 0],
        [300, 30],
        [600, 30],
      ]),
    ).toBe(true);
  });

  it('bars a turn back closer than the smallest spacing', () => {
    expect(
      keeps([
        [0, 0],
        [300, 0],
        [300, 30],
        [0, 30],
      ]),
    ).toBe(false);
    expect(
      keeps([
        [0, 0],
        [300, 0],
        [300, 60],
        [0, 60],
      ]),
    ).toBe(true);
  });

  it('bars corners the same way nearer than two bend radii', () => {
    expect(
      keeps(
        [
          [0, 0],
          [300, 0],
          [300, 60],
          [0, 60],
        ],
        36,
      ),
    ).toBe(false);
    expect(
      keeps(
        [
          [0, 0],
          [300, 0],
          [300, 90],
          [0, 90],
        ],
        36,
      ),
    ).toBe(true);
  });
});
