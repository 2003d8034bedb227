import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LayoutResponse, layoutResponseSchema } from '../../service/schemas/layout-response.js';
import { bathroomRequest } from '../helpers/requests.js';
import { type RunningService, startService } from '../helpers/service.js';

let service: RunningService;
let layout: LayoutResponse;
let at = '';

beforeAll(async () => {
  service = await startService();
  const response = await service.post('/v1/layouts', bathroomRequest());
  const text = await response.text();
  expect(response.status, text).toBe(200);
  layout = layoutResponseSchema.parse(JSON.parse(text));
  at = service.url + (response.headers.get('content-location') ?? '');
});

afterAll(async () => {
  await service.close();
});

const zoneOf = (id: string) => {
  const zone = layout.zones.find((other) => other.id === id);
  if (zone === undefined) throw new Error(`no zone ${id}`);
  return zone;
};

const problemOf = async (change: (request: ReturnType<typeof bathroomRequest>) => unknown) => {
  const response = await service.post('/v1/layouts', change(bathroomRequest()));
  expect(response.status).toBe(422);
  return (await response.json()) as { type: string; errors: { pointer: string; detail: string }[] };
};

describe('a dry floor and a curbed shower in one request', () => {
  it('lays a legal cable of its own in each', () => {
    expect(layout.zones.map(({ id }) => id)).toEqual(['floor', 'shower']);
    for (const zone of layout.zones) expect(zone.rules.every(({ ok }) => ok)).toBe(true);
  });

  it('computes the lead-in over the curb: parts add up and are part of the length', () => {
    const { crossing, length } = zoneOf('shower');
    if (crossing === undefined) throw new Error('no crossing');
    const { run, climb, top, descent, wrap, cornerSaving } = crossing.parts;
    // 100 mm up, 100 mm over, 100 mm down; half a turn about a stud of radius pitch / 2 (derived).
    expect([climb, top, descent]).toEqual([100, 100, 100]);
    expect(wrap).toBeCloseTo(Math.PI * 15, 3);
    expect(crossing.leadIn).toBeCloseTo(run + climb + top + descent + wrap - cornerSaving, 2);
    expect(length.leadIn).toBeCloseTo(crossing.leadIn, 3);
    expect(Math.abs(length.path - length.cable)).toBeLessThan(1);
    expect(crossing.joint[0]).toBeLessThan(2400);
    expect([crossing.enter[0], crossing.leave[0]]).toEqual([2400, 2500]);
  });

  it('places the sensor on the dry floor, midway between two runs, 300 mm inside', () => {
    const { sensor } = zoneOf('floor');
    expect(sensor?.placed).toBe(true);
    expect(sensor?.sensor?.depth).toBeGreaterThanOrEqual(300);
    expect(zoneOf('shower').sensor).toBeUndefined();
  });

  it('lays the dry floor from the joint, the shower from its far end, with marks that count down', () => {
    const floor = zoneOf('floor');
    const shower = zoneOf('shower');
    expect([floor.laying?.order, shower.laying?.order]).toEqual(['from-joint', 'from-far-end']);
    expect(floor.laying?.endMark).toBeCloseTo(100 - floor.length.cable / 1000, 6);
    expect(floor.laying?.midpoint.mark).toBeCloseTo(100 - floor.length.cable / 2000, 6);
    const marks = shower.laying?.checkpoints.map(({ mark }) => mark ?? Number.NaN) ?? [];
    expect(marks.length).toBeGreaterThan(0);
    expect(marks).toEqual([...marks].sort((a, b) => a - b));
  });

  it('reckons the electrical side of the chosen cables', () => {
    const { electrical, zones } = layout;
    expect(electrical?.cables.map(({ id }) => id)).toEqual(['floor', 'shower']);
    zones.forEach((zone, k) => {
      const cable = bathroomRequest().catalogue.find(({ id }) => id === zone.cable);
      if (cable === undefined) throw new Error('no cable');
      const figures = electrical?.cables[k];
      // I = P / V, R = V^2 / P, band -5/+10 % (IEC 60800, from memory).
      expect(figures?.current.value).toBeCloseTo(cable.power / 230, 4);
      expect(figures?.resistance20.value).toBeCloseTo(230 ** 2 / cable.power, 3);
      expect(figures?.bandLow.value).toBeCloseTo((0.95 * 230 ** 2) / cable.power, 3);
      expect(figures?.bandHigh.value).toBeCloseTo((1.1 * 230 ** 2) / cable.power, 3);
    });
    const load = zones.reduce((sum, { length }) => sum + (12 * length.cable) / 1000, 0);
    expect(electrical?.totals.power.value).toBeCloseTo(load, 3);
  });

  it('prints its papers', async () => {
    for (const paper of ['drawing.svg', 'sheet.pdf']) {
      expect((await fetch(`${at}/${paper}`)).status).toBe(200);
    }
  });
});

