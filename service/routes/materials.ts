import type { z } from 'zod';
import { materialQuantities } from '../../solver/trade/material.js';
import { onlyMethods } from '../http/errors.js';
import { readJson } from '../http/read-json.js';
import { type ReckonEndpoint, reckonHandler } from '../http/reckon-handler.js';
import { SIZES } from '../limits.js';
import type { Fault } from '../problems.js';
import { materialRequestSchema, materialResponseSchema } from '../schemas/material.js';
import { BODY_PROBLEMS, problemResponses } from '../spec/responses.js';
import type { RouteModule } from './route.js';

const vertexFaults = ({ zones }: z.output<typeof materialRequestSchema>): readonly Fault[] => {
  const vertices = zones
    .flatMap(({ outline, bare }) => [outline, ...bare])
    .reduce((n, ring) => n + ring.length, 0);
  if (vertices <= SIZES.verticesInAll) return [];
  return [
    {
      pointer: '/zones',
      detail: `zones have ${vertices} vertices in all their outlines together; at most ${SIZES.verticesInAll} are allowed. Leave out vertices that do not matter.`,
    },
  ];
};

const endpoint: ReckonEndpoint<typeof materialRequestSchema> = {
  schema: materialRequestSchema,
  faults: vertexFaults,
  reckon: materialQuantities,
};

export const materials: RouteModule = {
  paths: {
    '/v1/materials': {
      post: {
        operationId: 'reckonMaterials',
        summary: 'Quantities of material',
        description:
          'Membrane by sheet or roll, mortar by layer, sealing tape with overlaps, groove fill and sensors, from the outlines and overridable coverage rates. Quantities only, no prices.',
        requestBody: {
          required: true,
          content: { 'application/json': { schema: materialRequestSchema } },
        },
        responses: {
          200: {
            description: 'Quantities, each with the rules it follows from.',
            content: { 'application/json': { schema: materialResponseSchema } },
          },
          ...problemResponses(...BODY_PROBLEMS),
        },
      },
    },
  },
  mount(router) {
    router.route('/v1/materials').post(readJson, reckonHandler(endpoint)).all(onlyMethods('POST'));
  },
};
