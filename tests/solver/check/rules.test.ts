import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkTrace } from '../../../solver/check/check-trace.js';
import type { RuleName, RuleVerdict } from '../../../solver/check/report.js';
import type { Cable, Point, Setting, Trace, Zone } from '../../../solver/problem.js';
import * as good from '../../helpers/good-layout.js';

interface Case {
  readonly zone: Zone;
  readonly setting: Setting;
  readonly cable: Cable;
  readonly trace: Trace;
}

const base: Case = { zone: good.zone, setting: good.setting, cable: good.cable, trace: good.trace };

const check = (change: Partial<Case> = {}) => {
  const all = { ...base, ...change };
  return checkTrace(all.zone, all.setting, all.cable, all.trace);
};

/** Names of the broken rules. */
const broken = (change: Partial<Case> = {}): RuleName[] => {
  const report = check(change);
  expect(report.ok).toBe(report.rules.every(({ ok }) => ok));
  return report.rules.filter(({ ok }) => !ok).map(({ rule }) => rule);
};

const verdict = (rule: RuleName, change: Partial<Case> = {}): RuleVerdict => {
  const found = check(change).rules.find((other) => other.rule === rule);
  if (found === undefined) throw new Error(`no verdict on ${rule}`);
  return found;
};

const withRows = (rows: readonly number[]): Trace => ({
  path: good.serpentine(rows, good.LAST_RUN),
  reserve: base.trace.reserve,
});

describe('a good layout', () => {
  it('keeps every rule', () => {
    expect(broken()).toEqual([]);
    expect(check().rules.map(({ rule }) => rule)).toEqual([
      'lattice',
      'entry',
      'routing-area',
      'spacing',
      'bends',
      'length',
      'end-in-buffer',
      'reserve',
    ]);
  });

  it('reports the values nearest to the limits', () => {
    expect(verdict('spacing')).toMatchObject({ worst: 90, limit: 60 });
    expect(verdict('bends')).toMatchObject({ worst: 90, limit: 30 });
    expect(verdict('routing-area').worst).toBeCloseTo(10, 9);
    expect(verdict('length').worst).toBeCloseTo(0, 6);
  });
});

