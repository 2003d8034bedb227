import { describe, expect, it } from 'vitest';
import { Job, JobStore } from '../../../service/jobs/job-store.js';

const ended = (id: string, at: number): Job => {
  const job = new Job(id, null, at);
  job.end({ kind: 'cancelled' }, at);
  return job;
};

describe('JobStore', () => {
  it('forgets a job some time after it ended, and never one under way', () => {
    const store = new JobStore({ entries: 10, keepMs: 1000 });
    store.put(ended('old', 0), 0);
    store.put(new Job('open', null, 0), 0);
    expect(store.get('old', 1000)?.id).toBe('old');
    expect(store.get('old', 1001)).toBeUndefined();
    expect(store.get('open', 1e9)?.id).toBe('open');
  });

  it('makes room by dropping the oldest ended job, and has none when all are under way', () => {
    const store = new JobStore({ entries: 2, keepMs: 1e9 });
    store.put(new Job('a', null, 0), 0);
    store.put(ended('b', 0), 0);
    expect(store.hasRoom(0)).toBe(true);
    store.put(new Job('c', null, 0), 0);
    expect([store.get('a', 0)?.id, store.get('b', 0)?.id, store.get('c', 0)?.id]).toEqual([
      'a',
      undefined,
      'c',
    ]);
    expect(store.hasRoom(0)).toBe(false);
  });

  it('ends a job once', () => {
    const job = ended('a', 5);
    job.end({ kind: 'failed', problem: { slug: 'not-solved', detail: '' } }, 9);
    expect([job.state, job.endedAt, job.cancel(9)]).toEqual(['cancelled', 5, false]);
  });
});
