import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkTrace } from '../../../solver/check/check-trace.js';
import { planRest, type RestOutcome, type RestRequest } from '../../../solver/continue/plan-rest.js';
import { planLayout } from '../../../solver/plan.js';
import type { PlanTools, ZonePlan } from '../../../solver/plan-types.js';
import type { Cable, Point, Setting, Zone } from '../../../solver/problem.js';
import { prefixOf } from '../../helpers/laid-parts.js';

const tools: PlanTools = { engine: null, expired: () => false };

const setting: Setting = {
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
};

/** An invented room with a bay and a column. */
const bay: Zone = {
  id: 'bay',
  wet: false,
  outline: [
    [0, 0],
    [1500, 0],
    [1500, 700],
    [900, 700],
    [900, 1200],
    [0, 1200],
  ],
  clearance: 50,
  exclusions: [{ id: 'column', shape: { kind: 'circle', center: [450, 450], radius: 70 }, clearance: 40 }],
  buffer: [
    [0, 1020],
    [900, 1020],
    [900, 1200],
    [0, 1200],
  ],
  entry: [1440, 60],
  leadIn: 250,
  priorities: [],
};

const cable = (length: number): Cable => ({
  id: `C${length}`,
  length,
  power: length / 60,
  voltage: 230,
  tolerance: 0.01,
  diameter: 5,
  minBendRadius: 15,
  coldLead: 3000,
});

const catalogue = [10_000, 11_500, 13_000, 14_500, 16_000].map(cable);

const layout: ZonePlan = (() => {
  const outcome = planLayout(
    {
      lattice: setting.lattice,
      spacing: setting.spacing,
      placementSlopPerTurn: setting.placementSlopPerTurn,
      zones: [bay],
      catalogue,
      insisted: new Map(),
      turnWeight: 500,
      effort: 'quick',
    },
    tools,
  );
  if (outcome.kind !== 'planned') throw new Error('the bay has a layout');
  return outcome.zones[0];
})();

const from = (path: readonly Point[], change: Partial<RestRequest> = {}): RestOutcome =>
  planRest(
    {
      setting,
      zone: bay,
      cable: layout.cable,
      path,
      reading: null,
      turnWeight: 500,
      effort: 'quick',
      ...change,
    },
    tools,
  );

const planned = (outcome: RestOutcome) => {
  if (outcome.kind !== 'planned') throw new Error(JSON.stringify(outcome));
  return outcome.plan;
};

/** Sharp length less (2 - pi/2) r for each turn, r = pitch / 2: trade table, derived. */
const laidLength = (path: readonly Point[]): number => {
  let length = 0;
  let before: readonly [number, number] | null = null;
  for (const [k, [x, y]] of path.entries()) {
    const last = path[k - 1];
    if (last === undefined) continue;
    const step = [Math.sign(x - last[0]), Math.sign(y - last[1])] as const;
    length += Math.abs(x - last[0]) + Math.abs(y - last[1]);
    if (before !== null && (before[0] !== step[0] || before[1] !== step[1])) length -= (2 - Math.PI / 2) * 15;
    before = step;
  }
  return length;
};

const inBuffer = ([x, y]: Point): boolean => x >= 0 && x <= 900 && y >= 1020 - 0.5 && y <= 1200;

describe('planRest', () => {
  it('goes on from anywhere on a planned layout: legal, the laid part untouched, the end in the buffer', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.02, max: 0.999, noNaN: true }), (share) => {
        const prefix = prefixOf(layout.trace.path, 30, share);
        const plan = planned(from(prefix));
        expect(plan.trace.path.slice(0, prefix.length)).toEqual(prefix);
        // The ordinary checker, told nothing of a continuation.
        expect(checkTrace(bay, setting, layout.cable, plan.trace).ok).toBe(true);
        expect(Math.abs(laidLength(plan.trace.path) + bay.leadIn - layout.cable.length)).toBeLessThan(1);
        for (const at of [plan.check.end.earliest, plan.check.end.at, plan.check.end.latest])
          expect(inBuffer(at)).toBe(true);
        expect(plan.laid.drift).toBe(0);
        expect(plan.check.coverage.fraction).toBeLessThanOrEqual(plan.upperBound);
        expect(plan.check.coverage.fraction).toBeGreaterThan(layout.check.coverage.fraction - 0.05);
      }),
      { seed: 7, numRuns: 5 },
    );
  });

  it('gives the same answer twice', () => {
    const prefix = prefixOf(layout.trace.path, 30, 0.6);
    expect(from(prefix)).toEqual(from(prefix));
  });

  it('lays the cable that a reading says is left, whatever the drawing says', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 0.8, noNaN: true }),
        fc.integer({ min: -150, max: 150 }),
        fc.constantFrom('up', 'down'),
        (share, drift, direction) => {
          const prefix = prefixOf(layout.trace.path, 30, share);
          const drawn = laidLength(prefix) + bay.leadIn;
          const run = ((drawn + drift) / 1000) * (direction === 'up' ? 1 : -1);
          const plan = planned(from(prefix, { reading: { mark: 40 + run, start: 40, direction } }));
          expect(plan.laid.drawn).toBeCloseTo(drawn, 6);
          expect(plan.laid.drift).toBeCloseTo(drift, 6);
          const onward = laidLength(plan.trace.path) - laidLength(prefix);
          expect(Math.abs(onward - (layout.cable.length - drawn - drift))).toBeLessThan(1);
          // tolerance x remaining length + slop x remaining turns, and the end stays in the buffer within it.
          const turns = plan.check.length.turns - plan.laid.turns;
          expect(plan.tolerance).toBeCloseTo(0.01 * plan.left + 2 * turns, 6);
          for (const at of [plan.check.end.earliest, plan.check.end.at, plan.check.end.latest])
            expect(inBuffer(at)).toBe(true);
          // But for the length, which the reading replaces, and the end that hangs on it, the ordinary rules hold.
          const ordinary = checkTrace(bay, setting, layout.cable, plan.trace);
          const replaced = ['length', 'end-in-buffer', 'reserve'];
          expect(ordinary.rules.filter(({ ok, rule }) => !ok && !replaced.includes(rule))).toEqual([]);
        },
      ),
      { seed: 11, numRuns: 3 },
    );
  });

  it('allows for the drift that tolerance and laying explain', () => {
    const prefix = prefixOf(layout.trace.path, 30, 0.5);
    const { drawn, driftAllowed, turns } = planned(from(prefix)).laid;
    expect(driftAllowed).toBeCloseTo(0.01 * drawn + 2 * turns, 6);
  });

  it('ends within the buffer when the laid part has got there already', () => {
    const { path } = layout.trace;
    const shares = [0.97, 0.985, 0.999];
    const reached = shares
      .map((share) => prefixOf(path, 30, share))
      .filter((part) => inBuffer(part[part.length - 1]));
    expect(reached.length).toBeGreaterThan(0);
    for (const prefix of reached) expect(planned(from(prefix)).check.ok).toBe(true);
  });

  it('does not turn back on the laid run, and keeps its distance from it', () => {
    const prefix: Point[] = [
      [1440, 60],
      [900, 60],
    ];
    const plan = planned(from(prefix));
    const [at, next] = plan.trace.path.slice(1);
    expect(next[0] > at[0] && next[1] === at[1]).toBe(false);
    expect(plan.check.rules.find(({ rule }) => rule === 'spacing')?.ok).toBe(true);
  });
});