describe('each rule alone', () => {
  it('lattice: a run off its channel', () => {
    const rows = good.rows.map((y, k) => (k === 3 ? y + 7 : y));
    expect(broken({ trace: withRows(rows) })).toEqual(['lattice']);
    const { worst, violations } = verdict('lattice', { trace: withRows(rows) });
    expect(worst).toBeCloseTo(7, 9);
    expect(violations[0].at[1]).toBe(337);
  });

  it('lattice: a diagonal segment between nodes', () => {
    const path = base.trace.path.map((p, k): Point => (k === 1 ? [p[0] - 30, p[1]] : p));
    expect(verdict('lattice', { trace: { ...base.trace, path } }).ok).toBe(false);
  });

  it('lattice: the reserve too', () => {
    const reserve: Point[] = [...base.trace.reserve.slice(0, 1), [67, 1050], [67, 1045]];
    expect(broken({ trace: { ...base.trace, reserve } })).toEqual(['lattice']);
  });

  it('lattice: only the last vertex may lie between nodes', () => {
    const [first, ...rest] = base.trace.path;
    const path: Point[] = [[first[0] + 4, first[1]], ...rest];
    expect(broken({ trace: { ...base.trace, path } })).toContain('lattice');
  });

  it('entry: begins one node further', () => {
    const path: Point[] = [[90, 60], ...base.trace.path.slice(1)];
    const cable = { ...base.cable, length: base.cable.length - 30 };
    expect(broken({ trace: { ...base.trace, path }, cable })).toEqual(['entry']);
    expect(verdict('entry', { trace: { ...base.trace, path }, cable }).violations[0]).toMatchObject({
      at: [90, 60],
      size: 30,
    });
  });

  it('entry: the nearest node in the routing area, not the nearest of all', () => {
    expect(broken({ zone: { ...base.zone, entry: [2, 3] } })).toEqual([]);
    expect(broken({ zone: { ...base.zone, entry: [80, 62] } })).toEqual(['entry']);
    expect(broken({ zone: { ...base.zone, entry: [75, 60] } })).toEqual([]); // a tie: either node
  });

  it('routing-area: too near to the wall, by more than 0.5 mm', () => {
    expect(broken({ zone: { ...base.zone, clearance: 60.4 } })).toEqual([]);
    // Beyond the tolerance no node of the outer runs is in the area, the entry's among them.
    expect(broken({ zone: { ...base.zone, clearance: 60.6 } })).toEqual(['entry', 'routing-area']);
  });

  it('routing-area: through a round exclusion', () => {
    const round = (radius: number, clearance: number): Zone => ({
      ...base.zone,
      exclusions: [{ id: 'wc', shape: { kind: 'circle', center: [700, 470], radius }, clearance }],
    });
    // The nearest runs lie 40 mm below and 50 mm above the centre.
    expect(broken({ zone: round(30, 10.4) })).toEqual([]);
    expect(broken({ zone: round(30, 12) })).toEqual(['routing-area']);
    const { worst, violations } = verdict('routing-area', { zone: round(45, 10) });
    expect(worst).toBeCloseTo(-15, 6);
    expect(violations).toHaveLength(2);
    expect(violations[0].at[0]).toBeCloseTo(700, 6);
    expect(violations[0].at[1]).toBe(510);
    expect(violations[0].size).toBeCloseTo(15, 6);
  });

  it('routing-area: through polygons that cross the outline and one another', () => {
    const box = (id: string, x: number, y: number, w: number, h: number, clearance: number) => ({
      id,
      shape: {
        kind: 'polygon' as const,
        outline: [
          [x, y],
          [x + w, y],
          [x + w, y + h],
          [x, y + h],
        ] as Point[],
      },
      clearance,
    });
    const zone = (...exclusions: Zone['exclusions']): Zone => ({ ...base.zone, exclusions });
    expect(broken({ zone: zone(box('beside', 1450, 300, 500, 200, 10)) })).toEqual([]);
    expect(broken({ zone: zone(box('beside', 1450, 300, 500, 200, 12)) })).toEqual(['routing-area']);
    const both = verdict('routing-area', {
      zone: zone(box('a', 1300, 300, 500, 200, 20), box('b', 1200, 280, 200, 90, 0)),
    });
    expect(both.ok).toBe(false);
    expect(both.violations.map(({ message }) => message).join()).toMatch(/"a".*"b"/);
    // A run along the very edge of a body without clearance is in the routing area.
    expect(broken({ zone: zone(box('edge', 200, 150, 300, 90, 0)) })).toEqual([]);
    expect(broken({ zone: zone(box('edge', 200, 150.6, 300, 90, 0)) })).toEqual(['routing-area']);
  });

  it('spacing: a run pushed to one stud from its neighbour', () => {
    const rows = good.rows.map((y, k) => (k === 3 ? y - 60 : y));
    expect(broken({ trace: withRows(rows) })).toEqual(['spacing']);
    const { worst, violations } = verdict('spacing', { trace: withRows(rows) });
    expect(worst).toBe(30);
    expect(violations).toHaveLength(1);
    expect(broken({ trace: withRows(good.rows.map((y, k) => (k === 3 ? y - 30 : y))) })).toEqual([]);
  });

  it('bends: too stiff for the closest U-turn, and for any', () => {
    const rows = good.rows.map((y, k) => (k === 3 ? y - 30 : y));
    const cable = { ...base.cable, minBendRadius: 40 };
    expect(broken({ cable })).toEqual([]);
    expect(broken({ cable, trace: withRows(rows) })).toEqual(['bends']);
    expect(verdict('bends', { cable, trace: withRows(rows) }).violations).toEqual([
      expect.objectContaining({ size: 60, at: [1440, 240] }),
    ]);
    // Trade table: r 36, s 60 -> refused (a plain U-turn needs spacing >= 2 r).
    const narrow: Setting = { ...base.setting, spacing: { min: 2, target: 2, max: 2 } };
    expect(broken({ cable: { ...base.cable, minBendRadius: 36 }, setting: narrow })).toEqual(['bends']);
    expect(broken({ cable: { ...base.cable, minBendRadius: 30 }, setting: narrow })).toEqual([]);
  });

  it('length: to 1 mm either way', () => {
    for (const [by, expected] of [
      [0.9, []],
      [-0.9, []],
      [1.5, ['length']],
      [-1.5, ['length']],
    ] as const) {
      expect(broken({ cable: { ...base.cable, length: base.cable.length + by } })).toEqual(expected);
    }
    expect(broken({ zone: { ...base.zone, leadIn: 40 } })).toEqual(['length']);
    const cable = { ...base.cable, length: base.cable.length + 40 };
    expect(broken({ zone: { ...base.zone, leadIn: 40 }, cable })).toEqual([]);
  });

  it('end-in-buffer: with the shortest, with the longest cable, and in between', () => {
    const t = 0.01 * base.cable.length + 2 * good.TURNS;
    const nominal = 60 + good.RUN_LENGTH - good.LAST_RUN;
    const [latest, earliest] = [nominal - t, nominal + t]; // the last run goes to the left
    const strip = (left: number, right: number): Zone => ({
      ...base.zone,
      buffer: [
        [left, 1000],
        [right, 1000],
        [right, 1110],
        [left, 1110],
      ],
    });
    expect(broken({ zone: strip(latest, earliest) })).toEqual([]);
    expect(broken({ zone: strip(latest, earliest - 1) })).toEqual(['end-in-buffer']);
    expect(broken({ zone: strip(latest + 1, earliest) })).toEqual(['end-in-buffer']);
    const { violations } = verdict('end-in-buffer', { zone: strip(latest + 12, earliest) });
    expect(violations).toHaveLength(1);
    expect(violations[0].at[0]).toBeCloseTo(latest, 6);
    expect(violations[0].size).toBeCloseTo(12, 6);
    // Both ends in the buffer, a gap between them.
    const u: Zone = {
      ...base.zone,
      buffer: [
        [0, 1000],
        [nominal + 40, 1000],
        [nominal + 40, 1110],
        [nominal + 20, 1110],
        [nominal + 20, 1002],
        [0, 1002],
        [0, 1110],
        [-5, 1110],
        [-5, 990],
        [1500, 990],
        [1500, 1110],
        [nominal + 41, 1110],
        [nominal + 41, 1000],
      ],
    };
    expect(broken({ zone: u })).toEqual(['end-in-buffer']);
    expect(check().end.slack).toBeCloseTo(nominal - 60 - t, 6);
    expect(check({ zone: strip(latest - 25, earliest + 500) }).end.slack).toBeCloseTo(25.25, 0);
    expect(check({ zone: strip(latest + 25, earliest) }).end.slack).toBeCloseTo(-24.75, 0);
    expect(check().end).toMatchObject({ at: [nominal, 1050], tolerance: t });
    expect(check().end.earliest[0]).toBeCloseTo(earliest, 6);
    expect(check().end.latest[0]).toBeCloseTo(latest, 6);
  });

  it('reserve: missing, too short, begun elsewhere', () => {
    const t = 0.01 * base.cable.length + 2 * good.TURNS;
    const begin = base.trace.reserve[0];
    const reserve = (length: number): Trace => ({
      ...base.trace,
      reserve: [begin, [begin[0] - length, 1050]],
    });
    expect(broken({ trace: { ...base.trace, reserve: [] } })).toEqual(['reserve']);
    expect(broken({ trace: reserve(t) })).toEqual([]);
    expect(broken({ trace: reserve(t - 5) })).toEqual(['reserve']);
    expect(verdict('reserve', { trace: reserve(t - 5) }).worst).toBeCloseTo(5, 6);
    const moved: Trace = {
      ...base.trace,
      reserve: [
        [begin[0] - 30, 1050],
        [60, 1050],
      ],
    };
    expect(broken({ trace: moved })).toEqual(['reserve']);
  });
});

