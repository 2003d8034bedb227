import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkResponseSchema } from '../../../service/schemas/check-response.js';
import {
  type ContinuationResponse,
  continuationResponseSchema,
} from '../../../service/schemas/continuation-response.js';
import { type LayoutResponse, layoutResponseSchema } from '../../../service/schemas/layout-response.js';
import { prefixOf } from '../../helpers/laid-parts.js';
import { showerRequest } from '../../helpers/requests.js';
import { settingOf } from '../../helpers/routing-rooms.js';
import { fakeWorker, type RunningService, startService } from '../../helpers/service.js';
import { statedObjective } from '../../helpers/stated-objective.js';

let service: RunningService;
let layout: LayoutResponse['zones'][number];

const shower = showerRequest();

beforeAll(async () => {
  service = await startService();
  const response = await service.post('/v1/layouts', shower);
  const [zone] = layoutResponseSchema.parse(await response.json()).zones;
  if (zone === undefined) throw new Error('the shower has a layout');
  layout = zone;
});

afterAll(async () => {
  await service.close();
});

const body = (share: number) => ({
  lattice: shower.lattice,
  spacing: shower.spacing,
  zone: shower.zones[0],
  cable: layout.cable as unknown,
  catalogue: shower.catalogue,
  laid: { path: prefixOf(layout.path, 30, share) } as Record<string, unknown>,
  effort: 'quick',
});

const answerOf = async (request: unknown): Promise<ContinuationResponse> => {
  const response = await service.post('/v1/continuations', request);
  const text = await response.text();
  expect(response.status, text).toBe(200);
  return continuationResponseSchema.parse(JSON.parse(text));
};

interface Refusal {
  readonly type: string;
  readonly detail: string;
  readonly errors?: readonly { readonly pointer: string; readonly detail: string }[];
  readonly reason?: string;
  readonly by?: number | null;
  readonly left?: number;
  readonly rules?: readonly { readonly rule: string }[];
}

const refusalOf = async (request: unknown): Promise<Refusal> => {
  const response = await service.post('/v1/continuations', request);
  expect(response.status).toBe(422);
  return (await response.json()) as Refusal;
};

