import type { Request, RequestHandler, Response } from 'express';
import type { z } from 'zod';
import type { Budget } from '../budget.js';
import { canonicalJson, shortHash } from '../canonical.js';
import type { Deps } from '../deps.js';
import { type Ending, Job } from '../jobs/job-store.js';
import type { Seat } from '../pool/flights.js';
import type { WorkTask } from '../pool/task.js';
import { type Fault, ProblemError } from '../problems.js';
import type { Answer } from '../store/answer-store.js';
import { parseBody } from '../validate/parse.js';
import { SOLVER_VERSION } from '../version.js';
import { conclude } from './conclude.js';
import { type Preference, parsePrefer, preferenceApplied } from './prefer.js';
import { sendAnswer, sendEnding } from './send-answer.js';

/** An endpoint that reads a request, has a solver thread work on it and answers with the result. */
export interface WorkEndpoint<S extends z.ZodType> {
  readonly schema: S;
  /** What is wrong with a request of the right form. */
  faults(request: z.output<S>): readonly Fault[];
  budget(request: z.output<S>): Budget;
  /** The task; its kind tells answers of different endpoints apart. */
  task(request: z.output<S>, id: string, softMs: number): WorkTask;
  /** Headers for an answer, such as where it can be read again. */
  headers?(id: string): Readonly<Record<string, string>>;
}

const invalid = (faults: readonly Fault[]): ProblemError =>
  new ProblemError({
    slug: 'invalid-request',
    detail:
      faults.length === 1
        ? (faults[0]?.detail ?? 'One field is wrong.')
        : `${faults.length} fields are wrong; see errors.`,
    errors: faults,
  });

const board = (deps: Deps, task: WorkTask, hardMs: number): Seat => {
  const boarding = deps.flights.board(task, hardMs);
  if (boarding.kind === 'aboard') return boarding.seat;
  const { retryAfter } = boarding;
  throw new ProblemError(
    boarding.kind === 'queue-full'
      ? {
          slug: 'queue-full',
          detail: `${deps.pool.waiting} requests are waiting, the most that may. Try again in ${retryAfter} s.`,
          retryAfter,
        }
      : { slug: 'shutting-down', detail: `Try again in ${retryAfter} s.`, retryAfter },
  );
};

/** Waits for the work with the connection open; a client that goes away gives up its hold. */
const answerNow = async (deps: Deps, task: WorkTask, seat: Seat, res: Response): Promise<void> => {
  const leave = (): void => seat.leave();
  res.once('close', leave);
  const result = await seat.ticket.done;
  res.off('close', leave);
  if (res.closed) return;
  sendEnding(res, conclude(deps, task, result));
};

const openJob = (deps: Deps, task: WorkTask, hardMs: number): Job => {
  const now = Date.now();
  const known = deps.jobs.get(task.id, now);
  if (known !== undefined && (known.ending === null || known.ending.kind === 'done')) return known;
  if (!deps.jobs.hasRoom(now)) {
    throw new ProblemError({
      slug: 'queue-full',
      detail: 'No more jobs are taken just now.',
      retryAfter: 30,
    });
  }
  const seat = board(deps, task, hardMs);
  const job = new Job(task.id, seat, now);
  deps.jobs.put(job, now);
  void seat.ticket.done.then((result) => job.end(conclude(deps, task, result), Date.now()));
  return job;
};

const endingWithin = (job: Job, seconds: number): Promise<Ending | null> => {
  if (job.ending !== null || seconds === 0) return Promise.resolve(job.ending);
  return new Promise((resolve) => {
    const finish = (): void => {
      clearTimeout(timer);
      stop();
      resolve(job.ending);
    };
    const timer = setTimeout(finish, seconds * 1000);
    const stop = job.onChange(() => {
      if (job.ending !== null) finish();
    });
  });
};

const answerLater = async (job: Job, preference: Preference, res: Response): Promise<void> => {
  const ending = await endingWithin(job, preference.wait);
  if (res.closed) return;
  res.set('Preference-Applied', preferenceApplied(preference));
  if (ending !== null) {
    sendEnding(res, ending);
    return;
  }
  res.set('Location', `/v1/jobs/${job.id}`);
  res.status(202).type('application/json').send(JSON.stringify(job.view()));
};

/** Handler of a work endpoint; the body has been read into req.body. */
export const workHandler =
  <S extends z.ZodType>(deps: Deps, endpoint: WorkEndpoint<S>): RequestHandler =>
  async (req: Request, res: Response) => {
    const parsed = parseBody(endpoint.schema, req.body);
    if (!parsed.ok) throw invalid(parsed.faults);
    const request = parsed.value;
    const faults = endpoint.faults(request);
    if (faults.length > 0) throw invalid(faults);

    const { softMs, hardMs } = endpoint.budget(request);
    const draft = endpoint.task(request, '', softMs);
    const id = shortHash(`${draft.kind} ${SOLVER_VERSION} ${canonicalJson(request)}`);
    const task: WorkTask = { ...draft, id };
    res.set(endpoint.headers?.(id) ?? {});

    const known: Answer | undefined = deps.answers.get(id);
    if (known?.repeatable) {
      sendAnswer(res, known);
      return;
    }
    const preference = parsePrefer(req.get('prefer'));
    if (preference.respondAsync) await answerLater(openJob(deps, task, hardMs), preference, res);
    else await answerNow(deps, task, board(deps, task, hardMs), res);
  };
