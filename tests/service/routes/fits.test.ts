import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FitsResponse, fitsResponseSchema } from '../../../service/schemas/fits-response.js';
import { layoutResponseSchema } from '../../../service/schemas/layout-response.js';
import { showerRequest } from '../../helpers/requests.js';
import { type RunningService, startService } from '../../helpers/service.js';

let service: RunningService;

beforeAll(async () => {
  service = await startService();
});

afterAll(async () => {
  await service.close();
});

const cable = (length: number, change = {}) => ({
  id: `S${length}`,
  length: length * 1000,
  power: length * 12,
  voltage: 230,
  minBendRadius: 15,
  ...change,
});

const request = (zone = {}) => ({
  ...showerRequest(),
  zones: [{ ...showerRequest().zones[0], ...zone }],
  catalogue: [
    cable(14),
    cable(3),
    cable(6.5),
    cable(7.5),
    cable(8),
    cable(7, { id: 'stiff', minBendRadius: 80 }),
  ],
});

const fitsOf = async (body: unknown): Promise<FitsResponse> => {
  const response = await service.post('/v1/fits', body);
  const text = await response.text();
  expect(response.status, text).toBe(200);
  return fitsResponseSchema.parse(JSON.parse(text));
};

const zoneOf = (answer: FitsResponse) => {
  const [zone] = answer.zones;
  if (zone === undefined) throw new Error('no zone');
  return zone;
};

