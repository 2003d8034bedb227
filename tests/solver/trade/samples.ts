import type { CableReport } from '../../../solver/trade/cable-report.js';
import type { CircuitReport } from '../../../solver/trade/circuit-report.js';
import { type ElectricalReport, electricalReport } from '../../../solver/trade/electrical.js';
import type { CableLoad, Circuit, ElectricalInput } from '../../../solver/trade/electrical-input.js';
import type { Finding } from '../../../solver/trade/figure.js';
import { type MaterialReport, materialQuantities } from '../../../solver/trade/material.js';
import type { MaterialInput, MaterialZone } from '../../../solver/trade/material-input.js';
import { judgeReadings, type ReadingsReport } from '../../../solver/trade/readings.js';
import type { CableReadings, ReadingsInput } from '../../../solver/trade/readings-input.js';
import type { Region } from '../../../solver/trade/rule.js';
import { type RuleBook, type RuleOverrides, ruleValues } from '../../../solver/trade/rules.js';

/** A rule book, or a failed test. */
export function book(region: Region, overrides: RuleOverrides = {}): RuleBook {
  const resolution = ruleValues(region, overrides);
  if (resolution.kind !== 'resolved') throw new Error(JSON.stringify(resolution.problems));
  return resolution.book;
}

/** 800 W at 240 V on 66 m: 72 ohm, 12.12 W/m; invented. */
export const load = (change: Partial<CableLoad> = {}): CableLoad => ({
  id: 'A',
  power: 800,
  voltage: 240,
  length: 66_000,
  labelResistance: null,
  alloy: { kind: 'copper' },
  braid: true,
  earthedGrid: false,
  wet: false,
  density: null,
  closestRuns: null,
  floorTemperature: null,
  floor: { use: 'bathroom', room: null, depth: null, conductivity: null },
  ...change,
});

export const circuit = (change: Partial<Circuit> = {}): Circuit => ({
  id: 'C1',
  voltage: 240,
  device: null,
  groundFault: { kind: 'fitted', trip: 0.005 },
  thermostats: [{ id: 'T1', rating: 15, cables: ['A'] }],
  ...change,
});

export const electricalInput = (change: Partial<ElectricalInput> = {}): ElectricalInput => ({
  region: 'NEC',
  overrides: {},
  cables: [load()],
  circuits: [circuit()],
  ...change,
});

export function electrical(change: Partial<ElectricalInput> = {}): ElectricalReport {
  const outcome = electricalReport(electricalInput(change));
  if (outcome.kind !== 'report') throw new Error(JSON.stringify(outcome.problems));
  return outcome;
}

export function only<T>(list: readonly T[]): T {
  const [first, second] = list;
  if (first === undefined || second !== undefined) throw new Error(`one entry expected, not ${list.length}`);
  return first;
}

/** The report of one cable on one circuit of its own. */
export const cableOf = (change: Partial<CableLoad>, rest: Partial<ElectricalInput> = {}): CableReport =>
  only(electrical({ cables: [load(change)], ...rest }).cables);

export const circuitOf = (change: Partial<Circuit>, rest: Partial<ElectricalInput> = {}): CircuitReport =>
  only(electrical({ circuits: [circuit(change)], ...rest }).circuits);

export const finding = (findings: readonly Finding[], id: string): Finding =>
  only(findings.filter((f) => f.id === id));

/** Three sound rounds of a 72 ohm copper cable. */
export const readings = (change: Partial<CableReadings> = {}): CableReadings => ({
  id: 'A',
  nominal: { kind: 'resistance', resistance: 72 },
  alloy: { kind: 'copper' },
  rounds: [
    {
      round: 'spool',
      conductor: { resistance: 72, temperature: 20 },
      insulation: { resistance: 500e6, testVoltage: 500 },
      braid: 'open',
    },
    {
      round: 'laid',
      conductor: { resistance: 72.3, temperature: 21 },
      insulation: { resistance: 'over-range', testVoltage: 500 },
      braid: 'open',
    },
    {
      round: 'tiled',
      conductor: { resistance: 71.7, temperature: 19 },
      insulation: { resistance: 100e6, testVoltage: 500 },
      braid: 'open',
    },
  ],
  ...change,
});

export const readingsInput = (change: Partial<ReadingsInput> = {}): ReadingsInput => ({
  region: 'NEC',
  overrides: {},
  cables: [readings()],
  sensors: [],
  ...change,
});

export function judged(change: Partial<ReadingsInput> = {}): ReadingsReport {
  const outcome = judgeReadings(readingsInput(change));
  if (outcome.kind !== 'report') throw new Error(JSON.stringify(outcome.problems));
  return outcome;
}

/** 2.4 x 2.0 m. */
export const zone = (change: Partial<MaterialZone> = {}): MaterialZone => ({
  id: 'floor',
  wet: false,
  outline: [
    [0, 0],
    [2400, 0],
    [2400, 2000],
    [0, 2000],
  ],
  bare: [],
  cable: null,
  curb: null,
  ...change,
});

export const materialInput = (change: Partial<MaterialInput> = {}): MaterialInput => ({
  region: 'IEC',
  overrides: {},
  membrane: { kind: 'roll', width: 1000, length: 10_000 },
  zones: [zone()],
  sensors: 1,
  ...change,
});

export function material(change: Partial<MaterialInput> = {}): MaterialReport {
  const outcome = materialQuantities(materialInput(change));
  if (outcome.kind !== 'report') throw new Error(JSON.stringify(outcome.problems));
  return outcome;
}
