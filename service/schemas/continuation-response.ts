import { z } from 'zod';
import { timingsSchema } from './layout-response.js';
import { pointSchema } from './point.js';
import { coverageSchema, endSchema, lengthSchema, pathSchema, ruleSchema, runSchema } from './report.js';

const millimetres = (description: string) => z.number().meta({ description: `${description} (mm)` });

export const continuationResponseSchema = z
  .object({
    id: z.string().meta({ description: 'The same request gives the same id and the same answer.' }),
    zone: z.string(),
    cable: z.string(),
    lattice: z.object({ pitch: z.number(), origin: pointSchema }),
    laid: z
      .object({
        vertices: z
          .number()
          .meta({ description: 'How many vertices at the beginning of path are the laid part, as sent.' }),
        drawn: millimetres('Cable that lies according to the drawing, lead-in included'),
        used: millimetres('Cable that lies: by the reading where there is one'),
        drift: millimetres('used - drawn'),
        driftAllowed: millimetres(
          'Drift that tolerance and laying explain: tolerance x drawn + placementSlopPerTurn x turns laid',
        ),
        driftExplained: z.boolean().meta({
          description: 'False: check the reading, and the runs that lie, before going on.',
        }),
      })
      .meta({ id: 'LaidSummary' }),
    left: millimetres('Cable left at the node reached'),
    path: pathSchema.meta({
      description: 'Vertices of the whole centre line, the laid part first, from the entry to the end.',
    }),
    reserve: pathSchema.meta({
      description: 'Where the cable goes on if it is longer than nominal; begins at the end of path.',
    }),
    length: lengthSchema.meta({
      description: 'Of the whole cable; with a reading, its drift is part of `path`.',
    }),
    end: endSchema.meta({
      description:
        'Without a reading, tolerance is that of a layout. With one it is tolerance x left + placementSlopPerTurn x turns still to come.',
    }),
    coverage: coverageSchema.extend({
      upperBound: z.number().meta({
        description: 'Proven: no layout of the whole zone with this cable has a larger fraction.',
      }),
      boundBasis: z.string(),
    }),
    runs: z.array(runSchema).meta({
      description: 'Runs of the whole path; from the node reached on, `cumulative` counts from the reading.',
    }),
    rules: z.array(ruleSchema),
    guardFired: z.boolean().meta({ description: 'The clock cut the search short.' }),
    timings: timingsSchema,
  })
  .meta({ id: 'ContinuationResponse', description: 'A checked way on from where the cable lies.' });

export type ContinuationResponse = z.output<typeof continuationResponseSchema>;
export type ContinuationAnswer = Omit<ContinuationResponse, 'timings'>;
