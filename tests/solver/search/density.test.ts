import { describe, expect, it } from 'vitest';
import { planLayout } from '../../../solver/plan.js';
import type { HeatDensity } from '../../../solver/problem.js';
import { beyondLimits, densityCost, densityOf, guessedDensityCost } from '../../../solver/search/density.js';
import { metres, requestFor, shower, TOOLS } from '../../helpers/shower.js';

const cable = metres(10, { power: 150 });
const wish = (change: Partial<HeatDensity>): HeatDensity => ({
  target: null,
  least: null,
  most: null,
  ...change,
});

describe('heat density', () => {
  it('is power over area: 150 W on 1 m2', () => {
    expect(densityOf(cable, 1e6)).toBe(150);
  });

  it('is measured against its limits', () => {
    expect(beyondLimits(wish({ least: 100, most: 140 }), 150)).toBe(10);
    expect(beyondLimits(wish({ least: 100, most: 140 }), 90)).toBe(-10);
    expect(beyondLimits(wish({ least: 100, most: 140 }), 140)).toBe(0);
    expect(beyondLimits(wish({}), 1000)).toBe(0);
  });

  it('costs 0.1 % of the target area for each per cent of deviation, either way', () => {
    const total = 2e6;
    expect(densityCost(wish({ target: 150 }), cable, 1e6, total)).toBe(0);
    expect(densityCost(wish({ target: 150 / 1.01 }), cable, 1e6, total)).toBeCloseTo(0.001 * total, 6);
    expect(densityCost(wish({ target: 150 / 0.99 }), cable, 1e6, total)).toBeCloseTo(0.001 * total, 6);
    expect(densityCost(wish({ most: 100 }), cable, 1e6, total)).toBe(0);
    expect(densityCost(undefined, cable, 1e6, total)).toBe(0);
  });

  it('a guess beyond the limits weighs more than all the floor being cold', () => {
    expect(guessedDensityCost(wish({ most: 130 }), cable, 1e6, 1e6)).toBeGreaterThan(1e6);
    expect(guessedDensityCost(wish({ most: 160 }), cable, 1e6, 1e6)).toBe(0);
  });
});

describe('heat density and the choice of cable', () => {
  const catalogue = [
    metres(7.5, { id: 'weak', power: 60 }),
    metres(7.5, { id: 'middling', power: 90 }),
    metres(7.5, { id: 'strong', power: 120 }),
  ];
  const chosen = (heatDensity: HeatDensity) => {
    const outcome = planLayout(requestFor(shower({ heatDensity }), catalogue), TOOLS);
    return outcome.kind === 'planned' ? outcome.zones[0]?.cable.id : null;
  };

  it('the wish steers it: one length, three powers', () => {
    // About 0.54 m2 of target: 60, 90 and 120 W give about 111, 167 and 222 W/m2.
    expect(chosen(wish({ target: 110 }))).toBe('weak');
    expect(chosen(wish({ target: 170 }))).toBe('middling');
    expect(chosen(wish({ target: 230 }))).toBe('strong');
  });

  it('limits leave only what lies within', () => {
    expect(chosen(wish({ most: 140 }))).toBe('weak');
    expect(chosen(wish({ least: 190 }))).toBe('strong');
    expect(chosen(wish({ least: 140, most: 190 }))).toBe('middling');
    expect(chosen(wish({ least: 120, most: 150 }))).toBeNull();
  });

  it('a limit keeps the layout of a cable that leaves more floor cold', () => {
    const long = metres(7.5);
    const short = metres(6);
    const outcome = planLayout(
      requestFor(shower({ heatDensity: wish({ most: 150 }) }), [long, short]),
      TOOLS,
    );
    if (outcome.kind !== 'planned') throw new Error('the short one can be laid');
    expect(outcome.zones[0]?.cable.id).toBe(short.id);
    const { power } = short;
    expect(power / (outcome.zones[0]?.check.coverage.heatedArea ?? 0)).toBeLessThanOrEqual(150);
  });
});
