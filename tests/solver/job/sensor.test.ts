import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkSensor, type SensorRule } from '../../../solver/job/check-sensor.js';
import { placeSensor, type SensorPlace, type SensorTask } from '../../../solver/job/sensor.js';
import type { Point, Ring } from '../../../solver/problem.js';
import { rectangle } from './bathroom.js';
import { serpentine } from './serpentine.js';

const range = (from: number, to: number, step: number): number[] => {
  const all: number[] = [];
  for (let at = from; at <= to; at += step) all.push(at);
  return all;
};

/** 2.0 x 1.5 m, runs along y every 90 mm, turns alternating at bottom and top; run 1 at x 60 goes up. */
const ROOM: SensorTask = {
  zone: {
    id: 'floor',
    wet: false,
    outline: rectangle(0, 0, 2000, 1500),
    clearance: 50,
    exclusions: [],
    buffer: rectangle(1800, 0, 2000, 1500),
    entry: [60, 60],
    leadIn: 0,
    priorities: [],
  },
  trace: { path: serpentine('y', 60, 1440, range(60, 1940, 90)), reserve: [] },
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  thermostat: { at: [1000, 0], height: 1200 },
  heating: [],
  coldLeads: [],
  depth: 300,
  spare: false,
};

const placed = (task: SensorTask) => {
  const outcome = placeSensor(task);
  if (outcome.kind !== 'placed') throw new Error(outcome.message);
  return outcome;
};

const refused = (task: SensorTask) => {
  const outcome = placeSensor(task);
  if (outcome.kind !== 'impossible') throw new Error('a place was found');
  return outcome;
};

