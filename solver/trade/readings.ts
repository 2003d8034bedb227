import { correctedTo20, judgeBraid, judgeConductor, judgeInsulation } from './cable-readings.js';
import type { Figure, InputProblem } from './figure.js';
import {
  type CableReadings,
  type CableRound,
  type ReadingsInput,
  ROUND_NAMES,
  ROUNDS,
  type RoundId,
  readingsProblems,
  type SensorReadings,
} from './readings-input.js';
import {
  type OverrideProblem,
  type RuleBook,
  type RuleId,
  type RuleNote,
  ruleNotes,
  ruleValues,
} from './rules.js';
import { judgeSensor, sensorTable } from './sensor-readings.js';
import { type Judgement, type Verdict, worseOf, worstVerdict } from './verdict.js';

/** A reading or a whole round that should exist and does not. */
export interface MissingReading {
  readonly round: RoundId;
  /** 'round': nothing of it was given. */
  readonly what: 'round' | 'conductor' | 'insulation';
  readonly message: string;
}

export interface RoundReport {
  readonly round: RoundId;
  readonly verdict: Verdict;
  readonly judgements: readonly Judgement[];
}

export interface SubjectReport {
  readonly id: string;
  readonly verdict: Verdict;
  /** In the order of the work. */
  readonly rounds: readonly RoundReport[];
  readonly missing: readonly MissingReading[];
}

export interface SensorReport extends SubjectReport {
  /** What the meter should show at a few temperatures (C). */
  readonly table: readonly { readonly temperature: number; readonly resistance: Figure }[];
}

export interface ReadingsReport {
  readonly kind: 'report';
  readonly verdict: Verdict;
  /** Conductor and insulation (or sensor) were read in all three rounds. */
  readonly complete: boolean;
  readonly next: string;
  readonly cables: readonly SubjectReport[];
  readonly sensors: readonly SensorReport[];
  readonly rules: readonly RuleNote[];
}

export type ReadingsOutcome =
  | ReadingsReport
  | { readonly kind: 'bad-input'; readonly problems: readonly InputProblem[] }
  | { readonly kind: 'bad-overrides'; readonly problems: readonly OverrideProblem[] };

/** Pass, investigate or stop for every reading of the three rounds, and for the job. Resistances in ohm, temperatures in C. */
export function judgeReadings(input: ReadingsInput): ReadingsOutcome {
  const resolution = ruleValues(input.region, input.overrides);
  if (resolution.kind === 'refused') return { kind: 'bad-overrides', problems: resolution.problems };
  const problems = readingsProblems(input);
  if (problems.length > 0) return { kind: 'bad-input', problems };
  const { book } = resolution;
  const cables = input.cables.map((cable) => judgeCable(book, cable));
  const sensors = input.sensors.map((sensor) => judgeSensorRounds(book, sensor));
  const subjects: readonly SubjectReport[] = [...cables, ...sensors];
  const verdict = worstVerdict(subjects.map((s) => s.verdict));
  const judgements = subjects.flatMap((s) => s.rounds.flatMap((r) => r.judgements));
  const used: RuleId[] = [
    'three-rounds',
    ...judgements.flatMap((j) => j.reasons.map((r) => r.rule)),
    ...judgements.flatMap((j) => Object.values(j.figures).flatMap((f) => f.rules)),
    ...sensors.flatMap((s) => s.table.flatMap((t) => t.resistance.rules)),
  ];
  return {
    kind: 'report',
    verdict,
    complete: subjects.every((s) => s.missing.length === 0),
    next: nextStep(verdict, subjects),
    cables,
    sensors,
    rules: ruleNotes(book, used),
  };
}

function inOrder<T extends { readonly round: RoundId }>(rounds: readonly T[]): T[] {
  return ROUNDS.flatMap((id) => rounds.filter((r) => r.round === id));
}

function judgeCable(book: RuleBook, cable: CableReadings): SubjectReport {
  let first: number | null = null;
  const rounds: RoundReport[] = [];
  const missing = missingRounds(cable.rounds);
  for (const round of inOrder(cable.rounds)) {
    const judgements: Judgement[] = [];
    if (round.conductor !== null) {
      judgements.push(judgeConductor(book, cable, round.conductor, first));
      first ??= correctedTo20(book, cable, round.conductor);
    }
    if (round.insulation !== null) judgements.push(judgeInsulation(book, round.insulation));
    if (round.braid !== null) judgements.push(judgeBraid(book, round.braid));
    missing.push(...missingReadings(round));
    rounds.push({ round: round.round, verdict: worstVerdict(judgements.map((j) => j.verdict)), judgements });
  }
  return subject(cable.id, rounds, missing);
}

function judgeSensorRounds(book: RuleBook, sensor: SensorReadings): SensorReport {
  const rounds = inOrder(sensor.rounds).map((round): RoundReport => {
    const judgement = judgeSensor(book, sensor, round);
    return { round: round.round, verdict: judgement.verdict, judgements: [judgement] };
  });
  return { ...subject(sensor.id, rounds, missingRounds(sensor.rounds)), table: sensorTable(book, sensor) };
}

/** A gap before a round that was taken, or within one, leaves something unproven; rounds still to come do not. */
function subject(
  id: string,
  rounds: readonly RoundReport[],
  missing: readonly MissingReading[],
): SubjectReport {
  const last = Math.max(-1, ...rounds.map((r) => ROUNDS.indexOf(r.round)));
  const gap = missing.some((m) => ROUNDS.indexOf(m.round) <= last);
  const verdict = worstVerdict(rounds.map((r) => r.verdict));
  return {
    id,
    verdict: gap || rounds.length === 0 ? worseOf(verdict, 'investigate') : verdict,
    rounds,
    missing,
  };
}

function missingRounds(rounds: readonly { readonly round: RoundId }[]): MissingReading[] {
  return ROUNDS.filter((id) => !rounds.some((r) => r.round === id)).map((id) => ({
    round: id,
    what: 'round',
    message: `the readings ${ROUND_NAMES[id]} are missing`,
  }));
}

function missingReadings(round: CableRound): MissingReading[] {
  const kinds = ['conductor', 'insulation'] as const;
  return kinds
    .filter((what) => round[what] === null)
    .map((what) => ({
      round: round.round,
      what,
      message: `no ${READING_NAMES[what]} was read ${ROUND_NAMES[round.round]}`,
    }));
}

const READING_NAMES = {
  conductor: 'conductor resistance',
  insulation: 'insulation resistance',
} as const;

function nextStep(verdict: Verdict, subjects: readonly SubjectReport[]): string {
  if (verdict === 'stop')
    return 'Stop the work: cover nothing, power nothing, clear up every reading marked stop.';
  if (verdict === 'investigate')
    return 'Clear up every reading marked investigate and every gap before the next step.';
  const open = ROUNDS.find((id) => subjects.some((s) => s.missing.some((m) => m.round === id)));
  switch (open) {
    case 'spool':
    case undefined:
      return 'All three rounds are sound. Let the mortar cure, then hand the record to the electrician; no heat before.';
    case 'laid':
      return 'Lay the cable, then read again before anything covers it.';
    case 'tiled':
      return 'Cover the cable and tile, then read again.';
  }
}
