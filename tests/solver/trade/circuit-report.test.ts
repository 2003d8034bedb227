import { describe, expect, it } from 'vitest';
import { circuit, circuitOf, electrical, finding, load, only } from './samples.js';

describe('circuit', () => {
  const two = [load({ id: 'A', power: 2400 }), load({ id: 'B', power: 2400 })];
  const shared = (change = {}) =>
    circuit({ thermostats: [{ id: 'T1', rating: 25, cables: ['A', 'B'] }], ...change });

  it('12.0 A -> 15 A, 12.5 A -> 20 A: the 125 % rule (NEC 210.19, 210.20)', () => {
    const device = (power: number) => only(electrical({ cables: [load({ power })] }).circuits).device?.value;
    expect(device(12 * 240)).toBe(15);
    expect(device(12.5 * 240)).toBe(20);
  });

  it('a device below 125 % is refused, one off the list is pointed out', () => {
    const judged = (device: number) =>
      finding(
        only(electrical({ cables: [load({ power: 3000 })], circuits: [circuit({ device })] }).circuits)
          .findings,
        'device',
      );
    expect(judged(15)).toMatchObject({ status: 'refuse', rule: 'continuous-load', value: 15.625, limit: 15 });
    expect(judged(20).status).toBe('ok');
    expect(judged(18)).toMatchObject({ status: 'advice', rule: 'standard-ratings-nec' });
  });

  it('a load beyond every standard device is refused', () => {
    const report = electrical({ cables: [load({ power: 50 * 240, length: 660_000 })] });
    expect(only(report.circuits).device).toBeNull();
    expect(finding(only(report.circuits).findings, 'device')).toMatchObject({ status: 'refuse', limit: 60 });
  });

  it('region IEC: Ib <= In on its own list (IEC 60364-4-43, from memory)', () => {
    const one = only(electrical({ region: 'IEC', cables: [load({ power: 12.5 * 240 })] }).circuits);
    expect(one.device).toEqual({ value: 13, unit: 'A', rules: ['design-current', 'standard-ratings-iec'] });
  });

  it('most load on the device: 15 A at 240 V carries 2880 W (NEC 240.6(A), 125 % rule)', () => {
    expect(circuitOf({ device: 15 }).mostLoad?.value).toBeCloseTo(2880, 8);
  });

  it('two heating outlets allow at most 30 A: IRC 2018 E3702.10', () => {
    const judged = (device: number) =>
      finding(
        only(electrical({ cables: two, circuits: [shared({ device })] }).circuits).findings,
        'multi-outlet',
      );
    expect(judged(30).status).toBe('ok');
    expect(judged(35)).toMatchObject({ status: 'refuse', limit: 30, rule: 'multi-outlet' });
    const single = circuitOf({ device: 35 });
    expect(single.findings.some((f) => f.id === 'multi-outlet')).toBe(false);
  });

  it('the rule about two outlets also meets the device we choose ourselves', () => {
    const heavy = [load({ id: 'A', power: 3360 }), load({ id: 'B', power: 3360 })];
    const one = only(electrical({ cables: heavy, circuits: [shared()] }).circuits);
    expect(one.device?.value).toBe(35);
    expect(finding(one.findings, 'multi-outlet').status).toBe('refuse');
  });

  it('a thermostat carries the sum of its cables (common practice, its label governs)', () => {
    const judged = (rating: number | null, overrides = {}) => {
      const report = electrical({
        overrides,
        cables: two,
        circuits: [shared({ thermostats: [{ id: 'T1', rating, cables: ['A', 'B'] }] })],
      });
      return finding(only(only(report.circuits).thermostats).findings, 'thermostat');
    };
    expect(judged(20)).toMatchObject({ status: 'ok', value: 20, limit: 20 });
    expect(judged(16)).toMatchObject({ status: 'refuse', rule: 'thermostat-capacity' });
    expect(judged(null)).toMatchObject({ status: 'advice', limit: null });
    expect(judged(20, { 'thermostat-capacity': { share: 0.8 } })).toMatchObject({
      status: 'refuse',
      value: 25,
    });
  });

  it.each([
    // NEC 424.44 (letter depends on edition), class A 5 mA (from memory); IEC 60364-7-753: RCD <= 30 mA
    ['NEC', { kind: 'none' }, 'refuse', 0.005],
    ['NEC', { kind: 'fitted', trip: 0.03 }, 'refuse', 0.005],
    ['NEC', { kind: 'fitted', trip: 0.005 }, 'ok', 0.005],
    ['NEC', null, 'advice', 0.005],
    ['IEC', { kind: 'none' }, 'refuse', 0.03],
    ['IEC', { kind: 'fitted', trip: 0.1 }, 'refuse', 0.03],
    ['IEC', { kind: 'fitted', trip: 0.03 }, 'ok', 0.03],
  ] as const)('ground-fault protection, %s, %o: %s', (region, groundFault, status, limit) => {
    const report = electrical({ region, circuits: [circuit({ groundFault })] });
    expect(finding(only(report.circuits).findings, 'ground-fault')).toMatchObject({ status, limit });
    expect(only(report.circuits).groundFaultTrip.value).toBe(limit);
  });
});
