import type { Request } from 'express';
import { z } from 'zod';
import type { Deps } from '../deps.js';
import { onlyMethods } from '../http/errors.js';
import { sendEnding } from '../http/send-answer.js';
import type { Job } from '../jobs/job-store.js';
import { ProblemError } from '../problems.js';
import { jobSchema } from '../schemas/job.js';
import { problemResponses } from '../spec/responses.js';
import type { RouteModule } from './route.js';

const HEARTBEAT_MS = 15_000;

const find = (deps: Deps, req: Request<{ id: string }>): Job => {
  const job = deps.jobs.get(req.params.id, Date.now());
  if (job === undefined) {
    throw new ProblemError({
      slug: 'unknown-job',
      detail: 'No job of that id is kept here; it may have expired. Send its request again.',
    });
  }
  return job;
};

const jobResponse = (description: string) => ({
  description,
  content: { 'application/json': { schema: jobSchema } },
});

const requestParams = { path: z.object({ id: z.string() }) };

export const jobs: RouteModule = {
  paths: {
    '/v1/jobs/{id}': {
      get: {
        operationId: 'readJob',
        summary: 'How a job stands',
        requestParams,
        responses: { 200: jobResponse('The job.'), ...problemResponses('unknown-job') },
      },
      delete: {
        operationId: 'cancelJob',
        summary: 'Cancel a job',
        requestParams,
        responses: {
          200: jobResponse('The job, cancelled.'),
          ...problemResponses('unknown-job', 'job-ended'),
        },
      },
    },
    '/v1/jobs/{id}/result': {
      get: {
        operationId: 'readJobResult',
        summary: 'The answer of a job, or the problem it ended with',
        requestParams,
        responses: {
          200: { description: 'What the request would have been answered with.' },
          202: jobResponse('The job is not done yet.'),
          ...problemResponses('unknown-job', 'impossible-layout', 'out-of-budget', 'shutting-down'),
        },
      },
    },
    '/v1/jobs/{id}/events': {
      get: {
        operationId: 'watchJob',
        summary: 'Server-sent events: one `state` event at once and at each change, until the job ends',
        requestParams,
        responses: {
          200: {
            description: 'Each event carries the job as JSON.',
            content: { 'text/event-stream': { schema: z.string() } },
          },
          ...problemResponses('unknown-job'),
        },
      },
    },
  },
  mount(router, deps) {
    router
      .route('/v1/jobs/:id')
      .get((req, res) => {
        res.set('Cache-Control', 'no-store').json(find(deps, req).view());
      })
      .delete((req, res) => {
        const job = find(deps, req);
        if (!job.cancel(Date.now())) {
          throw new ProblemError({ slug: 'job-ended', detail: `The job is ${job.state} already.` });
        }
        res.json(job.view());
      })
      .all(onlyMethods('GET', 'HEAD', 'DELETE'));
    router
      .route('/v1/jobs/:id/result')
      .get((req, res) => {
        const job = find(deps, req);
        if (job.ending === null) res.status(202).set('Retry-After', '1').json(job.view());
        else if (job.ending.kind === 'cancelled') {
          throw new ProblemError({ slug: 'unknown-job', detail: 'The job was cancelled; it has no result.' });
        } else sendEnding(res, job.ending);
      })
      .all(onlyMethods('GET', 'HEAD'));
    router
      .route('/v1/jobs/:id/events')
      .get((req, res) => {
        const job = find(deps, req);
        res.status(200).set({
          'Content-Type': 'text/event-stream',
          'Cache-Control': 'no-cache',
          'X-Accel-Buffering': 'no',
        });
        const send = (): void => {
          res.write(`event: state\ndata: ${JSON.stringify(job.view())}\n\n`);
          if (job.ending !== null) res.end();
        };
        const stop = job.onChange(send);
        const heartbeat = setInterval(() => res.write(': still here\n\n'), HEARTBEAT_MS);
        res.on('close', () => {
          clearInterval(heartbeat);
          stop();
        });
        send();
      })
      .all(onlyMethods('GET'));
  },
};
