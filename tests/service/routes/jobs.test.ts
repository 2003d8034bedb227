import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fakeRequest } from '../../helpers/requests.js';
import { fakeWorker, type RunningService, startService, until } from '../../helpers/service.js';

let service: RunningService;

beforeAll(async () => {
  service = await startService({ QUEUE_LIMIT: 3 }, fakeWorker);
});

afterAll(async () => {
  await service.close();
});

interface JobView {
  readonly id: string;
  readonly state: string;
  readonly result?: string;
  readonly status?: number;
  readonly problem?: { readonly type: string };
}

const begin = (zone: string, prefer = 'respond-async'): Promise<Response> =>
  service.post('/v1/layouts', fakeRequest(zone), { prefer });

const view = async (path: string): Promise<JobView> =>
  (await (await fetch(service.url + path)).json()) as JobView;

const ended = async (path: string): Promise<JobView> => {
  for (;;) {
    const job = await view(path);
    if (!['queued', 'solving'].includes(job.state)) return job;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
};

describe('jobs', () => {
  it('accepts work with 202 and gives the same bytes as the plain request', async () => {
    const response = await begin('pause200 a');
    expect(response.status).toBe(202);
    expect(response.headers.get('preference-applied')).toBe('respond-async');
    const at = response.headers.get('location') ?? '';
    const job = await ended(at);
    expect(job.state).toBe('done');
    const result = await fetch(service.url + (job.result ?? ''));
    const plain = await service.post('/v1/layouts', fakeRequest('pause200 a'));
    expect(await result.text()).toBe(await plain.text());
  });

  it('answers at once when the work ends within the wait', async () => {
    const response = await begin('pause50 b', 'respond-async, wait=20');
    expect(response.status).toBe(200);
    expect(response.headers.get('preference-applied')).toBe('respond-async, wait=20');
  });

  it('gives the same job for the same request', async () => {
    const [first, second] = await Promise.all([begin('pause300 c'), begin('pause300 c')]);
    expect(first.headers.get('location')).toBe(second.headers.get('location'));
    expect(service.deps.pool.active + service.deps.pool.waiting).toBe(1);
    await ended(first.headers.get('location') ?? '');
  });

  it('keeps the problem a job ended with', async () => {
    const response = await begin('impossible d');
    const at = response.headers.get('location') ?? '';
    const job = await ended(at);
    expect(job).toMatchObject({
      state: 'failed',
      status: 422,
      problem: { type: '/problems/impossible-layout' },
    });
    const result = await fetch(`${service.url}${at}/result`);
    expect(result.status).toBe(422);
  });

  it('is cancelled by DELETE, running or waiting, and not twice', async () => {
    const running = (await begin('hang e')).headers.get('location') ?? '';
    const waiting = (await begin('hang f')).headers.get('location') ?? '';
    expect((await view(running)).state).toBe('solving');
    expect(await view(waiting)).toMatchObject({ state: 'queued', ahead: 0 });
    for (const at of [waiting, running]) {
      const response = await fetch(service.url + at, { method: 'DELETE' });
      expect(response.status).toBe(200);
      expect(((await response.json()) as JobView).state).toBe('cancelled');
      const again = await fetch(service.url + at, { method: 'DELETE' });
      expect(again.status).toBe(409);
      expect((await fetch(`${service.url}${at}/result`)).status).toBe(404);
    }
    await until(() => service.deps.pool.active === 0);
  });

  it('goes on when the client that began it leaves', async () => {
    const control = new AbortController();
    const sent = fetch(`${service.url}/v1/layouts`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', prefer: 'respond-async, wait=30' },
      body: JSON.stringify(fakeRequest('pause400 g')),
      signal: control.signal,
    }).catch(() => null);
    await until(() => service.deps.pool.active === 1);
    control.abort();
    await sent;
    const response = await begin('pause400 g');
    const at = response.headers.get('location');
    if (at !== null) expect((await ended(at)).state).toBe('done');
    else expect(response.status).toBe(200);
  });

  it('tells each change of state as an event and then ends the stream', async () => {
    const blocker = (await begin('hang h')).headers.get('location') ?? '';
    const at = (await begin('pause50 i')).headers.get('location') ?? '';
    const stream = await fetch(`${service.url}${at}/events`);
    expect(stream.headers.get('content-type')).toMatch(/^text\/event-stream/);
    expect(stream.headers.get('x-accel-buffering')).toBe('no');
    await fetch(service.url + blocker, { method: 'DELETE' });
    const text = await stream.text();
    const states = [...text.matchAll(/^event: state\ndata: (.*)$/gm)].map(
      ([, data]) => (JSON.parse(data ?? '{}') as JobView).state,
    );
    expect(states).toEqual(['queued', 'solving', 'done']);
  });

  it('answers 404 for a job it does not have', async () => {
    for (const path of ['/v1/jobs/none', '/v1/jobs/none/result', '/v1/jobs/none/events']) {
      expect((await fetch(service.url + path)).status).toBe(404);
    }
  });
});
