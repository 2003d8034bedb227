import type { RuleBook, RuleId } from './rules.js';

/** What the region asks of a protective device. */
export interface ProtectionRules {
  /** The rated current must be at least this multiple of the load. */
  readonly factor: number;
  readonly factorRule: 'continuous-load' | 'design-current';
  /** Standard ratings, ascending, A. */
  readonly ratings: readonly number[];
  readonly ratingsRule: 'standard-ratings-nec' | 'standard-ratings-iec';
  /** Largest tripping current of ground-fault protection, A. */
  readonly trip: number;
  readonly tripRule: 'ground-fault-nec' | 'ground-fault-iec';
}

export function protectionRules(book: RuleBook): ProtectionRules {
  const v = book.values;
  if (book.region === 'NEC') {
    return {
      factor: v['continuous-load'].factor,
      factorRule: 'continuous-load',
      ratings: v['standard-ratings-nec'].ratings,
      ratingsRule: 'standard-ratings-nec',
      trip: v['ground-fault-nec'].trip,
      tripRule: 'ground-fault-nec',
    };
  }
  return {
    factor: v['design-current'].factor,
    factorRule: 'design-current',
    ratings: v['standard-ratings-iec'].ratings,
    ratingsRule: 'standard-ratings-iec',
    trip: v['ground-fault-iec'].trip,
    tripRule: 'ground-fault-iec',
  };
}

export type DeviceChoice =
  | {
      readonly kind: 'device';
      readonly rating: number;
      readonly required: number;
      readonly rules: readonly RuleId[];
    }
  /** The load needs more than the largest standard rating. */
  | {
      readonly kind: 'none';
      readonly largest: number;
      readonly required: number;
      readonly rules: readonly RuleId[];
    };

/** Smallest standard rating (A) that carries `load` (A). */
export function deviceFor(book: RuleBook, load: number): DeviceChoice {
  const rules = protectionRules(book);
  const required = load * rules.factor;
  const used: readonly RuleId[] = ['ohm', rules.factorRule, rules.ratingsRule];
  const rating = rules.ratings.find((r) => required <= r * (1 + 1e-9));
  if (rating !== undefined) return { kind: 'device', rating, required, rules: used };
  return { kind: 'none', largest: rules.ratings[rules.ratings.length - 1] ?? 0, required, rules: used };
}

/** Most heating power (W) on a device of `rating` (A) at `voltage` (V). */
export const mostLoad = (book: RuleBook, rating: number, voltage: number): number =>
  (rating / protectionRules(book).factor) * voltage;
