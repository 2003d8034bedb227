import type { Response } from 'express';
import { PROBLEMS, type Problem, problemBody } from '../problems.js';

/** Answers with application/problem+json. */
export const sendProblem = (res: Response, problem: Problem): void => {
  if (problem.retryAfter !== undefined) res.set('Retry-After', String(problem.retryAfter));
  res
    .status(PROBLEMS[problem.slug].status)
    .type('application/problem+json')
    .send(JSON.stringify(problemBody(problem)));
};
