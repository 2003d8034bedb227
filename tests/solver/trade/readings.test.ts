import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgeReadings } from '../../../solver/trade/readings.js';
import type { CableReadings, CableRound, SensorReadings } from '../../../solver/trade/readings-input.js';
import { sensorResistance, sensorTemperature } from '../../../solver/trade/sensor-readings.js';
import { judged, only, readings, readingsInput } from './samples.js';

const sound: CableRound = {
  round: 'spool',
  conductor: { resistance: 72, temperature: 20 },
  insulation: { resistance: 25e6, testVoltage: 500 },
  braid: 'open',
};

/** The judgement of one kind in a single round off the spool. */
function judge(what: string, round: Partial<CableRound>, cable: Partial<CableReadings> = {}, overrides = {}) {
  const report = judged({ overrides, cables: [readings({ ...cable, rounds: [{ ...sound, ...round }] })] });
  return only(only(only(report.cables).rounds).judgements.filter((j) => j.what === what));
}

describe('conductor resistance', () => {
  it.each([
    // 72 ohm copper: 69.17 ohm at 10 C, 76.24 ohm at 35 C (IEC 60028, from memory)
    [69.17, 10],
    [76.24, 35],
  ])('%d ohm at %d C are 72 ohm at 20 C', (resistance, temperature) => {
    const judgement = judge('conductor', { conductor: { resistance, temperature } });
    expect(judgement.figures.at20?.value).toBeCloseTo(72, 2);
    expect(judgement.verdict).toBe('pass');
  });

  it.each([
    // -5 / +10 % of 72 ohm: 68.4 ... 79.2 ohm, IEC 60800 (from memory)
    [68.3, 'stop'],
    [68.4, 'pass'],
    [79.2, 'pass'],
    [79.3, 'stop'],
  ])('%d ohm at 20 C: %s', (resistance, verdict) => {
    expect(judge('conductor', { conductor: { resistance, temperature: 20 } }).verdict).toBe(verdict);
  });

  it('the temperature decides: 80 ohm are too many at 20 C and right at 45 C', () => {
    const at = (temperature: number) =>
      judge('conductor', { conductor: { resistance: 80, temperature } }).verdict;
    expect(at(20)).toBe('stop');
    expect(at(45)).toBe('pass');
  });

  it('nominal from power and voltage: 240 V, 800 W -> 72 ohm (physics)', () => {
    const cable = { nominal: { kind: 'power', power: 800, voltage: 240 } } as const;
    expect(judge('conductor', {}, cable).figures.nominal?.value).toBeCloseTo(72, 10);
  });

  it('open stops the work', () => {
    expect(judge('conductor', { conductor: { resistance: 'open', temperature: 20 } }).verdict).toBe('stop');
  });

  it.each([
    [0, 'shorted'],
    [18, 'half the voltage'],
    [288, 'twice the voltage'],
    [50, 'bypassed'],
    [100, 'poor contact'],
  ])('%d ohm instead of 72 come with a likely cause', (resistance, cause) => {
    const judgement = judge('conductor', { conductor: { resistance, temperature: 20 } });
    expect(judgement.verdict).toBe('stop');
    expect(judgement.reasons.map((r) => r.message).join()).toContain(cause);
  });

  it.each([
    // 2 % and 5 %: common practice, no source
    [73.4, 'pass'],
    [73.5, 'investigate'],
    [75.5, 'investigate'],
    [75.7, 'stop'],
  ])('from 72 to %d ohm between two rounds: %s', (resistance, verdict) => {
    const rounds: CableRound[] = [
      sound,
      { ...sound, round: 'laid', conductor: { resistance, temperature: 20 } },
    ];
    const report = judged({ cables: [readings({ rounds })] });
    expect(report.verdict).toBe(verdict);
    expect(only(report.cables).rounds.map((r) => r.verdict)).toEqual(['pass', verdict]);
  });

  it('drift is measured from the first round, after correction to 20 C', () => {
    const rounds: CableRound[] = [
      { ...sound, conductor: { resistance: 69.17, temperature: 10 } },
      { ...sound, round: 'tiled', conductor: { resistance: 76.24, temperature: 35 } },
      { ...sound, round: 'laid' },
    ];
    const report = only(judged({ cables: [readings({ rounds })] }).cables);
    expect(report.rounds.map((r) => r.round)).toEqual(['spool', 'laid', 'tiled']);
    const drifts = report.rounds.map(
      (r) => r.judgements.find((j) => j.what === 'conductor')?.figures.drift?.value,
    );
    expect(drifts[0]).toBeUndefined();
    expect(drifts[1]).toBeCloseTo(0, 3);
    expect(drifts[2]).toBeCloseTo(0, 3);
  });

  it('a reading made from a sound cable at any temperature passes', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 500, noNaN: true }),
        fc.double({ min: -20, max: 50, noNaN: true }),
        fc.double({ min: 0.951, max: 1.099, noNaN: true }),
        (nominal, temperature, share) => {
          // physics: R(T) = R20 (1 + a (T - 20)), a of copper 0.00393 / K (handbook)
          const resistance = nominal * share * (1 + 0.00393 * (temperature - 20));
          const cable = { nominal: { kind: 'resistance', resistance: nominal } } as const;
          expect(judge('conductor', { conductor: { resistance, temperature } }, cable).verdict).toBe('pass');
        },
      ),
      { seed: 3, numRuns: 200 },
    );
  });
});

