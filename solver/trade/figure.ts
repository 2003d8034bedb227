import type { RuleId } from './rules.js';

export type Unit =
  | 'A'
  | 'C'
  | 'K'
  | 'V'
  | 'W'
  | 'W/m'
  | 'W/m2'
  | 'kg'
  | 'm2'
  | 'mm'
  | 'ohm'
  | 'ohm/m'
  | 'pieces'
  | 'ratio';

/** A number on paper: its unit and the rules it follows from. */
export interface Figure {
  readonly value: number;
  readonly unit: Unit;
  readonly rules: readonly RuleId[];
}

export const figure = (value: number, unit: Unit, ...rules: RuleId[]): Figure => ({ value, unit, rules });

export type Status = 'ok' | 'advice' | 'refuse';

/** One rule held against one cable, thermostat or circuit (`subject` is its id). */
export interface Finding {
  readonly id: string;
  readonly subject: string;
  readonly status: Status;
  /** Null where the rule is about a fact and not about a size. */
  readonly value: number | null;
  readonly limit: number | null;
  readonly unit: Unit;
  readonly rule: RuleId;
  readonly message: string;
}

/** An input that no report can be made from; `path` leads to it, `message` ends a sentence that begins with its name. */
export interface InputProblem {
  readonly path: readonly (string | number)[];
  readonly message: string;
}

const SEVERITY: Readonly<Record<Status, number>> = { ok: 0, advice: 1, refuse: 2 };

export function worstStatus(findings: readonly Finding[]): Status {
  return findings.reduce<Status>(
    (worst, f) => (SEVERITY[f.status] > SEVERITY[worst] ? f.status : worst),
    'ok',
  );
}

/** Number for a sentence: four significant digits, no exponent in the range of this trade. */
export const show = (value: number): string => String(Number(value.toPrecision(4)));

/** Ratios that miss a limit only by rounding noise still meet it. */
export const atMost = (value: number, limit: number): boolean => value <= limit * (1 + 1e-9);

/** Above zero and below anything this trade can mean, so that no figure overflows. */
export const isPositive = (value: number): boolean => value > 1e-6 && value < 1e9;