// Rules of this file: common practice, no source; numbers derived by hand from the drawing.
describe('placeSensor', () => {
  it('takes a straight lead into the nearest gap that is open to the wall', () => {
    const { sensor } = placed(ROOM);
    // Turns at the top join runs 11 (x 960, up) and 12 (x 1050): open at the bottom, midway x 1005.
    expect(sensor.between).toEqual([11, 12]);
    expect(sensor.at).toEqual([1005, 360]);
    expect(sensor.lead).toEqual([
      [1005, 0],
      [1005, 360],
    ]);
    expect(sensor.corners).toBe(0);
    expect(sensor.length).toEqual({ floor: 360, inWall: 5, rise: 1200, total: 1565 });
    expect(sensor.gap).toBe(90);
    // 360 less the clearance of 50, on the half lattice of 15
    expect(sensor.depth).toBeCloseTo(310, 6);
  });

  it('never enters a gap that a turn closes on that side', () => {
    // Right below the gap of runs 10 and 11 (x 915), which a turn closes at the bottom.
    const { sensor } = placed({ ...ROOM, thermostat: { at: [915, 0], height: 1200 } });
    expect(sensor.between[0] % 2).toBe(1);
    expect(checkSensor(ROOM, sensor)).toEqual([]);
  });

  it('goes round corners to reach a gap from a wall beside the runs', () => {
    const task: SensorTask = { ...ROOM, thermostat: { at: [0, 700], height: 1200 } };
    const { sensor } = placed(task);
    // along the margin and into a gap: one corner, no more
    expect(sensor.corners).toBe(1);
    expect(checkSensor(task, sensor)).toEqual([]);
  });

  it('stays away from a cable that ends in the gap', () => {
    const stub: Ring = [
      [1005, 400],
      [1005, 500],
    ];
    const task: SensorTask = { ...ROOM, heating: [stub] };
    const { sensor } = placed(task);
    expect(sensor.at).not.toEqual([1005, 360]);
    expect(checkSensor(task, sensor)).toEqual([]);
  });

  it('takes a straight lead before a shorter one with corners', () => {
    // A box at the wall stands before the nearest gap; round it would be shorter than the next straight way.
    const box = {
      id: 'box',
      shape: { kind: 'polygon', outline: rectangle(940, 0, 1070, 10) },
      clearance: 0,
    } as const;
    const task: SensorTask = { ...ROOM, zone: { ...ROOM.zone, exclusions: [box] } };
    const { sensor } = placed(task);
    expect(sensor.corners).toBe(0);
    expect(checkSensor(task, sensor)).toEqual([]);
  });

  it('slips through no wall thinner than the lattice', () => {
    // A screen of 4 mm across every gap, with free floor beyond it.
    const screen = {
      id: 'screen',
      shape: { kind: 'polygon', outline: rectangle(0, 203, 2000, 207) },
      clearance: 0,
    } as const;
    const refusal = refused({ ...ROOM, zone: { ...ROOM.zone, exclusions: [screen] } });
    expect(refusal.reason).toBe('closed-off');
  });

  it('takes no place between runs further apart than the widest spacing', () => {
    const task: SensorTask = {
      ...ROOM,
      trace: { path: serpentine('y', 60, 1440, range(60, 1940, 120)), reserve: [] },
    };
    const refusal = refused(task);
    expect(refusal.reason).toBe('no-place');
    expect(refusal.at).toBeNull();
  });

  it('keeps midway between runs only two studs apart', () => {
    const task: SensorTask = {
      ...ROOM,
      trace: { path: serpentine('y', 60, 1440, range(60, 1940, 60)), reserve: [] },
    };
    const { sensor } = placed(task);
    expect(sensor.gap).toBe(60);
    expect(checkSensor(task, sensor)).toEqual([]);
  });

  it('finds a spare in another gap, with a lead that does not cross the first', () => {
    const { sensor, spare, spareMissing } = placed({ ...ROOM, spare: true });
    if (spare === null) throw new Error('no spare');
    expect(spareMissing).toBeNull();
    expect(spare.between).not.toEqual(sensor.between);
    expect(checkSensor({ ...ROOM, coldLeads: [sensor.lead] }, spare)).toEqual([]);
  });

  it('says why there is no spare', () => {
    // One gap deep enough only.
    const task: SensorTask = {
      ...ROOM,
      spare: true,
      trace: {
        path: [
          [960, 60],
          [960, 1440],
          [1050, 1440],
          [1050, 60],
        ],
        reserve: [],
      },
    };
    const { spare, spareMissing } = placed(task);
    expect(spare).toBeNull();
    expect(spareMissing).toContain('No other gap');
  });

  it('stays out of the buffer', () => {
    const task: SensorTask = { ...ROOM, zone: { ...ROOM.zone, buffer: rectangle(900, 0, 2000, 1500) } };
    expect(placed(task).sensor.at[0]).toBeLessThan(900);
  });

  it('crosses neither reserve, nor a run to a shower, nor a cold lead', () => {
    const bar: Ring = [
      [700, 30],
      [1300, 30],
    ];
    const plain = placed(ROOM).sensor;
    expect(plain.leaves[0]).toBeGreaterThan(700);
    for (const task of [
      { ...ROOM, trace: { ...ROOM.trace, reserve: bar } },
      { ...ROOM, heating: [bar] },
      // a cold lead that is none of this thermostat's
      { ...ROOM, coldLeads: [bar], thermostat: { at: [400, 0] as Point, height: 1200 } },
    ]) {
      const { sensor } = placed(task);
      expect(sensor.leaves[0] < 700 || sensor.leaves[0] > 1300).toBe(true);
      expect(checkSensor(task, sensor)).toEqual([]);
    }
  });

  it('leaves the box between cold leads that run off to both sides', () => {
    const leads: Ring[] = [
      [
        [1000, 0],
        [1000, 25],
        [60, 25],
      ],
      [
        [1000, 0],
        [1000, 25],
        [1900, 25],
      ],
    ];
    const task: SensorTask = { ...ROOM, coldLeads: leads };
    const { sensor } = placed(task);
    expect(Math.abs(sensor.leaves[0] - 1000)).toBeLessThanOrEqual(60);
    expect(checkSensor(task, sensor)).toEqual([]);
  });

  it('refuses when cable closes every gap towards the wall', () => {
    // Runs along x from wall to wall: 20 mm beside them let nothing pass.
    const task: SensorTask = {
      ...ROOM,
      zone: { ...ROOM.zone, clearance: 20 },
      trace: { path: serpentine('x', 30, 1980, range(30, 1470, 90)), reserve: [] },
    };
    const refusal = refused(task);
    expect(refusal.reason).toBe('closed-off');
    expect(refusal.message).toContain('closed');
    // from the wall that the gaps open to there is a place
    const side: SensorTask = { ...task, thermostat: { at: [0, 700], height: 1200 } };
    expect(placed(side).sensor.corners).toBe(0);
  });

  it('refuses a floor too narrow, with the depth that is missing', () => {
    const task: SensorTask = {
      ...ROOM,
      zone: { ...ROOM.zone, outline: rectangle(0, 0, 600, 1500), buffer: rectangle(0, 1400, 600, 1500) },
      trace: { path: serpentine('y', 60, 1440, range(60, 540, 90)), reserve: [] },
      thermostat: { at: [300, 0], height: 1200 },
    };
    const refusal = refused(task);
    expect(refusal.reason).toBe('no-place');
    // midway x 285 lies 235 inside the routing area 50 .. 550
    expect(refusal.by).toBeCloseTo(65, 6);
    expect(refusal.at?.[0]).toBe(285);
  });

  it('refuses a shower and a thermostat away from the walls', () => {
    expect(refused({ ...ROOM, zone: { ...ROOM.zone, wet: true } }).reason).toBe('wet-zone');
    const off = refused({ ...ROOM, thermostat: { at: [1000, 400], height: 1200 } });
    expect(off.reason).toBe('thermostat-off-wall');
    expect(off.by).toBe(400);
  });

  it('gives the same place for the same task', () => {
    expect(placeSensor(ROOM)).toEqual(placeSensor(ROOM));
  });
});

