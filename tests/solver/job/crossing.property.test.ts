import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkCrossing } from '../../../solver/job/check-crossing.js';
import { type CrossingTask, planCrossing } from '../../../solver/job/crossing.js';
import { GROOVE } from '../../../solver/job/curb.js';
import type { Point, Ring, Zone } from '../../../solver/problem.js';
import { rectangle } from './bathroom.js';

/** Quarter turns of the whole drawing, so that the shower lies on any side. */
const turned = ([x, y]: Point, quarters: number): Point => {
  let p: Point = [x, y];
  for (let k = 0; k < quarters; k += 1) p = [-p[1], p[0]];
  return p;
};

const tasks = fc
  .record({
    width: fc.integer({ min: 900, max: 3600 }),
    depth: fc.integer({ min: 900, max: 2700 }),
    curbStart: fc.integer({ min: 0, max: 500 }),
    curbLength: fc.integer({ min: 500, max: 1400 }),
    thickness: fc.integer({ min: 60, max: 180 }),
    height: fc.integer({ min: 0, max: 200 }),
    level: fc.boolean(),
    pitch: fc.constantFrom(25, 30, 37.5),
    phase: fc.tuple(fc.integer({ min: 0, max: 29 }), fc.integer({ min: 0, max: 29 })),
    wall: fc.integer({ min: 0, max: 3 }),
    where: fc.double({ min: 0.05, max: 0.95, noNaN: true }),
    coldLead: fc.integer({ min: 1000, max: 6000 }),
    box: fc.tuple(fc.double({ min: 0, max: 0.8, noNaN: true }), fc.double({ min: 0, max: 0.8, noNaN: true })),
    boxClearance: fc.constantFrom(0, 50),
    quarters: fc.integer({ min: 0, max: 3 }),
  })
  .map((r): CrossingTask => {
    const turn = (ring: Ring): Ring => ring.map((p) => turned(p, r.quarters));
    const t = r.level ? 0 : r.thickness;
    const low = Math.min(r.curbStart, r.depth - 400);
    const high = Math.min(r.depth, low + r.curbLength);
    const outline = rectangle(0, 0, r.width, r.depth);
    const [a, b] = [outline[r.wall], outline[(r.wall + 1) % 4]];
    const at: Point = [a[0] + r.where * (b[0] - a[0]), a[1] + r.where * (b[1] - a[1])];
    const [bx, by] = [r.box[0] * r.width, r.box[1] * r.depth];
    const dry: Zone = {
      id: 'floor',
      wet: false,
      outline: turn(outline),
      clearance: 50,
      exclusions: [
        {
          id: 'box',
          shape: { kind: 'polygon', outline: turn(rectangle(bx, by, bx + 300, by + 400)) },
          clearance: r.boxClearance,
        },
      ],
      buffer: turn(rectangle(0, 0, 200, r.depth)),
      entry: turned([60, 60], r.quarters),
      leadIn: 0,
      priorities: [],
    };
    const wet: Zone = {
      ...dry,
      id: 'shower',
      wet: true,
      outline: turn(rectangle(r.width + t, low, r.width + t + 900, high)),
      exclusions: [],
    };
    const curb = {
      outline: turn(rectangle(r.width, low, r.width + t, high)),
      height: r.height,
      descent: r.height + 20,
      groove: GROOVE,
    };
    return {
      dry,
      wet,
      curb: r.level ? null : curb,
      setting: {
        lattice: { pitch: r.pitch, origin: [r.phase[0], r.phase[1]] },
        spacing: { min: 2, target: 3, max: 3 },
        placementSlopPerTurn: 2,
      },
      thermostat: { at: turned(at, r.quarters), height: 900 },
      coldLead: r.coldLead,
      minBendRadius: 36,
      wish: { crossing: null, joint: null },
      laid: [],
      coldLeads: [],
    };
  });

describe('planCrossing on random rooms', () => {
  it('gives a crossing that passes the independent check, or a reason', () => {
    let found = 0;
    fc.assert(
      fc.property(tasks, (task) => {
        const outcome = planCrossing(task);
        if (outcome.kind === 'impossible') {
          expect(outcome.message.length).toBeGreaterThan(20);
          if (outcome.reason === 'cold-lead-too-short') expect(outcome.by).toBeGreaterThan(0);
          return;
        }
        found += 1;
        expect(checkCrossing(task, outcome.crossing)).toEqual([]);
      }),
      { seed: 20260, numRuns: 70 },
    );
    expect(found).toBeGreaterThan(35);
  });

  it('takes a longer cold lead for a lead-in that is no longer', () => {
    fc.assert(
      fc.property(tasks, (task) => {
        const short = planCrossing(task);
        const long = planCrossing({ ...task, coldLead: task.coldLead + 1000 });
        if (short.kind !== 'crossing') return;
        expect(long.kind).toBe('crossing');
        if (long.kind === 'crossing')
          expect(long.crossing.parts.run).toBeLessThanOrEqual(short.crossing.parts.run + 1e-6);
      }),
      { seed: 7, numRuns: 15 },
    );
  });
});
