import type { Response } from 'express';
import type { Ending } from '../jobs/job-store.js';
import { ProblemError } from '../problems.js';
import { type Answer, answerBody } from '../store/answer-store.js';

/** 200 with the body of an answer. */
export const sendAnswer = (res: Response, answer: Answer): void => {
  res.set('ETag', answer.etag);
  res.set('Cache-Control', 'no-cache');
  res.status(200).type('application/json').send(answerBody(answer));
};

/** The response to work that has ended. */
export const sendEnding = (res: Response, ending: Ending): void => {
  if (ending.kind === 'done') {
    sendAnswer(res, ending.answer);
    return;
  }
  throw new ProblemError(
    ending.kind === 'failed'
      ? ending.problem
      : { slug: 'shutting-down', detail: 'The work was stopped before it was done.', retryAfter: 5 },
  );
};
