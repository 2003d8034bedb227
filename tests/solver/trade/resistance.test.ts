import { describe, expect, it } from 'vitest';
import {
  type Alloy,
  coefficientOf,
  currentOf,
  powerShare,
  resistanceBand,
  resistanceOf,
  temperatureFactor,
} from '../../../solver/trade/resistance.js';
import { book } from './samples.js';

describe('current and resistance', () => {
  it.each([
    // physics: I = P / V, R = V^2 / P
    [240, 800, 3.333, 72.0],
    [120, 600, 5.0, 24.0],
  ])('%d V, %d W', (voltage, power, current, resistance) => {
    expect(currentOf(power, voltage)).toBeCloseTo(current, 3);
    expect(resistanceOf(power, voltage)).toBeCloseTo(resistance, 2);
  });
});

describe('power on another voltage', () => {
  it.each([
    // physics: P scales with V^2
    [240, 208, 0.7511],
    [240, 230, 0.9184],
    [120, 240, 4.0],
    [240, 120, 0.25],
  ])('a %d V cable on %d V', (rated, supply, share) => {
    expect(powerShare(rated, supply)).toBeCloseTo(share, 4);
  });
});

describe('resistance against temperature', () => {
  const at = (alloy: Alloy, temperature: number): number =>
    72 * temperatureFactor(coefficientOf(book('IEC'), alloy).perKelvin, temperature);

  it('copper: handbook value of a, IEC 60028 (from memory)', () => {
    expect(at({ kind: 'copper' }, 10)).toBeCloseTo(69.17, 2);
    expect(at({ kind: 'copper' }, 35)).toBeCloseTo(76.24, 2);
  });

  it('nickel-chromium: handbook value of a, about', () => {
    expect(at({ kind: 'nichrome' }, 35)).toBeCloseTo(72.18, 2);
  });

  it('constantan: about zero by the handbook', () => {
    expect(at({ kind: 'constantan' }, 35)).toBe(72);
  });

  it('a coefficient of the caller', () => {
    expect(at({ kind: 'own', coefficient: 0.001 }, 30)).toBeCloseTo(72.72, 10);
  });
});

describe('band of a finished cable', () => {
  it('is -5 / +10 % by default: IEC 60800 (from memory)', () => {
    const band = resistanceBand(book('NEC'), 72);
    expect(band.low).toBeCloseTo(68.4, 10);
    expect(band.high).toBeCloseTo(79.2, 10);
  });

  it("follows the cable's label", () => {
    const band = resistanceBand(book('NEC', { 'resistance-band': { below: 0.1, above: 0.05 } }), 100);
    expect(band.low).toBeCloseTo(90, 10);
    expect(band.high).toBeCloseTo(105, 10);
  });
});
