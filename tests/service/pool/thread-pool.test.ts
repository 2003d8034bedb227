import { afterEach, describe, expect, it } from 'vitest';
import type { SolverPool, WorkOutcome, WorkTask, WorkTicket } from '../../../service/pool/task.js';
import { ThreadPool } from '../../../service/pool/thread-pool.js';
import { layoutRequestSchema } from '../../../service/schemas/layout-request.js';
import { fakeRequest } from '../../helpers/requests.js';
import { fakeWorker, until } from '../../helpers/service.js';

const task = (what: string): WorkTask => ({
  kind: 'layout',
  id: what,
  softMs: 60_000,
  request: layoutRequestSchema.parse(fakeRequest(what)),
});

let pool: SolverPool | null = null;
const open = (queueLimit = 8, workers = 1): SolverPool => {
  pool = new ThreadPool<WorkTask, WorkOutcome>({ workers, queueLimit, worker: fakeWorker });
  return pool;
};

const accepted = (from: SolverPool, what: string, hardMs = 60_000): WorkTicket => {
  const submission = from.submit(task(what), hardMs);
  if (submission.kind !== 'accepted') throw new Error(submission.kind);
  return submission.ticket;
};

afterEach(async () => {
  await pool?.destroy();
  pool = null;
});

describe('ThreadPool', () => {
  it('keeps the order of the queue when running tasks are cancelled, time after time', async () => {
    const own = open();
    const order: string[] = [];
    const note = (name: string, ticket: WorkTicket): Promise<void> =>
      ticket.done.then(() => void order.push(name));
    for (let round = 0; round < 4; round += 1) {
      const hanging = accepted(own, `hang ${round}`);
      const waits = ['a', 'b', 'c'].map((name) => note(name, accepted(own, `${name}${round}`)));
      await until(() => hanging.state() === 'solving');
      hanging.cancel();
      expect(await hanging.done).toEqual({ kind: 'cancelled' });
      await Promise.all(waits);
      expect(order.splice(0)).toEqual(['a', 'b', 'c']);
    }
  });

  it('stops a task that goes past its guard, and goes on with the next', async () => {
    const own = open();
    const hanging = accepted(own, 'hang', 300);
    const next = accepted(own, 'answer');
    expect(await hanging.done).toEqual({ kind: 'stopped' });
    expect(await next.done).toMatchObject({ kind: 'answer' });
  });

  it('counts the guard from the start of the solve, not from its place in the queue', async () => {
    const own = open();
    accepted(own, 'pause700');
    const waiting = accepted(own, 'pause10', 400);
    expect(await waiting.done).toMatchObject({ kind: 'answer' });
  });

  it('survives a task that throws and a thread that ends', async () => {
    const own = open();
    expect(await accepted(own, 'throw').done).toMatchObject({ kind: 'crashed' });
    expect(await accepted(own, 'exit').done).toMatchObject({ kind: 'crashed' });
    expect(await accepted(own, 'answer').done).toMatchObject({ kind: 'answer' });
  });

  it('refuses what does not fit in the queue and says when to come back', async () => {
    const own = open(1);
    const first = accepted(own, 'hang');
    const second = accepted(own, 'answer');
    const third = own.submit(task('more'), 1000);
    expect(third).toMatchObject({ kind: 'queue-full' });
    if (third.kind === 'queue-full') expect(third.retryAfter).toBeGreaterThanOrEqual(1);
    second.cancel();
    expect(await second.done).toEqual({ kind: 'cancelled' });
    expect(own.submit(task('again'), 1000).kind).toBe('accepted');
    first.cancel();
  });

  it('drains: takes nothing new, lets everything accepted end', async () => {
    const own = open();
    const running = accepted(own, 'pause300');
    const waiting = accepted(own, 'answer');
    const drained = own.drain();
    expect(own.submit(task('late'), 1000)).toMatchObject({ kind: 'draining' });
    await drained;
    expect([running.state(), waiting.state()]).toEqual(['ended', 'ended']);
    expect(await waiting.done).toMatchObject({ kind: 'answer' });
  });

  it('ends everything as cancelled when destroyed', async () => {
    const own = open();
    const running = accepted(own, 'hang');
    const waiting = accepted(own, 'answer');
    await own.destroy();
    expect(await running.done).toEqual({ kind: 'cancelled' });
    expect(await waiting.done).toEqual({ kind: 'cancelled' });
  });
});
