import { beforeAll, describe, expect, it } from 'vitest';
import type { PlanSheet, SheetZone } from '../../../service/papers/model.js';
import { sheetOf } from '../../../service/papers/sheet-of.js';
import { checkTrace } from '../../../solver/check/check-trace.js';
import { CHECKPOINT_ACTION } from '../../../solver/job/laying-steps.js';
import type { PlanOutcome, ZonePlan } from '../../../solver/plan-types.js';
import type { Point, Setting, Zone } from '../../../solver/problem.js';

const SETTING: Setting = {
  lattice: { pitch: 30, origin: [60, 60] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
};

/** Twelve runs of 780 mm, 90 mm apart, in an invented 0.9 x 1.2 m room. */
const PATH: Point[] = Array.from({ length: 12 }, (_, k): Point[] => {
  const y = 60 + 90 * k;
  return k % 2 === 0
    ? [
        [60, y],
        [840, y],
      ]
    : [
        [840, y],
        [60, y],
      ];
}).flat();

const SHARP = 12 * 780 + 11 * 90;
const LAID = SHARP - 22 * (2 - Math.PI / 2) * 15;

const plan = (id: string, wet: boolean): ZonePlan => {
  const zone: Zone = {
    id,
    wet,
    outline: [
      [0, 0],
      [900, 0],
      [900, 1200],
      [0, 1200],
    ],
    clearance: 50,
    exclusions: [],
    buffer: [
      [0, 1000],
      [900, 1000],
      [900, 1200],
      [0, 1200],
    ],
    entry: [60, 60],
    leadIn: wet ? 400 : 0,
    priorities: [],
  };
  const cable = {
    id: 'D10',
    length: LAID + zone.leadIn,
    power: 120,
    voltage: 240,
    tolerance: 0.01,
    diameter: 5,
    minBendRadius: 15,
    coldLead: 3000,
  };
  const trace = { path: PATH, reserve: [[60, 1050] as Point, [60, 1140] as Point, [840, 1140] as Point] };
  return {
    zone,
    cable,
    trace,
    check: checkTrace(zone, SETTING, cable, trace),
    upperBound: 1,
    boundBasis: 'none in this test',
    turnBound: null,
    model: null,
  };
};

const planned: Extract<PlanOutcome, { kind: 'planned' }> = {
  kind: 'planned',
  lattice: SETTING.lattice,
  zones: [plan('floor', false), plan('shower', true)],
  verdicts: [],
  guardFired: false,
  work: 0,
};

describe('sheet of a planned layout', () => {
  let sheet: PlanSheet;
  let floor: SheetZone;
  let shower: SheetZone;
  beforeAll(() => {
    sheet = sheetOf(planned, {
      id: 'p1',
      title: 'Demo',
      display: 'metric',
      spacing: SETTING.spacing,
      placementSlopPerTurn: SETTING.placementSlopPerTurn,
      extras: new Map([['shower', { marks: { start: 50, direction: 'down' }, joint: [-200, 60] }]]),
    });
    const [first, second] = sheet.zones;
    if (first === undefined || second === undefined) throw new Error('two zones expected');
    [floor, shower] = [first, second];
  });

  it('takes the geometry over unchanged', () => {
    expect(floor.path).toBe(PATH);
    expect(sheet.lattice).toBe(SETTING.lattice);
    expect(floor.length.turns).toBe(22);
    expect(floor.length.path).toBeCloseTo(LAID, 6);
    expect(shower.joint).toEqual([-200, 60]);
    expect(shower).not.toHaveProperty('marks');
  });

  it('folds the step of a turn back into its run: 26 studs along, 3 over', () => {
    expect(floor.runs).toHaveLength(12);
    expect(floor.runs[0]).toMatchObject({
      n: 1,
      from: [60, 60],
      studs: 26,
      over: 3,
      turn: 'left',
      length: 780,
    });
    expect(floor.runs[1]).toMatchObject({ turn: 'right' });
    expect(floor.runs[11]).toMatchObject({ over: null, turn: null });
    expect(floor.runs[11]?.cumulative).toBeCloseTo(LAID, 6);
  });

  it('lays a wet zone from its far end', () => {
    expect(shower.runs[0]?.from).toEqual(PATH.at(-1));
    expect(shower.runs.at(-1)?.to).toEqual(PATH[0]);
    expect(shower.steps?.at(-1)?.text).toContain('out over the threshold');
  });

  it('sets checkpoints on runs that exist: by length without marks, by mark with them', () => {
    for (const zone of [floor, shower]) {
      expect(zone.checkpoints?.length).toBeGreaterThan(1);
      for (const stop of zone.checkpoints ?? []) {
        const run = zone.runs.find(({ n }) => n === stop.run);
        expect(stop.at).toEqual(run?.to);
        expect(stop.laid).toBeCloseTo(run?.cumulative ?? Number.NaN, 6);
        expect(stop.beyond).toBe(CHECKPOINT_ACTION);
        expect(stop.allowed).toBeGreaterThan(0);
      }
    }
    expect(floor.checkpoints?.every((stop) => stop.mark === null)).toBe(true);
    // marks count down from 50 at the joint: laid from the far end they read 50 - (cable - laid)
    for (const stop of shower.checkpoints ?? [])
      expect(stop.mark).toBeCloseTo(50_000 - (shower.cable.length - stop.laid), 6);
  });

  it('draws the runs between two stops together and leaves none out', () => {
    const spans = (floor.steps ?? []).flatMap(({ text }): number[][] => {
      const match = /^Lay runs? (\d+)(?: to (\d+))?/.exec(text);
      return match === null ? [] : [[Number(match[1]), Number(match[2] ?? match[1])]];
    });
    expect(spans[0]?.[0]).toBe(1);
    expect(spans.at(-1)?.[1]).toBe(12);
    spans.slice(1).forEach(([from], i) => {
      expect(from).toBe((spans[i]?.[1] ?? 0) + 1);
    });
    expect((floor.steps ?? []).map((step) => step.n)).toEqual((floor.steps ?? []).map((_, i) => i + 1));
  });

  it('shows the target area: the floor inside its clearance, buffer taken off', () => {
    // 800 x (1000 - 50) mm
    const [ring = []] = floor.target ?? [];
    const xs = ring.map(([x]) => x);
    const ys = ring.map(([, y]) => y);
    expect([Math.min(...xs), Math.max(...xs)].map(Math.round)).toEqual([50, 850]);
    expect([Math.min(...ys), Math.max(...ys)].map(Math.round)).toEqual([50, 1000]);
  });

  it('writes steps in feet and inches on imperial sheets', () => {
    const imperial = sheetOf(planned, {
      id: 'p1',
      title: 'Demo',
      display: 'imperial',
      spacing: SETTING.spacing,
      placementSlopPerTurn: 2,
    });
    const text = (imperial.zones[0]?.steps ?? []).map((step) => step.text).join(' ');
    expect(text).toMatch(/\d+' \d+/);
    expect(text).not.toMatch(/\d m\b/);
  });
});
