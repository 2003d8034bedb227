import { CHECK_BUDGET } from '../budget.js';
import { onlyMethods } from '../http/errors.js';
import { readJson } from '../http/read-json.js';
import { type WorkEndpoint, workHandler } from '../http/work-handler.js';
import { checkRequestSchema } from '../schemas/check-request.js';
import { checkResponseSchema } from '../schemas/check-response.js';
import { BODY_PROBLEMS, problemResponses, WORK_PROBLEMS } from '../spec/responses.js';
import { checkFaults } from '../validate/check.js';
import type { RouteModule } from './route.js';

const endpoint: WorkEndpoint<typeof checkRequestSchema> = {
  schema: checkRequestSchema,
  faults: checkFaults,
  budget: () => CHECK_BUDGET,
  task: (request, id, softMs) => ({ kind: 'check', id, softMs, request }),
};

export const checks: RouteModule = {
  paths: {
    '/v1/checks': {
      post: {
        operationId: 'checkPath',
        summary: 'Judge any path by every rule',
        description:
          'A path from anywhere: another program, drawn by hand, or as built. A path that breaks rules is a good answer (200, ok false), with every place where it does.',
        requestBody: {
          required: true,
          content: { 'application/json': { schema: checkRequestSchema } },
        },
        responses: {
          200: {
            description: 'The verdict on every rule.',
            content: { 'application/json': { schema: checkResponseSchema } },
          },
          ...problemResponses(...BODY_PROBLEMS, ...WORK_PROBLEMS),
        },
      },
    },
  },
  mount(router, deps) {
    router.route('/v1/checks').post(readJson, workHandler(deps, endpoint)).all(onlyMethods('POST'));
  },
};
