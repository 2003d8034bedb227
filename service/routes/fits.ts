import { z } from 'zod';
import { layoutBudget } from '../budget.js';
import { onlyMethods } from '../http/errors.js';
import { readJson } from '../http/read-json.js';
import { type WorkEndpoint, workHandler } from '../http/work-handler.js';
import { DEFAULTS } from '../schemas/defaults.js';
import { fitsRequestSchema } from '../schemas/fits-request.js';
import { fitsResponseSchema } from '../schemas/fits-response.js';
import { jobSchema } from '../schemas/job.js';
import { LAYOUT_EXAMPLE } from '../spec/examples.js';
import { BODY_PROBLEMS, problemResponses, WORK_PROBLEMS } from '../spec/responses.js';
import { layoutFaults } from '../validate/layout.js';
import type { RouteModule } from './route.js';

const endpoint: WorkEndpoint<typeof fitsRequestSchema> = {
  schema: fitsRequestSchema,
  faults: ({ paths: _paths, ...request }) => layoutFaults({ ...request, display: DEFAULTS.display }),
  budget: ({ effort, zones, lattice }) => layoutBudget(effort, zones, lattice.pitch),
  task: (request, id, softMs) => ({ kind: 'fits', id, softMs, request }),
};

export const fits: RouteModule = {
  paths: {
    '/v1/fits': {
      post: {
        operationId: 'rankCables',
        summary: 'Which cable? The whole catalogue ranked for each zone',
        description:
          'Every entry of the catalogue with the coverage, mean spacing, heat density, turns and end of its best layout found, and of the others why they do not fit. A zone that no cable fits is a good answer (200) with the reasons. One search serves all cables, and only the best one is shaped with full care: a layout with the same cable is at least as good. The body is that of a layout; the same body ranks the cable first that a layout would take, unless the layout is in parts or must also find room for a sensor.',
        requestParams: { header: z.object({ Prefer: z.string().optional() }) },
        requestBody: {
          required: true,
          content: { 'application/json': { schema: fitsRequestSchema, example: LAYOUT_EXAMPLE } },
        },
        responses: {
          200: {
            description: 'The ranking.',
            content: { 'application/json': { schema: fitsResponseSchema } },
          },
          202: {
            description: 'Accepted as a job.',
            headers: z.object({ Location: z.string(), 'Preference-Applied': z.string() }),
            content: { 'application/json': { schema: jobSchema } },
          },
          ...problemResponses(...BODY_PROBLEMS, 'impossible-layout', ...WORK_PROBLEMS),
        },
      },
    },
  },
  mount(router, deps) {
    router.route('/v1/fits').post(readJson, workHandler(deps, endpoint)).all(onlyMethods('POST'));
  },
};
