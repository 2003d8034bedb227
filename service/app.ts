import express, { type Express } from 'express';
import { pino } from 'pino';
import type { Config } from './config.js';
import type { Deps } from './deps.js';
import { errorHandler, notFound } from './http/errors.js';
import { requestLog } from './http/request-log.js';
import { JobStore } from './jobs/job-store.js';
import { Metrics } from './metrics.js';
import { Flights } from './pool/flights.js';
import type { PressOutcome, PressTask } from './pool/press-task.js';
import type { WorkOutcome, WorkTask } from './pool/task.js';
import { ThreadPool, threadModule } from './pool/thread-pool.js';
import { Readiness } from './readiness.js';
import { routeModules } from './routes/index.js';
import { AnswerStore } from './store/answer-store.js';

/** Characters of JSON kept for each answer that may be kept. */
const CHARACTERS_PER_ANSWER = 400_000;

const MS_PER_SECOND = 1000;

/**
 * Everything the routes need, made from the configuration. The pool's threads start at once; `worker` stands in for
 * the solver's module.
 */
export const createDeps = (config: Config, worker: URL = threadModule('worker')): Deps => {
  const log = pino({ name: 'oxturn', level: config.LOG_LEVEL });
  const metrics = new Metrics();
  const pool = new ThreadPool<WorkTask, WorkOutcome>({
    workers: config.WORKERS,
    queueLimit: config.QUEUE_LIMIT,
    watch: metrics.watch,
    worker,
  });
  metrics.watchQueue(() => pool.waiting);
  const press = new ThreadPool<PressTask, PressOutcome>({
    workers: 1,
    idleWorkers: 0,
    queueLimit: config.QUEUE_LIMIT,
    watch: metrics.watch,
    worker: threadModule('press'),
  });
  const flights = new Flights(pool);
  return {
    config,
    log,
    metrics,
    pool,
    press,
    flights,
    answers: new AnswerStore({
      entries: config.KEEP_ANSWERS,
      characters: config.KEEP_ANSWERS * CHARACTERS_PER_ANSWER,
    }),
    jobs: new JobStore({ entries: config.KEEP_JOBS, keepMs: config.JOB_KEEP_SECONDS * MS_PER_SECOND }),
    readiness: new Readiness(flights, pool, log),
  };
};

/** The HTTP face of the service; the caller listens. */
export const createApp = (deps: Deps): Express => {
  const app = express();
  app.disable('x-powered-by');
  app.set('etag', false);
  app.set('query parser', 'simple');
  app.use(requestLog(deps.log));
  app.use((_req, res, next) => {
    res.on('finish', () => deps.metrics.answered(res.statusCode));
    next();
  });
  for (const module of routeModules()) module.mount(app, deps);
  app.use(notFound);
  app.use(errorHandler(deps.log));
  return app;
};
