import { describe, expect, it } from 'vitest';
import type { Region, Rule } from '../../../solver/trade/rule.js';
import {
  RULE_IDS,
  RULES,
  type RuleId,
  type RuleOverrides,
  ruleNotes,
  ruleValues,
} from '../../../solver/trade/rules.js';
import { book, circuit, electrical, judged, load, material, readings, zone } from './samples.js';

/** Reports of a job that meets every rule at least once. */
function everything(region: Region, overrides: RuleOverrides) {
  const floor = { use: 'bathroom', room: null, depth: null, conductivity: null } as const;
  const alloys = [
    { kind: 'copper' },
    { kind: 'nichrome' },
    { kind: 'constantan' },
    { kind: 'own', coefficient: 0.001 },
  ] as const;
  const uses = ['occupied', 'bathroom', 'edge', 'edge'] as const;
  const cables = alloys.map((alloy, i) =>
    load({
      id: `${i}`,
      alloy,
      power: 600,
      length: 50_000,
      wet: i === 0,
      braid: i > 0,
      closestRuns: 60,
      density:
        i === 1
          ? { kind: 'pattern', pitch: 30, gaps: [2, 3, 3] }
          : { kind: 'area', area: [2, 4, 3, 7][i] ?? 4 },
      floor: { ...floor, use: uses[i] ?? 'edge' },
    }),
  );
  const walked = load({
    id: 'w',
    power: 600,
    length: 50_000,
    density: { kind: 'area', area: 4 },
    floor: { ...floor, use: 'edge' },
  });
  const rounds = readings().rounds.map((round, i) => ({
    ...round,
    conductor: { resistance: [72, 74.2, 77][i] ?? 72, temperature: 25 },
    insulation: { resistance: [15e6, 0.9e6, 300e6][i] ?? 1, testVoltage: [1500, 400, 500][i] ?? 500 },
    braid: [3e6, 'open', 10][i] as number | 'open',
  }));
  const sensorRounds = (
    [
      ['spool', 13_000],
      ['laid', 900_000],
      ['tiled', 10_000],
    ] as const
  ).map(([round, resistance]) => ({
    round,
    resistance,
    temperature: 20,
  }));
  const sheets = { kind: 'sheet', width: 800, length: 1000 } as const;
  const wet = zone({
    id: 'shower',
    wet: true,
    cable: { length: 12_000, diameter: 5 },
    curb: { length: 900, crossing: 400, diameter: 5 },
  });
  return [
    electrical({
      region,
      overrides,
      cables: [...cables, walked],
      circuits: [
        circuit({
          voltage: 235,
          thermostats: [{ id: 'T1', rating: 15, cables: [...cables.map((c) => c.id), 'w'] }],
        }),
      ],
    }),
    judged({
      region,
      overrides,
      cables: [
        ...alloys.map((alloy, i) => readings({ id: `${i}`, alloy, rounds })),
        readings({ id: 'p', nominal: { kind: 'power', power: 800, voltage: 240 } }),
      ],
      sensors: [
        { id: 'S1', r25: null, beta: null, rounds: sensorRounds },
        { id: 'S2', r25: 12_000, beta: 3700, rounds: sensorRounds },
      ],
    }),
    material({ region, overrides, zones: [zone(), wet] }),
    material({ region, overrides, zones: [zone(), wet], membrane: sheets }),
  ];
}

const regionOf = (id: RuleId): Region => (RULES[id].region === 'NEC' ? 'NEC' : 'IEC');
const withoutNotes = (reports: ReturnType<typeof everything>): string =>
  JSON.stringify(reports.map(({ rules: _rules, ...rest }) => rest));

