import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviceFor, mostLoad, protectionRules } from '../../../solver/trade/protection.js';
import { book } from './samples.js';

const nec = book('NEC');
const iec = book('IEC');

describe('device by the 125 % rule', () => {
  it.each([
    // NEC 424.3(B) to 2017, 424.4(B) from 2020 (from memory), 210.19, 210.20
    [12.0, 15.0, 15],
    [12.5, 15.625, 20],
  ])('%d A', (load, required, rating) => {
    const choice = deviceFor(nec, load);
    expect(choice).toMatchObject({ kind: 'device', rating });
    expect(choice.required).toBeCloseTo(required, 10);
    expect(choice.rules).toContain('continuous-load');
    expect(choice.rules).toContain('standard-ratings-nec');
  });

  it('starts its list with the standard ratings: NEC 240.6(A)', () => {
    expect(protectionRules(nec).ratings.slice(0, 6)).toEqual([15, 20, 25, 30, 35, 40]);
  });

  it.each([
    // NEC 240.6(A) with the 125 % rule: most load 0.8 In V
    [15, 120, 1440],
    [15, 240, 2880],
    [20, 120, 1920],
    [20, 240, 3840],
  ])('%d A at %d V carries %d W', (rating, voltage, load) => {
    expect(mostLoad(nec, rating, voltage)).toBeCloseTo(load, 8);
  });

  it('says so when no standard device is large enough', () => {
    expect(deviceFor(nec, 50)).toMatchObject({ kind: 'none', largest: 60, required: 62.5 });
  });
});

describe('device by Ib <= In', () => {
  it('takes the load itself: IEC 60364-4-43, 433.1 (from memory), ratings of IEC 60898-1 (from memory)', () => {
    expect(protectionRules(iec).ratings).toEqual([6, 10, 13, 16, 20, 25, 32]);
    expect(deviceFor(iec, 12.5)).toMatchObject({ kind: 'device', rating: 13, required: 12.5 });
    expect(deviceFor(iec, 13.01)).toMatchObject({ kind: 'device', rating: 16 });
    expect(deviceFor(iec, 32.1)).toMatchObject({ kind: 'none', largest: 32 });
  });
});

it('the device is the smallest that carries the load', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 60, noNaN: true }), fc.constantFrom(nec, iec), (load, b) => {
      const choice = deviceFor(b, load);
      const { ratings, factor } = protectionRules(b);
      const carrying = ratings.filter((r) => r >= load * factor);
      expect(choice.kind === 'device' ? choice.rating : undefined).toBe(
        carrying.length > 0 ? Math.min(...carrying) : undefined,
      );
    }),
    { seed: 7, numRuns: 300 },
  );
});
