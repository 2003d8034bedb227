import { layoutBudget } from './budget.js';
import type { SolverPool } from './pool/task.js';
import { type LayoutRequest, layoutRequestSchema } from './schemas/layout-request.js';

/** An ordinary bathroom with something in the way, so that all stages of the search are run through. Invented. */
const ROOM: LayoutRequest = layoutRequestSchema.parse({
  lattice: { pitch: 30 },
  spacing: { min: 2, target: 3, max: 3 },
  zones: [
    {
      id: 'warm-up',
      outline: [
        [0, 0],
        [1900, 0],
        [1900, 1500],
        [0, 1500],
      ],
      exclusions: [
        {
          id: 'basin',
          outline: [
            [0, 1000],
            [600, 1000],
            [600, 1500],
            [0, 1500],
          ],
        },
        { id: 'wc', center: [1500, 1150], radius: 150, clearance: 40 },
      ],
      entry: [60, 60],
    },
  ],
  catalogue: [18, 21, 24, 27].map((metres) => ({
    id: `warm-${metres}`,
    length: metres * 1000,
    power: metres * 12,
    voltage: 230,
    minBendRadius: 15,
  })),
  effort: 'quick',
});

/**
 * Has every solver thread plan one room, so that the first requests find compiled code: a cold thread takes half as
 * long again. Resolves when all have; requests that come meanwhile wait behind.
 */
export async function warmUp(pool: SolverPool): Promise<void> {
  const { softMs, hardMs } = layoutBudget('quick', ROOM.zones, ROOM.lattice.pitch);
  const done = Array.from({ length: pool.workers }, (_, k) => {
    const submission = pool.submit({ kind: 'layout', id: `warm-up-${k}`, softMs, request: ROOM }, hardMs);
    return submission.kind === 'accepted' ? submission.ticket.done : null;
  });
  await Promise.all(done);
}
