import { describe, expect, it } from 'vitest';
import { distance, pointInRing, polylineLength } from '../../../solver/geometry/measure.js';
import { contains } from '../../../solver/geometry/region.js';
import { routingArea } from '../../../solver/geometry/zone-area.js';
import { checkCrossing } from '../../../solver/job/check-crossing.js';
import { type Crossing, type CrossingTask, JOINT_RUN, planCrossing } from '../../../solver/job/crossing.js';
import type { Point } from '../../../solver/problem.js';
import { CURB, FLOOR, rectangle, SHOWER, TASK } from './bathroom.js';

const crossingOf = (task: CrossingTask): Crossing => {
  const outcome = planCrossing(task);
  if (outcome.kind !== 'crossing') throw new Error(outcome.message);
  return outcome.crossing;
};

const refusalOf = (task: CrossingTask) => {
  const outcome = planCrossing(task);
  if (outcome.kind !== 'impossible') throw new Error('a crossing was found');
  return outcome;
};

describe('lead-in', () => {
  it('adds climb, top, descent, half turn and straight run of a crossing without corners', () => {
    const crossing = crossingOf(TASK);
    // derived, by hand: joint (2190, 60), faces x 2400 and 2500, entry (2550, 60), r 15, four bends in elevation
    const run = 210 + 50;
    const saved = 4 * (2 - Math.PI / 2) * 15;
    expect(crossing.lead).toEqual([
      [2190, 60],
      [2550, 60],
    ]);
    expect(crossing.parts.run).toBeCloseTo(run, 6);
    expect(crossing.parts.wrap).toBeCloseTo(47.124, 3);
    expect(crossing.leadIn).toBeCloseTo(run + 100 + 100 + 100 + 47.124 - saved, 1);
    expect(crossing.leadIn).toBeCloseTo(581.4, 1);
  });

  it('takes the corner off where the run turns towards the curb', () => {
    const crossing = crossingOf({ ...TASK, wish: { crossing: [2450, 900], joint: [2340, 60] } });
    // derived, by hand: 840 along the curb, 60 to it, 50 behind it; one corner in plan, four in elevation
    expect(crossing.parts.run).toBeCloseTo(840 + 60 + 50, 6);
    expect(crossing.parts.turns).toBe(5);
    expect(crossing.leadIn).toBeCloseTo(950 + 300 + 47.124 - 5 * 6.438, 1);
  });

  it('counts a shower floor that lies lower than the dry floor', () => {
    const crossing = crossingOf({ ...TASK, curb: { ...CURB, height: 80, descent: 130 } });
    expect(crossing.parts.climb).toBe(80);
    expect(crossing.parts.descent).toBe(130);
    expect(crossing.leadIn).toBeCloseTo(581.37 + 10, 1);
  });

  it('has neither climb nor half turn over a level threshold', () => {
    const wet = { ...SHOWER, outline: rectangle(2400, 0, 3300, 1200) };
    const crossing = crossingOf({ ...TASK, curb: null, wet });
    // derived, by hand: joint (2190, 60), entry (2460, 60)
    expect(crossing.leadIn).toBeCloseTo(270, 6);
    expect(crossing.stud).toBeNull();
    expect(crossing.groove).toBeNull();
  });
});

