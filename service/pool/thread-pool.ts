import { performance } from 'node:perf_hooks';
import { Piscina } from 'piscina';
import { BoundedFifo } from './bounded-fifo.js';

/** What became of a task, beside what its thread may hand back. */
export type PoolEnding =
  | { readonly kind: 'cancelled' }
  /** The hard guard fired and the thread was stopped. */
  | { readonly kind: 'stopped' }
  | { readonly kind: 'crashed'; readonly reason: string };

export interface PoolTask {
  readonly kind: string;
}

export interface PoolOptions {
  readonly workers: number;
  /** Threads kept while there is nothing to do; all of them when left out. */
  readonly idleWorkers?: number;
  /** Most tasks that may wait. */
  readonly queueLimit: number;
  readonly watch?: PoolWatch;
  /** Module of the threads: default export (task) => outcome. */
  readonly worker: URL;
}

/** Told what happens in the pool, in seconds. */
export interface PoolWatch {
  started(task: PoolTask, waited: number): void;
  ended(task: PoolTask, took: number, result: string): void;
  workerReplaced(): void;
}

export type TicketState = 'queued' | 'solving' | 'ended';

/** One task on its way through the pool. */
export interface Ticket<R> {
  readonly done: Promise<R>;
  state(): TicketState;
  /** Tasks waiting before this one. */
  ahead(): number;
  /** Takes it from the queue, or stops its thread. */
  cancel(): void;
  /** Called when the solve begins; at once if it has begun. */
  onStart(listener: () => void): void;
}

export type Submission<R> =
  | { readonly kind: 'accepted'; readonly ticket: Ticket<R> }
  | { readonly kind: 'queue-full'; readonly retryAfter: number }
  | { readonly kind: 'draining'; readonly retryAfter: number };

interface Entry<T, R> {
  readonly task: T;
  readonly hardMs: number;
  readonly queuedAt: number;
  readonly controller: AbortController;
  readonly listeners: (() => void)[];
  readonly settle: (result: R) => void;
  state: TicketState;
  stop: 'cancelled' | 'stopped' | null;
}

const inTypeScript = import.meta.url.endsWith('.ts');

/** Address of a module of this folder, whether it runs from source or built. */
export const threadModule = (name: string): URL =>
  new URL(`./${name}${inTypeScript ? '.ts' : '.js'}`, import.meta.url);

const HEAP_MB = 1024;
/** How long a thread beyond those kept waits for more work. */
const IDLE_MS = 60_000;
const RETRY_LONGEST = 120;
const DRAIN_RETRY = 5;
/** Share of the newest solve in the running mean of solve times. */
const MEAN_SHARE = 0.2;

/**
 * Threads behind a bounded queue of our own: a thread is handed only what it can begin at once, so order and
 * limits hold whatever happens to threads. The guard of a task counts from the start of its solve.
 */
export class ThreadPool<T extends PoolTask, O extends { readonly kind: string }> {
  readonly #piscina: Piscina<T, O>;
  readonly #queue: BoundedFifo<Entry<T, O | PoolEnding>>;
  readonly #running = new Set<Entry<T, O | PoolEnding>>();
  readonly #watch: PoolWatch | undefined;
  readonly workers: number;
  #draining = false;
  #meanSeconds = 1;
  #idle: (() => void)[] = [];

