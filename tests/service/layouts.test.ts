import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CheckResponse } from '../../service/schemas/check-response.js';
import { checkResponseSchema } from '../../service/schemas/check-response.js';
import { type LayoutResponse, layoutResponseSchema } from '../../service/schemas/layout-response.js';
import { LAYOUT_EXAMPLE } from '../../service/spec/examples.js';
import { type ShowerRequest, showerRequest } from '../helpers/requests.js';
import { type RunningService, startService } from '../helpers/service.js';

let service: RunningService;

beforeAll(async () => {
  service = await startService({ WORKERS: 2 });
});

afterAll(async () => {
  await service.close();
});

const layoutOf = async (request: unknown): Promise<LayoutResponse> => {
  const response = await service.post('/v1/layouts', request);
  const text = await response.text();
  expect(response.status, text).toBe(200);
  return layoutResponseSchema.parse(JSON.parse(text));
};

const impossible = async (request: unknown) => {
  const response = await service.post('/v1/layouts', request);
  expect(response.status).toBe(422);
  return (await response.json()) as {
    type: string;
    errors: { pointer: string; detail: string }[];
    cables: { zone: string; cable: string; fits: boolean; reason: string; by: number | null }[];
  };
};

const checkOf = async (body: unknown): Promise<CheckResponse> => {
  const response = await service.post('/v1/checks', body);
  const text = await response.text();
  expect(response.status, text).toBe(200);
  return checkResponseSchema.parse(JSON.parse(text));
};

const checkRequest = (request: ShowerRequest, layout: LayoutResponse) => {
  const laid = layout.zones[0];
  return {
    lattice: layout.lattice,
    spacing: request.spacing,
    zone: request.zones[0],
    cable: request.catalogue.find(({ id }) => id === laid?.cable),
    path: laid?.path ?? [],
    reserve: laid?.reserve ?? [],
  };
};

describe('POST /v1/layouts', () => {
  it('lays the shower: every rule holds and the length meets the cable', async () => {
    const request = showerRequest();
    const layout = await layoutOf(request);
    const [zone] = layout.zones;
    if (zone === undefined) throw new Error('no zone');
    expect(zone.rules.map(({ ok }) => ok)).toEqual(zone.rules.map(() => true));
    // The contract: sharp length less (2 - pi/2) r for each turn, r = pitch / 2, plus lead-in, within 1 mm.
    const sharp = zone.path.slice(1).reduce((sum, [x, y], k) => {
      const [px, py] = zone.path[k] ?? [x, y];
      return sum + Math.abs(x - px) + Math.abs(y - py);
    }, 0);
    const turns = zone.path.length - 2;
    expect(zone.length.turns).toBe(turns);
    expect(Math.abs(sharp - turns * (2 - Math.PI / 2) * 15 - zone.length.cable)).toBeLessThan(1);
    expect(zone.coverage.fraction).toBeLessThanOrEqual(zone.coverage.upperBound);
    expect(zone.runs.at(-1)?.to).toEqual(zone.path.at(-1));
    expect(zone.path[0]).toEqual([60, 840]);
  });

  it('gives a verdict on every catalogue entry', async () => {
    const request = showerRequest();
    const layout = await layoutOf(request);
    expect(layout.alternatives.map(({ cable }) => cable).sort()).toEqual(['S5', 'S7']);
    expect(layout.alternatives.filter(({ chosen }) => chosen).map(({ cable }) => cable)).toEqual([
      layout.zones[0]?.cable,
    ]);
    for (const { fits, reason } of layout.alternatives) expect(fits).toBe(reason === null);
  });

  it('gives the same bytes again from another instance, apart from timings', async () => {
    const other = await startService();
    try {
      const bytes = async (from: RunningService): Promise<string> => {
        const response = await from.post('/v1/layouts', { ...showerRequest(), turnWeight: 501 });
        expect(response.status).toBe(200);
        const text = await response.text();
        return text.slice(0, text.lastIndexOf(',"timings"'));
      };
      expect(await bytes(other)).toBe(await bytes(service));
    } finally {
      await other.close();
    }
  });

  it('lays the example of the document', async () => {
    const layout = await layoutOf(LAYOUT_EXAMPLE);
    expect(layout.zones[0]?.coverage.fraction).toBeGreaterThan(0.9);
  });

  it('chooses an origin when none is given and returns it', async () => {
    const layout = await layoutOf({ ...showerRequest(), lattice: { pitch: 30 } });
    expect(layout.lattice.pitch).toBe(30);
    expect(layout.zones[0]?.rules.every(({ ok }) => ok)).toBe(true);
  });

  it('lays two zones in one request', async () => {
    const request = showerRequest();
    const [zone] = request.zones;
    const layout = await layoutOf({ ...request, zones: [zone, { ...zone, id: 'second' }] });
    expect(layout.zones.map(({ id }) => id)).toEqual(['shower', 'second']);
    expect(layout.zones[1]?.path).toEqual(layout.zones[0]?.path);
  });

  it('considers only the cable that a zone insists on', async () => {
    const request = showerRequest();
    const [zone] = request.zones;
    const stiff = { id: 'stiff', length: 7000, power: 84, voltage: 230, minBendRadius: 80 };
    const problem = await impossible({
      ...request,
      zones: [{ ...zone, cable: 'stiff' }],
      catalogue: [...request.catalogue, stiff],
    });
    expect(problem.cables).toMatchObject([{ cable: 'stiff', reason: 'bend-radius' }]);
  });

  it('says of each cable why it cannot be laid', async () => {
    const request = showerRequest();
    const problem = await impossible({
      ...request,
      catalogue: [
        { id: 'long', length: 90_000, power: 900, voltage: 230, minBendRadius: 15 },
        { id: 'stiff', length: 5000, power: 60, voltage: 230, minBendRadius: 80 },
      ],
    });
    expect(problem.type).toBe('/problems/impossible-layout');
    expect(problem.errors.map(({ pointer }) => pointer)).toEqual(['/zones/0']);
    expect(problem.cables).toMatchObject([
      { cable: 'long', fits: false, reason: 'too-long' },
      { cable: 'stiff', fits: false, reason: 'bend-radius' },
    ]);
    expect(problem.cables[0]?.by).toBeGreaterThan(0);
  });

  it.each([
    ['/zones/0/entry', { entry: [5000, 5000] }, 'entry-outside'],
    [
      '/zones/0/buffer/outline',
      {
        buffer: {
          outline: [
            [2000, 0],
            [2100, 0],
            [2100, 900],
          ],
        },
      },
      'buffer-unreachable',
    ],
  ])('%s: says what is out of place', async (pointer, change, reason) => {
    const request = showerRequest();
    const problem = await impossible({ ...request, zones: [{ ...request.zones[0], ...change }] });
    expect(problem.type).toBe('/problems/impossible-layout');
    expect(problem.errors.map((fault) => fault.pointer)).toEqual([pointer]);
    expect(problem.cables.every((verdict) => verdict.reason === reason)).toBe(true);
  });
});

