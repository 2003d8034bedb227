import type { RuleBook } from './rules.js';

/** Use of the floor, which decides its surface limit. */
export type FloorUse = 'occupied' | 'bathroom' | 'edge';

/** W/m2 from W/m and mm. */
export const heatDensity = (linearPower: number, spacing: number): number => linearPower / (spacing / 1000);

/** mm from m2 and mm of cable. */
export const meanSpacing = (area: number, length: number): number => (area / (length / 1000)) * 1000;

/** mm; `gaps` in studs, in the order they repeat. */
export const patternSpacing = (pitch: number, gaps: readonly number[]): number =>
  (pitch * gaps.reduce((sum, gap) => sum + gap, 0)) / gaps.length;

/** W/m2 that a floor `excess` K warmer than the room gives off. */
export function densityOfExcess(book: RuleBook, excess: number): number {
  const { coefficient, exponent } = book.values['surface-estimate'];
  return coefficient * excess ** exponent;
}

/** Mean floor surface, C, of a floor that gives off `density` W/m2 into a room of `room` C. */
export function surfaceTemperature(book: RuleBook, density: number, room: number): number {
  const { coefficient, exponent } = book.values['surface-estimate'];
  return room + (density / coefficient) ** (1 / exponent);
}

/** Surface limit and the room temperature it is meant for, C. */
export function surfaceLimit(
  book: RuleBook,
  use: FloorUse,
): { readonly limit: number; readonly room: number } {
  const v = book.values['surface-limits'];
  switch (use) {
    case 'occupied':
      return { limit: v.occupied, room: v.occupiedRoom };
    case 'bathroom':
      return { limit: v.bathroom, room: v.bathroomRoom };
    case 'edge':
      return { limit: v.edge, room: v.edgeRoom };
  }
}

/** Parallel line sources under a floor: W/m, mm, mm, W/(m K), W/(m2 K). */
export interface LineSources {
  readonly linearPower: number;
  readonly spacing: number;
  readonly depth: number;
  readonly conductivity: number;
  readonly surfaceCoefficient: number;
}

export interface Ripple {
  /** Mean surface excess over the room in the linear model, K. */
  readonly mean: number;
  /** Peak to peak, K: heat may also flow down below the cable. */
  readonly open: number;
  /** Peak to peak, K: insulated just under the cable. */
  readonly insulated: number;
}

/**
 * theta(x) = q0/h + sum a_n cos(k_n x), k_n = 2 pi n / s, q0 = p / s. Open: a_n = 2 q0 exp(-k_n z) / (k k_n + h);
 * insulated: a_n = 2 q0 / (k k_n sinh k_n z + h cosh k_n z). Peak to peak is twice the sum over odd n.
 */
export function ripple(sources: LineSources): Ripple {
  const s = sources.spacing / 1000;
  const z = sources.depth / 1000;
  const { conductivity: k, surfaceCoefficient: h } = sources;
  const q0 = sources.linearPower / s;
  let open = 0;
  let insulated = 0;
  // Both series fall like exp(-k_n z); beyond k_n z = 40 a term is below 1e-17 of q0.
  for (let n = 1; ; n += 2) {
    const kn = (2 * Math.PI * n) / s;
    if (n > 1 && kn * z > 40) break;
    open += (2 * 2 * q0 * Math.exp(-kn * z)) / (k * kn + h);
    insulated += (2 * 2 * q0) / (k * kn * Math.sinh(kn * z) + h * Math.cosh(kn * z));
  }
  return { mean: q0 / h, open, insulated };
}
