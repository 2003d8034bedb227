import type { Clause, ListDefault, NumberDefault, Region, Rule, SourceKind } from './rule.js';
import { ELECTRICAL_RULES } from './rules-electrical.js';
import { HEAT_RULES } from './rules-heat.js';
import { MATERIAL_RULES } from './rules-material.js';
import { READING_RULES } from './rules-readings.js';

/** The one table of trade rules: every default, limit and formula that a report leans on. */
export const RULES = { ...ELECTRICAL_RULES, ...HEAT_RULES, ...READING_RULES, ...MATERIAL_RULES };

export type RuleId = keyof typeof RULES;

export const RULE_IDS: readonly RuleId[] = Object.keys(RULES).filter(isRuleId);

/** Values in force, rule id -> value name -> number (or ascending list of numbers). */
export type RuleValues = {
  readonly [R in RuleId]: {
    readonly [N in keyof (typeof RULES)[R]['values']]: (typeof RULES)[R]['values'][N] extends ListDefault
      ? readonly number[]
      : number;
  };
};

/** What a caller puts in the place of defaults, rule id -> value name -> value. */
export type RuleOverrides = Readonly<Record<string, Readonly<Record<string, number | readonly number[]>>>>;

export interface RuleBook {
  readonly region: Region;
  readonly values: RuleValues;
  /** 'rule.value' of everything that is not a default. */
  readonly overridden: ReadonlySet<string>;
}

export interface OverrideProblem {
  readonly rule: string;
  /** null where the rule itself is the trouble. */
  readonly value: string | null;
  readonly reason:
    | 'unknown-rule'
    | 'unknown-value'
    | 'not-overridable'
    | 'other-region'
    | 'wrong-kind'
    | 'out-of-range'
    | 'contradiction';
  /** Ends a sentence that begins with the name of the override. */
  readonly message: string;
}

export type RuleResolution =
  | { readonly kind: 'resolved'; readonly book: RuleBook }
  | { readonly kind: 'refused'; readonly problems: readonly OverrideProblem[] };

/** A rule as a reader of a report sees it, with the values in force. */
export interface RuleNote {
  readonly id: RuleId;
  readonly title: string;
  readonly region: Rule['region'];
  readonly clauses: readonly Clause[];
  readonly source: { readonly kind: SourceKind; readonly text: string };
  readonly values: readonly {
    readonly name: string;
    readonly value: number | readonly number[];
    readonly unit: string;
    readonly overridden: boolean;
  }[];
}

function isRuleId(id: string): id is RuleId {
  return Object.hasOwn(RULES, id);
}

/** Two values of one rule that must keep their order: [rule, smaller, larger]. */
const ORDERED: readonly (readonly [RuleId, string, string])[] = [
  ['heat-density-limits', 'least', 'most'],
  ['resistance-drift', 'investigate', 'stop'],
];

/**
 * Defaults with the caller's overrides on top. An override that names no rule or value, belongs to the other
 * region, or lies outside the value's range refuses the whole set; every problem is listed.
 */
export function ruleValues(region: Region, overrides: RuleOverrides): RuleResolution {
  const problems: OverrideProblem[] = [];
  const overridden = new Set<string>();
  const values: Record<string, Record<string, number | readonly number[]>> = {};
  for (const id of RULE_IDS) {
    const defaults: Rule['values'] = RULES[id].values;
    values[id] = Object.fromEntries(Object.entries(defaults).map(([name, entry]) => [name, entry.value]));
  }
  for (const [id, given] of Object.entries(overrides)) {
    const found = judgeRule(region, id);
    if (found !== null) {
      problems.push(found);
      continue;
    }
    for (const [name, value] of Object.entries(given)) {
      const problem = isRuleId(id) ? judgeValue(id, name, value) : null;
      if (problem !== null) problems.push(problem);
      else {
        values[id] = { ...values[id], [name]: value };
        overridden.add(`${id}.${name}`);
      }
    }
  }
  for (const [id, small, large] of ORDERED) {
    const low = values[id]?.[small];
    const high = values[id]?.[large];
    if (typeof low === 'number' && typeof high === 'number' && low > high) {
      problems.push({
        rule: id,
        value: small,
        reason: 'contradiction',
        message: `is ${low}, more than '${large}', which is ${high}`,
      });
    }
  }
  if (problems.length > 0) return { kind: 'refused', problems };
  return { kind: 'resolved', book: { region, values: values as unknown as RuleValues, overridden } };
}

function judgeRule(region: Region, id: string): OverrideProblem | null {
  const problem = (reason: OverrideProblem['reason'], message: string): OverrideProblem => ({
    rule: id,
    value: null,
    reason,
    message,
  });
  if (!isRuleId(id)) return problem('unknown-rule', 'is no rule of the table');
  const rule: Rule = RULES[id];
  if (!rule.overridable)
    return problem('not-overridable', 'names a rule without a value that can be replaced');
  const other: Region = region === 'NEC' ? 'IEC' : 'NEC';
  if (rule.region === other)
    return problem('other-region', `names a rule that does not apply in region ${region}`);
  return null;
}

function judgeValue(id: RuleId, name: string, value: number | readonly number[]): OverrideProblem | null {
  const problem = (reason: OverrideProblem['reason'], message: string): OverrideProblem => ({
    rule: id,
    value: name,
    reason,
    message,
  });
  const defaults: Readonly<Record<string, NumberDefault | ListDefault>> = RULES[id].values;
  const entry = Object.hasOwn(defaults, name) ? defaults[name] : undefined;
  if (entry === undefined) {
    return problem(
      'unknown-value',
      `is no value of this rule, which has: ${Object.keys(defaults).join(', ')}`,
    );
  }
  const members = typeof value === 'number' ? [value] : value;
  if ((entry.kind === 'number') !== (typeof value === 'number') || members.length === 0) {
    return problem('wrong-kind', `must be ${entry.kind === 'number' ? 'one number' : 'a list of numbers'}`);
  }
  if (!members.every((v) => v >= entry.min && v <= entry.max)) {
    return problem('out-of-range', `must lie in ${entry.min} ... ${entry.max} ${entry.unit}`);
  }
  if (!members.every((v, i) => i === 0 || v > (members[i - 1] ?? v))) {
    return problem('wrong-kind', 'must be ascending');
  }
  return null;
}

/** The rules behind a report, in table order, each once. */
export function ruleNotes(book: RuleBook, used: Iterable<RuleId>): RuleNote[] {
  const wanted = new Set(used);
  return RULE_IDS.filter((id) => wanted.has(id)).map((id) => {
    const rule: Rule = RULES[id];
    const inForce: Readonly<Record<string, number | readonly number[]>> = book.values[id];
    return {
      id,
      title: rule.title,
      region: rule.region,
      clauses: rule.clauses,
      source: rule.source,
      values: Object.entries(rule.values).map(([name, entry]) => ({
        name,
        value: inForce[name] ?? entry.value,
        unit: entry.unit,
        overridden: book.overridden.has(`${id}.${name}`),
      })),
    };
  });
}
