import { describe, expect, it } from 'vitest';
import { assumedBuffer } from '../../../solver/job/assumed-buffer.js';
import type { Exclusion, Point, Ring, Zone } from '../../../solver/problem.js';

const SPACING = { min: 2, target: 3, max: 3 };

const rectangle = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

const zone = (
  outline: Ring,
  exclusions: readonly Exclusion[] = [],
  clearance = 50,
): Omit<Zone, 'buffer'> => ({
  id: 'z',
  wet: false,
  outline,
  clearance,
  exclusions,
  entry: [0, 0],
  leadIn: 0,
  priorities: [],
});

const bounds = (ring: Ring | null): number[] => {
  const xs = (ring ?? []).map(([x]) => x);
  const ys = (ring ?? []).map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
};

const assumed = (of: Omit<Zone, 'buffer'>, inlet: Point, pitch = 30): Ring | null =>
  assumedBuffer(of, SPACING, pitch, inlet);

describe('buffer where none is named', () => {
  it('lies along the longest wall away from the entry, at least 150 mm deep (common practice, no source)', () => {
    // Clearance 50 and room for four pitches of 30: 170 mm.
    expect(bounds(assumed(zone(rectangle(0, 0, 2400, 1800)), [60, 60]))).toEqual([0, 1630, 2400, 1800]);
    expect(bounds(assumed(zone(rectangle(0, 0, 2400, 1800), [], 10), [60, 60], 20))).toEqual([
      0, 1650, 2400, 1800,
    ]);
  });

  it('is the same strip for either winding', () => {
    const ring = rectangle(0, 0, 2400, 1800);
    const back = assumed(zone([...ring].reverse()), [60, 60]);
    expect(bounds(back)).toEqual(bounds(assumed(zone(ring), [60, 60])));
  });

  it('passes over a wall that a built-in takes up', () => {
    const bath: Exclusion = {
      id: 'bath',
      shape: { kind: 'polygon', outline: rectangle(0, 1100, 2400, 1800) },
      clearance: 0,
    };
    // The far wall is taken, the entry lies at the near one: the right wall is left.
    expect(bounds(assumed(zone(rectangle(0, 0, 2400, 1800), [bath]), [60, 60]))).toEqual([
      2230, 0, 2400, 1800,
    ]);
  });

  it('takes a wall at the entry rather than none', () => {
    const strip = assumed(zone(rectangle(0, 0, 400, 400)), [200, 200]);
    expect(strip).not.toBeNull();
  });

  it('is null where no cable can lie beside a wall', () => {
    expect(assumed(zone(rectangle(0, 0, 90, 90)), [45, 45])).toBeNull();
  });
});