describe('planRest refuses', () => {
  const impossible = (outcome: RestOutcome) => {
    if (outcome.kind !== 'impossible') throw new Error(`it is ${outcome.kind}`);
    return outcome;
  };

  it('a cable that is used up', () => {
    const prefix = prefixOf(layout.trace.path, 30, 0.9);
    const outcome = impossible(from(prefix, { cable: cable(5000) }));
    expect(outcome.reason).toBe('too-short');
    expect(outcome.by).toBe(Math.round(laidLength(prefix) + bay.leadIn - 5000));
  });

  it('a rest too short to reach the buffer, with what is missing at least', () => {
    const prefix: Point[] = [
      [1440, 60],
      [900, 60],
    ];
    const short = cable(1400);
    const outcome = impossible(from(prefix, { cable: short }));
    expect(outcome.reason).toBe('too-short');
    // From (900, 60) into y >= 1020 takes 960 mm, cut corners included at least pi/4 of it; 14 mm may be lacking.
    expect(outcome.by).toBeGreaterThan(0.7 * 960 + 14 - outcome.left);
  });

  it('a rest longer than what is free can hold', () => {
    const prefix = prefixOf(layout.trace.path, 30, 0.9);
    const outcome = impossible(from(prefix, { cable: cable(40_000) }));
    expect(outcome.reason).toBe('too-long');
    expect(outcome.by).toBeGreaterThan(0);
    expect(outcome.left).toBeCloseTo(40_000 - bay.leadIn - laidLength(prefix), 6);
  });

  it('a way to the buffer that the laid part has closed', () => {
    // Across the whole room below the buffer, from wall to wall, and back down.
    const walled: Zone = { ...bay, entry: [60, 870], leadIn: 0, exclusions: [] };
    const path: Point[] = [
      [60, 870],
      [840, 870],
      [840, 600],
    ];
    const outcome = impossible(planRest({ ...request(walled), path }, tools));
    expect(outcome.reason).toBe('buffer-unreachable');
    expect(outcome.by).toBeNull();
  });

  const request = (zone: Zone): RestRequest => ({
    setting,
    zone,
    cable: layout.cable,
    path: [],
    reading: null,
    turnWeight: 500,
    effort: 'quick',
  });

  it.each<[string, Point[]]>([
    [
      'entry',
      [
        [900, 60],
        [600, 60],
      ],
    ],
    [
      'lattice',
      [
        [1440, 60],
        [905, 60],
      ],
    ],
    [
      'lattice',
      [
        [1440, 60],
        [1200, 300],
      ],
    ],
    [
      'routing-area',
      [
        [1440, 60],
        [1440, 900],
      ],
    ],
    [
      'spacing',
      [
        [1440, 60],
        [600, 60],
        [600, 90],
        [1440, 90],
      ],
    ],
    [
      'bends',
      [
        [1440, 60],
        [600, 60],
        [900, 60],
      ],
    ],
    ['lattice', []],
  ])('a laid part that breaks %s', (rule, path) => {
    const outcome = from(path);
    if (outcome.kind !== 'illegal') throw new Error(`it is ${outcome.kind}`);
    expect(outcome.rules.map((verdict) => verdict.rule)).toContain(rule);
    for (const { violations } of outcome.rules) expect(violations.length).toBeGreaterThan(0);
  });
});
