import { z } from 'zod';
import { onlyMethods } from '../http/errors.js';
import { isProblemSlug, PROBLEMS, ProblemError, problemType } from '../problems.js';
import { openApiDocument } from '../spec/document.js';
import { problemResponses } from '../spec/responses.js';
import type { RouteModule } from './route.js';

const explanationSchema = z.object({
  type: z.string(),
  status: z.int(),
  title: z.string(),
  explanation: z.string(),
});

/** The interface explained by itself. */
export const documentation: RouteModule = {
  paths: {
    '/openapi.json': {
      get: {
        operationId: 'openApi',
        summary: 'This document',
        responses: { 200: { description: 'OpenAPI 3.1.' } },
      },
    },
    '/problems': {
      get: {
        operationId: 'listProblems',
        summary: 'Every problem type',
        responses: {
          200: {
            description: 'All of them.',
            content: { 'application/json': { schema: z.array(explanationSchema) } },
          },
        },
      },
    },
    '/problems/{slug}': {
      get: {
        operationId: 'explainProblem',
        summary: 'What a problem type means',
        requestParams: { path: z.object({ slug: z.string() }) },
        responses: {
          200: {
            description: 'Its explanation.',
            content: { 'application/json': { schema: explanationSchema } },
          },
          ...problemResponses('not-found'),
        },
      },
    },
  },
  mount(router) {
    const document = JSON.stringify(openApiDocument());
    router
      .route('/openapi.json')
      .get((_req, res) => {
        res.type('application/json').send(document);
      })
      .all(onlyMethods('GET', 'HEAD'));
    const explain = (slug: keyof typeof PROBLEMS) => ({ type: problemType(slug), ...PROBLEMS[slug] });
    router
      .route('/problems')
      .get((_req, res) => {
        res.json(Object.keys(PROBLEMS).filter(isProblemSlug).map(explain));
      })
      .all(onlyMethods('GET', 'HEAD'));
    router
      .route('/problems/:slug')
      .get((req, res) => {
        const { slug } = req.params;
        if (!isProblemSlug(slug)) {
          throw new ProblemError({
            slug: 'not-found',
            detail: 'There is no such problem type; see /problems.',
          });
        }
        res.json(explain(slug));
      })
      .all(onlyMethods('GET', 'HEAD'));
  },
};
