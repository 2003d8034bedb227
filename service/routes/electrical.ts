import { electricalReport } from '../../solver/trade/electrical.js';
import { onlyMethods } from '../http/errors.js';
import { readJson } from '../http/read-json.js';
import { type ReckonEndpoint, reckonHandler } from '../http/reckon-handler.js';
import { electricalRequestSchema, electricalResponseSchema } from '../schemas/electrical.js';
import { BODY_PROBLEMS, problemResponses } from '../spec/responses.js';
import type { RouteModule } from './route.js';

const endpoint: ReckonEndpoint<typeof electricalRequestSchema> = {
  schema: electricalRequestSchema,
  reckon: electricalReport,
};

export const electrical: RouteModule = {
  paths: {
    '/v1/electrical': {
      post: {
        operationId: 'reportElectrical',
        summary: 'What the electrician gets',
        description:
          'Power, current, resistance cold and warm with its band, protective device, thermostat, ground-fault protection, heat density, surface temperature and ripple of every cable and circuit. A job that breaks rules is a good answer (200, status refuse), with every finding. Defaults follow the region and can be overridden; the local code governs.',
        requestBody: {
          required: true,
          content: { 'application/json': { schema: electricalRequestSchema } },
        },
        responses: {
          200: {
            description: 'Figures and findings, each with the rule it follows from.',
            content: { 'application/json': { schema: electricalResponseSchema } },
          },
          ...problemResponses(...BODY_PROBLEMS),
        },
      },
    },
  },
  mount(router) {
    router.route('/v1/electrical').post(readJson, reckonHandler(endpoint)).all(onlyMethods('POST'));
  },
};