describe('rooms that do not go together', () => {
  it.each([
    [
      'a dry zone that is not there',
      '/zones/1/dryZone',
      (request: ReturnType<typeof bathroomRequest>) => ({
        ...request,
        zones: [request.zones[0], { ...request.zones[1], dryZone: 'hall' }],
      }),
    ],
    [
      'no thermostat',
      '/thermostat',
      ({ thermostat: _, ...request }: ReturnType<typeof bathroomRequest>) => request,
    ],
    [
      'a thermostat in mid-room',
      '/thermostat/at',
      (request: ReturnType<typeof bathroomRequest>) => ({ ...request, thermostat: { at: [1200, 800] } }),
    ],
    [
      'a cold lead too short for its way',
      '/zones/0/entry',
      (request: ReturnType<typeof bathroomRequest>) => ({
        ...request,
        zones: [request.zones[0]],
        catalogue: request.catalogue.map((cable) => ({ ...cable, coldLead: 1300 })),
      }),
    ],
  ])('%s', async (_name, pointer, change) => {
    const { type, errors } = await problemOf(change);
    expect(type).toBe('/problems/impossible-layout');
    expect(errors.map((fault) => fault.pointer)).toContain(pointer);
  });

  it.each([
    [
      'an override of a rule that is not there',
      '/supply/overrides/luck',
      (request: ReturnType<typeof bathroomRequest>) => ({
        ...request,
        supply: { ...request.supply, overrides: { luck: { more: 1 } } },
      }),
    ],
    [
      'no entry and no dry zone',
      '/zones/0/entry',
      (request: ReturnType<typeof bathroomRequest>) => ({
        ...request,
        zones: [{ ...request.zones[0], entry: undefined }],
      }),
    ],
    [
      'a sensor in a shower',
      '/zones/1/sensor',
      (request: ReturnType<typeof bathroomRequest>) => ({
        ...request,
        zones: [request.zones[0], { ...request.zones[1], sensor: {} }],
      }),
    ],
    [
      'a drain without a radius',
      '/zones/1/drain/radius',
      (request: ReturnType<typeof bathroomRequest>) => ({
        ...request,
        zones: [request.zones[0], { ...request.zones[1], drain: { center: [2950, 600] } }],
      }),
    ],
    [
      'a curb that crosses itself',
      '/zones/1/curb/outline/2',
      (request: ReturnType<typeof bathroomRequest>) => ({
        ...request,
        zones: [
          request.zones[0],
          {
            ...request.zones[1],
            curb: {
              height: 100,
              outline: [
                [2400, 0],
                [2500, 1200],
                [2500, 0],
                [2400, 1200],
              ],
            },
          },
        ],
      }),
    ],
  ])('%s', async (_name, pointer, change) => {
    const { type, errors } = await problemOf(change);
    expect(type).toBe('/problems/invalid-request');
    expect(errors.map((fault) => fault.pointer)).toEqual([pointer]);
  });
});
