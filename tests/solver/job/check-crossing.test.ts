import { describe, expect, it } from 'vitest';
import { type CrossingRule, checkCrossing } from '../../../solver/job/check-crossing.js';
import { type Crossing, type CrossingTask, planCrossing } from '../../../solver/job/crossing.js';
import { leadLength } from '../../../solver/job/lead-parts.js';
import type { Point, Ring } from '../../../solver/problem.js';
import { FLOOR, rectangle, SHOWER, TASK } from './bathroom.js';

const planned = (task: CrossingTask): Crossing => {
  const outcome = planCrossing(task);
  if (outcome.kind !== 'crossing') throw new Error(outcome.message);
  return outcome.crossing;
};

const GOOD = planned({ ...TASK, wish: { crossing: [2450, 600], joint: [2340, 60] } });

/** Names of the rules broken by the good crossing with some of it replaced. */
const broken = (change: Partial<Crossing>, task: CrossingTask = TASK): CrossingRule[] => [
  ...new Set(checkCrossing(task, { ...GOOD, ...change }).map(({ rule }) => rule)),
];

const withLead = (lead: Ring): Partial<Crossing> => ({ lead, joint: lead[0], entry: lead[lead.length - 1] });

// Rules: common practice, no source, unless a test says otherwise.
describe('checkCrossing', () => {
  it('passes a planned crossing', () => {
    expect(GOOD.lead).toEqual([
      [2340, 60],
      [2340, 600],
      [2550, 600],
    ]);
    expect(broken({})).toEqual([]);
  });

  it('counts the crossings: none', () => {
    const faults = checkCrossing(TASK, {
      ...GOOD,
      ...withLead([
        [2340, 60],
        [2340, 600],
      ]),
    });
    expect(faults.find(({ rule }) => rule === 'crosses-once')?.size).toBe(0);
  });

  it('counts the crossings: there and back and there again', () => {
    const lead: Ring = [
      [2340, 60],
      [2340, 600],
      [2550, 600],
      [2550, 700],
      [2340, 700],
      [2340, 800],
      [2550, 800],
    ];
    const faults = checkCrossing(TASK, { ...GOOD, ...withLead(lead) });
    expect(faults.find(({ rule }) => rule === 'crosses-once')?.size).toBe(3);
  });

  it('demands a square crossing and says how far off it is', () => {
    const lead: Ring = [
      [2340, 60],
      [2340, 600],
      [2550, 660],
    ];
    const faults = checkCrossing(TASK, { ...GOOD, ...withLead(lead) });
    // derived: atan(60 / 210)
    expect(faults.find(({ rule }) => rule === 'square')?.size).toBeCloseTo(15.945, 2);
  });

  it('lets nothing turn on the curb', () => {
    const lead: Ring = [
      [2340, 60],
      [2340, 600],
      [2450, 600],
      [2450, 700],
      [2550, 700],
    ];
    expect(broken(withLead(lead))).toContain('curb-body');
  });

  it('keeps the run over the dry floor off the curb', () => {
    const lead: Ring = [
      [2370, 60],
      [2370, 600],
      [2550, 600],
    ];
    expect(broken({ ...withLead(lead), lastDry: [2370, 600] })).toContain('curb-body');
  });

  it('wants the joint on the dry floor', () => {
    const lead: Ring = [
      [2700, 600],
      [2340, 600],
    ];
    expect(broken(withLead(lead))).toContain('joint-on-dry-floor');
    expect(broken({ joint: [2340, 300] })).toContain('joint-on-dry-floor');
  });

  it('wants the run on stud channels', () => {
    const lead: Ring = [
      [2335, 60],
      [2340, 600],
      [2550, 600],
    ];
    expect(broken(withLead(lead))).toContain('lead-on-channels');
  });

  it('wants the run clear of walls and built-ins', () => {
    const low: Ring = [
      [2340, 30],
      [2340, 600],
      [2550, 600],
    ];
    expect(broken(withLead(low))).toContain('lead-clear');
    const bin = {
      id: 'bin',
      shape: { kind: 'circle', center: [2340, 300], radius: 20 },
      clearance: 0,
    } as const;
    expect(broken({}, { ...TASK, dry: { ...FLOOR, exclusions: [bin] } })).toContain('lead-clear');
    const bench = {
      id: 'bench',
      shape: { kind: 'polygon', outline: rectangle(2520, 500, 2700, 700) },
      clearance: 0,
    } as const;
    expect(broken({}, { ...TASK, wet: { ...SHOWER, exclusions: [bench] } })).toContain('lead-clear');
  });

  it('lets it cross nothing that lies there', () => {
    const line: Ring = [
      [2300, 400],
      [2399, 400],
    ];
    expect(broken({}, { ...TASK, laid: [line] })).toContain('lead-clear');
    expect(broken({}, { ...TASK, coldLeads: [line] })).toContain('lead-clear');
  });

  it('keeps the spacing of the run to itself', () => {
    const back: Ring = [
      [2310, 300],
      [2310, 60],
      [2340, 60],
      [2340, 600],
      [2550, 600],
    ];
    const faults = checkCrossing(TASK, { ...GOOD, ...withLead(back) });
    expect(faults.find(({ rule }) => rule === 'lead-spacing')?.size).toBeCloseTo(30, 6);
    // a step to the side is no turn back
    const step: Ring = [
      [2310, 60],
      [2310, 300],
      [2340, 300],
      [2340, 600],
      [2550, 600],
    ];
    expect(broken(withLead(step))).not.toContain('lead-spacing');
  });

  it('keeps two bend radii between corners that turn the same way', () => {
    const around: Ring = [
      [2220, 300],
      [2220, 600],
      [2280, 600],
      [2280, 540],
      [2550, 540],
    ];
    expect(broken(withLead(around), { ...TASK, minBendRadius: 36 })).toContain('lead-bends');
    expect(broken(withLead(around), { ...TASK, minBendRadius: 30 })).not.toContain('lead-bends');
  });

  it('wants the entry in the routing area of the shower', () => {
    const lead: Ring = [
      [2340, 60],
      [2340, 600],
      [2520, 600],
    ];
    expect(broken(withLead(lead))).toContain('entry');
  });

  it('measures the lead-in anew', () => {
    const faults = checkCrossing(TASK, { ...GOOD, leadIn: GOOD.leadIn + 10 });
    expect(faults.find(({ rule }) => rule === 'length')?.size).toBeCloseTo(10, 6);
    // each part left out is noticed
    for (const part of ['climb', 'top', 'descent', 'wrap', 'cornerSaving'] as const) {
      const parts = { ...GOOD.parts, [part]: 0 };
      expect(broken({ parts, leadIn: leadLength(parts) })).toContain('length');
    }
  });

  it('wants the last stud wrapped', () => {
    expect(broken({ stud: null })).toContain('wrap');
    expect(broken({ stud: [2200, 600] })).toContain('wrap');
  });

  it('follows the cold lead from thermostat to joint', () => {
    const { path } = GOOD.coldLead;
    const cold = (changed: Ring): Partial<Crossing> => ({ coldLead: { ...GOOD.coldLead, path: changed } });
    expect(broken(cold(path.slice(1)))).toContain('cold-lead');
    expect(broken(cold(path.slice(0, -1)))).toContain('cold-lead');
    expect(broken({}, { ...TASK, coldLead: GOOD.coldLead.needed - 1 })).toContain('cold-lead');
    expect(broken({}, { ...TASK, coldLead: GOOD.coldLead.needed })).toEqual([]);
    expect(broken({ coldLead: { ...GOOD.coldLead, needed: GOOD.coldLead.needed - 20 } })).toContain(
      'cold-lead',
    );
  });

  it('lets the cold lead run into no shower, curb or built-in and over no heating cable', () => {
    const { path } = GOOD.coldLead;
    const messages = (changed: Ring, task: CrossingTask = TASK): string[] =>
      checkCrossing(task, { ...GOOD, coldLead: { ...GOOD.coldLead, path: changed } }).map(
        ({ message }) => message,
      );
    const via = (...points: Point[]): Ring => [path[0], ...points, path[path.length - 1]];
    expect(messages(via([2700, 100]))).toContain('The cold lead runs into the shower.');
    expect(messages(via([2450, 100]))).toContain('The cold lead runs into the curb.');
    expect(messages(via([600, 1800]))).toContain('The cold lead runs under "vanity".');
    expect(messages(via([2360, 400], [2300, 400]))).toContain(
      'The cold lead crosses the heating cable to the shower.',
    );
  });

  it('keeps the cable of the dry floor off the run', () => {
    const trace = (x: number) => ({
      path: [
        [x, 60],
        [x, 500],
      ] as Ring,
      reserve: [],
    });
    const rules = (x: number) =>
      checkCrossing(TASK, GOOD, { dry: trace(x), wet: null }).map(({ rule }) => rule);
    expect(rules(2280)).toEqual([]);
    expect(rules(2310)).toContain('corridor');
  });

  it('lets no cable run under the curb, and starts the shower at the crossing', () => {
    const through: Ring = [
      [2340, 900],
      [2550, 900],
    ];
    const dry = { path: through, reserve: [] };
    expect(checkCrossing(TASK, GOOD, { dry, wet: null }).map(({ rule }) => rule)).toContain('curb-body');
    const wet = {
      path: [
        [2580, 600],
        [2700, 600],
      ] as Ring,
      reserve: [],
    };
    expect(checkCrossing(TASK, GOOD, { dry: null, wet }).map(({ rule }) => rule)).toContain('entry');
  });

  it('judges a level threshold by the seam of the two outlines', () => {
    const wet = { ...SHOWER, outline: rectangle(2400, 0, 3300, 1200) };
    const task = { ...TASK, curb: null, wet };
    const crossing = planned(task);
    expect(checkCrossing(task, crossing)).toEqual([]);
    const slanted: Ring = [crossing.lead[0], [2340, 60], [2460, 150]];
    expect(checkCrossing(task, { ...crossing, lead: slanted }).map(({ rule }) => rule)).toContain('square');
  });
});
