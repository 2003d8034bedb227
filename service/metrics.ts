import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from 'prom-client';
import type { PoolWatch } from './pool/thread-pool.js';

const SECONDS = [0.005, 0.02, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 25, 60, 120, 300];

/** Numbers for Prometheus; event-loop lag and memory come from the client library's defaults. */
export class Metrics {
  readonly registry = new Registry();
  readonly watch: PoolWatch;
  readonly #responses: Counter<'status'>;
  #waiting: () => number = () => 0;

  constructor() {
    const registers = [this.registry];
    collectDefaultMetrics({ register: this.registry });
    this.#responses = new Counter({
      name: 'oxturn_responses_total',
      help: 'Responses by status',
      labelNames: ['status'],
      registers,
    });
    const waiting = (): number => this.#waiting();
    new Gauge({
      name: 'oxturn_queue_depth',
      help: 'Tasks waiting for a solver thread',
      registers,
      collect() {
        this.set(waiting());
      },
    });
    const wait = new Histogram({
      name: 'oxturn_wait_seconds',
      help: 'Time a task waited for a solver thread',
      buckets: SECONDS,
      registers,
    });
    const solve = new Histogram({
      name: 'oxturn_solve_seconds',
      help: 'Time a task took in its solver thread',
      labelNames: ['kind', 'result'],
      buckets: SECONDS,
      registers,
    });
    const replaced = new Counter({
      name: 'oxturn_worker_restarts_total',
      help: 'Solver threads stopped and replaced',
      registers,
    });
    this.watch = {
      started: (_task, waited) => wait.observe(waited),
      ended: (task, took, result) => solve.observe({ kind: task.kind, result }, took),
      workerReplaced: () => replaced.inc(),
    };
  }

  /** Where the depth of the queue is read from. */
  watchQueue(waiting: () => number): void {
    this.#waiting = waiting;
  }

  answered(status: number): void {
    this.#responses.inc({ status: String(status) });
  }
}
