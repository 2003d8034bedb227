import { judgeReadings } from '../../solver/trade/readings.js';
import { onlyMethods } from '../http/errors.js';
import { readJson } from '../http/read-json.js';
import { type ReckonEndpoint, reckonHandler } from '../http/reckon-handler.js';
import { readingsRequestSchema, readingsResponseSchema } from '../schemas/readings.js';
import { BODY_PROBLEMS, problemResponses } from '../spec/responses.js';
import type { RouteModule } from './route.js';

const endpoint: ReckonEndpoint<typeof readingsRequestSchema> = {
  schema: readingsRequestSchema,
  reckon: judgeReadings,
};

export const readings: RouteModule = {
  paths: {
    '/v1/readings': {
      post: {
        operationId: 'judgeReadings',
        summary: 'Judge meter readings',
        description:
          'Resistance, insulation, continuity and sensor readings of the three rounds, corrected for temperature: pass, investigate or stop, with reasons and what to do next. Resistances in ohm (20 Mohm is 20000000).',
        requestBody: {
          required: true,
          content: { 'application/json': { schema: readingsRequestSchema } },
        },
        responses: {
          200: {
            description: 'The verdict on every reading and on the job.',
            content: { 'application/json': { schema: readingsResponseSchema } },
          },
          ...problemResponses(...BODY_PROBLEMS),
        },
      },
    },
  },
  mount(router) {
    router.route('/v1/readings').post(readJson, reckonHandler(endpoint)).all(onlyMethods('POST'));
  },
};
