import { EventEmitter } from 'node:events';
import type { Seat } from '../pool/flights.js';
import { PROBLEMS, type Problem, problemBody } from '../problems.js';
import type { Answer } from '../store/answer-store.js';

export type JobState = 'queued' | 'solving' | 'done' | 'failed' | 'cancelled';

/** How work ended, as far as a client may know. */
export type Ending =
  | { readonly kind: 'done'; readonly answer: Answer }
  | { readonly kind: 'failed'; readonly problem: Problem }
  | { readonly kind: 'cancelled' };

export interface JobLimits {
  readonly entries: number;
  /** How long a job is kept after it has ended. */
  readonly keepMs: number;
}

/** Work that goes on without a connection. Its id is the id of its answer. */
export class Job {
  readonly id: string;
  readonly createdAt: number;
  readonly #seat: Seat | null;
  readonly #changes = new EventEmitter<{ change: [] }>().setMaxListeners(0);
  #ending: Ending | null = null;
  #endedAt: number | null = null;

  constructor(id: string, seat: Seat | null, now: number) {
    this.id = id;
    this.createdAt = now;
    this.#seat = seat;
    seat?.ticket.onStart(() => this.#changes.emit('change'));
  }

  get state(): JobState {
    if (this.#ending !== null) return this.#ending.kind;
    return this.#seat?.ticket.state() === 'queued' ? 'queued' : 'solving';
  }

  get ending(): Ending | null {
    return this.#ending;
  }

  get endedAt(): number | null {
    return this.#endedAt;
  }

  end(ending: Ending, now: number): void {
    if (this.#ending !== null) return;
    this.#ending = ending;
    this.#endedAt = now;
    this.#changes.emit('change');
  }

  /** Gives up the job's hold on its work; false when it has ended already. */
  cancel(now: number): boolean {
    if (this.#ending !== null) return false;
    this.end({ kind: 'cancelled' }, now);
    this.#seat?.leave();
    return true;
  }

  /** Calls `listener` at each change of state; returns how to stop that. */
  onChange(listener: () => void): () => void {
    this.#changes.on('change', listener);
    return () => this.#changes.off('change', listener);
  }

  /** The job as clients see it. */
  view(): Record<string, unknown> {
    const ending = this.#ending;
    return {
      id: this.id,
      state: this.state,
      createdAt: new Date(this.createdAt).toISOString(),
      ...(this.#endedAt === null ? {} : { endedAt: new Date(this.#endedAt).toISOString() }),
      ...(this.state === 'queued' ? { ahead: this.#seat?.ticket.ahead() ?? 0 } : {}),
      ...(ending?.kind === 'done' ? { result: `/v1/jobs/${this.id}/result` } : {}),
      ...(ending?.kind === 'failed'
        ? { problem: problemBody(ending.problem), status: PROBLEMS[ending.problem.slug].status }
        : {}),
    };
  }
}

/** Jobs by id, bounded in number and in time. */
export class JobStore {
  readonly #jobs = new Map<string, Job>();
  readonly #limits: JobLimits;

  constructor(limits: JobLimits) {
    this.#limits = limits;
  }

  get size(): number {
    return this.#jobs.size;
  }

  get(id: string, now: number): Job | undefined {
    this.#expire(now);
    return this.#jobs.get(id);
  }

  /** Whether another job finds a place, ended ones making room. */
  hasRoom(now: number): boolean {
    this.#expire(now);
    if (this.#jobs.size < this.#limits.entries) return true;
    for (const job of this.#jobs.values()) if (job.ending !== null) return true;
    return false;
  }

  /** Keeps a job; the oldest ended one makes room when the store is full. */
  put(job: Job, now: number): void {
    this.#expire(now);
    this.#jobs.delete(job.id);
    if (this.#jobs.size >= this.#limits.entries) {
      for (const other of this.#jobs.values()) {
        if (other.ending === null) continue;
        this.#jobs.delete(other.id);
        break;
      }
    }
    this.#jobs.set(job.id, job);
  }

  #expire(now: number): void {
    for (const job of this.#jobs.values()) {
      if (job.endedAt !== null && now - job.endedAt > this.#limits.keepMs) this.#jobs.delete(job.id);
    }
  }
}
