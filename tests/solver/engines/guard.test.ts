import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boundsCross, dualBound, validateModel, verifySolution } from '../../../solver/engines/guard.js';
import type { MipModel, MipRow, MipVariable } from '../../../solver/engines/port.js';

const binary = (cost: number): MipVariable => ({ cost, lower: 0, upper: 1, integer: true });
const row = (columns: number[], coefficients: number[], lower: number, upper: number): MipRow => ({
  columns,
  coefficients,
  lower,
  upper,
});
const model: MipModel = {
  variables: [binary(1), binary(2), { cost: 0, lower: 0, upper: Infinity, integer: false }],
  rows: [row([0, 1], [1, 1], 1, Infinity), row([0, 2], [30, -1], -Infinity, 0)],
};
const withRow = (r: MipRow): MipModel => ({ ...model, rows: [r] });

describe('validateModel', () => {
  it('passes a sound model', () => {
    expect(validateModel(model)).toBeNull();
  });

  it.each<[string, MipModel, RegExp]>([
    ['cost', { ...model, variables: [binary(Number.NaN)], rows: [] }, /column 0: cost NaN/],
    ['infinite cost', { ...model, variables: [binary(Infinity)], rows: [] }, /column 0: cost Infinity/],
    ['lower bound', { variables: [{ ...binary(0), lower: Infinity }], rows: [] }, /lower bound Infinity/],
    ['upper bound', { variables: [{ ...binary(0), upper: -Infinity }], rows: [] }, /upper bound -Infinity/],
    ['coefficient', withRow(row([0], [Number.NaN], 0, 1)), /coefficient NaN at column 0/],
    ['huge coefficient', withRow(row([0], [1e12], 0, 1)), /coefficient 1000000000000/],
    ['row side', withRow(row([0], [1], Number.NaN, 1)), /lower side NaN/],
    ['duplicate', withRow(row([1, 0, 1], [1, 1, 1], 0, 1)), /column 1 twice/],
    ['index', withRow(row([3], [1], 0, 1)), /no column 3/],
    ['negative index', withRow(row([-1], [1], 0, 1)), /no column -1/],
    ['fractional index', withRow(row([0.5], [1], 0, 1)), /no column 0.5/],
    ['lengths', withRow(row([0, 1], [1], 0, 1)), /differ in length/],
  ])('refuses a bad %s', (_, bad, reason) => {
    expect(validateModel(bad)).toMatch(reason);
  });

  it('refuses what is larger than the caps', () => {
    const caps = { columns: 3, rows: 2, nonZeros: 4 };
    expect(validateModel(model, caps)).toBeNull();
    expect(validateModel(model, { ...caps, columns: 2 })).toMatch(/3 columns, at most 2/);
    expect(validateModel(model, { ...caps, rows: 1 })).toMatch(/2 rows, at most 1/);
    expect(validateModel(model, { ...caps, nonZeros: 3 })).toMatch(/more than 3 non-zeros/);
  });
});

describe('boundsCross', () => {
  it('tells bounds that leave nothing', () => {
    expect(boundsCross(model)).toBe(false);
    expect(boundsCross({ variables: [{ ...binary(0), lower: 0.2, upper: 0.8 }], rows: [] })).toBe(true);
    expect(boundsCross({ variables: [{ cost: 0, lower: 0.2, upper: 0.8, integer: false }], rows: [] })).toBe(
      false,
    );
    expect(boundsCross(withRow(row([0], [1], 2, 1)))).toBe(true);
    expect(boundsCross(withRow(row([], [], 1, 2)))).toBe(true);
    expect(boundsCross(withRow(row([], [], 0, 2)))).toBe(false);
  });
});

describe('verifySolution', () => {
  it('rounds integers and computes the objective afresh', () => {
    const checked = verifySolution(model, [1 - 4e-7, 2e-7, 30]);
    if (!checked.ok) throw new Error(checked.reason);
    expect([...checked.values]).toEqual([1, 0, 30]);
    expect(checked.objective).toBe(1);
  });

  it.each<[string, number[], RegExp]>([
    ['a fraction', [0.5, 1, 30], /0.5 is not whole/],
    ['a value out of bounds', [2, 0, 60], /outside 0 to 1/],
    ['a broken row', [0, 0, 0], /row 0: 0 outside 1/],
    ['a row broken after rounding', [1, 0, 29.9], /row 1/],
    ['no number', [1, Number.NaN, 30], /value NaN/],
    ['too few values', [1, 0], /2 values for 3 columns/],
  ])('refuses %s', (_, values, reason) => {
    const checked = verifySolution(model, values);
    expect(checked.ok ? '' : checked.reason).toMatch(reason);
  });
});

describe('dualBound', () => {
  it('never exceeds the optimum, whatever the multipliers (weak duality)', () => {
    const small = fc.integer({ min: -4, max: 4 });
    fc.assert(
      fc.property(
        fc.array(small, { minLength: 5, maxLength: 5 }),
        fc.array(fc.tuple(fc.array(small, { minLength: 5, maxLength: 5 }), small, fc.nat(6)), {
          maxLength: 4,
        }),
        fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: 4, maxLength: 4 }),
        (costs, sides, duals) => {
          const random: MipModel = {
            variables: costs.map(binary),
            rows: sides.map(([coefficients, lower, width]) =>
              row([0, 1, 2, 3, 4], coefficients, lower, lower + width),
            ),
          };
          let optimum = Infinity;
          for (let mask = 0; mask < 32; mask++) {
            const checked = verifySolution(
              random,
              costs.map((_, j) => (mask >> j) & 1),
            );
            if (checked.ok) optimum = Math.min(optimum, checked.objective);
          }
          expect(dualBound(random, Float64Array.from(duals))).toBeLessThanOrEqual(optimum + 1e-9);
        },
      ),
      { seed: 3, numRuns: 2000 },
    );
  });

  it('is the optimum at optimal multipliers', () => {
    // min x + 2 y, x + y >= 1: multiplier 1 (by hand).
    expect(
      dualBound(
        { variables: [binary(1), binary(2)], rows: [row([0, 1], [1, 1], 1, Infinity)] },
        Float64Array.of(1),
      ),
    ).toBe(1);
  });

  it('is -Infinity where an unbounded variable would have to pay', () => {
    const free: MipVariable = { cost: 1, lower: -Infinity, upper: Infinity, integer: false };
    expect(dualBound({ variables: [free], rows: [row([0], [1], 0, Infinity)] }, Float64Array.of(0.5))).toBe(
      -Infinity,
    );
  });
});