describe('checkSensor', () => {
  const good = placed(ROOM).sensor;
  const broken = (
    change: Partial<SensorPlace>,
    task: SensorTask = ROOM,
    wet: readonly Ring[] = [],
  ): SensorRule[] => [...new Set(checkSensor(task, { ...good, ...change }, wet).map(({ rule }) => rule))];
  const moved = (...lead: Point[]): Partial<SensorPlace> => ({ lead, at: lead[lead.length - 1] });

  it('passes a planned place', () => {
    expect(broken({})).toEqual([]);
  });

  it('wants it on the dry floor', () => {
    expect(broken({}, ROOM, [rectangle(900, 200, 1100, 500)])).toContain('dry-floor');
    expect(broken({}, { ...ROOM, zone: { ...ROOM.zone, wet: true } })).toContain('dry-floor');
  });

  it('wants it midway between two runs', () => {
    expect(broken(moved([990, 0], [990, 360]))).toContain('midway');
    expect(
      broken(
        {},
        {
          ...ROOM,
          heating: [
            [
              [1005, 380],
              [1005, 500],
            ],
          ],
        },
      ),
    ).toContain('midway');
  });

  it('wants it 300 mm inside', () => {
    const faults = checkSensor(ROOM, { ...good, ...moved([1005, 0], [1005, 300]) });
    expect(faults.find(({ rule }) => rule === 'depth')?.size).toBeCloseTo(50, 6);
    const near = {
      id: 'bin',
      shape: { kind: 'circle', center: [1005, 700], radius: 50 },
      clearance: 0,
    } as const;
    expect(broken({}, { ...ROOM, zone: { ...ROOM.zone, exclusions: [near] } })).toContain('depth');
  });

  it("wants the lead at the thermostat's wall", () => {
    expect(broken({}, { ...ROOM, thermostat: { at: [0, 700], height: 1200 } })).toContain('lead-at-wall');
  });

  it('lets the lead cross no cable', () => {
    // gap 10/11 is closed at the bottom by the step at y 60
    expect(broken(moved([915, 0], [915, 360]))).toContain('lead-crosses');
    const bar: Ring = [
      [900, 200],
      [1100, 200],
    ];
    expect(broken({}, { ...ROOM, coldLeads: [bar] })).toContain('lead-crosses');
    expect(broken({}, { ...ROOM, heating: [bar] })).toContain('lead-crosses');
  });

  it('keeps the lead on the floor and out of built-ins', () => {
    const box = {
      id: 'box',
      shape: { kind: 'polygon', outline: rectangle(900, 100, 1100, 150) },
      clearance: 0,
    } as const;
    expect(broken({}, { ...ROOM, zone: { ...ROOM.zone, exclusions: [box] } })).toContain('lead-on-floor');
    expect(
      broken({
        lead: [
          [1005, 0],
          [1005, 200],
        ],
      }),
    ).toContain('lead-on-floor');
    expect(broken({ length: { ...good.length, floor: 300 } })).toContain('lead-on-floor');
  });
});