describe('POST /v1/fits', () => {
  it('ranks the catalogue, says why the others fail, and gives no path unless asked', async () => {
    const zone = zoneOf(await fitsOf(request()));
    expect(zone.cables).toHaveLength(6);
    const ranked = zone.cables.filter(({ fits }) => fits);
    expect(ranked.map(({ rank }) => rank)).toEqual([1, 2, 3]);
    expect(zone.best).toBe(ranked[0]?.cable);
    for (const fit of ranked) {
      expect(fit).toMatchObject({ reason: null, by: null, unit: null });
      expect(fit.end?.slack).toBeGreaterThanOrEqual(0);
      expect(fit.meanSpacing).toBeGreaterThan(60);
      expect(fit.meanSpacing).toBeLessThan(100);
      expect(fit.path).toBeUndefined();
    }
    const reasons = Object.fromEntries(
      zone.cables.filter(({ fits }) => !fits).map(({ cable: id, reason, unit }) => [id, [reason, unit]]),
    );
    expect(reasons).toEqual({
      S14: ['too-long', 'mm'],
      S3: ['too-short', 'mm'],
      stiff: ['bend-radius', 'mm'],
    });
  });

  it('ranks first what POST /v1/layouts takes for the same body, with the same figures', async () => {
    const zone = zoneOf(await fitsOf({ ...request(), paths: true }));
    const response = await service.post('/v1/layouts', request());
    const layout = layoutResponseSchema.parse(await response.json());
    const laid = layout.zones[0];
    expect(zone.cables[0]).toMatchObject({
      cable: laid?.cable,
      coverage: laid?.coverage.fraction,
      unheatedArea: laid?.coverage.unheatedArea,
      turns: laid?.length.turns,
      end: laid?.end,
      path: laid?.path,
      reserve: laid?.reserve,
    });
    // Of a cable without a layout the ranking may know more: it is searched for by itself.
    const unsure = layout.alternatives
      .filter(({ reason }) => reason === 'no-route')
      .map(({ cable }) => cable);
    expect(unsure.length).toBeLessThan(2);
    for (const { cable: id, fits, reason, by, unit, detail } of zone.cables)
      if (!unsure.includes(id))
        expect(layout.alternatives.find((verdict) => verdict.cable === id)).toMatchObject({
          fits,
          reason,
          by,
          unit,
          detail,
        });
  });

  it('ranks for several zones at once, also where a zone insists on a cable', async () => {
    const [zone] = request().zones;
    const zones = [
      { ...zone, id: 'one' },
      { ...zone, id: 'two', cable: 'S8' },
    ];
    const answer = await fitsOf({ ...request(), zones });
    expect(answer.zones.map(({ id }) => id)).toEqual(['one', 'two']);
    expect(answer.zones[1]?.cables).toEqual(answer.zones[0]?.cables);
  });

  it('refuses cables of another voltage or too much load, each with its reason', async () => {
    const supply = {
      region: 'IEC',
      voltage: 230,
      alloy: { kind: 'nichrome' },
      braid: true,
      groundFaultTrip: 0.03,
    };
    const catalogue = [cable(7.5), cable(8), cable(7, { id: 'other', voltage: 120 })];
    const zone = zoneOf(await fitsOf({ ...request(), catalogue, supply, maxLoad: 92 }));
    expect(zone.cables.map(({ cable: id, reason }) => [id, reason])).toEqual([
      ['S7.5', null],
      ['S8', 'too-much-load'],
      ['other', 'voltage'],
    ]);
  });

  it('heat density: the limits refuse in W/m2, the wish steers', async () => {
    const strong = cable(7.5, { id: 'strong', power: 120 });
    const catalogue = [cable(7.5), strong];
    const limited = zoneOf(await fitsOf({ ...request({ heatDensity: { least: 200 } }), catalogue }));
    expect(limited.cables.map(({ cable: id, reason, unit }) => [id, reason, unit])).toEqual([
      ['strong', null, null],
      ['S7.5', 'heat-density', 'W/m2'],
    ]);
    const [best, refused] = limited.cables;
    expect(best?.heatDensity).toBeGreaterThanOrEqual(200);
    // The figures are rounded to 0.1 W/m2 upwards.
    const short = 200 - (refused?.heatDensity ?? 0);
    expect(refused?.by).toBeGreaterThanOrEqual(short - 1e-3);
    expect(refused?.by).toBeLessThan(short + 0.11);
    const wished = zoneOf(await fitsOf({ ...request({ heatDensity: { target: 230 } }), catalogue }));
    expect(wished.best).toBe('strong');
  });

  it('is a good answer where no cable fits', async () => {
    const zone = zoneOf(await fitsOf({ ...request(), catalogue: [cable(40), cable(0.5)] }));
    expect(zone.best).toBeNull();
    expect(zone.cables.map(({ reason }) => reason)).toEqual(['too-long', 'too-short']);
  });

  it.each([
    ['/zones/0/heatDensity/least', request({ heatDensity: { least: 200, most: 100 } })],
    ['/zones/0/heatDensity/target', request({ heatDensity: { target: 90, least: 100 } })],
    ['/zones/0/heatDensity/target', request({ heatDensity: { target: 190, most: 100 } })],
    ['/zones/0/heatDensity/most', request({ heatDensity: { most: 0 } })],
    ['/zones/0/heatDensity/wish', request({ heatDensity: { wish: 100 } })],
    ['/title', { ...request(), title: 'Bathroom' }],
    ['/paths', { ...request(), paths: 'yes' }],
    ['/catalogue/1/id', { ...request(), catalogue: [cable(7), cable(7)] }],
  ])('refuses %s', async (pointer, body) => {
    const response = await service.post('/v1/fits', body);
    expect(response.status).toBe(422);
    const problem = (await response.json()) as { type: string; errors: { pointer: string }[] };
    expect(problem.type).toBe('/problems/invalid-request');
    expect(problem.errors.map((fault) => fault.pointer)).toContain(pointer);
  });

  it('works as a job, too', async () => {
    const response = await service.post(
      '/v1/fits',
      { ...request(), turnWeight: 432 },
      { prefer: 'respond-async' },
    );
    expect(response.status).toBe(202);
    const result = `${service.url}${response.headers.get('location')}/result`;
    await expect.poll(async () => (await fetch(result)).status, { timeout: 15_000 }).toBe(200);
    const answer = fitsResponseSchema.parse(await (await fetch(result)).json());
    expect(zoneOf(answer).cables).toHaveLength(6);
  });

  it('only takes POST', async () => {
    const response = await fetch(`${service.url}/v1/fits`);
    expect(response.status).toBe(405);
    expect(response.headers.get('allow')).toBe('POST');
  });
});

describe('heat density of a layout', () => {
  it('is refused in W/m2 where no cable can keep it', async () => {
    const response = await service.post('/v1/layouts', request({ heatDensity: { most: 100 } }));
    expect(response.status).toBe(422);
    const { type, cables } = (await response.json()) as {
      type: string;
      cables: { cable: string; reason: string; by: number; unit: string }[];
    };
    expect(type).toBe('/problems/impossible-layout');
    expect(cables.find(({ cable: id }) => id === 'S7.5')).toMatchObject({
      reason: 'heat-density',
      unit: 'W/m2',
    });
  });
});
