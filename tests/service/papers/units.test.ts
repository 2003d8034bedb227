import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  areaText,
  columnText,
  decimal,
  dimensionText,
  feetInches,
  lengthText,
} from '../../../service/papers/units.js';

/** Reads feet and inches back as a person would; 1 in = 25.4 mm exactly (international yard and pound agreement, 1959). */
const readBack = (text: string): number => {
  const match = /^(-?)(?:(\d+)' )?(?:(\d+)(?!\/))?(?: ?(\d+)\/(\d+))?"$/.exec(text);
  if (match === null) throw new Error(`not feet and inches: ${text}`);
  const [, sign, feet = '0', inches = '0', over = '0', under = '1'] = match;
  const value = (Number(feet) * 12 + Number(inches) + Number(over) / Number(under)) * 25.4;
  return sign === '-' ? -value : value;
};

describe('feet and inches', () => {
  it('writes known lengths', () => {
    expect(feetInches(304.8)).toBe(`1' 0"`);
    expect(feetInches(25.4)).toBe('1"');
    expect(feetInches(12.7)).toBe('1/2"');
    expect(feetInches(0)).toBe('0"');
    // 2400 / 25.4 = 94.488 in, nearest eighth 94 1/2
    expect(feetInches(2400)).toBe(`7' 10 1/2"`);
    expect(feetInches(304.8 + 3.175)).toBe(`1' 1/8"`);
    expect(feetInches(-50)).toBe('-2"');
    // carries into the next foot instead of writing 12 in
    expect(feetInches(304.7)).toBe(`1' 0"`);
  });

  it('is never further off than half of 1/8 in', () => {
    fc.assert(
      fc.property(fc.double({ min: -50_000, max: 300_000, noNaN: true }), (mm) => {
        expect(Math.abs(readBack(feetInches(mm)) - mm)).toBeLessThanOrEqual(25.4 / 16 + 1e-6);
      }),
      { seed: 7 },
    );
  });
});

describe('metric text', () => {
  it('writes bare millimetres on dimensions and metres in columns', () => {
    expect(dimensionText(2400, 'metric')).toBe('2400');
    expect(dimensionText(2400, 'imperial')).toBe(`7' 10 1/2"`);
    expect(columnText(720, 'metric')).toBe('0.72 m');
    expect(lengthText(720, 'metric')).toBe('720 mm');
    expect(lengthText(20_000, 'metric')).toBe('20.00 m');
    expect(decimal(-0.001, 1)).toBe('0');
  });

  it('converts areas: 1 m2 = 10.764 sq ft', () => {
    expect(areaText(1, 'imperial')).toBe('10.8 sq ft');
    expect(areaText(10, 'imperial')).toBe('107.6 sq ft');
    expect(areaText(3.214, 'metric')).toBe('3.21 m²');
  });
});