describe('placeSensor on random floors', () => {
  it('gives a place that passes the independent check, or a reason', () => {
    const tasks = fc
      .record({
        columns: fc.array(fc.constantFrom(2, 3), { minLength: 6, maxLength: 24 }),
        long: fc.integer({ min: 25, max: 70 }),
        axis: fc.constantFrom('x' as const, 'y' as const),
        clearance: fc.constantFrom(20, 35, 50),
        wall: fc.integer({ min: 0, max: 3 }),
        where: fc.double({ min: 0.02, max: 0.98, noNaN: true }),
        lead: fc.boolean(),
        box: fc.option(
          fc.record({
            x: fc.double({ min: 0, max: 0.9, noNaN: true }),
            y: fc.double({ min: 0, max: 0.9, noNaN: true }),
            w: fc.integer({ min: 2, max: 600 }),
            h: fc.integer({ min: 2, max: 600 }),
          }),
        ),
      })
      .map((r): SensorTask => {
        const start = r.clearance;
        let at = start;
        const places = [at, ...r.columns.map((gap) => (at += gap * 30))];
        const end = start + r.long * 30;
        const [w, h] = r.axis === 'y' ? [at + start, end + start] : [end + start, at + start];
        const outline = rectangle(0, 0, w, h);
        const [a, b] = [outline[r.wall], outline[(r.wall + 1) % 4]];
        const box: Point = [a[0] + r.where * (b[0] - a[0]), a[1] + r.where * (b[1] - a[1])];
        const [bx, by] = r.box === null ? [0, 0] : [r.box.x * w, r.box.y * h];
        const boxes =
          r.box === null
            ? []
            : [
                {
                  id: 'box',
                  shape: { kind: 'polygon', outline: rectangle(bx, by, bx + r.box.w, by + r.box.h) } as const,
                  clearance: 0,
                },
              ];
        const corner: Ring = [
          [start / 2, start / 2],
          [w - start / 2, start / 2],
        ];
        return {
          ...ROOM,
          zone: {
            ...ROOM.zone,
            outline,
            clearance: r.clearance,
            exclusions: boxes,
            buffer: rectangle(w - 100, 0, w, h),
          },
          lattice: { pitch: 30, origin: [start, start] },
          trace: { path: serpentine(r.axis, start, end, places), reserve: [] },
          thermostat: { at: box, height: 0 },
          coldLeads: r.lead ? [corner] : [],
          spare: true,
        };
      });
    let found = 0;
    fc.assert(
      fc.property(tasks, (task) => {
        const outcome = placeSensor(task);
        if (outcome.kind === 'impossible') {
          expect(outcome.message.length).toBeGreaterThan(20);
          return;
        }
        found += 1;
        expect(checkSensor(task, outcome.sensor)).toEqual([]);
        if (outcome.spare === null) expect(outcome.spareMissing).not.toBeNull();
        else
          expect(
            checkSensor({ ...task, coldLeads: [...task.coldLeads, outcome.sensor.lead] }, outcome.spare),
          ).toEqual([]);
      }),
      { seed: 4, numRuns: 120 },
    );
    expect(found).toBeGreaterThan(20);
  });
});
