import { z } from 'zod';
import { electricalResponseSchema } from './electrical.js';
import { coldLeadSchema, crossingSchema, layingSchema, sensorOutcomeSchema } from './fittings.js';
import { pointSchema } from './point.js';
import { coverageSchema, endSchema, lengthSchema, pathSchema, ruleSchema, runSchema } from './report.js';

const millimetres = (description: string) => z.number().meta({ description: `${description} (mm)` });

export const timingsSchema = z
  .object({ prepare: z.number(), solve: z.number(), verify: z.number() })
  .meta({ id: 'Timings', description: 'Milliseconds spent in each phase.' });

const modelSchema = z
  .object({
    method: z
      .string()
      .meta({ description: 'What solved the lane grid: frontier, or the name of the engine.' }),
    nodes: z.number(),
    columns: z.number(),
    rows: z.number(),
    cost: z.number(),
    bound: z
      .number()
      .nullable()
      .meta({ description: 'Proven lower bound on `cost`; null when there is none.' }),
    proven: z.boolean(),
  })
  .meta({
    id: 'ModelReport',
    description:
      'What is known of the lane-grid model on its own (lanes and gaps fixed). Not a statement on every legal layout: that is upperBound.',
  });

const zoneLayoutSchema = z
  .object({
    id: z.string(),
    cable: z.string(),
    path: pathSchema.meta({
      description: 'Vertices of the centre line, corners sharp, from the entry to the end.',
    }),
    reserve: pathSchema.meta({
      description: 'Where the cable goes on if it is longer than nominal; begins at the end of path.',
    }),
    length: lengthSchema,
    end: endSchema,
    coverage: coverageSchema.extend({
      upperBound: z.number().meta({
        description:
          'Proven: no layout obeying the rules on this lattice, with any cable of the catalogue (this cable, if the request insists on it), has a larger fraction.',
      }),
      boundBasis: z.string().meta({ description: 'How upperBound was proven.' }),
      provenOptimal: z.boolean().meta({ description: 'The fraction equals its upper bound.' }),
      turnBound: z
        .object({ pieces: z.number(), turns: z.number() })
        .nullable()
        .meta({ description: 'Fewest straight pieces, and so turns, that cover the same cells.' }),
      model: modelSchema.nullable(),
    }),
    runs: z.array(runSchema),
    rules: z.array(ruleSchema),
    laying: layingSchema.optional(),
    crossing: crossingSchema.optional(),
    coldLead: coldLeadSchema.optional(),
    sensor: sensorOutcomeSchema.optional(),
  })
  .meta({ id: 'ZoneLayout', description: 'The cable of one zone, laid out.' });

const alternativeSchema = z
  .object({
    zone: z.string(),
    cable: z.string(),
    fits: z.boolean(),
    chosen: z.boolean(),
    reason: z.string().nullable().meta({ description: 'Why it does not fit; null when it does.' }),
    by: millimetres('Size of what is in the way').nullable(),
    coverage: z.number().nullable(),
    turns: z.number().nullable(),
    detail: z.string(),
  })
  .meta({ id: 'Alternative', description: 'What became of one catalogue entry in one zone.' });

export const cableVerdictsSchema = z.array(alternativeSchema);

export const layoutResponseSchema = z
  .object({
    id: z.string().meta({ description: 'The same request gives the same id and the same layout.' }),
    lattice: z.object({ pitch: z.number(), origin: pointSchema }),
    zones: z.array(zoneLayoutSchema),
    alternatives: cableVerdictsSchema.meta({
      description: 'Every catalogue entry in every zone, the chosen ones included.',
    }),
    electrical: electricalResponseSchema.nullable().optional().meta({
      description:
        'What the electrician gets, cables named after their zones; only where the request has a supply.',
    }),
    guardFired: z.boolean().meta({
      description:
        'The clock cut the search short: the layout is legal, but another run may give another one.',
    }),
    timings: timingsSchema,
  })
  .meta({ id: 'LayoutResponse', description: 'A checked layout of every zone.' });

export type LayoutResponse = z.output<typeof layoutResponseSchema>;
export type LayoutAnswer = Omit<LayoutResponse, 'timings'>;