describe('POST /v1/continuations', () => {
  it('goes on from the middle; /v1/checks agrees with the whole', async () => {
    const request = body(0.5);
    const answer = await answerOf(request);
    expect(answer.path.slice(0, answer.laid.vertices)).toEqual(request.laid.path);
    expect(answer.laid).toMatchObject({ drift: 0, driftExplained: true });
    expect(answer.left).toBeCloseTo(answer.length.cable - answer.laid.used, 3);
    expect(answer.runs.at(-1)?.to).toEqual(answer.path.at(-1));
    expect(answer.runs.at(-1)?.cumulative).toBeCloseTo(answer.length.cable, 0);
    const check = await service.post('/v1/checks', {
      lattice: request.lattice,
      spacing: request.spacing,
      zone: request.zone,
      cable: shower.catalogue.find(({ id }) => id === answer.cable),
      path: answer.path,
      reserve: answer.reserve,
    });
    const report = checkResponseSchema.parse(await check.json());
    expect(report.ok).toBe(true);
    expect(report.coverage.fraction).toBe(answer.coverage.fraction);
    expect(report.end).toEqual(answer.end);
  });

  it('takes the cable itself as well as its id, and gives the same answer', async () => {
    const request = body(0.5);
    const cable = shower.catalogue.find(({ id }) => id === layout.cable);
    const { id: _one, timings: _t, ...byId } = await answerOf(request);
    const { id: _two, timings: _u, ...whole } = await answerOf({ ...request, cable, catalogue: [] });
    expect(whole).toEqual(byId);
  });

  it('is no worse than going on as planned, when it is told what was planned', async () => {
    const planned = { path: layout.path, reserve: layout.reserve };
    const cost = ({ coverage, length, path }: Pick<ContinuationResponse, 'coverage' | 'length' | 'path'>) =>
      statedObjective(coverage, length.turns, path, settingOf({ spacing: shower.spacing }), 1000);
    for (const share of [0.1, 0.35, 0.6, 0.8, 0.9, 0.97])
      expect(cost(await answerOf({ ...body(share), planned }))).toBeLessThanOrEqual(cost(layout) + 1);
  });

  it('weighs what was planned with the cable that a reading says is left', async () => {
    const planned = { path: layout.path, reserve: layout.reserve };
    const request = body(0.9);
    const { laid } = await answerOf(request);
    const reading = { mark: (laid.drawn + 15) / 1000, start: 0, direction: 'up' };
    const answer = await answerOf({ ...request, planned, laid: { ...request.laid, reading } });
    expect(answer.rules.every(({ ok }) => ok)).toBe(true);
    expect(answer.laid.drift).toBeCloseTo(15, 3);
  });

  it('makes nothing of a plan that the laid part has left', async () => {
    const planned = {
      path: [
        [60, 840],
        [60, 810],
      ],
    };
    const { id: _one, timings: _t, ...without } = await answerOf(body(0.5));
    const { id: _two, timings: _u, ...answer } = await answerOf({ ...body(0.5), planned });
    expect(answer).toEqual(without);
  });

  it('refuses a plan that is not drawn on the lattice', async () => {
    const { type, errors } = await refusalOf({
      ...body(0.5),
      planned: {
        path: [
          [60, 840],
          [75, 810],
          [90, 700],
        ],
      },
    });
    expect(type).toBe('/problems/invalid-request');
    expect(errors?.map(({ pointer }) => pointer)).toEqual(['/planned']);
  });

  it('a mark that was read shifts the way on by its drift', async () => {
    const request = body(0.4);
    const { laid } = await answerOf(request);
    const drift = 60;
    const reading = { mark: 20 - (laid.drawn + drift) / 1000, start: 20, direction: 'down' };
    const answer = await answerOf({ ...request, laid: { ...request.laid, reading } });
    expect(answer.laid.used).toBeCloseTo(laid.drawn + drift, 3);
    expect(answer.laid.drift).toBeCloseTo(drift, 3);
    expect(answer.laid.driftExplained).toBe(drift <= answer.laid.driftAllowed);
    expect(answer.length.path).toBeCloseTo(answer.length.cable, 0);
    expect(answer.length.sharp - answer.length.cornerSaving).toBeCloseTo(answer.length.cable - drift, 0);
    const turnsLaid = (request.laid.path as unknown[]).length - 2;
    expect(answer.end.tolerance).toBeCloseTo(0.01 * answer.left + 2 * (answer.length.turns - turnsLaid), 2);
    // Runs that end before the node reached count by the drawing, later ones by the reading.
    expect(answer.runs[0]?.cumulative).toBe(answer.runs[0]?.length);
    expect(answer.runs.at(-1)?.cumulative).toBeCloseTo(answer.length.cable, 0);
  });

  it('says what the laid part breaks, and where', async () => {
    const request = body(0.5);
    const problem = await refusalOf({
      ...request,
      laid: {
        path: [
          [60, 840],
          [840, 840],
          [840, 810],
          [60, 810],
        ],
      },
    });
    expect(problem.type).toBe('/problems/illegal-laid-part');
    expect(problem.rules?.map(({ rule }) => rule)).toContain('spacing');
    expect(problem.errors?.every(({ pointer }) => pointer === '/laid/path')).toBe(true);
  });

  it('says by how much the cable left is too long', async () => {
    const long = { ...shower.catalogue[0], id: 'long', length: 60_000 };
    const problem = await refusalOf({ ...body(0.5), cable: long });
    expect(problem).toMatchObject({ type: '/problems/impossible-continuation', reason: 'too-long' });
    expect(problem.by).toBeGreaterThan(0);
    expect(problem.left).toBeGreaterThan(50_000);
  });

  it.each<[string, (request: ReturnType<typeof body>) => unknown]>([
    ['/lattice/origin', (request) => ({ ...request, lattice: { pitch: 30 } })],
    ['/cable', (request) => ({ ...request, cable: 'none' })],
    ['/laid/path', (request) => ({ ...request, laid: {} })],
    [
      '/laid/reading/mark',
      (request) => ({
        ...request,
        laid: { ...request.laid, reading: { mark: 12, start: 10, direction: 'down' } },
      }),
    ],
    ['/spacing/min', (request) => ({ ...request, spacing: { min: 4, target: 3, max: 3 } })],
  ])('%s: a field that is wrong is pointed at', async (pointer, change) => {
    const problem = await refusalOf(change(body(0.5)));
    expect(problem.type).toBe('/problems/invalid-request');
    expect(problem.errors?.map((fault) => fault.pointer)).toContain(pointer);
  });

  it('answers whatever is sent for the laid part without a 5xx', async () => {
    const coordinate = fc.oneof(
      fc.integer({ min: -1, max: 31 }).map((k) => k * 30),
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
    );
    const path = fc.array(fc.tuple(coordinate, coordinate), { minLength: 1, maxLength: 12 });
    const reading = fc.record({
      mark: fc.double({ min: -2e5, max: 2e5, noNaN: true }),
      start: fc.double({ min: -100, max: 100, noNaN: true }),
      direction: fc.constantFrom('up', 'down', 'across'),
    });
    const laid = fc.record({ path, reading }, { requiredKeys: ['path'] });
    await fc.assert(
      fc.asyncProperty(laid, async (part) => {
        const response = await service.post('/v1/continuations', { ...body(0.5), laid: part });
        const text = await response.text();
        expect(response.status, text).toBeLessThan(500);
        expect(text).not.toContain('/problems/not-solved');
      }),
      { seed: 3, numRuns: 60 },
    );
  });

  it('is a job when the client prefers so', async () => {
    const quick = await startService({}, fakeWorker);
    try {
      const response = await quick.post('/v1/continuations', body(0.5), { prefer: 'respond-async' });
      expect(response.status).toBe(202);
      expect(response.headers.get('location')).toMatch(/^\/v1\/jobs\//);
    } finally {
      await quick.close();
    }
  });
});
