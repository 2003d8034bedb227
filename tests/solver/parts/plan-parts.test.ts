import { describe, expect, it } from 'vitest';
import { type PartsRequest, planInParts } from '../../../solver/parts/plan-parts.js';
import { planLayout } from '../../../solver/plan.js';
import type { PlanRequest } from '../../../solver/plan-types.js';
import { cable, judge, planned, rectangle, request, tools, zone } from '../../helpers/parts.js';

/** For floors of half a square metre. */
const small = [4500, 5200, 6000].map(cable);

describe('planInParts', () => {
  it('lays a floor of three cables, the seams warm and the spacing kept across them', () => {
    const floor = zone('floor', rectangle(0, 0, 2900, 1300), rectangle(0, 1050, 2900, 1300));
    const own = request([floor], { catalogue: [8000, 9500, 11_000, 13_000].map(cable) });
    const outcome = planned(planInParts(own, tools));
    expect(outcome.zones.map((plan) => plan.zone.id)).toEqual(['floor/1', 'floor/2', 'floor/3']);
    judge(outcome, own);
    const [{ parts, split }] = outcome.splits;
    expect(parts.fraction).toBeGreaterThan(0.97);
    expect(parts.ok).toBe(true);
    // Routing area 2.8 m x 1.2 m; what the parts' buffers take is not target.
    const buffers = outcome.zones.reduce((sum, { check }) => sum + check.coverage.bufferArea, 0);
    expect(parts.targetArea + buffers).toBeLessThan(2.8 * 1.2);
    expect(parts.targetArea + buffers).toBeGreaterThan(2.8 * 1.2 - 2 * 0.09 * 1.2);
    for (const { zone: part } of split.parts) expect(part.entry[1]).toBeLessThan(150);
  });

  it('sets a strip aside at the far wall where the buffer does not reach', () => {
    const floor = zone('floor', rectangle(0, 0, 2200, 1100), rectangle(1950, 0, 2200, 1100), {
      entry: [60, 60],
      exclusions: [{ id: 'pipe', shape: { kind: 'circle', center: [600, 600], radius: 40 }, clearance: 40 }],
    });
    const own = request([floor], { catalogue: [8000, 9500, 11_000, 13_000].map(cable) });
    const outcome = planned(planInParts(own, tools));
    judge(outcome, own);
    const [{ split }] = outcome.splits;
    for (const { zone: part, ownBuffer } of split.parts)
      expect(ownBuffer).toBe(Math.min(...part.buffer.map(([x]) => x)) === 1950);
  });

  it('keeps each cable within the load allowed, and says which are too heavy', () => {
    const floor = zone('floor', rectangle(0, 0, 1500, 1300), rectangle(0, 1100, 1500, 1300));
    const own = request([floor], { maxLoad: 160 });
    const outcome = planned(planInParts(own, tools));
    expect(outcome.zones.length).toBe(2);
    for (const { cable: chosen } of outcome.zones) expect(chosen.power).toBeLessThanOrEqual(160);
    judge(outcome, own);
    const heavy = outcome.verdicts
      .filter(({ reason }) => reason === 'too-much-load')
      .map((verdict) => verdict.cable);
    expect(heavy).toEqual(['C14500', 'C17500', 'C21000']);
    // Without the limit one cable does.
    expect(planned(planInParts(request([floor]), tools)).splits).toEqual([]);
  });

  it('is planLayout where nothing is split', () => {
    const rooms = [
      zone('one', rectangle(0, 0, 900, 800), rectangle(0, 650, 900, 800)),
      zone('two', rectangle(0, 0, 800, 900), rectangle(0, 750, 800, 900)),
    ];
    const own = request(rooms, { catalogue: small });
    const { split: _s, maxLoad: _m, undivided: _u, ...plain } = own;
    const { splits, ...outcome } = planInParts(own, tools);
    expect(splits).toEqual([]);
    expect(outcome).toEqual(planLayout(plain satisfies PlanRequest, tools));
  });

  it.each<[string, Partial<PartsRequest>]>([
    ['it is not wished', { split: 'never' }],
    ['the zone must stay whole', { undivided: new Set(['floor']) }],
    ['the zone insists on a cable', { insisted: new Map([['floor', 'C6000']]) }],
  ])('splits nothing where %s', (_why, change) => {
    const floor = zone('floor', rectangle(0, 0, 1300, 900), rectangle(0, 750, 1300, 900));
    const own = request([floor], { catalogue: small, ...change });
    const outcome = planned(planInParts(own, tools));
    expect(outcome.splits).toEqual([]);
    expect(outcome.zones.map((plan) => plan.zone.id)).toEqual(['floor']);
  });
});
