import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkTrace } from '../../solver/check/check-trace.js';
import { planLayout } from '../../solver/plan.js';
import type { PlanOutcome, PlanRequest, PlanTools } from '../../solver/plan-types.js';
import { spacings } from '../helpers/lattice-room.js';
import { randomRooms } from '../helpers/random-rooms.js';
import { catalogueOf, planRequest } from '../helpers/routing-rooms.js';
import { statedObjective } from '../helpers/stated-objective.js';

const TOOLS: PlanTools = { engine: null, expired: () => false };

const requests = (least: number, most: number): fc.Arbitrary<PlanRequest> =>
  fc
    .record({
      zone: randomRooms(least, most),
      pitch: fc.integer({ min: 20, max: 60 }),
      spacing: spacings,
      origin: fc.option(fc.tuple(fc.integer({ min: 0, max: 59 }), fc.integer({ min: 0, max: 59 }))),
      slop: fc.constantFrom(0, 2),
      ratio: fc.constantFrom(1.12, 1.8),
      radius: fc.constantFrom(10, 15),
    })
    .map(({ zone, pitch, spacing, origin, slop, ratio, radius }) =>
      planRequest(zone, {
        lattice: { pitch, origin },
        spacing,
        placementSlopPerTurn: slop,
        catalogue: catalogueOf(500, 30_000, ratio, { minBendRadius: radius }),
      }),
    );

const settingOf = (request: PlanRequest, outcome: Extract<PlanOutcome, { kind: 'planned' }>) => ({
  lattice: outcome.lattice,
  spacing: request.spacing,
  placementSlopPerTurn: request.placementSlopPerTurn,
});

/** What more effort must not worsen. */
const objective = (request: PlanRequest, outcome: Extract<PlanOutcome, { kind: 'planned' }>): number => {
  const [{ check, trace }] = outcome.zones;
  const { coverage, length } = check;
  return statedObjective(coverage, length.turns, trace.path, settingOf(request, outcome), request.turnWeight);
};

describe('random rooms', () => {
  it('give a layout that the judge accepts, or a reason for every cable; the same request the same outcome', () => {
    let [planned, impossible] = [0, 0];
    fc.assert(
      fc.property(requests(250, 750), (request) => {
        const outcome = planLayout(request, TOOLS);
        expect(outcome.verdicts.map(({ cable }) => cable)).toHaveLength(request.catalogue.length);
        expect(new Set(outcome.verdicts.map(({ cable }) => cable))).toEqual(
          new Set(request.catalogue.map(({ id }) => id)),
        );
        for (const { fits, reason, detail, by } of outcome.verdicts) {
          expect(fits).toBe(reason === null);
          expect(detail).not.toBe('');
          if (by !== null) expect(by).toBeGreaterThanOrEqual(0);
        }
        expect(planLayout(request, TOOLS)).toEqual(outcome);
        if (outcome.kind === 'impossible') {
          impossible++;
          expect(outcome.zones).toEqual(['room']);
          return;
        }
        planned++;
        const [{ zone, cable, trace, check, upperBound }] = outcome.zones;
        expect(checkTrace(zone, settingOf(request, outcome), cable, trace)).toEqual(check);
        expect(check.ok).toBe(true);
        expect(check.coverage.fraction).toBeLessThanOrEqual(upperBound + 1e-9);
        const chosen = outcome.verdicts.filter((verdict) => verdict.chosen);
        expect(chosen.map((verdict) => verdict.cable)).toEqual([cable.id]);
        expect(chosen[0].coverage).toBe(check.coverage.fraction);
        expect(chosen[0].turns).toBe(check.length.turns);
      }),
      { seed: 20_250_101, numRuns: 24 },
    );
    expect(planned).toBeGreaterThan(4);
    expect(impossible).toBeGreaterThan(1);
  });
});

describe('more effort', () => {
  it('is never worse', () => {
    let compared = 0;
    fc.assert(
      fc.property(requests(250, 480), (request) => {
        const quick = planLayout(request, TOOLS);
        if (quick.kind !== 'planned') return;
        const normal = planLayout({ ...request, effort: 'normal' }, TOOLS);
        if (normal.kind !== 'planned') throw new Error('more effort lost the layout');
        compared++;
        expect(objective(request, normal)).toBeLessThanOrEqual(objective(request, quick) + 1);
      }),
      { seed: 20_250_102, numRuns: 8 },
    );
    expect(compared).toBeGreaterThan(2);
  });
});
