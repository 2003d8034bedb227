import type { MipEngine } from '../../solver/engines/port.js';

/** What a task may use of its thread. */
export interface WorkContext {
  /** True once the task's time is over. */
  readonly expired: () => boolean;
  /**
   * Runs `work` with the thread's engine. When it throws, the engine is thrown away (its memory may be damaged) and
   * `work` runs once more without one; what that throws is passed on.
   */
  readonly withEngine: <T>(work: (engine: MipEngine | null) => T) => Promise<T>;
}