describe('the table', () => {
  it.each(RULE_IDS)('%s has a title, a source and defaults in range', (id) => {
    const rule: Rule = RULES[id];
    expect(rule.title.length).toBeGreaterThan(10);
    expect(rule.source.text.length).toBeGreaterThan(3);
    for (const entry of Object.values(rule.values)) {
      for (const v of typeof entry.value === 'number' ? [entry.value] : entry.value) {
        expect(v).toBeGreaterThanOrEqual(entry.min);
        expect(v).toBeLessThanOrEqual(entry.max);
      }
    }
    expect(rule.overridable).toBe(Object.keys(rule.values).length > 0);
    if (rule.region === 'NEC' || rule.region === 'IEC') expect(rule.clauses.length).toBeGreaterThan(0);
    if (rule.source.text.includes('(memory)')) expect(rule.source.kind).toBe('memory');
    if (rule.region === 'trade') expect(rule.source.kind).toBe('common practice');
  });

  it.each(RULE_IDS)('%s stands behind a figure or a finding of some report', (id) => {
    const reports = (['NEC', 'IEC'] as const).flatMap((region) => everything(region, {}));
    expect(reports.flatMap((r) => r.rules.map((n) => n.id))).toContain(id);
  });

  const values = RULE_IDS.flatMap((id) =>
    Object.entries<Rule['values'][string]>(RULES[id].values).map(([name, entry]) => ({ id, name, entry })),
  );
  it.each(values)('$id, $name, decides something: overriding it changes a report', ({ id, name, entry }) => {
    const region = regionOf(id);
    const before = withoutNotes(everything(region, {}));
    const tries = entry.kind === 'list' ? [[entry.min], [entry.max]] : [entry.min, entry.max];
    const after = tries
      .map((value) => ({ [id]: { [name]: value } }))
      .filter((overrides) => ruleValues(region, overrides).kind === 'resolved')
      .map((overrides) => withoutNotes(everything(region, overrides)));
    expect(after.length).toBeGreaterThan(0);
    expect(after.some((text) => text !== before)).toBe(true);
  });
});

describe('overrides', () => {
  it('replace one value and leave the others', () => {
    const { values, overridden } = book('NEC', { 'resistance-band': { above: 0.15 } });
    expect(values['resistance-band']).toEqual({ below: 0.05, above: 0.15 });
    expect([...overridden]).toEqual(['resistance-band.above']);
    expect(values['run-spacing'].least).toBe(25);
  });

  it('are marked in the notes', () => {
    const [note] = ruleNotes(book('NEC', { 'resistance-band': { above: 0.15 } }), ['resistance-band']);
    expect(note?.values).toEqual([
      { name: 'below', value: 0.05, unit: 'fraction', overridden: false },
      { name: 'above', value: 0.15, unit: 'fraction', overridden: true },
    ]);
  });

  it.each<[RuleOverrides, string]>([
    [{ nonsense: { x: 1 } }, 'unknown-rule'],
    [{ toString: { x: 1 } }, 'unknown-rule'],
    [{ ohm: { x: 1 } }, 'not-overridable'],
    [{ 'run-spacing': { most: 30 } }, 'unknown-value'],
    [{ 'run-spacing': { constructor: 30 } }, 'unknown-value'],
    [{ 'run-spacing': { least: 5 } }, 'out-of-range'],
    [{ 'run-spacing': { least: Number.NaN } }, 'out-of-range'],
    [{ 'run-spacing': { least: [30] } }, 'wrong-kind'],
    [{ 'standard-ratings-nec': { ratings: 20 } }, 'wrong-kind'],
    [{ 'standard-ratings-nec': { ratings: [] } }, 'wrong-kind'],
    [{ 'standard-ratings-nec': { ratings: [20, 15] } }, 'wrong-kind'],
    [{ 'standard-ratings-iec': { ratings: [10] } }, 'other-region'],
    [{ 'heat-density-limits': { least: 250 } }, 'contradiction'],
  ])('%o is refused as a value', (overrides, reason) => {
    const resolution = ruleValues('NEC', overrides);
    expect(resolution).toMatchObject({ kind: 'refused', problems: [{ reason }] });
  });

  it('all problems are listed at once', () => {
    const resolution = ruleValues('IEC', { nonsense: {}, 'run-spacing': { least: 1, x: 2 } });
    expect(resolution.kind === 'refused' ? resolution.problems.length : 0).toBe(3);
  });
});
