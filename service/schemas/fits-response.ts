import { z } from 'zod';
import { timingsSchema, verdictFields } from './layout-response.js';
import { ringSchema } from './point.js';
import { endSchema, pathSchema } from './report.js';

const cableFitSchema = z
  .object({
    cable: z.string(),
    rank: z.number().nullable().meta({
      description: '1 = what a layout of this zone would take; null for a cable that does not fit.',
    }),
    fits: z.boolean(),
    ...verdictFields,
    coverage: z.number().nullable().meta({
      description:
        'Heated fraction of the target in the best layout found with it; null, like all that follows, where there is none.',
    }),
    unheatedArea: z.number().nullable().meta({ description: 'Target area left cold (m2)' }),
    heatDensity: z
      .number()
      .nullable()
      .meta({ description: 'Power of the cable over the target area that it heats (W/m2)' }),
    meanSpacing: z.number().nullable().meta({
      description: "Heated floor, the buffer's included, over the length laid in the zone (mm)",
    }),
    turns: z.number().nullable(),
    end: endSchema.nullable(),
    path: pathSchema.optional().meta({ description: 'Only where `paths` is asked for.' }),
    reserve: pathSchema.optional(),
  })
  .meta({ id: 'CableFit', description: 'How one cable suits one zone.' });

const zoneFitsSchema = z
  .object({
    id: z.string(),
    best: z.string().nullable().meta({ description: 'The cable of rank 1; null where none fits.' }),
    cables: z.array(cableFitSchema).meta({
      description: 'Every entry of the catalogue: fitting ones best first, then the others.',
    }),
    assumed: z
      .object({ buffer: z.object({ outline: ringSchema }) })
      .optional()
      .meta({ description: 'What the request left out and the service took instead.' }),
  })
  .meta({ id: 'ZoneFits' });

export const fitsResponseSchema = z
  .object({
    id: z.string(),
    lattice: z.object({ pitch: z.number(), origin: z.tuple([z.number(), z.number()]) }),
    zones: z.array(zoneFitsSchema),
    guardFired: z.boolean().meta({
      description: 'The clock cut the search short: another run may give another ranking.',
    }),
    timings: timingsSchema,
  })
  .meta({ id: 'FitsResponse', description: 'The catalogue, ranked for each zone.' });

export type FitsResponse = z.output<typeof fitsResponseSchema>;
export type FitsAnswer = Omit<FitsResponse, 'timings'>;
