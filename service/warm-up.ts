import { layoutBudget } from './budget.js';
import type { SolverPool } from './pool/task.js';
import { WARM_UP_ROOMS } from './warm-up-rooms.js';

/**
 * Has every solver thread plan a few rooms, so that requests find compiled code: a cold thread takes three times as
 * long. One room at a time: a request that comes meanwhile waits behind at most one. Resolves when all are done.
 */
export async function warmUp(pool: SolverPool): Promise<void> {
  for (const [k, request] of WARM_UP_ROOMS.entries()) {
    const { softMs, hardMs } = layoutBudget('quick', request.zones, request.lattice.pitch);
    const done = Array.from({ length: pool.workers }, (_, thread) => {
      const id = `warm-up-${k}-${thread}`;
      const submission = pool.submit({ kind: 'layout', id, softMs, request }, hardMs);
      return submission.kind === 'accepted' ? submission.ticket.done : null;
    });
    await Promise.all(done);
  }
}
