import { performance } from 'node:perf_hooks';
import type { Logger } from 'pino';
import { layoutBudget } from './budget.js';
import type { Flights } from './pool/flights.js';
import type { SolverPool } from './pool/task.js';
import { type LayoutRequest, layoutRequestSchema } from './schemas/layout-request.js';

export type ReadyState = 'ready' | 'draining' | 'busy' | 'broken';

/** A real layout, as small as can be. */
const PROBE: LayoutRequest = layoutRequestSchema.parse({
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  zones: [
    {
      id: 'probe',
      outline: [
        [0, 0],
        [600, 0],
        [600, 600],
        [0, 600],
      ],
      clearance: 30,
      buffer: {
        outline: [
          [0, 0],
          [600, 0],
          [600, 200],
          [0, 200],
        ],
      },
      entry: [30, 570],
    },
  ],
  catalogue: [{ id: 'probe', length: 3000, power: 30, voltage: 230, tolerance: 0, minBendRadius: 15 }],
  placementSlopPerTurn: 0,
  effort: 'quick',
});

const KEEP_MS = 30_000;

/** Whether this instance can plan: a tiny real solve, repeated at most every half minute. */
export class Readiness {
  readonly #flights: Flights;
  readonly #pool: SolverPool;
  readonly #log: Logger;
  #goodUntil = Number.NEGATIVE_INFINITY;
  #everGood = false;
  #probe: Promise<boolean> | null = null;

  constructor(flights: Flights, pool: SolverPool, log: Logger) {
    this.#flights = flights;
    this.#pool = pool;
    this.#log = log;
  }

  async state(): Promise<ReadyState> {
    if (this.#pool.draining) return 'draining';
    if (this.#pool.full) return 'busy';
    if (performance.now() < this.#goodUntil) return 'ready';
    // Threads at work on requests prove enough; a probe would only stand in their way.
    if (this.#everGood && this.#pool.active >= this.#pool.workers) return 'ready';
    this.#probe ??= this.#run().finally(() => {
      this.#probe = null;
    });
    return (await this.#probe) ? 'ready' : 'broken';
  }

  async #run(): Promise<boolean> {
    const { softMs, hardMs } = layoutBudget('quick', PROBE.zones, PROBE.lattice.pitch);
    const task = { kind: 'layout', id: 'readiness-probe', softMs, request: PROBE } as const;
    const boarding = this.#flights.board(task, hardMs);
    if (boarding.kind !== 'aboard') return this.#everGood;
    const result = await boarding.seat.ticket.done;
    if (result.kind !== 'answer') {
      this.#log.error({ result }, 'readiness probe failed');
      return false;
    }
    this.#everGood = true;
    this.#goodUntil = performance.now() + KEEP_MS;
    return true;
  }
}
