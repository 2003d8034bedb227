import { z } from 'zod';
import { layoutBudget } from '../budget.js';
import { onlyMethods } from '../http/errors.js';
import { matchesEtag } from '../http/etag.js';
import { readJson } from '../http/read-json.js';
import { sendAnswer } from '../http/send-answer.js';
import { type WorkEndpoint, workHandler } from '../http/work-handler.js';
import { ProblemError } from '../problems.js';
import { jobSchema } from '../schemas/job.js';
import { layoutRequestSchema } from '../schemas/layout-request.js';
import { layoutResponseSchema } from '../schemas/layout-response.js';
import { LAYOUT_EXAMPLE } from '../spec/examples.js';
import { BODY_PROBLEMS, problemResponses, WORK_PROBLEMS } from '../spec/responses.js';
import { layoutFaults } from '../validate/layout.js';
import type { RouteModule } from './route.js';

const endpoint: WorkEndpoint<typeof layoutRequestSchema> = {
  schema: layoutRequestSchema,
  faults: layoutFaults,
  budget: ({ effort, zones, lattice }) => layoutBudget(effort, zones, lattice.pitch),
  task: (request, id, softMs) => ({ kind: 'layout', id, softMs, request }),
  headers: (id) => ({ 'Content-Location': `/v1/layouts/${id}` }),
};

const etagHeader = z.string().meta({ description: 'Changes only when the layout does.' });

export const layouts: RouteModule = {
  paths: {
    '/v1/layouts': {
      post: {
        operationId: 'createLayout',
        summary: 'Choose a cable for each zone and route it',
        description:
          'The layout has been read by an independent checker before it is returned. The same request gives the same id and the same layout. With `Prefer: respond-async` the work becomes a job; `wait=N` waits N seconds for it first.',
        requestParams: { header: z.object({ Prefer: z.string().optional() }) },
        requestBody: {
          required: true,
          content: { 'application/json': { schema: layoutRequestSchema, example: LAYOUT_EXAMPLE } },
        },
        responses: {
          200: {
            description: 'A legal layout of every zone.',
            headers: z.object({ ETag: etagHeader, 'Content-Location': z.string() }),
            content: { 'application/json': { schema: layoutResponseSchema } },
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
    '/v1/layouts/{id}': {
      get: {
        operationId: 'readLayout',
        summary: 'A recent layout again',
        requestParams: {
          path: z.object({ id: z.string() }),
          header: z.object({ 'If-None-Match': z.string().optional() }),
        },
        responses: {
          200: {
            description: 'The layout.',
            headers: z.object({ ETag: etagHeader }),
            content: { 'application/json': { schema: layoutResponseSchema } },
          },
          304: { description: 'The layout is the one named in If-None-Match.' },
          ...problemResponses('unknown-layout'),
        },
      },
    },
  },
  mount(router, deps) {
    router.route('/v1/layouts').post(readJson, workHandler(deps, endpoint)).all(onlyMethods('POST'));
    router
      .route('/v1/layouts/:id')
      .get((req, res) => {
        const answer = deps.answers.get(req.params.id);
        if (answer?.kind !== 'layout') {
          throw new ProblemError({
            slug: 'unknown-layout',
            detail: 'No layout of that id is kept here; send its request again to get it.',
          });
        }
        if (matchesEtag(req.get('if-none-match'), answer.etag)) {
          res.set('ETag', answer.etag).status(304).end();
          return;
        }
        sendAnswer(res, answer);
      })
      .all(onlyMethods('GET', 'HEAD'));
  },
};
