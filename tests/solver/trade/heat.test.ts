import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  densityOfExcess,
  heatDensity,
  meanSpacing,
  patternSpacing,
  ripple,
  surfaceLimit,
  surfaceTemperature,
} from '../../../solver/trade/heat.js';
import { book } from './samples.js';

const iec = book('IEC');

describe('spacing and heat density (derived)', () => {
  it('q = (W/m) / spacing', () => {
    expect(heatDensity(10, 75)).toBeCloseTo(133.3, 1);
    expect(heatDensity(12, 80)).toBeCloseTo(150, 10);
  });

  it('mean spacing = area / length', () => {
    expect(meanSpacing(4, 50_000)).toBeCloseTo(80, 10);
    expect(heatDensity(600 / 50, meanSpacing(4, 50_000))).toBeCloseTo(150, 10);
  });

  it('stud pattern: mean of the gaps x pitch', () => {
    expect(patternSpacing(30, [2, 3, 3])).toBeCloseTo(80, 10);
  });
});

describe('floor surface', () => {
  it.each([
    // EN 1264-2: q = 8.92 (theta_Fm - theta_i)^1.1
    [5, 52.39],
    [9, 100.01],
    [15, 175.41],
  ])('%d K give %d W/m2', (excess, density) => {
    expect(densityOfExcess(iec, excess)).toBeCloseTo(density, 2);
    expect(surfaceTemperature(iec, density, 20)).toBeCloseTo(20 + excess, 2);
  });

  it('limits: EN 1264-2/-3', () => {
    expect(surfaceLimit(iec, 'occupied')).toEqual({ limit: 29, room: 20 });
    expect(surfaceLimit(iec, 'bathroom')).toEqual({ limit: 33, room: 24 });
    expect(surfaceLimit(iec, 'edge')).toEqual({ limit: 35, room: 20 });
  });

  it('133.3 W/m2 in a room of 24 C: EN 1264-2', () => {
    expect(surfaceTemperature(iec, 133.3, 24)).toBeCloseTo(35.7, 1);
  });
});

describe('ripple (derived by Fourier series, confirmed by a finite-difference run)', () => {
  it.each([
    [10, 75, 15, 1.0, 12.346, 1.654, 3.523],
    [10, 75, 10, 1.0, 12.346, 2.627, 6.079],
    [10, 100, 15, 1.0, 9.259, 2.248, 5.006],
    [12, 90, 15, 1.2, 12.346, 2.074, 4.564],
  ])(
    'p %d W/m, s %d mm, z %d mm, k %d',
    (linearPower, spacing, depth, conductivity, mean, open, insulated) => {
      const waves = ripple({ linearPower, spacing, depth, conductivity, surfaceCoefficient: 10.8 });
      expect(waves.mean).toBeCloseTo(mean, 3);
      expect(waves.open).toBeCloseTo(open, 3);
      expect(waves.insulated).toBeCloseTo(insulated, 3);
    },
  );

  // Outside check: the steady heat equation on half a period, insulated below and at the planes of symmetry.
  it('agrees with a finite-difference solution of the insulated strip', () => {
    const p = 10;
    const s = 0.075;
    const z = 0.015;
    const k = 1;
    const h = 10.8;
    const nx = 76;
    const nz = 31;
    const dx = s / 2 / (nx - 1);
    const dz = z / (nz - 1);
    // Node (i, j): x = i dx from the cable, j dz above it; half cells at the edges; over-relaxed Gauss-Seidel.
    const theta = new Float64Array(nx * nz).fill(12);
    const w = 1.95;
    for (let sweep = 0; sweep < 6000; sweep += 1) {
      for (let j = 0; j < nz; j += 1) {
        for (let i = 0; i < nx; i += 1) {
          const cx = i === 0 || i === nx - 1 ? 0.5 : 1;
          const cz = j === 0 || j === nz - 1 ? 0.5 : 1;
          let sum = 0;
          let heat = i === 0 && j === 0 ? p / 2 : 0;
          const side = (at: number, g: number): void => {
            sum += g;
            heat += g * (theta[at] ?? 0);
          };
          if (i > 0) side(j * nx + i - 1, (k * dz * cz) / dx);
          if (i < nx - 1) side(j * nx + i + 1, (k * dz * cz) / dx);
          if (j > 0) side((j - 1) * nx + i, (k * dx * cx) / dz);
          if (j < nz - 1) side((j + 1) * nx + i, (k * dx * cx) / dz);
          if (j === nz - 1) sum += h * dx * cx;
          const at = j * nx + i;
          theta[at] = (theta[at] ?? 0) * (1 - w) + (w * heat) / sum;
        }
      }
    }
    const top = theta.subarray((nz - 1) * nx);
    const waves = ripple({
      linearPower: p,
      spacing: s * 1000,
      depth: z * 1000,
      conductivity: k,
      surfaceCoefficient: h,
    });
    expect((top[0] ?? 0) - (top[nx - 1] ?? 0)).toBeCloseTo(waves.insulated, 1);
  });

  it('is smaller the deeper the cable, and never larger open than insulated', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 30, noNaN: true }),
        fc.double({ min: 30, max: 300, noNaN: true }),
        fc.double({ min: 3, max: 80, noNaN: true }),
        (linearPower, spacing, depth) => {
          const at = (d: number) =>
            ripple({ linearPower, spacing, depth: d, conductivity: 1, surfaceCoefficient: 10.8 });
          const here = at(depth);
          const deeper = at(depth * 1.2);
          expect(deeper.open).toBeLessThan(here.open);
          expect(deeper.insulated).toBeLessThan(here.insulated);
          expect(here.open).toBeLessThan(here.insulated);
          expect(deeper.mean).toBe(here.mean);
        },
      ),
      { seed: 11, numRuns: 200 },
    );
  });
});