describe('place of the crossing', () => {
  it('is square, over the top, once', () => {
    const crossing = crossingOf(TASK);
    expect(crossing.slant).toBe(0);
    expect(distance(crossing.enter, crossing.leave)).toBeCloseTo(100, 6);
    expect(checkCrossing(TASK, crossing)).toEqual([]);
  });

  it('goes to the thermostat side of the shower', () => {
    const low = crossingOf({ ...TASK, thermostat: { at: [2000, 0], height: 1200 } });
    const high = crossingOf({ ...TASK, thermostat: { at: [2400, 1700], height: 1200 } });
    expect(low.enter[1]).toBeLessThan(high.enter[1]);
  });

  it('crosses a curb at 45 degrees along the diagonal of the studs', () => {
    // A neo-angle shower in the corner; its curb cuts the corner off.
    const dry = {
      ...FLOOR,
      outline: [
        [0, 0],
        [2400, 0],
        [2400, 1200],
        [1500, 2100],
        [0, 2100],
      ] as Point[],
      exclusions: [],
    };
    const wet = {
      ...SHOWER,
      outline: [
        [2400, 1340],
        [2400, 2100],
        [1640, 2100],
      ] as Point[],
      exclusions: [],
    };
    const curb = {
      ...CURB,
      outline: [
        [2400, 1200],
        [2400, 1340],
        [1640, 2100],
        [1500, 2100],
      ] as Point[],
    };
    const task = { ...TASK, dry, wet, curb, thermostat: { at: [2400, 600] as Point, height: 1000 } };
    const crossing = crossingOf(task);
    expect(crossing.slant).toBeCloseTo(0, 6);
    const [dx, dy] = [crossing.entry[0] - crossing.lastDry[0], crossing.entry[1] - crossing.lastDry[1]];
    expect(dx).toBeCloseTo(dy, 6);
    // derived: the strip is 140 wide along x, so 140 / sqrt 2 square to it
    expect(crossing.parts.top).toBeCloseTo(140 / Math.SQRT2, 6);
    expect(checkCrossing(task, crossing)).toEqual([]);
  });

  it('is the same where both zones are drawn to the middle of the curb', () => {
    const dry = { ...FLOOR, outline: rectangle(0, 0, 2450, 2100) };
    const wet = { ...SHOWER, outline: rectangle(2450, 0, 3400, 1200) };
    const task = { ...TASK, dry, wet, thermostat: { at: [2450, 1700] as Point, height: 1200 } };
    const crossing = crossingOf(task);
    expect(crossing.parts.top).toBeCloseTo(100, 6);
    expect(crossing.entry[0]).toBe(2550);
    expect(checkCrossing(task, crossing)).toEqual([]);
  });

  it('does not turn back beside itself to get round a thin wall', () => {
    // A partition between the channels x 2310 and 2340 leaves a way round its upper end only.
    const screen = {
      id: 'screen',
      shape: { kind: 'polygon', outline: rectangle(2323, 0, 2327, 1000) },
      clearance: 0,
    } as const;
    const dry = { ...FLOOR, exclusions: [screen] };
    const wet = { ...SHOWER, outline: rectangle(2500, 0, 3400, 600), exclusions: [] };
    const curb = { ...CURB, outline: rectangle(2400, 0, 2500, 600) };
    const task = { ...TASK, dry, wet, curb, wish: { crossing: null, joint: [2310, 60] as Point } };
    const crossing = crossingOf(task);
    // min 2 studs x 30 mm to the leg on x 2340
    expect(crossing.joint[0]).toBeLessThanOrEqual(2280);
    expect(checkCrossing(task, crossing)).toEqual([]);
  });

  it('is refused where the two faces of the curb are not parallel', () => {
    // The wet face leans by atan(200 / 1200) = 9.5 degrees.
    const lean: Point[] = [
      [2500, 0],
      [3400, 0],
      [3400, 1200],
      [2700, 1200],
    ];
    const wet = { ...SHOWER, outline: lean, exclusions: [] };
    const curb = {
      ...CURB,
      outline: [
        [2400, 0],
        [2500, 0],
        [2700, 1200],
        [2400, 1200],
      ] as Point[],
    };
    expect(refusalOf({ ...TASK, wet, curb }).reason).toBe('no-crossing');
  });

  it('crosses a level threshold only where the outlines meet', () => {
    // They meet up to y 600; above that a wall of 100 mm stands between them.
    const wet = {
      ...SHOWER,
      outline: [
        [2400, 0],
        [3300, 0],
        [3300, 1200],
        [2500, 1200],
        [2500, 600],
        [2400, 600],
      ] as Point[],
      exclusions: [],
    };
    const task = { ...TASK, curb: null, wet, wish: { crossing: [2400, 900] as Point, joint: null } };
    const crossing = crossingOf(task);
    expect(crossing.enter[1]).toBeLessThanOrEqual(600);
    expect(checkCrossing(task, crossing)).toEqual([]);
  });

  it('is refused where a built-in stands before the whole curb', () => {
    const cupboard = {
      id: 'cupboard',
      shape: { kind: 'polygon', outline: rectangle(2200, 0, 2400, 1200) },
      clearance: 0,
    } as const;
    const task = { ...TASK, dry: { ...FLOOR, exclusions: [cupboard] } };
    expect(refusalOf(task).reason).toBe('no-crossing');
  });

  it('is refused where the zones do not meet', () => {
    const wet = { ...SHOWER, outline: rectangle(2700, 0, 3400, 1200) };
    expect(refusalOf({ ...TASK, wet }).reason).toBe('no-crossing');
    expect(refusalOf({ ...TASK, wet, curb: null }).reason).toBe('no-crossing');
  });

  it('tells how far it lies from the wished place', () => {
    const crossing = crossingOf({ ...TASK, wish: { crossing: [2450, 607], joint: null } });
    expect(crossing.enter[1]).toBe(600);
    expect(crossing.missed.crossing).toBeCloseTo(7, 6);
    expect(crossing.missed.joint).toBeNull();
  });
});

