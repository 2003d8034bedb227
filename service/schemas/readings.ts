import { z } from 'zod';
import { RANGES, SIZES } from '../limits.js';
import { idSchema, quantity } from './fields.js';
import {
  alloySchema,
  figureSchema,
  ofKinds,
  overridesSchema,
  regionSchema,
  ruleNoteSchema,
} from './trade.js';

const ROUND_COUNT = 3;

const roundIdSchema = z
  .enum(['spool', 'laid', 'tiled'])
  .meta({ id: 'Round', description: 'Off the spool, after laying, after tiling.' });

const reading = <W extends 'open' | 'over-range'>(word: W, meaning: string, description: string) =>
  z.union([quantity('readResistance', description), z.literal(word).meta({ description: meaning })], {
    error: `must be a resistance in ohm, ${RANGES.readResistance.min} ... ${RANGES.readResistance.max}, or "${word}"`,
  });

const NO_CONNECTION = 'The meter shows no connection.';

const nominalSchema = z
  .discriminatedUnion(
    'kind',
    [
      z.strictObject({
        kind: z.literal('resistance'),
        resistance: quantity('nominalResistance', 'Resistance at 20 C on the label'),
      }),
      z.strictObject({
        kind: z.literal('power'),
        power: quantity('power', 'Power at the rated voltage'),
        voltage: quantity('voltage', 'Voltage on the label'),
      }),
    ],
    ofKinds('resistance', 'power'),
  )
  .meta({ id: 'NominalResistance', description: 'What the label says.' });

const cableRoundSchema = z
  .strictObject({
    round: roundIdSchema,
    conductor: z
      .strictObject({
        resistance: reading('open', NO_CONNECTION, 'Conductor end to end'),
        temperature: quantity('siteTemperature', 'Of the cable when it was read'),
      })
      .nullable()
      .default(null),
    insulation: z
      .strictObject({
        resistance: reading(
          'over-range',
          'More than the tester can measure.',
          'Conductor to braid, in ohm: 20 Mohm is 20000000',
        ),
        testVoltage: quantity('testVoltage', 'D.c. voltage of the test'),
      })
      .nullable()
      .default(null),
    braid: reading('open', NO_CONNECTION, 'Conductor to braid with an ordinary meter')
      .nullable()
      .default(null),
  })
  .meta({
    id: 'CableRound',
    description: 'What was read of a cable in one round; null or left out: not read.',
  });

const cableReadingsSchema = z
  .strictObject({
    id: idSchema,
    nominal: nominalSchema,
    alloy: alloySchema,
    rounds: z.array(cableRoundSchema).max(ROUND_COUNT),
  })
  .meta({ id: 'CableReadings' });

const sensorReadingsSchema = z
  .strictObject({
    id: idSchema,
    r25: quantity('sensorResistance', 'At 25 C; a typical value when left out').nullable().default(null),
    beta: quantity('sensorBeta', 'B value; a typical value when left out').nullable().default(null),
    rounds: z
      .array(
        z.strictObject({
          round: roundIdSchema,
          resistance: reading('open', NO_CONNECTION, 'Across the sensor'),
          temperature: quantity('siteTemperature', 'At the tip of the sensor'),
        }),
      )
      .max(ROUND_COUNT),
  })
  .meta({ id: 'SensorReadings', description: 'An NTC floor sensor.' });

export const readingsRequestSchema = z
  .strictObject({
    region: regionSchema,
    overrides: overridesSchema,
    cables: z.array(cableReadingsSchema).max(SIZES.cables).default([]),
    sensors: z.array(sensorReadingsSchema).max(SIZES.sensors).default([]),
  })
  .meta({ id: 'ReadingsRequest', description: 'Meter readings of up to three rounds.' });

const verdictSchema = z.enum(['pass', 'investigate', 'stop']).meta({
  id: 'Verdict',
  description: 'pass: go on; investigate: find out before the next step; stop: the work stops here.',
});

const judgementSchema = z
  .object({
    what: z.enum(['conductor', 'insulation', 'braid', 'sensor']),
    verdict: verdictSchema,
    reasons: z.array(z.object({ rule: z.string(), message: z.string() })),
    figures: z.record(z.string(), figureSchema).meta({
      description: 'What the reading was compared with, and the reading corrected to 20 C (at20).',
    }),
    next: z.string().meta({ description: 'What to do now.' }),
  })
  .meta({ id: 'Judgement' });

const subjectShape = {
  id: z.string(),
  verdict: verdictSchema,
  rounds: z.array(
    z.object({ round: roundIdSchema, verdict: verdictSchema, judgements: z.array(judgementSchema) }),
  ),
  missing: z
    .array(
      z.object({
        round: roundIdSchema,
        what: z.enum(['round', 'conductor', 'insulation']),
        message: z.string(),
      }),
    )
    .meta({ description: 'Readings that should exist and were not given.' }),
};

export const readingsResponseSchema = z
  .object({
    verdict: verdictSchema,
    complete: z.boolean().meta({ description: 'All three rounds were read.' }),
    next: z.string(),
    cables: z.array(z.object(subjectShape).meta({ id: 'CableVerdict' })),
    sensors: z.array(
      z
        .object({
          ...subjectShape,
          table: z
            .array(z.object({ temperature: z.number(), resistance: figureSchema }))
            .meta({ description: 'What the meter should show (C, ohm).' }),
        })
        .meta({ id: 'SensorVerdict' }),
    ),
    rules: z.array(ruleNoteSchema).meta({ description: 'The rules that figures and reasons name.' }),
  })
  .meta({ id: 'ReadingsResponse', description: 'Pass, investigate or stop, with reasons.' });