describe('POST /v1/checks', () => {
  it('agrees with the layout it is given back', async () => {
    const request = showerRequest();
    const layout = await layoutOf(request);
    const report = await checkOf(checkRequest(request, layout));
    expect(report.ok).toBe(true);
    expect(report.coverage.fraction).toBeCloseTo(layout.zones[0]?.coverage.fraction ?? 0, 4);
    expect(report.runs).toEqual(layout.zones[0]?.runs);
  });

  it('names the rules a spoilt path breaks, with places', async () => {
    const request = showerRequest();
    const [zone] = request.zones;
    const report = await checkOf({
      lattice: { pitch: 30, origin: [0, 0] },
      spacing: request.spacing,
      zone,
      cable: request.catalogue[0],
      path: [
        [60, 840],
        [840, 840],
        [840, 810],
        [60, 810],
        [60, 2000],
      ],
    });
    expect(report.ok).toBe(false);
    const broken = report.rules.filter(({ ok }) => !ok).map(({ rule }) => rule);
    expect(broken).toEqual(expect.arrayContaining(['spacing', 'routing-area', 'length', 'end-in-buffer']));
    for (const { ok, violations } of report.rules) expect(violations.length > 0).toBe(!ok);
  });
});

describe('readiness', () => {
  it('is ready after a real layout and not while draining', async () => {
    const own = await startService();
    try {
      expect((await fetch(`${own.url}/readyz`)).status).toBe(200);
      await own.deps.pool.drain();
      expect((await fetch(`${own.url}/readyz`)).status).toBe(503);
      const late = await own.post('/v1/layouts', { ...showerRequest(), turnWeight: 777 });
      expect(late.status).toBe(503);
      expect(late.headers.get('retry-after')).not.toBeNull();
      expect((await late.json()) as object).toMatchObject({ type: '/problems/shutting-down' });
    } finally {
      await own.close();
    }
  });
});
