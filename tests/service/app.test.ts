import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SIZES } from '../../service/limits.js';
import { PROBLEMS } from '../../service/problems.js';
import { fakeRequest } from '../helpers/requests.js';
import { fakeWorker, type RunningService, startService, until } from '../helpers/service.js';

let service: RunningService;

beforeAll(async () => {
  service = await startService({ QUEUE_LIMIT: 2 }, fakeWorker);
});

afterAll(async () => {
  await service.close();
});

const problemOf = async (response: Response): Promise<Record<string, unknown>> => {
  expect(response.headers.get('content-type')).toMatch(/^application\/problem\+json/);
  const body = (await response.json()) as Record<string, unknown>;
  // RFC 9457, 3.1: status repeats the HTTP status; type, title and detail are strings.
  expect(body.status).toBe(response.status);
  expect(typeof body.title).toBe('string');
  expect(typeof body.detail).toBe('string');
  return body;
};

const raw = (text: string): Promise<string> =>
  new Promise((resolve, reject) => {
    const socket = connect(service.port, '127.0.0.1', () => socket.write(text));
    let answer = '';
    socket.on('data', (chunk) => {
      answer += chunk.toString();
    });
    socket.on('close', () => resolve(answer));
    socket.on('error', reject);
  });

describe('bodies that cannot be read', () => {
  it.each([
    ['{"lattice":', 'malformed-json', 400],
    ['', 'malformed-json', 400],
    ['[1,2', 'malformed-json', 400],
    ['{"a":NaN}', 'malformed-json', 400],
    ['null', 'invalid-request', 422],
    ['[]', 'invalid-request', 422],
    ['"text"', 'invalid-request', 422],
  ])('%j gives %s', async (body, slug, status) => {
    const response = await service.post('/v1/layouts', body);
    expect(response.status).toBe(status);
    expect((await problemOf(response)).type).toBe(`/problems/${slug}`);
  });

  it('answers 400 to bytes that are not UTF-8', async () => {
    const response = await fetch(`${service.url}/v1/layouts`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: new Uint8Array([0x7b, 0x22, 0xff, 0x22, 0x7d]),
    });
    expect(response.status).toBe(400);
    expect((await problemOf(response)).type).toBe('/problems/malformed-json');
  });

  it.each([
    [{ 'content-type': 'text/plain' }],
    [{ 'content-type': 'application/xml' }],
    [{ 'content-type': 'application/json; charset=utf-16' }],
    [{ 'content-encoding': 'gzip' }],
    [{ 'content-encoding': 'nonsense' }],
  ])('answers 415 to %j', async (headers) => {
    const response = await service.post('/v1/layouts', fakeRequest('answer'), headers);
    expect(response.status).toBe(415);
    expect((await problemOf(response)).type).toBe('/problems/unsupported-media-type');
  });

  it('answers 413 to a body above the limit and names the limit', async () => {
    const response = await service.post('/v1/layouts', `"${'x'.repeat(SIZES.bodyBytes)}"`);
    expect(response.status).toBe(413);
    const body = await problemOf(response);
    expect(body.detail).toContain(String(SIZES.bodyBytes));
  });

  it('answers 413 and closes when a client announces much and keeps the connection open', async () => {
    const chunk = `100000\r\n${'x'.repeat(0x100000)}\r\n`;
    const answer = await raw(
      `POST /v1/layouts HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n${chunk}${chunk}`,
    );
    expect(answer).toMatch(/^HTTP\/1.1 413 /);
    expect(answer.toLowerCase()).toContain('connection: close');
  });
});

describe('addresses and methods', () => {
  it('answers 404 to an unknown address', async () => {
    const response = await fetch(`${service.url}/v1/nothing`);
    expect(response.status).toBe(404);
    expect((await problemOf(response)).type).toBe('/problems/not-found');
  });

  it.each([
    ['/v1/layouts', 'GET', 'POST'],
    ['/v1/checks', 'PUT', 'POST'],
    ['/v1/layouts/x', 'DELETE', 'GET, HEAD'],
    ['/livez', 'POST', 'GET, HEAD'],
  ])('%s answers 405 to %s', async (path, method, allow) => {
    const response = await fetch(service.url + path, { method });
    expect(response.status).toBe(405);
    expect(response.headers.get('allow')).toBe(allow);
    expect((await problemOf(response)).type).toBe('/problems/method-not-allowed');
  });

  it('answers 4xx to an address that cannot be decoded', async () => {
    const answer = await raw('GET /v1/layouts/%ff HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n');
    expect(answer).toMatch(/^HTTP\/1.1 400 /);
    expect(answer).toContain('/problems/bad-request');
  });

  it('explains every problem type at its own address', async () => {
    for (const [slug, kind] of Object.entries(PROBLEMS)) {
      const response = await fetch(`${service.url}/problems/${slug}`);
      expect(response.status).toBe(200);
      expect(await response.json()).toMatchObject({ status: kind.status, explanation: kind.explanation });
    }
    expect((await fetch(`${service.url}/problems/constructor`)).status).toBe(404);
  });

  it('keeps a clean request id and replaces another', async () => {
    const kept = await fetch(`${service.url}/livez`, { headers: { 'x-request-id': 'job-7' } });
    expect(kept.headers.get('x-request-id')).toBe('job-7');
    const replaced = await fetch(`${service.url}/livez`, { headers: { 'x-request-id': 'a b<c>' } });
    expect(replaced.headers.get('x-request-id')).toMatch(/^[\w-]{36}$/);
  });
});

