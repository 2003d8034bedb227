import { z } from 'zod';
import { onlyMethods } from '../http/errors.js';
import type { ReadyState } from '../readiness.js';
import type { RouteModule } from './route.js';

const stateSchema = z.object({ state: z.string() });

const plain = (description: string) => ({
  description,
  content: { 'application/json': { schema: stateSchema } },
});

const STATUS: Readonly<Record<ReadyState, number>> = { ready: 200, draining: 503, busy: 503, broken: 503 };
const RETRY_SECONDS = '5';

/** For whoever runs the service: is it alive, can it plan, how is it doing. */
export const operations: RouteModule = {
  paths: {
    '/livez': {
      get: {
        operationId: 'alive',
        summary: 'The process serves',
        responses: { 200: plain('It does.') },
      },
    },
    '/readyz': {
      get: {
        operationId: 'ready',
        summary: 'A tiny real layout succeeded lately',
        responses: { 200: plain('Ready.'), 503: plain('Draining, busy or broken.') },
      },
    },
    '/metrics': {
      get: {
        operationId: 'metrics',
        summary: 'Numbers for Prometheus',
        responses: {
          200: { description: 'Text exposition format.', content: { 'text/plain': { schema: z.string() } } },
        },
      },
    },
  },
  mount(router, deps) {
    router
      .route('/livez')
      .get((_req, res) => {
        res.json({ state: 'alive' });
      })
      .all(onlyMethods('GET', 'HEAD'));
    router
      .route('/readyz')
      .get(async (_req, res) => {
        const state = await deps.readiness.state();
        if (STATUS[state] !== 200) res.set('Retry-After', RETRY_SECONDS);
        res.status(STATUS[state]).set('Cache-Control', 'no-store').json({ state });
      })
      .all(onlyMethods('GET', 'HEAD'));
    router
      .route('/metrics')
      .get(async (_req, res) => {
        res.set('Content-Type', deps.metrics.registry.contentType);
        res.send(await deps.metrics.registry.metrics());
      })
      .all(onlyMethods('GET', 'HEAD'));
  },
};