  constructor(options: PoolOptions) {
    this.workers = options.workers;
    this.#queue = new BoundedFifo(options.queueLimit);
    this.#watch = options.watch;
    this.#piscina = new Piscina<T, O>({
      filename: options.worker.href,
      minThreads: options.idleWorkers ?? options.workers,
      idleTimeout: IDLE_MS,
      maxThreads: options.workers,
      concurrentTasksPerWorker: 1,
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
      ...(inTypeScript ? { execArgv: ['--import', import.meta.resolve('tsx')] } : {}),
    });
    // A thread that dies outside a task is replaced by the pool; its tasks reject on their own.
    this.#piscina.on('error', () => this.#watch?.workerReplaced());
  }

  get waiting(): number {
    return this.#queue.size;
  }

  get active(): number {
    return this.#running.size;
  }

  get full(): boolean {
    return this.#queue.size >= this.#queue.limit;
  }

  get draining(): boolean {
    return this.#draining;
  }

  submit(task: T, hardMs: number): Submission<O | PoolEnding> {
    if (this.#draining) return { kind: 'draining', retryAfter: DRAIN_RETRY };
    let settle: (result: O | PoolEnding) => void = () => {};
    const done = new Promise<O | PoolEnding>((resolve) => {
      settle = resolve;
    });
    const entry: Entry<T, O | PoolEnding> = {
      task,
      hardMs,
      queuedAt: performance.now(),
      controller: new AbortController(),
      listeners: [],
      settle,
      state: 'queued',
      stop: null,
    };
    if (this.#running.size < this.workers && this.#queue.size === 0) {
      void this.#start(entry);
    } else if (!this.#queue.push(entry)) {
      return { kind: 'queue-full', retryAfter: this.#retryAfter() };
    }
    return { kind: 'accepted', ticket: this.#ticket(entry, done) };
  }

  /** Takes nothing new; resolves when what was accepted has ended. */
  drain(): Promise<void> {
    this.#draining = true;
    if (this.#running.size === 0 && this.#queue.size === 0) return Promise.resolve();
    return new Promise((resolve) => {
      this.#idle.push(resolve);
    });
  }

  /** Stops every thread; what is still waiting or running ends as cancelled. */
  async destroy(): Promise<void> {
    this.#draining = true;
    for (let entry = this.#queue.shift(); entry !== undefined; entry = this.#queue.shift()) {
      this.#end(entry, { kind: 'cancelled' });
    }
    for (const entry of this.#running) entry.stop ??= 'cancelled';
    await this.#piscina.destroy();
  }

  #retryAfter(): number {
    const rounds = Math.ceil((this.#queue.size + 1) / this.workers);
    return Math.min(RETRY_LONGEST, Math.max(1, Math.ceil(rounds * this.#meanSeconds)));
  }

  #ticket(entry: Entry<T, O | PoolEnding>, done: Promise<O | PoolEnding>): Ticket<O | PoolEnding> {
    return {
      done,
      state: () => entry.state,
      ahead: () => Math.max(0, this.#queue.position(entry)),
      cancel: () => {
        if (this.#queue.remove(entry)) this.#end(entry, { kind: 'cancelled' });
        else this.#abort(entry, 'cancelled');
      },
      onStart: (listener) => {
        if (entry.state === 'queued') entry.listeners.push(listener);
        else listener();
      },
    };
  }

  #abort(entry: Entry<T, O | PoolEnding>, why: 'cancelled' | 'stopped'): void {
    if (entry.state !== 'solving' || entry.stop !== null) return;
    entry.stop = why;
    this.#watch?.workerReplaced();
    entry.controller.abort();
  }

  async #start(entry: Entry<T, O | PoolEnding>): Promise<void> {
    this.#running.add(entry);
    entry.state = 'solving';
    const startedAt = performance.now();
    this.#watch?.started(entry.task, (startedAt - entry.queuedAt) / 1000);
    for (const listener of entry.listeners) listener();
    const watchdog = setTimeout(() => this.#abort(entry, 'stopped'), entry.hardMs);
    const result = await this.#run(entry);
    clearTimeout(watchdog);
    this.#running.delete(entry);
    const took = (performance.now() - startedAt) / 1000;
    if (result.kind !== 'cancelled') this.#meanSeconds += MEAN_SHARE * (took - this.#meanSeconds);
    this.#watch?.ended(entry.task, took, result.kind);
    this.#end(entry, result);
    const next = this.#queue.shift();
    if (next !== undefined) void this.#start(next);
    else if (this.#running.size === 0) for (const resolve of this.#idle.splice(0)) resolve();
  }

  async #run(entry: Entry<T, O | PoolEnding>): Promise<O | PoolEnding> {
    try {
      return await this.#piscina.run(entry.task, { signal: entry.controller.signal });
    } catch (error) {
      if (entry.stop !== null) return { kind: entry.stop };
      return {
        kind: 'crashed',
        reason: error instanceof Error ? (error.stack ?? error.message) : String(error),
      };
    }
  }

  #end(entry: Entry<T, O | PoolEnding>, result: O | PoolEnding): void {
    entry.state = 'ended';
    entry.settle(result);
  }
}