describe('insulation resistance', () => {
  it.each([
    // BS 7671 Table 64: 1.0 Mohm at 500 V d.c.; IEEE 515 (from memory): 20 Mohm expected of a sound cable
    [0.9e6, 'stop', 'insulation-minimum'],
    [5e6, 'investigate', 'insulation-expected'],
    [25e6, 'pass', 'insulation-expected'],
    ['over-range', 'pass', 'insulation-expected'],
    [0, 'stop', 'insulation-minimum'],
  ] as const)('%s ohm: %s', (resistance, verdict, rule) => {
    const judgement = judge('insulation', { insulation: { resistance, testVoltage: 500 } });
    expect(judgement.verdict).toBe(verdict);
    expect(judgement.reasons[0]?.rule).toBe(rule);
  });

  it.each([
    [250, 'investigate', 'insulation-minimum'],
    [500, 'pass', 'insulation-expected'],
    [1000, 'pass', 'insulation-expected'],
    // 1000 V: common practice, no source
    [2500, 'investigate', 'insulation-test-voltage'],
  ])('a good reading at %d V: %s', (testVoltage, verdict, rule) => {
    const judgement = judge('insulation', { insulation: { resistance: 100e6, testVoltage } });
    expect(judgement.verdict).toBe(verdict);
    expect(judgement.reasons.map((r) => r.rule)).toContain(rule);
  });

  it('a bad reading stays bad at a low voltage', () => {
    expect(judge('insulation', { insulation: { resistance: 1e5, testVoltage: 250 } }).verdict).toBe('stop');
  });

  it('the expectation of the caller counts instead', () => {
    const overrides = { 'insulation-expected': { resistance: 100e6 } };
    expect(judge('insulation', {}, {}, overrides).verdict).toBe('investigate');
  });
});

describe('conductor to braid (common practice, no source)', () => {
  it.each([
    ['open', 'pass'],
    [5e6, 'investigate'],
    [0.5e6, 'stop'],
    [0, 'stop'],
  ] as const)('%s: %s', (braid, verdict) => {
    expect(judge('braid', { braid }).verdict).toBe(verdict);
  });
});

describe('floor sensor', () => {
  const sensor = (resistance: number | 'open', temperature: number, data: Partial<SensorReadings> = {}) => {
    const report = judged({
      cables: [],
      sensors: [
        { id: 'S', r25: 10_000, beta: 3950, rounds: [{ round: 'spool', resistance, temperature }], ...data },
      ],
    });
    const one = only(report.sensors);
    return { ...only(only(one.rounds).judgements), table: one.table };
  };

  it('reads R25 at 25 C and follows the B-value equation (physics)', () => {
    expect(sensorResistance(10_000, 3950, 25)).toBe(10_000);
    // The definition of B, from two temperatures: B = ln(R1 / R2) / (1/T1 - 1/T2)
    const r25 = sensorResistance(10_000, 3950, 25);
    const r50 = sensorResistance(10_000, 3950, 50);
    expect(Math.log(r25 / r50) / (1 / 298.15 - 1 / 323.15)).toBeCloseTo(3950, 6);
  });

  it('temperature and resistance undo one another', () => {
    fc.assert(
      fc.property(fc.double({ min: -20, max: 60, noNaN: true }), (t) => {
        expect(sensorTemperature(12_000, 3740, sensorResistance(12_000, 3740, t))).toBeCloseTo(t, 8);
      }),
      { seed: 5, numRuns: 100 },
    );
  });

  it.each([
    [12_500, 20, 'pass'],
    [10_000, 20, 'investigate'],
    [10_000, 25, 'pass'],
    ['open', 20, 'stop'],
    [1e6, 20, 'stop'],
    [100, 20, 'stop'],
    [0, 20, 'stop'],
  ] as const)('%s ohm at %d C: %s', (resistance, temperature, verdict) => {
    expect(sensor(resistance, temperature).verdict).toBe(verdict);
  });

  it('its own data change what is expected', () => {
    expect(sensor(10_000, 25, { r25: 15_000 }).verdict).toBe('investigate');
    expect(sensor(15_000, 25, { r25: 15_000 }).verdict).toBe('pass');
  });

  it('without data a typical sensor is assumed, and said so (common practice, no source)', () => {
    const typical = sensor(10_000, 25, { r25: null, beta: null });
    expect(typical.verdict).toBe('pass');
    expect(typical.figures.expected?.rules).toContain('sensor-typical');
    expect(sensor(10_000, 25).figures.expected?.rules).not.toContain('sensor-typical');
    expect(typical.table.map((t) => t.temperature)).toEqual([5, 10, 15, 20, 25, 30, 35]);
    expect(typical.table.find((t) => t.temperature === 25)?.resistance.value).toBe(10_000);
  });
});

