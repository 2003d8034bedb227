import { z } from 'zod';
import { RULE_IDS } from '../../solver/trade/rules.js';
import { SIZES } from '../limits.js';
import { quantity } from './fields.js';

export const regionSchema = z.enum(['NEC', 'IEC']).meta({
  id: 'Region',
  description:
    'Whose rules apply: NEC (NFPA 70, North America) or IEC (IEC 60364 and national editions of it).',
});

/** Error option of a union told apart by `kind`. */
export const ofKinds = (...kinds: readonly string[]) => ({
  error: ({ code }: { readonly code?: string }) =>
    code === 'invalid_union' ? `must be one of: ${kinds.join(', ')}` : undefined,
});

const RULE_NAME_LENGTH = 40;

export const overridesSchema = z
  .record(
    z.string().max(RULE_NAME_LENGTH),
    z.record(
      z.string().max(RULE_NAME_LENGTH),
      z.union([z.number(), z.array(z.number()).max(SIZES.ratings)], {
        error: `must be a finite number, or a list of at most ${SIZES.ratings} where the rule holds a list`,
      }),
    ),
  )
  .default({})
  .meta({
    id: 'RuleOverrides',
    description:
      'Values in the place of defaults: rule -> value name -> value. GET /v1/rules lists the rules, their values, units and ranges. The local code and the label of the product in hand override every default.',
    example: { 'resistance-band': { below: 0.05, above: 0.1 } },
  });

export const alloySchema = z
  .discriminatedUnion(
    'kind',
    [
      z.strictObject({ kind: z.enum(['copper', 'nichrome', 'constantan']) }),
      z.strictObject({
        kind: z.literal('own'),
        coefficient: quantity('temperatureCoefficient', 'Relative change of resistance per kelvin at 20 C'),
      }),
    ],
    ofKinds('copper', 'nichrome', 'constantan', 'own'),
  )
  .meta({
    id: 'Alloy',
    description: 'Material of the heating conductor, or its own temperature coefficient.',
  });

const ruleIdSchema = z.enum(RULE_IDS).meta({ id: 'TradeRuleId', description: 'A rule of GET /v1/rules.' });

export const figureSchema = z
  .object({ value: z.number(), unit: z.string(), rules: z.array(ruleIdSchema) })
  .meta({ id: 'Figure', description: 'A number, its unit and the rules it follows from.' });

export const findingSchema = z
  .object({
    id: z.string(),
    subject: z.string().meta({ description: 'Id of the cable, thermostat or circuit.' }),
    status: z.enum(['ok', 'advice', 'refuse']),
    value: z.number().nullable(),
    limit: z.number().nullable(),
    unit: z.string(),
    rule: ruleIdSchema,
    message: z.string(),
  })
  .meta({ id: 'Finding', description: 'One rule held against one cable, thermostat or circuit.' });

const clauseSchema = z.object({ document: z.string(), edition: z.string(), clause: z.string() });
const sourceSchema = z.object({
  kind: z.enum(['published', 'memory', 'derived', 'common practice']).meta({
    description: 'memory: recalled, not seen in a source.',
  }),
  text: z.string(),
});
const ruleHead = {
  id: ruleIdSchema,
  title: z.string(),
  region: z.enum(['NEC', 'IEC', 'both', 'trade']),
  clauses: z.array(clauseSchema).meta({ description: 'Clause numbers move between editions.' }),
  source: sourceSchema,
};
const ruleValue = z.union([z.number(), z.array(z.number())]);

export const ruleNoteSchema = z
  .object({
    ...ruleHead,
    values: z.array(
      z.object({ name: z.string(), value: ruleValue, unit: z.string(), overridden: z.boolean() }),
    ),
  })
  .meta({ id: 'RuleNote', description: 'A rule behind the report, with the values in force.' });

export const tradeRuleSchema = z
  .object({
    ...ruleHead,
    overridable: z.boolean(),
    values: z.array(
      z.object({ name: z.string(), value: ruleValue, unit: z.string(), min: z.number(), max: z.number() }),
    ),
  })
  .meta({ id: 'TradeRule', description: 'A rule with its defaults and how far each may be overridden.' });