describe('joint', () => {
  it('lies on the routing area of the dry floor, a straight piece away from the curb', () => {
    const { joint, parts } = crossingOf(TASK);
    expect(contains(routingArea(FLOOR), joint)).toBe(true);
    expect(pointInRing(joint, SHOWER.outline)).toBe(false);
    expect(parts.run).toBeGreaterThanOrEqual(JOINT_RUN);
  });

  it('is refused where it is wished in the shower', () => {
    const refusal = refusalOf({ ...TASK, wish: { crossing: null, joint: [2900, 600] } });
    expect(refusal.reason).toBe('joint-in-shower');
    expect(refusal.at).toEqual([2900, 600]);
  });

  it('never lies under a built-in, even where it is wished there', () => {
    const { joint } = crossingOf({ ...TASK, coldLead: 9000, wish: { crossing: null, joint: [600, 1800] } });
    expect(contains(routingArea(FLOOR), joint)).toBe(true);
  });
});

describe('cold lead', () => {
  it('runs along the wall midway in the clearance and up to the thermostat', () => {
    const { coldLead } = crossingOf(TASK);
    // derived, by hand: 25 down, 690 along, 35 to the joint, 1200 up
    expect(coldLead.path).toEqual([
      [1500, 0],
      [1500, 25],
      [2190, 25],
      [2190, 60],
    ]);
    expect(coldLead.needed).toBeCloseTo(25 + 690 + 35 + 1200, 6);
  });

  it('pulls the joint back when it is short', () => {
    const crossing = crossingOf({ ...TASK, coldLead: 1500 });
    // derived, by hand: 1500 - 1200 - 25 - 35 = 240 along the wall, so the joint lies at x 1740
    expect(crossing.joint).toEqual([1740, 60]);
    expect(crossing.leadIn).toBeCloseTo(581.37 + 450, 1);
  });

  it('is refused with the missing length', () => {
    const refusal = refusalOf({ ...TASK, coldLead: 1200 });
    expect(refusal.reason).toBe('cold-lead-too-short');
    // derived, by hand: (1500, 60) lies right below; 25 + 35 + 1200 are needed
    expect(refusal.by).toBeCloseTo(60, 6);
    expect(refusal.message).toContain('60 mm');
  });

  it('goes round a built-in, not under it', () => {
    const task = { ...TASK, coldLead: 6000, thermostat: { at: [600, 2100] as Point, height: 1200 } };
    const crossing = crossingOf(task);
    // above the vanity the lead stays in the wall up to its end
    expect(crossing.coldLead.path[1]).toEqual([1200, 2100]);
    expect(checkCrossing(task, crossing)).toEqual([]);
  });

  it('makes the dry cable leave room for it in front of a built-in', () => {
    const bench = {
      id: 'bench',
      shape: { kind: 'polygon', outline: rectangle(800, 0, 1200, 300) },
      clearance: 0,
    } as const;
    const dry = {
      ...FLOOR,
      exclusions: [bench],
      entry: [1500, 2040] as Point,
      buffer: rectangle(0, 1900, 2400, 2100),
    };
    const task = { ...TASK, dry, coldLead: 4500, thermostat: { at: [300, 0] as Point, height: 1200 } };
    const crossing = crossingOf(task);
    expect(checkCrossing(task, crossing)).toEqual([]);
    const area = routingArea({ ...dry, exclusions: [...dry.exclusions, ...crossing.dryExclusions] });
    // half a stud to either side of the lead, which lies along the bench at y 300
    expect(contains(area, [1000, 314])).toBe(false);
    expect(contains(area, [1000, 316])).toBe(true);
  });

  it('refuses a thermostat that is not on a wall', () => {
    const refusal = refusalOf({ ...TASK, thermostat: { at: [1500, 500], height: 1200 } });
    expect(refusal.reason).toBe('thermostat-off-wall');
    expect(refusal.by).toBe(500);
  });
});

