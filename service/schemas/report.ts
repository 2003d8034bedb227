import { z } from 'zod';
import { MOST_VIOLATIONS } from '../../solver/check/report.js';

const mm = (description: string) => z.number().meta({ description: `${description} (mm)` });
const m2 = (description: string) => z.number().meta({ description: `${description} (m2)` });

const plainPoint = z.tuple([z.number(), z.number()]);
export const pathSchema = z.array(plainPoint);

export const lengthSchema = z
  .object({
    cable: mm('Nominal length of the cable'),
    leadIn: mm('Used up before the entry'),
    path: mm('Laid length with rounded corners, lead-in included'),
    sharp: mm('Length of the path with sharp corners'),
    cornerSaving: mm('What rounding the corners saves'),
    turns: z.number(),
  })
  .meta({ id: 'Length' });

export const endSchema = z
  .object({
    at: plainPoint,
    earliest: plainPoint,
    latest: plainPoint,
    tolerance: mm('The real end falls within this along the path, either way'),
    slack: mm('How much more the length may differ with the end still in the buffer'),
  })
  .meta({ id: 'End', description: 'Where the cable ends: nominal, and as short or as long as it may be.' });

export const coverageSchema = z
  .object({
    targetArea: m2('Routing area minus buffer'),
    heatedArea: m2('Target area within half the target spacing of the centre line'),
    unheatedArea: m2('The rest of it'),
    fraction: z.number(),
    cold: z.array(pathSchema).meta({ description: 'Outlines of the cold patches.' }),
    bufferArea: m2('Buffer, reported beside the target and never mixed in'),
    bufferHeatedArea: m2('Part of the buffer that is heated'),
    bufferFraction: z.number().nullable(),
    fractionShortest: z
      .number()
      .meta({ description: 'Fraction with the shortest cable the tolerance allows.' }),
    fractionLongest: z.number().meta({ description: 'Fraction with the longest.' }),
  })
  .meta({ id: 'Coverage', description: 'Areas measured on true geometry.' });

export const runSchema = z
  .object({
    n: z.number(),
    from: plainPoint,
    to: plainPoint,
    studs: z.number().meta({ description: 'Studs along the run.' }),
    length: mm('Length of the run'),
    cumulative: mm('Cable laid from the entry to the end of the run, lead-in and corner rounding included'),
  })
  .meta({ id: 'Run', description: 'One straight run.' });

export const ruleSchema = z
  .object({
    rule: z.string(),
    ok: z.boolean(),
    worst: z
      .number()
      .nullable()
      .meta({ description: 'The value closest to the limit, or furthest beyond it.' }),
    limit: z.number().nullable(),
    at: plainPoint.nullable(),
  })
  .meta({ id: 'Rule', description: 'Verdict of the independent checker on one rule.' });

const violationSchema = z
  .object({ at: plainPoint, size: z.number().nullable(), message: z.string() })
  .meta({ id: 'Violation', description: 'One place where a rule is broken.' });

export const judgedRuleSchema = ruleSchema
  .extend({
    violations: z.array(violationSchema).meta({
      description: `One entry for each place, worst first, at most ${MOST_VIOLATIONS}.`,
    }),
  })
  .meta({ id: 'JudgedRule' });
