import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SIZES } from '../../../service/limits.js';
import { materialResponseSchema } from '../../../service/schemas/material.js';
import { fakeWorker, type RunningService, startService } from '../../helpers/service.js';

let service: RunningService;

beforeAll(async () => {
  service = await startService({}, fakeWorker);
});

afterAll(async () => {
  await service.close();
});

const outline = [
  [0, 0],
  [2400, 0],
  [2400, 2000],
  [0, 2000],
];
const zone = { id: 'floor', wet: false, outline };
const request = { region: 'IEC', membrane: { kind: 'roll', width: 1000, length: 10_000 }, zones: [zone] };

const post = (body: unknown) => service.post('/v1/materials', JSON.stringify(body));

const report = async (body: unknown) => {
  const response = await post(body);
  expect(response.status).toBe(200);
  return materialResponseSchema.parse(await response.json());
};

describe('POST /v1/materials', () => {
  it('reckons a floor', async () => {
    const answer = await report(request);
    expect(answer.membrane.area.value).toBe(4.8);
    expect(answer.membrane.pieces.value).toBe(1);
    expect(answer.mortar.layers.map((l) => l.layer)).toEqual(['under-membrane', 'fill', 'under-tile']);
    expect(answer.sealing).toEqual([]);
    expect(answer.sensors.spare.value).toBe(1);
  });

  it('reckons a shower with a curb', async () => {
    const wet = { ...zone, wet: true, curb: { length: 900, crossing: 400, diameter: 5 } };
    const answer = await report({ ...request, zones: [wet] });
    // seams overlap at least 51 mm to either side: common practice, no source
    expect(answer.sealing[0]?.width.value).toBe(102);
    expect(answer.grooves[0]?.length.value).toBe(400);
    // ANSI A108.5 as quoted in the trade press
    expect(answer.mortar.contact[0]?.least.value).toBe(0.95);
  });

  it('takes coverage rates of the caller', async () => {
    const [plain, double] = await Promise.all([
      report(request),
      report({ ...request, overrides: { 'mortar-under-tile': { thickness: 6 } } }),
    ]);
    expect(double.mortar.layers[2]?.mass.value).toBeCloseTo(2 * (plain.mortar.layers[2]?.mass.value ?? 0), 6);
  });

  const many = Array.from({ length: SIZES.verticesPerRing }, (_, k) => {
    const angle = (2 * Math.PI * k) / SIZES.verticesPerRing;
    return [1000 * Math.cos(angle), 1000 * Math.sin(angle)];
  });
  it.each([
    [{ ...request, zones: [] }, '/zones'],
    [{ ...request, zones: [zone, zone] }, '/zones/1/id'],
    [
      {
        ...request,
        zones: [
          {
            ...zone,
            outline: [
              [0, 0],
              [1000, 1000],
              [1000, 0],
              [0, 1000],
            ],
          },
        ],
      },
      '/zones/0/outline',
    ],
    [{ ...request, zones: [{ ...zone, bare: [outline] }] }, '/zones/0/bare'],
    [{ ...request, membrane: { kind: 'tile', width: 1000, length: 1000 } }, '/membrane/kind'],
    [{ ...request, membrane: { kind: 'sheet', width: 1, length: 1000 } }, '/membrane/width'],
    [{ ...request, sensors: 1.5 }, '/sensors'],
    [{ ...request, overrides: { 'seam-overlap': { length: 20 } } }, '/overrides/seam-overlap/length'],
    [
      { ...request, zones: [{ ...zone, outline: many, bare: Array.from({ length: 11 }, () => many) }] },
      '/zones',
    ],
  ])('%#: points at the field', async (body, pointer) => {
    const response = await post(body);
    expect(response.status).toBe(422);
    const problem = (await response.json()) as { type: string; errors: { pointer: string }[] };
    expect(problem.type).toBe('/problems/invalid-request');
    expect(problem.errors.map((e) => e.pointer)).toContain(pointer);
  });
});
