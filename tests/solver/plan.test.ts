import { describe, expect, it } from 'vitest';
import { sweptArea } from '../../solver/bounds/area.js';
import { pointInRing } from '../../solver/geometry/measure.js';
import { planLayout } from '../../solver/plan.js';
import type { PlanOutcome, PlanRequest, PlanTools, ZonePlan } from '../../solver/plan-types.js';
import type { Zone } from '../../solver/problem.js';
import { box, cableOf, catalogueOf, planRequest, roomOf } from '../helpers/routing-rooms.js';

const TOOLS: PlanTools = { engine: null, expired: () => false };

const plan = (zone: Partial<Zone>, request: Partial<PlanRequest> = {}): PlanOutcome =>
  planLayout(planRequest(roomOf(zone), request), TOOLS);

const planned = (outcome: PlanOutcome): ZonePlan => {
  if (outcome.kind !== 'planned') throw new Error(JSON.stringify(outcome.verdicts));
  return outcome.zones[0];
};

const reasons = (outcome: PlanOutcome) => outcome.verdicts.map(({ reason }) => reason);

describe('empty rectangles', () => {
  // Least turns of a simple path over an m x n grid: 2 min(m, n) - 2, a corner start included (Kranakis, Krizanc,
  // Meertens, Ars Combin. 38 (1994), 177-192; the value for simple paths from memory, confirmed by enumeration).
  it.each([
    [900, 900, 150, 'top'],
    [1200, 900, 150, 'right'],
    [1500, 1000, 150, 'top'],
    [2000, 800, 200, 'right'],
    [1750, 1115, 150, 'right'],
  ])(
    '%d x %d mm, buffer %d mm deep at the %s: N runs take 2 (N - 1) turns, all others belong to the tail',
    (w, h, depth, side) => {
      const buffer = side === 'top' ? box(0, h - depth, w, h) : box(w - depth, 0, w, h);
      const { check, trace } = planned(
        plan(
          { outline: box(0, 0, w, h), buffer, entry: [55, 55] },
          { catalogue: catalogueOf(5000, 24_000, 1.06) },
        ),
      );
      const { path } = trace;
      const into = path.findIndex((p) => pointInRing(p, buffer));
      const lengths = path
        .slice(1, into + 1)
        .map(([x, y], k) => Math.abs(x - path[k][0]) + Math.abs(y - path[k][1]));
      // Pieces up to the buffer: run, step, run, ...; a last step may lead into the buffer.
      const runs = lengths.filter((length) => length > 91);
      const N = runs.length;
      expect(lengths.map((length) => length > 91)).toEqual(lengths.map((_, k) => k % 2 === 0));
      expect(Math.min(...runs)).toBeGreaterThan(0.75 * Math.min(w, h) - 50);
      const inBuffer = path.slice(0, -1).filter((p) => pointInRing(p, buffer)).length;
      const ofTail = inBuffer + (lengths.length === 2 * N ? 1 : 0);
      expect(check.length.turns - ofTail).toBe(2 * (N - 1));
      expect(ofTail).toBeLessThanOrEqual(4);
      expect(check.coverage.fraction).toBeGreaterThan(0.99);
    },
  );
});

describe('bounds on turns', () => {
  it('more work behind them changes nothing else, and never lowers them', () => {
    const zone = {
      outline: box(0, 0, 2200, 1300),
      buffer: box(0, 1150, 2200, 1300),
      entry: [55, 55],
    } as const;
    const request = { catalogue: catalogueOf(15_000, 45_000, 1.12) };
    const { turnBound: usual, ...layout } = planned(plan(zone, request));
    const { turnBound: sharp, ...same } = planned(plan(zone, { ...request, boundEffort: 'thorough' }));
    expect(same).toEqual(layout);
    if (!usual || !sharp) throw new Error('the room is laid over lanes');
    expect(sharp.pieces).toBe(usual.pieces);
    expect(sharp.turns).toBeGreaterThanOrEqual(usual.turns);
    expect(sharp.atLength).toBeGreaterThanOrEqual(sharp.turns);
    expect(sharp.turns).toBeLessThanOrEqual(sharp.route);
  });
});