describe('three rounds (common practice, no source)', () => {
  const [spool, laid, tiled] = readings().rounds;
  const of = (...rounds: (CableRound | undefined)[]) =>
    judged({ cables: [readings({ rounds: rounds.filter((r) => r !== undefined) })] });

  it('all sound: pass, complete', () => {
    expect(of(spool, laid, tiled)).toMatchObject({ verdict: 'pass', complete: true });
  });

  it('rounds still to come are said and do not hold up the work', () => {
    const report = of(spool, laid);
    expect(report).toMatchObject({ verdict: 'pass', complete: false });
    expect(only(report.cables).missing.map((m) => [m.round, m.what])).toEqual([['tiled', 'round']]);
    expect(report.next).toContain('tile');
    expect(of(spool).next).toContain('Lay');
  });

  it('a round left out before another is investigated', () => {
    const report = of(spool, tiled);
    expect(report).toMatchObject({ verdict: 'investigate', complete: false });
    expect(only(report.cables).missing.map((m) => m.round)).toEqual(['laid']);
  });

  it('a round without its insulation reading is investigated', () => {
    const report = of({ ...sound, insulation: null });
    expect(report.verdict).toBe('investigate');
    expect(only(report.cables).missing).toContainEqual(
      expect.objectContaining({ round: 'spool', what: 'insulation' }),
    );
  });

  it('no round at all is no pass', () => {
    expect(of()).toMatchObject({ verdict: 'investigate', complete: false });
  });

  it('one bad cable stops the job', () => {
    const bad = readings({ id: 'B', rounds: [{ ...sound, braid: 3 }] });
    const report = judged({ cables: [readings(), bad] });
    expect(report.verdict).toBe('stop');
    expect(report.cables.map((c) => c.verdict)).toEqual(['pass', 'stop']);
    expect(report.next).toContain('Stop');
  });

  it('names the rules it leans on', () => {
    const ids = of(spool, laid, tiled).rules.map((r) => r.id);
    expect(ids).toEqual(
      expect.arrayContaining([
        'three-rounds',
        'resistance-band',
        'resistance-drift',
        'insulation-minimum',
        'alloy-copper',
      ]),
    );
    expect(ids).not.toContain('sensor-band');
  });
});

describe('readings no meter can have shown', () => {
  const paths = (change: Parameters<typeof readingsInput>[0]) => {
    const outcome = judgeReadings(readingsInput(change));
    return outcome.kind === 'bad-input' ? outcome.problems.map((p) => p.path.join('.')) : outcome.kind;
  };
  const rounds = (round: Partial<CableRound>) => ({
    cables: [readings({ rounds: [{ ...sound, ...round }] })],
  });
  const sensor: SensorReadings = { id: 'S', r25: null, beta: null, rounds: [] };
  it.each([
    [{ cables: [], sensors: [] }, ['cables']],
    [rounds({ conductor: { resistance: -1, temperature: 20 } }), ['cables.0.rounds.0.conductor.resistance']],
    [
      rounds({ conductor: { resistance: 72, temperature: 200 } }),
      ['cables.0.rounds.0.conductor.temperature'],
    ],
    [
      rounds({ insulation: { resistance: Number.NaN, testVoltage: 0 } }),
      ['cables.0.rounds.0.insulation.resistance', 'cables.0.rounds.0.insulation.testVoltage'],
    ],
    [rounds({ braid: -3 }), ['cables.0.rounds.0.braid']],
    [{ cables: [readings({ rounds: [sound, sound] })] }, ['cables.0.rounds.1.round']],
    [{ cables: [readings(), readings()] }, ['cables.1.id']],
    [
      { cables: [readings({ nominal: { kind: 'resistance', resistance: 0 } })] },
      ['cables.0.nominal.resistance'],
    ],
    [
      { cables: [readings({ nominal: { kind: 'power', power: 0, voltage: -1 } })] },
      ['cables.0.nominal.power', 'cables.0.nominal.voltage'],
    ],
    [{ cables: [readings({ alloy: { kind: 'own', coefficient: 1 } })] }, ['cables.0.alloy.coefficient']],
    [{ sensors: [{ ...sensor, r25: 0, beta: -1 }] }, ['sensors.0.r25', 'sensors.0.beta']],
    [
      {
        sensors: [{ ...sensor, rounds: [{ round: 'spool', resistance: -1, temperature: Number.NaN }] }],
      } as const,
      ['sensors.0.rounds.0.resistance', 'sensors.0.rounds.0.temperature'],
    ],
  ])('%#', (change, expected) => {
    expect(paths(change)).toEqual(expected);
  });

  it('an override out of range', () => {
    expect(paths({ overrides: { 'resistance-drift': { stop: 9 } } })).toBe('bad-overrides');
  });
});
