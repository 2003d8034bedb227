import { describe, expect, it } from 'vitest';
import { contains } from '../../../solver/geometry/region.js';
import { routingArea } from '../../../solver/geometry/zone-area.js';
import { checkCrossing } from '../../../solver/job/check-crossing.js';
import type { Drain } from '../../../solver/job/drain.js';
import {
  furnishedZones,
  type JobInput,
  type JobZone,
  type PreparedJob,
  prepareJob,
  sensorTaskOf,
} from '../../../solver/job/prepare.js';
import { type Cable, cornerSaving } from '../../../solver/problem.js';
import { CURB, FLOOR, rectangle, SETTING, SHOWER } from './bathroom.js';

const cable = (id: string, coldLead: number): Cable => ({
  id,
  length: 12000,
  power: 144,
  voltage: 230,
  tolerance: 0.01,
  diameter: 5,
  minBendRadius: 15,
  coldLead,
});

const NO_WISH = { crossing: null, joint: null };
const DRAIN: Drain = { kind: 'point', center: [2950, 600], radius: 60, clearanceStuds: 3 };

const DRY: JobZone = { zone: FLOOR, drain: null, curb: null, dryZone: null, wish: NO_WISH };
const WET: JobZone = {
  zone: { ...SHOWER, exclusions: [], entry: [0, 0] },
  drain: DRAIN,
  curb: CURB,
  dryZone: 'floor',
  wish: NO_WISH,
};

const JOB: JobInput = {
  setting: SETTING,
  zones: [DRY, WET],
  catalogue: [cable('A', 3000), cable('B', 4000)],
  insisted: new Map(),
  thermostat: { at: [1500, 0], height: 1200 },
};

const prepared = (job: JobInput): PreparedJob => {
  const outcome = prepareJob(job);
  if (outcome.kind !== 'prepared') throw new Error(outcome.problems.map(({ message }) => message).join(' '));
  return outcome;
};

const problems = (job: JobInput) => {
  const outcome = prepareJob(job);
  return outcome.kind === 'impossible' ? outcome.problems : [];
};

const paths = (job: JobInput): string[] => problems(job).map(({ path }) => path.join('/'));

describe('furnishedZones', () => {
  const [dry, wet] = furnishedZones(JOB.zones, 30);

  it('keeps the cable three studs from the flange of the drain', () => {
    // two to three studs: common practice, no source. 60 + 3 x 30 from the centre
    expect(contains(routingArea(wet), [2950, 749])).toBe(false);
    expect(contains(routingArea(wet), [2950, 751])).toBe(true);
  });

  it('keeps clear of a linear drain as well', () => {
    const linear: Drain = { kind: 'linear', outline: rectangle(2900, 1000, 3000, 1100), clearanceStuds: 2 };
    const [, shower] = furnishedZones([DRY, { ...WET, drain: linear }], 30);
    expect(contains(routingArea(shower), [2950, 941])).toBe(false);
    expect(contains(routingArea(shower), [2950, 939])).toBe(true);
  });

  it('bars every zone from every curb', () => {
    for (const zone of [dry, wet]) {
      const curb = zone.exclusions.find(({ id }) => id === 'shower curb');
      expect(curb?.shape).toEqual({ kind: 'polygon', outline: CURB.outline });
    }
    // a floor drawn to the middle of the curb
    const [over] = furnishedZones(
      [{ ...DRY, zone: { ...FLOOR, outline: rectangle(0, 0, 2450, 2100) } }, WET],
      30,
    );
    expect(contains(routingArea(over), [2380, 600])).toBe(false);
    expect(contains(routingArea(over), [2349, 600])).toBe(true);
  });
});

