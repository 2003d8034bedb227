import type { Problem } from '../problems.js';
import type { CheckRequest } from '../schemas/check-request.js';
import type { ContinuationRequest } from '../schemas/continuation-request.js';
import type { FitsRequest } from '../schemas/fits-request.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import type { PoolEnding, ThreadPool, Ticket } from './thread-pool.js';

/** Work for a solver thread; plain data. worker.ts has the handler of each kind. */
export type WorkTask =
  | { readonly kind: 'layout'; readonly id: string; readonly softMs: number; readonly request: LayoutRequest }
  | { readonly kind: 'fits'; readonly id: string; readonly softMs: number; readonly request: FitsRequest }
  | { readonly kind: 'check'; readonly id: string; readonly softMs: number; readonly request: CheckRequest }
  | {
      readonly kind: 'continuation';
      readonly id: string;
      readonly softMs: number;
      readonly request: ContinuationRequest;
    };

export type WorkKind = WorkTask['kind'];

/** Milliseconds spent in each phase. */
export interface Timings {
  readonly prepare: number;
  readonly solve: number;
  readonly verify: number;
}

/** What a solver thread hands back. */
export type WorkOutcome =
  | {
      readonly kind: 'answer';
      /** JSON of the response body, without its timings. */
      readonly json: string;
      readonly timings: Timings;
      /** JSON of what papers are drawn from, in every display (Sheets); null where there are none. */
      readonly sheet: string | null;
      /** False when a guard cut the work short: another run may give another answer. */
      readonly repeatable: boolean;
    }
  | { readonly kind: 'problem'; readonly problem: Problem };

/** What became of a task in the pool. */
export type WorkResult = WorkOutcome | PoolEnding;

export type SolverPool = ThreadPool<WorkTask, WorkOutcome>;
export type WorkTicket = Ticket<WorkResult>;
