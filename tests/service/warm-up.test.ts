import { describe, expect, it } from 'vitest';
import type { SolverPool, WorkTask } from '../../service/pool/task.js';
import { toPlanRequest } from '../../service/translate/plan-request.js';
import { warmUp } from '../../service/warm-up.js';
import { WARM_UP_ROOMS } from '../../service/warm-up-rooms.js';
import { planLayout } from '../../solver/plan.js';

describe('warming up', () => {
  it('has every thread plan every room, one room after the other', async () => {
    const under = new Set<WorkTask>();
    const planned: WorkTask[] = [];
    let most = 0;
    const pool = {
      workers: 2,
      submit: (task: WorkTask) => {
        under.add(task);
        most = Math.max(most, under.size);
        const done = Promise.resolve().then(() => {
          under.delete(task);
          planned.push(task);
        });
        return { kind: 'accepted', ticket: { done } };
      },
    };
    await warmUp(pool as unknown as SolverPool);
    expect(most).toBe(2);
    expect(planned.map((task) => task.kind === 'layout' && task.request)).toEqual(
      WARM_UP_ROOMS.flatMap((room) => [room, room]),
    );
  });

  it('ends at once where nothing is taken any more', async () => {
    const pool = { workers: 2, submit: () => ({ kind: 'draining', retryAfter: 5 }) };
    await expect(warmUp(pool as unknown as SolverPool)).resolves.toBeUndefined();
  });

  it('every room can be planned', () => {
    const outcomes = WARM_UP_ROOMS.map((room) =>
      planLayout(toPlanRequest(room), { engine: null, expired: () => false }),
    );
    expect(outcomes.map(({ kind }) => kind)).toEqual(WARM_UP_ROOMS.map(() => 'planned'));
  });
});