describe('answers', () => {
  it('gives the same bytes for the same request whatever the order of its fields', async () => {
    const request = fakeRequest('answer');
    const first = await service.post('/v1/layouts', request);
    const turned = Object.fromEntries(Object.entries(request).reverse());
    const second = await service.post('/v1/layouts', turned);
    expect(first.status).toBe(200);
    expect(await second.text()).toBe(await first.text());
  });

  it('gives another id when a default is not the value sent', async () => {
    const id = async (more: object): Promise<unknown> => {
      const response = await service.post('/v1/layouts', { ...fakeRequest('answer'), ...more });
      return ((await response.json()) as { id: string }).id;
    };
    const plain = await id({});
    expect(await id({ placementSlopPerTurn: 2 })).toBe(plain);
    expect(await id({ placementSlopPerTurn: 3 })).not.toBe(plain);
  });

  it('answers 304 to the tag it gave, at the address it named', async () => {
    const made = await service.post('/v1/layouts', fakeRequest('answer 304'));
    const etag = made.headers.get('etag') ?? '';
    const at = service.url + (made.headers.get('content-location') ?? '');
    expect(etag).toMatch(/^W\/"/);
    const again = await fetch(at);
    expect(again.status).toBe(200);
    expect(await again.text()).toBe(await made.text());
    expect((await fetch(at, { headers: { 'if-none-match': etag } })).status).toBe(304);
    expect((await fetch(at, { headers: { 'if-none-match': `"other", ${etag}` } })).status).toBe(304);
    expect((await fetch(at, { headers: { 'if-none-match': '"other"' } })).status).toBe(200);
  });

  it('answers 404 for a layout it does not have', async () => {
    const response = await fetch(`${service.url}/v1/layouts/none`);
    expect(response.status).toBe(404);
    expect((await problemOf(response)).type).toBe('/problems/unknown-layout');
  });

  it('turns a thread that throws or ends into a problem, never a 5xx', async () => {
    for (const what of ['throw', 'exit']) {
      const response = await service.post('/v1/layouts', fakeRequest(what));
      expect(response.status).toBe(422);
      expect((await problemOf(response)).type).toBe('/problems/not-solved');
    }
  });

  it('passes on why a layout is impossible', async () => {
    const response = await service.post('/v1/layouts', fakeRequest('impossible'));
    expect(response.status).toBe(422);
    expect((await problemOf(response)).type).toBe('/problems/impossible-layout');
  });
});

describe('load', () => {
  it('answers 429 with Retry-After when the queue is full, and recovers', async () => {
    const control = new AbortController();
    const send = (zone: string): Promise<Response> =>
      fetch(`${service.url}/v1/layouts`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify(fakeRequest(zone)),
        signal: control.signal,
      });
    const held = ['hang full 1', 'hang full 2', 'hang full 3'].map((zone) => send(zone).catch(() => null));
    await until(() => service.deps.pool.full);
    const refused = await service.post('/v1/layouts', fakeRequest('one more'));
    expect(refused.status).toBe(429);
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThanOrEqual(1);
    expect((await problemOf(refused)).type).toBe('/problems/queue-full');
    control.abort();
    await Promise.all(held);
    await until(() => service.deps.pool.active === 0 && service.deps.pool.waiting === 0);
    expect((await service.post('/v1/layouts', fakeRequest('one more'))).status).toBe(200);
  });

  it('stops the solve when the client leaves, but not while another waits for the same one', async () => {
    const controls = [new AbortController(), new AbortController()];
    const body = JSON.stringify(fakeRequest('hang shared'));
    const held = controls.map(({ signal }) =>
      fetch(`${service.url}/v1/layouts`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body,
        signal,
      }).catch(() => null),
    );
    await until(() => service.deps.pool.active === 1);
    expect(service.deps.pool.waiting).toBe(0);
    controls[0]?.abort();
    await held[0];
    await new Promise((resolve) => setTimeout(resolve, 100));
    expect(service.deps.pool.active).toBe(1);
    controls[1]?.abort();
    await Promise.all(held);
    await until(() => service.deps.pool.active === 0);
  });

  it('counts what it does', async () => {
    const text = await (await fetch(`${service.url}/metrics`)).text();
    for (const name of [
      'oxturn_queue_depth 0',
      'oxturn_wait_seconds_count',
      'oxturn_solve_seconds_count{kind="layout",result="answer"}',
      'oxturn_solve_seconds_count{kind="layout",result="cancelled"}',
      'oxturn_responses_total{status="429"}',
      'nodejs_eventloop_lag_seconds',
    ]) {
      expect(text).toContain(name);
    }
    expect(Number(/oxturn_worker_restarts_total (\d+)/.exec(text)?.[1])).toBeGreaterThan(0);
  });
});
