import { performance } from 'node:perf_hooks';
import type { Timings } from './task.js';

type Phase = keyof Timings;

/** Adds up the time spent in each phase; begins in 'prepare'. */
export class PhaseClock {
  readonly #spent: Record<Phase, number> = { prepare: 0, solve: 0, verify: 0 };
  readonly #began = performance.now();
  #phase: Phase = 'prepare';
  #since = this.#began;

  enter(phase: Phase): void {
    const now = performance.now();
    this.#spent[this.#phase] += now - this.#since;
    this.#phase = phase;
    this.#since = now;
  }

  /** Milliseconds since the clock was made. */
  elapsed(): number {
    return performance.now() - this.#began;
  }

  timings(): Timings {
    this.enter(this.#phase);
    const round = (ms: number): number => Math.round(ms * 10) / 10;
    const { prepare, solve, verify } = this.#spent;
    return { prepare: round(prepare), solve: round(solve), verify: round(verify) };
  }
}
