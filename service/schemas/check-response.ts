import { z } from 'zod';
import { timingsSchema } from './layout-response.js';
import { coverageSchema, endSchema, judgedRuleSchema, lengthSchema, runSchema } from './report.js';

export const checkResponseSchema = z
  .object({
    id: z.string(),
    ok: z.boolean().meta({ description: 'True when every rule holds.' }),
    rules: z.array(judgedRuleSchema),
    length: lengthSchema,
    end: endSchema,
    coverage: coverageSchema,
    runs: z.array(runSchema),
    timings: timingsSchema,
  })
  .meta({ id: 'CheckResponse', description: 'A path judged by every rule.' });

export type CheckResponse = z.output<typeof checkResponseSchema>;
export type CheckAnswer = Omit<CheckResponse, 'timings'>;
