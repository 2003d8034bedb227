import { z } from 'zod';

export const jobSchema = z
  .object({
    id: z.string(),
    state: z.enum(['queued', 'solving', 'done', 'failed', 'cancelled']),
    createdAt: z.iso.datetime(),
    endedAt: z.iso.datetime().optional(),
    ahead: z.int().optional().meta({ description: 'Requests waiting before this one, while queued.' }),
    result: z.string().optional().meta({ description: 'Where the answer is, once done.' }),
    status: z.int().optional().meta({ description: 'Status the request would have had, once failed.' }),
    problem: z.record(z.string(), z.unknown()).optional().meta({ description: 'Why it failed (RFC 9457).' }),
  })
  .meta({ id: 'Job', description: 'Work that goes on without a connection.' });
