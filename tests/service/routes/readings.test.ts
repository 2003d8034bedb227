import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readingsResponseSchema } from '../../../service/schemas/readings.js';
import { fakeWorker, type RunningService, startService } from '../../helpers/service.js';

let service: RunningService;

beforeAll(async () => {
  service = await startService({}, fakeWorker);
});

afterAll(async () => {
  await service.close();
});

const round = {
  round: 'spool',
  conductor: { resistance: 69.17, temperature: 10 },
  insulation: { resistance: 25e6, testVoltage: 500 },
  braid: 'open',
};
const cable = {
  id: 'A',
  nominal: { kind: 'resistance', resistance: 72 },
  alloy: { kind: 'copper' },
  rounds: [round],
};
const request = { region: 'IEC', cables: [cable] };
const withRound = (change: object) => ({
  ...request,
  cables: [{ ...cable, rounds: [{ ...round, ...change }] }],
});

const post = (body: unknown) => service.post('/v1/readings', JSON.stringify(body));

const report = async (body: unknown) => {
  const response = await post(body);
  expect(response.status).toBe(200);
  return readingsResponseSchema.parse(await response.json());
};

describe('POST /v1/readings', () => {
  it('corrects to 20 C and passes a sound cable, with the rounds still to come', async () => {
    const answer = await report(request);
    expect(answer).toMatchObject({ verdict: 'pass', complete: false });
    const conductor = answer.cables[0]?.rounds[0]?.judgements.find((j) => j.what === 'conductor');
    // 72 ohm copper reads 69.17 ohm at 10 C (IEC 60028, from memory)
    expect(conductor?.figures.at20?.value).toBeCloseTo(72, 2);
    expect(answer.cables[0]?.missing.map((m) => m.round)).toEqual(['laid', 'tiled']);
  });

  it.each([
    // BS 7671 Table 64; IEEE 515 (from memory)
    [0.9e6, 'stop'],
    [5e6, 'investigate'],
    [25e6, 'pass'],
    ['over-range', 'pass'],
  ])('insulation of %s ohm: %s', async (resistance, verdict) => {
    expect((await report(withRound({ insulation: { resistance, testVoltage: 500 } }))).verdict).toBe(verdict);
  });

  it('judges a sensor alone', async () => {
    const answer = await report({
      region: 'IEC',
      sensors: [{ id: 'S', rounds: [{ round: 'laid', resistance: 'open', temperature: 20 }] }],
    });
    expect(answer.verdict).toBe('stop');
    expect(answer.sensors[0]?.table.length).toBeGreaterThan(0);
  });

  it.each([
    [{ region: 'IEC' }, '/cables'],
    [withRound({ round: 'later' }), '/cables/0/rounds/0/round'],
    [
      withRound({ conductor: { resistance: -1, temperature: 20 } }),
      '/cables/0/rounds/0/conductor/resistance',
    ],
    [withRound({ conductor: { resistance: 72 } }), '/cables/0/rounds/0/conductor/temperature'],
    [
      withRound({ insulation: { resistance: 'OL', testVoltage: 500 } }),
      '/cables/0/rounds/0/insulation/resistance',
    ],
    [withRound({ weather: 'fine' }), '/cables/0/rounds/0/weather'],
    [{ ...request, cables: [{ ...cable, rounds: [round, round] }] }, '/cables/0/rounds/1/round'],
    [
      { ...request, overrides: { 'insulation-expected': { resistance: 20 } } },
      '/overrides/insulation-expected/resistance',
    ],
  ])('%#: points at the field', async (body, pointer) => {
    const response = await post(body);
    expect(response.status).toBe(422);
    const problem = (await response.json()) as { type: string; errors: { pointer: string }[] };
    expect(problem.type).toBe('/problems/invalid-request');
    expect(problem.errors.map((e) => e.pointer)).toContain(pointer);
  });
});