describe('prepareJob', () => {
  it('gives the shower its entry and its lead-in', () => {
    const { zones, crossings } = prepared(JOB);
    expect(zones[1].entry).toEqual([2550, 60]);
    // by hand: 210 + 50 of floor, 3 x 100 over the curb, half a turn of 15, four bends in elevation (derived)
    const leadIn = 260 + 300 + Math.PI * 15 - 4 * cornerSaving(SETTING.lattice);
    expect(zones[1].leadIn).toBeCloseTo(leadIn, 1);
    expect(crossings.length).toBe(1);
    expect(checkCrossing(crossings[0].task, crossings[0].crossing)).toEqual([]);
  });

  it('keeps the dry floor clear of the run to the shower', () => {
    const { zones } = prepared(JOB);
    expect(contains(routingArea(zones[0]), [2250, 119])).toBe(false);
    expect(contains(routingArea(zones[0]), [2250, 121])).toBe(true);
  });

  it('does not bar a zone twice from one curb', () => {
    for (const zone of prepared(JOB).zones) {
      const ids = zone.exclusions.map(({ id }) => id);
      expect(new Set(ids).size).toBe(ids.length);
    }
  });

  it('leads both cold leads to the thermostat', () => {
    const { coldLeads } = prepared(JOB);
    // by hand: 25 down, 210 along to the node (1290, 60), 35 to it, 1200 up
    expect(coldLeads.get('floor')?.needed).toBeCloseTo(25 + 210 + 35 + 1200, 6);
    expect(coldLeads.get('shower')?.needed).toBeCloseTo(1950, 6);
  });

  it('makes the dry cable leave room for its own cold lead in front of a built-in', () => {
    const bench = {
      id: 'bench',
      shape: { kind: 'polygon', outline: rectangle(800, 0, 1200, 300) },
      clearance: 0,
    } as const;
    const dry: JobZone = { ...DRY, zone: { ...FLOOR, exclusions: [bench] } };
    const job = { ...JOB, zones: [dry], thermostat: { at: [300, 0], height: 600 } as const };
    const area = routingArea(prepared(job).zones[0]);
    // half a stud to either side of the lead, which lies along the bench at y 300
    expect(contains(area, [1000, 314])).toBe(false);
    expect(contains(area, [1000, 316])).toBe(true);
  });

  it('counts on the shortest cold lead of the cables that may be chosen', () => {
    const short = { ...JOB, catalogue: [cable('A', 1500), cable('B', 4000)] };
    expect(prepared(short).crossings[0].crossing.joint).toEqual([1740, 60]);
    const insisted = {
      ...short,
      insisted: new Map([
        ['shower', 'B'],
        ['floor', 'B'],
      ]),
    };
    expect(prepared(insisted).crossings[0].crossing.joint).toEqual([2190, 60]);
  });

  it('serves a shower behind a level threshold', () => {
    const wet: JobZone = {
      ...WET,
      curb: null,
      zone: { ...WET.zone, outline: rectangle(2400, 0, 3300, 1200) },
    };
    expect(prepared({ ...JOB, zones: [DRY, wet] }).zones[1].leadIn).toBeCloseTo(270, 6);
  });

  it('leaves a shower alone that is not supplied from a dry zone', () => {
    const own: JobZone = { ...WET, dryZone: null, zone: { ...WET.zone, entry: [2560, 300], leadIn: 400 } };
    const { zones, crossings } = prepared({ ...JOB, zones: [DRY, own] });
    expect(crossings).toEqual([]);
    expect(zones[1].leadIn).toBe(400);
    expect(zones[1].entry).toEqual([2560, 300]);
  });

  it('supplies two showers of one floor without crossing leads', () => {
    const second: JobZone = {
      ...WET,
      zone: {
        ...WET.zone,
        id: 'steam',
        outline: rectangle(-1000, 0, -100, 1200),
        buffer: rectangle(-1000, 0, -850, 1200),
      },
      drain: null,
      curb: { ...CURB, outline: rectangle(-100, 0, 0, 1200) },
    };
    const dry: JobZone = { ...DRY, zone: { ...FLOOR, buffer: rectangle(600, 1300, 1800, 1500) } };
    const { crossings } = prepared({ ...JOB, zones: [dry, WET, second] });
    expect(crossings.length).toBe(2);
    for (const { task, crossing } of crossings) expect(checkCrossing(task, crossing)).toEqual([]);
  });

  it('works without thermostat and shower', () => {
    const { zones, coldLeads } = prepared({ ...JOB, zones: [DRY], thermostat: null });
    expect(zones[0]).toEqual(FLOOR);
    expect(coldLeads.size).toBe(0);
  });
});

describe('problems of a job', () => {
  it('carry the place in the request', () => {
    expect(paths({ ...JOB, zones: [DRY, { ...WET, dryZone: 'hall' }] })).toEqual(['zones/1/dryZone']);
    expect(paths({ ...JOB, zones: [DRY, { ...WET, dryZone: 'shower' }] })).toEqual(['zones/1/dryZone']);
    expect(paths({ ...JOB, zones: [{ ...DRY, dryZone: 'floor' }, WET] })).toEqual(['zones/0/dryZone']);
    expect(paths({ ...JOB, zones: [{ ...DRY, curb: CURB }, WET] })).toEqual(['zones/0/curb']);
    expect(paths({ ...JOB, zones: [{ ...DRY, drain: DRAIN }, WET] })).toEqual(['zones/0/drain']);
    expect(paths({ ...JOB, thermostat: null })).toEqual(['thermostat']);
    expect(paths({ ...JOB, thermostat: { at: [1500, 700], height: 0 } })[0]).toBe('thermostat/at');
  });

  it('refuse a typed lead-in where it is computed', () => {
    const typed: JobZone = { ...WET, zone: { ...WET.zone, leadIn: 500 } };
    expect(paths({ ...JOB, zones: [DRY, typed] })).toEqual(['zones/1/leadIn']);
  });

  it('refuse a joint in the shower', () => {
    const wished: JobZone = { ...WET, wish: { crossing: null, joint: [2900, 300] } };
    expect(paths({ ...JOB, zones: [DRY, wished] })).toEqual(['zones/1/joint']);
  });

  it('tell the missing length of a cold lead', () => {
    const [first] = problems({ ...JOB, catalogue: [cable('A', 1200)] });
    expect(first.path).toEqual(['zones', 1, 'dryZone']);
    expect(first.by).toBeCloseTo(60, 6);
    // the dry floor's own: 1470 needed
    const [own] = problems({ ...JOB, zones: [DRY], catalogue: [cable('A', 1400)] });
    expect(own.path).toEqual(['zones', 0, 'entry']);
    expect(own.by).toBeCloseTo(70, 6);
  });

  it('refuse a joint in the middle of the floor', () => {
    const inside: JobZone = { ...DRY, zone: { ...FLOOR, entry: [1290, 600] } };
    const [first] = problems({ ...JOB, zones: [inside] });
    expect(first.path).toEqual(['zones', 0, 'entry']);
    expect(first.message).toContain('inside the floor');
  });
});

describe('sensorTaskOf', () => {
  it('brings everything that lies on the dry floor', () => {
    const job = prepared(JOB);
    const task = sensorTaskOf(JOB, job, job.zones[0], { path: [], reserve: [] }, true);
    expect(task?.heating).toEqual([
      [
        [2190, 60],
        [2400, 60],
      ],
    ]);
    expect(task?.coldLeads.length).toBe(2);
    expect(task?.depth).toBe(300);
    expect(
      sensorTaskOf({ ...JOB, thermostat: null }, job, job.zones[0], { path: [], reserve: [] }, true),
    ).toBeNull();
  });
});