describe('a cable that cannot go in', () => {
  it('too long: by how much it exceeds what the room holds, whole millimetres, the longer the more', () => {
    const lengths = [200_000, 210_000, 250_000];
    const outcome = plan({}, { catalogue: lengths.map((length) => cableOf(length)) });
    expect(outcome.kind).toBe('impossible');
    expect(reasons(outcome)).toEqual(['too-long', 'too-long', 'too-long']);
    const by = outcome.verdicts.map((verdict) => verdict.by ?? NaN);
    expect(by.every((mm) => Number.isInteger(mm) && mm > 0)).toBe(true);
    // With the length a cable's own tolerance of 1 % grows.
    expect(by[1] - by[0]).toBeCloseTo(10_100, -1);
    expect(by[2] - by[1]).toBeCloseTo(40_400, -1);
    // Cut by what is said to be missing, and no more refused for the same proven reason only.
    for (const [k, length] of lengths.entries()) expect(by[k]).toBeLessThan(length * 1.01);
  });

  it('bend radius: twice the radius less the widest spacing', () => {
    const outcome = plan({}, { catalogue: [cableOf(10_000, { minBendRadius: 50 })] });
    expect(reasons(outcome)).toEqual(['bend-radius']);
    expect(outcome.verdicts[0].by).toBe(10);
  });

  it('too short: what is missing on the way to the buffer', () => {
    const outcome = plan({}, { catalogue: [cableOf(600)] });
    expect(reasons(outcome)).toEqual(['too-short']);
    expect(outcome.verdicts[0].by).toBeGreaterThan(0);
  });

  it('a lead-in longer than the cable is too short as well', () => {
    expect(reasons(plan({ leadIn: 9000 }, { catalogue: [cableOf(8000)] }))).toEqual(['too-short']);
  });

  it.each([
    ['beside the room', { buffer: box(3000, 0, 3200, 1300) }],
    [
      'in a part of the floor that is cut off',
      {
        exclusions: [
          { id: 'wall', shape: { kind: 'polygon', outline: box(-10, 1000, 1900, 1100) }, clearance: 0 },
        ],
      },
    ],
  ] as const)('buffer %s: unreachable', (_, zone) => {
    expect(reasons(plan(zone, { catalogue: [cableOf(10_000)] }))).toEqual(['buffer-unreachable']);
  });

  it.each([
    [
      'holes cover everything',
      {
        exclusions: [
          { id: 'all', shape: { kind: 'circle', center: [900, 650], radius: 3000 }, clearance: 0 },
        ],
      },
    ],
    ['the clearance eats the floor', { clearance: 700 }],
    ['no stud fits in', { outline: box(0, 0, 99, 99) }],
  ] as const)('%s: nothing to lay in', (_, zone) => {
    expect(reasons(plan(zone, { catalogue: [cableOf(10_000)] }))).toEqual(['entry-outside']);
  });
});

describe('odd but possible', () => {
  it('cables much too short for the floor are laid all the same, below the area their length can sweep', () => {
    const cable = cableOf(7000);
    const zone = roomOf();
    const found = planned(plan({}, { catalogue: [cable, cableOf(5000)] }));
    const { fraction, targetArea } = found.check.coverage;
    const setting = {
      lattice: { pitch: 30, origin: [0, 0] },
      spacing: { min: 2, target: 3, max: 3 },
      placementSlopPerTurn: 2,
    } as const;
    expect(zone.leadIn).toBe(0);
    expect(fraction * targetArea * 1e6).toBeLessThan(sweptArea(setting, found.cable.length));
    expect(fraction).toBeLessThanOrEqual(found.upperBound + 1e-9);
    // A tidy hand heats at least half of what the cable could at best: 2 R an mm.
    expect(fraction * targetArea * 1e6).toBeGreaterThan(0.5 * 90 * found.cable.length * 0.8);
  });

  it('a room as wide as one channel takes one straight run', () => {
    for (const min of [2, 6, 8]) {
      const { check, trace } = planned(
        plan(
          { outline: box(0, 0, 2000, 101), buffer: box(1400, 0, 2000, 101), entry: [50, 50] },
          { catalogue: [cableOf(1500)], spacing: { min, target: Math.max(3, min), max: Math.max(3, min) } },
        ),
      );
      expect(check.length.turns).toBe(0);
      expect(trace.path.length).toBe(2);
    }
  });

  it('the whole floor as buffer, and an entry inside the buffer', () => {
    for (const zone of [{ buffer: box(0, 0, 1800, 1300) }, { entry: [900, 1200] as const }]) {
      const { check } = planned(plan(zone, { catalogue: catalogueOf(4000, 30_000, 1.25) }));
      expect(check.ok).toBe(true);
    }
  });

  it('a room a kilometre away is as good as one at the origin', () => {
    const at = (d: number) =>
      planned(
        plan(
          {
            outline: box(d, d, d + 900, d + 900),
            buffer: box(d, d + 750, d + 900, d + 900),
            entry: [d + 55, d + 55],
          },
          { catalogue: catalogueOf(5000, 24_000, 1.06) },
        ),
      );
    expect(at(1e6 - 900).check.coverage.fraction).toBeGreaterThan(0.99);
    expect(at(-1e6).check.coverage.fraction).toBeGreaterThan(0.99);
    expect(at(0).check.coverage.fraction).toBeGreaterThan(0.99);
  });

  it('an insisted cable is taken although another one would do better', () => {
    const catalogue = [cableOf(6000), cableOf(13_500)];
    const free = planned(
      plan({ outline: box(0, 0, 1200, 1000), buffer: box(0, 850, 1200, 1000) }, { catalogue }),
    );
    expect(free.cable.id).toBe('C13500');
    const bound = planned(
      plan(
        { outline: box(0, 0, 1200, 1000), buffer: box(0, 850, 1200, 1000) },
        { catalogue, insisted: new Map([['floor', 'C6000']]) },
      ),
    );
    expect(bound.cable.id).toBe('C6000');
  });

  it('one zone that cannot be laid makes the whole impossible, with verdicts on both', () => {
    const good = roomOf({ id: 'good', outline: box(0, 0, 900, 900), buffer: box(0, 750, 900, 900) });
    const bad = roomOf({ id: 'bad', buffer: box(9000, 0, 9100, 100) });
    const outcome = planLayout(planRequest(good, { zones: [good, bad], catalogue: [cableOf(7500)] }), TOOLS);
    expect(outcome.kind === 'impossible' && outcome.zones).toEqual(['bad']);
    expect(outcome.verdicts.map(({ zone }) => zone)).toEqual(['good', 'bad']);
  });
});
