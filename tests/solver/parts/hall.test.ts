import { expect, it } from 'vitest';
import { planInParts } from '../../../solver/parts/plan-parts.js';
import { cable, judge, planned, rectangle, request, tools, zone } from '../../helpers/parts.js';

it('splits a floor of 32 m2 in two', () => {
  const floor = zone('hall', rectangle(0, 0, 6400, 5000), rectangle(0, 4750, 6400, 5000));
  const own = request([floor], {
    lattice: { pitch: 60, origin: [0, 0] },
    spacing: { min: 1, target: 2, max: 2 },
    catalogue: [80_000, 100_000, 125_000, 150_000].map(cable),
  });
  const outcome = planned(planInParts(own, tools));
  expect(outcome.zones.length).toBe(2);
  judge(outcome, own);
  expect(outcome.splits[0].parts.fraction).toBeGreaterThan(0.95);
});
