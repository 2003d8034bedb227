import type { Figure } from './figure.js';
import type { RuleId } from './rules.js';

/** 'stop': the work stops here; 'investigate': find out before the next step; 'pass': go on. */
export type Verdict = 'pass' | 'investigate' | 'stop';

export interface Reason {
  readonly rule: RuleId;
  readonly message: string;
}

/** What one reading says; `figures` holds what it was compared with. */
export interface Judgement {
  readonly what: 'conductor' | 'insulation' | 'braid' | 'sensor';
  readonly verdict: Verdict;
  readonly reasons: readonly Reason[];
  readonly figures: Readonly<Record<string, Figure>>;
  /** What to do now. */
  readonly next: string;
}

const SEVERITY: Readonly<Record<Verdict, number>> = { pass: 0, investigate: 1, stop: 2 };

export const worseOf = (a: Verdict, b: Verdict): Verdict => (SEVERITY[a] >= SEVERITY[b] ? a : b);

export const worstVerdict = (verdicts: readonly Verdict[]): Verdict => verdicts.reduce(worseOf, 'pass');
