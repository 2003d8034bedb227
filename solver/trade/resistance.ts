import type { RuleBook, RuleId } from './rules.js';

/** Material of the heating conductor; `own` carries its temperature coefficient in 1/K. */
export type Alloy =
  | { readonly kind: 'copper' | 'nichrome' | 'constantan' }
  | { readonly kind: 'own'; readonly coefficient: number };

export interface Coefficient {
  /** Relative change of resistance per kelvin, 1/K, at 20 C. */
  readonly perKelvin: number;
  readonly rule: RuleId;
}

export function coefficientOf(book: RuleBook, alloy: Alloy): Coefficient {
  switch (alloy.kind) {
    case 'copper':
      return { perKelvin: book.values['alloy-copper'].coefficient, rule: 'alloy-copper' };
    case 'nichrome':
      return { perKelvin: book.values['alloy-nichrome'].coefficient, rule: 'alloy-nichrome' };
    case 'constantan':
      return { perKelvin: book.values['alloy-constantan'].coefficient, rule: 'alloy-constantan' };
    case 'own':
      return { perKelvin: alloy.coefficient, rule: 'alloy-own' };
  }
}

/** R(T) / R20 = 1 + a (T - 20), T in C. */
export const temperatureFactor = (perKelvin: number, temperature: number): number =>
  1 + perKelvin * (temperature - 20);

/** A, from W and V. */
export const currentOf = (power: number, voltage: number): number => power / voltage;

/** ohm, from W and V. */
export const resistanceOf = (power: number, voltage: number): number => voltage ** 2 / power;

/** Power of a fixed resistance on another voltage, as a share of its power at `rated`. */
export const powerShare = (rated: number, supply: number): number => (supply / rated) ** 2;

export interface Band {
  readonly low: number;
  readonly high: number;
}

/** ohm at 20 C within which a sound cable of nominal resistance `nominal` reads. */
export function resistanceBand(book: RuleBook, nominal: number): Band {
  const { below, above } = book.values['resistance-band'];
  return { low: nominal * (1 - below), high: nominal * (1 + above) };
}
