import { layoutBudget } from '../budget.js';
import { onlyMethods } from '../http/errors.js';
import { readJson } from '../http/read-json.js';
import { type WorkEndpoint, workHandler } from '../http/work-handler.js';
import { continuationRequestSchema } from '../schemas/continuation-request.js';
import { continuationResponseSchema } from '../schemas/continuation-response.js';
import { BODY_PROBLEMS, problemResponses, WORK_PROBLEMS } from '../spec/responses.js';
import { continuationFaults } from '../validate/continuation.js';
import type { RouteModule } from './route.js';

const endpoint: WorkEndpoint<typeof continuationRequestSchema> = {
  schema: continuationRequestSchema,
  faults: continuationFaults,
  budget: ({ effort, zone, lattice }) => layoutBudget(effort, [zone], lattice.pitch),
  task: (request, id, softMs) => ({ kind: 'continuation', id, softMs, request }),
};

export const continuations: RouteModule = {
  paths: {
    '/v1/continuations': {
      post: {
        operationId: 'continueLayout',
        summary: 'Go on from here: plan the rest with the cable that is left',
        description:
          'Part of the cable lies and is not moved; the rest is planned anew so that the end lands in the buffer. A mark read off the cable says how much of it is left; without one the drawing does. The whole path has been read by the independent checker before it is returned.',
        requestBody: {
          required: true,
          content: { 'application/json': { schema: continuationRequestSchema } },
        },
        responses: {
          200: {
            description: 'A legal way on.',
            content: { 'application/json': { schema: continuationResponseSchema } },
          },
          ...problemResponses(
            ...BODY_PROBLEMS,
            'illegal-laid-part',
            'impossible-continuation',
            ...WORK_PROBLEMS,
          ),
        },
      },
    },
  },
  mount(router, deps) {
    router.route('/v1/continuations').post(readJson, workHandler(deps, endpoint)).all(onlyMethods('POST'));
  },
};
