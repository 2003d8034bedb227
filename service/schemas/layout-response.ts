import { z } from 'zod';
import { electricalResponseSchema } from './electrical.js';
import { coldLeadSchema, crossingSchema, layingSchema, sensorOutcomeSchema } from './fittings.js';
import { materialResponseSchema } from './material.js';
import { pointSchema, ringSchema } from './point.js';
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

const bandSchema = z.object({ nominal: z.number(), low: z.number(), high: z.number() });

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
    partOf: z
      .string()
      .optional()
      .meta({ description: 'The zone of the request, where it is laid in parts; see splits.' }),
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
        .object({ pieces: z.number(), turns: z.number(), atLength: z.number(), route: z.number() })
        .nullable()
        .meta({
          description:
            'About the lane-grid route behind the layout: the fewest straight pieces its nodes fall into, a proven bound on the turns of any route over them, the same for routes as long as the cable asks for (with no more of it in the buffer than here), and the turns of the route itself (before shaping, without the last stretch).',
        }),
      model: modelSchema.nullable(),
    }),
    runs: z.array(runSchema),
    rules: z.array(ruleSchema),
    laying: layingSchema.optional(),
    crossing: crossingSchema.optional(),
    coldLead: coldLeadSchema.optional(),
    sensor: sensorOutcomeSchema.optional(),
    readings: z
      .object({
        conductor: bandSchema.meta({ description: 'Conductor resistance (ohm).' }),
        insulation: z.object({ legal: z.number(), expected: z.number(), testVoltage: z.number() }).meta({
          description: 'Least legal, and expected of a sound cable (Mohm), at the test voltage (V).',
        }),
        sensor: bandSchema
          .optional()
          .meta({ description: 'A sensor of the typical kind (ohm); its own table governs.' }),
        temperature: z.number().meta({ description: 'The bands hold at this temperature (C).' }),
      })
      .optional()
      .meta({ description: 'What the meter should show; only where the request has a supply.' }),
    assumed: z
      .object({ buffer: z.object({ outline: ringSchema }), detail: z.string() })
      .optional()
      .meta({ description: 'What the request left out and the service took instead.' }),
  })
  .meta({ id: 'ZoneLayout', description: 'The cable of one zone, laid out.' });

/** Why a cable does not fit. */
export const verdictFields = {
  reason: z
    .enum([
      'bend-radius',
      'entry-outside',
      'buffer-unreachable',
      'buffer-too-small',
      'too-short',
      'too-long',
      'heat-density',
      'voltage',
      'too-much-load',
      'no-route',
    ])
    .nullable()
    .meta({ description: 'Why it does not fit; null when it does.' }),
  by: z.number().nullable().meta({
    description:
      'Size of what is in the way, in `unit`. too-short: missing to reach the buffer, or to cover the floor at the target spacing. too-long: more than can be laid. buffer-too-small: more room for the end needed in the buffer. bend-radius: wider than the widest spacing.',
  }),
  unit: z.enum(['mm', 'W/m2']).nullable(),
  detail: z.string().meta({ description: 'The verdict in words, and whether it is proven or only found.' }),
};

const alternativeSchema = z
  .object({
    zone: z.string(),
    cable: z.string(),
    fits: z.boolean(),
    chosen: z.boolean(),
    ...verdictFields,
    coverage: z.number().nullable().meta({
      description:
        'Heated fraction of the target in the best layout found with it; null where there is none.',
    }),
    turns: z.number().nullable(),
  })
  .meta({ id: 'Alternative', description: 'What became of one catalogue entry in one zone.' });

export const cableVerdictsSchema = z.array(alternativeSchema);

const splitSchema = z
  .object({
    zone: z.string(),
    parts: z.array(
      z.object({
        id: z.string(),
        entry: pointSchema,
        entryAway: millimetres('From the entry of the zone'),
        buffer: z.object({
          outline: pathSchema,
          added: z.boolean().meta({
            description:
              "The zone's own buffer does not serve this part, so a strip at its far wall is set aside.",
          }),
        }),
        cutOff: z.number().meta({ description: 'Floor of the part that its cable cannot get to (m2)' }),
      }),
    ),
    cuts: z.array(z.object({ axis: z.enum(['x', 'y']), at: z.number() })).meta({
      description: 'Straight cuts: axis x at 3000 is the line x = 3000 (mm).',
    }),
    seam: millimetres('Distance between the outermost channels on either side of a cut'),
    nearest: millimetres('Least distance between two cables').nullable(),
    coverage: z
      .object({
        targetArea: z.number(),
        heatedArea: z.number(),
        unheatedArea: z.number(),
        fraction: z.number(),
        cold: z.array(pathSchema),
      })
      .meta({
        description: 'Of the whole zone less the buffers of its parts, heated by any of the cables (m2).',
      }),
  })
  .meta({ id: 'Split', description: 'A zone laid in parts, each with its own cable.' });

export const layoutResponseSchema = z
  .object({
    id: z.string().meta({ description: 'The same request gives the same id and the same layout.' }),
    lattice: z.object({ pitch: z.number(), origin: pointSchema }),
    zones: z.array(zoneLayoutSchema),
    splits: z
      .array(splitSchema)
      .optional()
      .meta({ description: 'Zones laid in parts; their parts stand in zones as "zone/1", "zone/2".' }),
    alternatives: cableVerdictsSchema.meta({
      description: 'Every catalogue entry in every zone, the chosen ones included.',
    }),
    electrical: electricalResponseSchema.nullable().optional().meta({
      description:
        'What the electrician gets, cables named after their zones; only where the request has a supply.',
    }),
    materials: materialResponseSchema
      .optional()
      .meta({ description: 'Quantities of material; only where the request asks for them.' }),
    guardFired: z.boolean().meta({
      description:
        'The clock cut the search short: the layout is legal, but another run may give another one.',
    }),
    timings: timingsSchema,
  })
  .meta({ id: 'LayoutResponse', description: 'A checked layout of every zone.' });

export type LayoutResponse = z.output<typeof layoutResponseSchema>;
export type LayoutAnswer = Omit<LayoutResponse, 'timings'>;