describe('the tolerance window round a corner', () => {
  // The path ends 20 mm behind the last corner, so the shortest cable ends before that corner.
  const lastRun = 20;
  const path = good.serpentine(good.rows, lastRun);
  const reserve: Point[] = [path[path.length - 1], [60, 1050]];
  const cable = {
    ...base.cable,
    length: (good.RUNS - 1) * (good.RUN_LENGTH + good.GAP) + lastRun - good.TURNS * good.SAVING,
  };

  it('walks back over rounded corners', () => {
    const { end } = check({ trace: { path, reserve }, cable });
    const t = 0.01 * cable.length + 2 * good.TURNS;
    // Back: 20 mm, a corner, 90 mm of connector, a corner, the rest along the run at y = 960.
    const rest = t - (lastRun + good.GAP - 2 * good.SAVING);
    expect(end.earliest[1]).toBe(960);
    expect(end.earliest[0]).toBeCloseTo(60 + good.RUN_LENGTH - rest, 6);
    expect(end.latest[0]).toBeCloseTo(60 + good.RUN_LENGTH - lastRun - t, 6);
    expect(broken({ trace: { path, reserve }, cable })).toEqual(['end-in-buffer']);
    const zone: Zone = { ...base.zone, buffer: base.zone.outline };
    expect(broken({ trace: { path, reserve }, cable, zone })).toEqual([]);
  });
});

