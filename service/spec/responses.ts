import { z } from 'zod';
import type { ZodOpenApiResponseObject } from 'zod-openapi';
import { PROBLEMS, type ProblemSlug, problemType } from '../problems.js';

export const problemSchema = z
  .object({
    type: z.string().meta({ description: 'Address of the explanation; stable.' }),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    errors: z
      .array(z.object({ pointer: z.string(), detail: z.string() }))
      .optional()
      .meta({
        description: 'Each points at one field of the request (JSON Pointer) and says what to change.',
      }),
  })
  .catchall(z.unknown())
  .meta({ id: 'Problem', description: 'RFC 9457 problem details.' });

/** Description of the problem responses an operation may give, by status. */
export const problemResponses = (
  ...slugs: readonly ProblemSlug[]
): Record<`${4 | 5}${string}`, ZodOpenApiResponseObject> => {
  const byStatus: Record<`${4 | 5}${string}`, ZodOpenApiResponseObject> = {};
  const statuses = [...new Set(slugs.map((slug) => PROBLEMS[slug].status))].sort((a, b) => a - b);
  for (const status of statuses) {
    const kinds = slugs.filter((slug) => PROBLEMS[slug].status === status);
    byStatus[`${status}` as `${4 | 5}${string}`] = {
      description: kinds.map((slug) => `${PROBLEMS[slug].title} (${problemType(slug)})`).join('. '),
      content: { 'application/problem+json': { schema: problemSchema } },
    };
  }
  return byStatus;
};

/** Problems any endpoint with a body may answer with. */
export const BODY_PROBLEMS = [
  'malformed-json',
  'too-large',
  'unsupported-media-type',
  'invalid-request',
] as const satisfies readonly ProblemSlug[];

/** Problems any endpoint that needs a solver thread may answer with. */
export const WORK_PROBLEMS = [
  'out-of-budget',
  'not-solved',
  'queue-full',
  'shutting-down',
] as const satisfies readonly ProblemSlug[];
