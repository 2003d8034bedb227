import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { electricalResponseSchema } from '../../../service/schemas/electrical.js';
import { tradeRuleSchema } from '../../../service/schemas/trade.js';
import { RULE_IDS } from '../../../solver/trade/rules.js';
import { fakeWorker, type RunningService, startService } from '../../helpers/service.js';

let service: RunningService;

beforeAll(async () => {
  service = await startService({}, fakeWorker);
});

afterAll(async () => {
  await service.close();
});

const cable = {
  id: 'A',
  power: 800,
  voltage: 240,
  length: 66_000,
  alloy: { kind: 'copper' },
  braid: true,
  wet: false,
};
const circuit = { id: 'C1', voltage: 240, thermostats: [{ id: 'T1', rating: 15, cables: ['A'] }] };
const request = { region: 'NEC', cables: [cable], circuits: [circuit] };

const report = async (body: unknown) => {
  const response = await service.post('/v1/electrical', JSON.stringify(body));
  expect(response.status).toBe(200);
  return electricalResponseSchema.parse(await response.json());
};

const faults = async (body: unknown) => {
  const response = await service.post('/v1/electrical', JSON.stringify(body));
  expect(response.status).toBe(422);
  expect(response.headers.get('content-type')).toMatch(/^application\/problem\+json/);
  const problem = (await response.json()) as { type: string; errors: { pointer: string; detail: string }[] };
  expect(problem.type).toBe('/problems/invalid-request');
  return problem.errors;
};

describe('POST /v1/electrical', () => {
  it('answers with figures, findings and the rules behind them', async () => {
    const answer = await report(request);
    // physics: 240 V, 800 W -> 3.333 A, 72.00 ohm; IEC 60800 (from memory): 68.4 ... 79.2 ohm
    expect(answer.cables[0]?.current.value).toBeCloseTo(3.333, 3);
    expect(answer.cables[0]?.resistance20.value).toBe(72);
    expect([answer.cables[0]?.bandLow.value, answer.cables[0]?.bandHigh.value]).toEqual([68.4, 79.2]);
    expect(answer.status).toBe('advice');
    expect(answer.open.map((f) => f.id)).toEqual(['ground-fault']);
    const named = new Set(answer.rules.map((r) => r.id));
    for (const rule of answer.cables.flatMap((c) => c.findings.map((f) => f.rule)))
      expect(named).toContain(rule);
  });

  it('answers 200 to a job that must not be built, and says why', async () => {
    const answer = await report({ ...request, circuits: [{ ...circuit, voltage: 120 }] });
    expect(answer.status).toBe('refuse');
    // physics: 120 V on a 240 V cable gives 0.25 of rated
    expect(answer.cables[0]?.supplyShare.value).toBe(0.25);
    expect(answer.open.find((f) => f.status === 'refuse')?.message).toContain('200 W');
  });

  it('takes overrides', async () => {
    const answer = await report({ ...request, overrides: { 'resistance-band': { above: 0.05 } } });
    expect(answer.cables[0]?.bandHigh.value).toBe(75.6);
    const rule = answer.rules.find((r) => r.id === 'resistance-band');
    expect(rule?.values.find((v) => v.name === 'above')).toMatchObject({ value: 0.05, overridden: true });
  });

  it('gives the same bytes twice', async () => {
    const text = async () => (await service.post('/v1/electrical', JSON.stringify(request))).text();
    expect(await text()).toBe(await text());
  });

  it.each([
    [{ ...request, region: 'XX' }, '/region'],
    [{ ...request, colour: 'red' }, '/colour'],
    [{ ...request, cables: [{ ...cable, power: -1 }] }, '/cables/0/power'],
    [{ ...request, cables: [{ ...cable, braid: undefined }] }, '/cables/0/braid'],
    [{ ...request, cables: [] }, '/cables'],
    [{ ...request, cables: [cable, cable] }, '/cables/1/id'],
    [
      { ...request, circuits: [{ ...circuit, thermostats: [{ id: 'T', cables: ['B'] }] }] },
      '/circuits/0/thermostats/0/cables/0',
    ],
    [{ ...request, overrides: { nonsense: { x: 1 } } }, '/overrides/nonsense'],
    [{ ...request, overrides: { 'run-spacing': { least: 1 } } }, '/overrides/run-spacing/least'],
    [
      { ...request, overrides: { 'standard-ratings-iec': { ratings: [10] } } },
      '/overrides/standard-ratings-iec',
    ],
    [{ ...request, cables: [{ ...cable, density: { kind: 'area', area: 400 } }] }, '/cables/0/density'],
    [null, ''],
  ])('%#: points at the field', async (body, pointer) => {
    expect((await faults(body)).map((e) => e.pointer)).toContain(pointer);
  });

  it('says which kinds there are', async () => {
    const [fault] = await faults({ ...request, cables: [{ ...cable, alloy: { kind: 'gold' } }] });
    expect(fault).toEqual({
      pointer: '/cables/0/alloy/kind',
      detail: 'cables[0].alloy.kind must be one of: copper, nichrome, constantan, own.',
    });
  });

  it('no other method', async () => {
    const response = await fetch(`${service.url}/v1/electrical`);
    expect(response.status).toBe(405);
    expect(response.headers.get('allow')).toContain('POST');
  });
});

describe('GET /v1/rules', () => {
  it('lists the whole table', async () => {
    const response = await fetch(`${service.url}/v1/rules`);
    const rules = z.array(tradeRuleSchema).parse(await response.json());
    expect(rules.map((r) => r.id)).toEqual([...RULE_IDS]);
    expect(rules.find((r) => r.id === 'multi-outlet')?.values).toEqual([
      // IRC 2018 E3702.10
      { name: 'rating', value: 30, unit: 'A', min: 10, max: 60 },
    ]);
  });
});