describe('any path whatever', () => {
  it('never throws, and reports at most fifty places a rule', () => {
    const coordinate = fc.oneof(
      fc.integer({ min: -200, max: 1700 }),
      fc.integer({ min: 0, max: 50 }).map((k) => k * 30),
      fc.double(),
      fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, 1e300, -0),
    );
    const line = fc.array(fc.tuple(coordinate, coordinate), { maxLength: 30 });
    fc.assert(
      fc.property(line, line, (path, reserve) => {
        const report = check({ trace: { path, reserve } });
        for (const rule of report.rules) {
          expect(rule.violations.length).toBeLessThanOrEqual(50);
          expect(rule.violations.length > 0).toBe(!rule.ok);
          expect(Number.isFinite(rule.worst)).toBe(true);
          for (const { at, size } of rule.violations) {
            expect(Number.isFinite(at[0]) && Number.isFinite(at[1]) && Number.isFinite(size)).toBe(true);
          }
        }
        expect(report.coverage.fraction).toBeGreaterThanOrEqual(0);
        expect(report.coverage.fraction).toBeLessThanOrEqual(1);
        expect(Number.isFinite(report.end.slack)).toBe(true);
      }),
      { seed: 41, numRuns: 300 },
    );
  });

  it('finds a crossing, a reversal and a path of one point', () => {
    const crossing: Point[] = [
      [60, 60],
      [600, 60],
      [600, 300],
      [300, 300],
      [300, 30],
    ];
    expect(verdict('spacing', { trace: { path: crossing, reserve: [] } }).violations[0]).toMatchObject({
      at: [300, 60],
      size: 0,
    });
    const back: Point[] = [
      [60, 60],
      [600, 60],
      [300, 60],
    ];
    expect(broken({ trace: { path: back, reserve: [] } })).toEqual(
      expect.arrayContaining(['spacing', 'bends']),
    );
    expect(broken({ trace: { path: [[60, 60]], reserve: [] } })).toContain('lattice');
    expect(broken({ trace: { path: [], reserve: [] } })).toEqual(
      expect.arrayContaining(['lattice', 'entry', 'length', 'end-in-buffer', 'reserve']),
    );
  });

  it('repeated and straight vertices change nothing', () => {
    const path = base.trace.path.flatMap((p, k, all): Point[] => {
      const next = all[k + 1] ?? p;
      const between: Point = [(p[0] + 2 * next[0]) / 3, (p[1] + 2 * next[1]) / 3];
      const onLattice: Point = [Math.round(between[0] / 30) * 30, Math.round(between[1] / 30) * 30];
      return k % 2 === 0 && k < all.length - 2 ? [p, p, onLattice] : [p];
    });
    const report = check({ trace: { ...base.trace, path } });
    expect(report.ok).toBe(true);
    expect(report.length.turns).toBe(good.TURNS);
  });
});
