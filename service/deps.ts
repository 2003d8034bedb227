import type { Logger } from 'pino';
import type { Config } from './config.js';
import type { JobStore } from './jobs/job-store.js';
import type { Metrics } from './metrics.js';
import type { Flights } from './pool/flights.js';
import type { Press } from './pool/press-task.js';
import type { SolverPool } from './pool/task.js';
import type { Readiness } from './readiness.js';
import type { AnswerStore } from './store/answer-store.js';

/** What routes are given. */
export interface Deps {
  readonly config: Config;
  readonly log: Logger;
  readonly metrics: Metrics;
  readonly pool: SolverPool;
  /** Prints papers beside the solver, so that they never wait for a solve. */
  readonly press: Press;
  readonly flights: Flights;
  readonly answers: AnswerStore;
  readonly jobs: JobStore;
  readonly readiness: Readiness;
}
