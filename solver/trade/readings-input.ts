import { type InputProblem, isPositive } from './figure.js';
import type { Alloy } from './resistance.js';
import type { Region } from './rule.js';
import type { RuleOverrides } from './rules.js';

/** Off the spool, after laying, after tiling. */
export type RoundId = 'spool' | 'laid' | 'tiled';

export const ROUNDS: readonly RoundId[] = ['spool', 'laid', 'tiled'];

export const ROUND_NAMES: Readonly<Record<RoundId, string>> = {
  spool: 'off the spool',
  laid: 'after laying',
  tiled: 'after tiling',
};

/** ohm, C; 'open' where the meter shows no connection. */
export interface ConductorReading {
  readonly resistance: number | 'open';
  readonly temperature: number;
}

/** ohm between conductor and braid at `testVoltage` V d.c.; 'over-range' where the tester shows more than it can measure. */
export interface InsulationReading {
  readonly resistance: number | 'over-range';
  readonly testVoltage: number;
}

/** Null where that reading was not taken. */
export interface CableRound {
  readonly round: RoundId;
  readonly conductor: ConductorReading | null;
  readonly insulation: InsulationReading | null;
  /** Conductor to braid with an ordinary meter, ohm. */
  readonly braid: number | 'open' | null;
}

/** Resistance at 20 C on the label, ohm, or what the label says instead, W and V. */
export type Nominal =
  | { readonly kind: 'resistance'; readonly resistance: number }
  | { readonly kind: 'power'; readonly power: number; readonly voltage: number };

export interface CableReadings {
  readonly id: string;
  readonly nominal: Nominal;
  readonly alloy: Alloy;
  readonly rounds: readonly CableRound[];
}

export interface SensorRound {
  readonly round: RoundId;
  readonly resistance: number | 'open';
  /** Temperature at the sensor's tip, C. */
  readonly temperature: number;
}

export interface SensorReadings {
  readonly id: string;
  /** ohm at 25 C; null takes the default. */
  readonly r25: number | null;
  /** B value in K; null takes the default. */
  readonly beta: number | null;
  readonly rounds: readonly SensorRound[];
}

export interface ReadingsInput {
  readonly region: Region;
  readonly overrides: RuleOverrides;
  readonly cables: readonly CableReadings[];
  readonly sensors: readonly SensorReadings[];
}

/** Everything that no meter can have shown or no judgement can be made from; empty when there is nothing. */
export function readingsProblems(input: ReadingsInput): InputProblem[] {
  const problems: InputProblem[] = [];
  const say = (path: InputProblem['path'], message: string): void => {
    problems.push({ path, message });
  };
  const positive = (path: InputProblem['path'], value: number | null): void => {
    if (value !== null && !isPositive(value)) say(path, 'must be a number above zero and below 1e9');
  };
  const reading = (path: InputProblem['path'], value: number | string | null): void => {
    if (typeof value === 'number' && !(Number.isFinite(value) && value >= 0)) {
      say(path, 'must be a resistance of zero or more');
    }
  };
  const temperature = (path: InputProblem['path'], value: number): void => {
    if (!(value >= -30 && value <= 60))
      say(path, 'must lie in -30 ... 60 C, the temperatures of a building site');
  };
  const once = <T extends { readonly round: RoundId }>(
    path: InputProblem['path'],
    rounds: readonly T[],
  ): void => {
    const seen = new Set<RoundId>();
    for (const [j, { round }] of rounds.entries()) {
      if (seen.has(round)) say([...path, j, 'round'], `is '${round}', which is given twice`);
      seen.add(round);
    }
  };

  if (input.cables.length + input.sensors.length === 0)
    say(['cables'], 'is empty, and so is sensors: give at least one of either');
  const ids = new Set<string>();
  const unique = (path: InputProblem['path'], id: string): void => {
    if (ids.has(id)) say(path, `is '${id}', which is used twice: give each cable and sensor its own`);
    ids.add(id);
  };
  for (const [i, cable] of input.cables.entries()) {
    const at = ['cables', i] as const;
    unique([...at, 'id'], cable.id);
    if (cable.nominal.kind === 'resistance')
      positive([...at, 'nominal', 'resistance'], cable.nominal.resistance);
    else {
      positive([...at, 'nominal', 'power'], cable.nominal.power);
      positive([...at, 'nominal', 'voltage'], cable.nominal.voltage);
    }
    if (cable.alloy.kind === 'own' && !(Math.abs(cable.alloy.coefficient) <= 0.008)) {
      say([...at, 'alloy', 'coefficient'], 'must lie in -0.008 ... 0.008 per kelvin');
    }
    once([...at, 'rounds'], cable.rounds);
    for (const [j, round] of cable.rounds.entries()) {
      const here = [...at, 'rounds', j] as const;
      if (round.conductor !== null) {
        reading([...here, 'conductor', 'resistance'], round.conductor.resistance);
        temperature([...here, 'conductor', 'temperature'], round.conductor.temperature);
      }
      if (round.insulation !== null) {
        reading([...here, 'insulation', 'resistance'], round.insulation.resistance);
        positive([...here, 'insulation', 'testVoltage'], round.insulation.testVoltage);
      }
      reading([...here, 'braid'], round.braid);
    }
  }
  for (const [i, sensor] of input.sensors.entries()) {
    const at = ['sensors', i] as const;
    unique([...at, 'id'], sensor.id);
    positive([...at, 'r25'], sensor.r25);
    positive([...at, 'beta'], sensor.beta);
    once([...at, 'rounds'], sensor.rounds);
    for (const [j, round] of sensor.rounds.entries()) {
      reading([...at, 'rounds', j, 'resistance'], round.resistance);
      temperature([...at, 'rounds', j, 'temperature'], round.temperature);
    }
  }
  return problems;
}