describe('dry floor', () => {
  it('keeps the dry cable off by the smallest spacing', () => {
    const crossing = crossingOf(TASK);
    const corridor = crossing.dryExclusions.find(({ id }) => id === 'shower crossing');
    const area = routingArea({ ...FLOOR, exclusions: [...FLOOR.exclusions, ...crossing.dryExclusions] });
    expect(corridor?.clearance).toBe(0);
    // min 2 studs x 30 mm
    expect(contains(area, [2250, 119])).toBe(false);
    expect(contains(area, [2250, 121])).toBe(true);
    expect(contains(area, [2131, 60])).toBe(false);
    expect(contains(area, [2129, 60])).toBe(true);
  });

  it('keeps the curb out of both zones', () => {
    const crossing = crossingOf(TASK);
    expect(crossing.dryExclusions[0]?.shape).toEqual({ kind: 'polygon', outline: CURB.outline });
    expect(crossing.wetExclusions[0]?.shape).toEqual({ kind: 'polygon', outline: CURB.outline });
  });

  it('keeps the run away from the entry of the dry floor', () => {
    const crossing = crossingOf({ ...TASK, dry: { ...FLOOR, entry: [2340, 60] } });
    for (const p of crossing.lead.slice(0, -1)) expect(distance(p, [2340, 60])).toBeGreaterThanOrEqual(59.9);
  });

  it('refuses a run that would cut the floor from its buffer', () => {
    // Two rows of studs only: the run takes both, and the buffer lies behind it.
    const dry = {
      ...FLOOR,
      outline: rectangle(0, 0, 2400, 150),
      exclusions: [],
      entry: [60, 60] as Point,
      buffer: rectangle(2300, 0, 2400, 150),
    };
    const wet = { ...SHOWER, outline: rectangle(2500, 0, 3400, 150), exclusions: [] };
    const curb = { ...CURB, outline: rectangle(2400, 0, 2500, 150) };
    expect(refusalOf({ ...TASK, dry, wet, curb }).reason).toBe('cuts-dry-floor');
  });

  it('does not cross what already lies there', () => {
    const laid: Point[] = [
      [2160, 300],
      [2500, 300],
    ];
    const task = { ...TASK, laid: [laid], wish: { crossing: [2450, 300] as Point, joint: null } };
    const crossing = crossingOf(task);
    expect(Math.abs(crossing.enter[1] - 300)).toBeGreaterThanOrEqual(59.9);
    expect(checkCrossing(task, crossing)).toEqual([]);
  });

  it('does not lead heating cable over a cold lead in the margin', () => {
    const along: Point[] = [
      [2375, 0],
      [2375, 600],
    ];
    const task = { ...TASK, coldLeads: [along] };
    const crossing = crossingOf(task);
    expect(crossing.enter[1]).toBeGreaterThan(600);
    expect(checkCrossing(task, crossing)).toEqual([]);
  });
});

describe('planCrossing', () => {
  it('gives the same crossing for the same task', () => {
    expect(planCrossing(TASK)).toEqual(planCrossing(TASK));
  });

  it('wraps the stud beside the last dry node, behind it', () => {
    const { stud, lastDry } = crossingOf(TASK);
    expect(lastDry).toEqual([2340, 60]);
    expect(stud?.[0]).toBe(2325);
    expect(polylineLength([lastDry, stud ?? lastDry])).toBeCloseTo(15 * Math.SQRT2, 6);
  });
});
