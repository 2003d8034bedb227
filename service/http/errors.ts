import type { ErrorRequestHandler, RequestHandler } from 'express';
import type { Logger } from 'pino';
import { type Problem, ProblemError } from '../problems.js';
import { sendProblem } from './problem-response.js';

const statusOf = (error: unknown): number => {
  if (typeof error !== 'object' || error === null || !('status' in error)) return 500;
  return typeof error.status === 'number' ? error.status : 500;
};

/** Faults found by express itself (an address that cannot be decoded and the like) carry a 4xx status. */
const toProblem = (error: unknown): Problem => {
  if (error instanceof ProblemError) return error.problem;
  const status = statusOf(error);
  if (status >= 400 && status < 500) {
    return { slug: 'bad-request', detail: 'The request or its address could not be read.' };
  }
  return { slug: 'internal-error', detail: 'An unforeseen fault of the service; it was recorded.' };
};

/** The one place where errors become responses. */
export const errorHandler =
  (log: Logger): ErrorRequestHandler =>
  (error, _req, res, next) => {
    const problem = toProblem(error);
    if (problem.slug === 'internal-error')
      log.error({ err: error, requestId: res.locals.requestId }, 'fault');
    if (res.headersSent) {
      next(error);
      return;
    }
    sendProblem(res, problem);
  };

export const notFound: RequestHandler = (req) => {
  throw new ProblemError({
    slug: 'not-found',
    detail: `There is nothing at ${req.path.slice(0, 200)}; see /openapi.json.`,
  });
};

/** For the methods an address does not take. */
export const onlyMethods =
  (...methods: readonly string[]): RequestHandler =>
  (req, res) => {
    res.set('Allow', methods.join(', '));
    throw new ProblemError({
      slug: 'method-not-allowed',
      detail: `${req.path.slice(0, 200)} takes ${methods.join(', ')}, not ${req.method}.`,
    });
  };
