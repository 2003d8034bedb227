import { describe, expect, it } from 'vitest';
import { judgeParts, type PartTrace } from '../../../solver/check/parts.js';
import type { Exclusion, Ring, Setting, Zone } from '../../../solver/problem.js';

const setting: Setting = {
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
};

const rectangle = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

const behind = (x0: number, x1: number): Exclusion => ({
  id: 'other',
  shape: { kind: 'polygon', outline: rectangle(x0, -200, x1, 500) },
  clearance: 30,
  seam: true,
});

const half = (seam: Exclusion, x: number, reserve: Ring = []): PartTrace => {
  const zone: Zone = {
    id: `at ${x}`,
    wet: false,
    outline: rectangle(0, 0, 180, 300),
    clearance: 0,
    exclusions: [seam],
    buffer: rectangle(-100, -100, -50, -50),
    entry: [x, 0],
    leadIn: 0,
    priorities: [],
  };
  return {
    zone,
    trace: {
      path: [
        [x, 0],
        [x, 300],
      ],
      reserve,
    },
  };
};

const west = (x: number): PartTrace => half(behind(90, 400), x);
const east = (x: number, reserve?: Ring): PartTrace => half(behind(-400, 90), x, reserve);

describe('judgeParts', () => {
  it('takes the seam for floor: two halves make the whole', () => {
    const report = judgeParts([west(45), east(135)], setting);
    expect(report.targetArea).toBeCloseTo(0.18 * 0.3, 6);
    // Lines at 45 and 135 heat 0..90 and 90..180.
    expect(report.fraction).toBeCloseTo(1, 6);
    expect(report.nearest).toBeCloseTo(90, 9);
    expect(report.ok).toBe(true);
  });

  it('finds the strip that neither heats', () => {
    const report = judgeParts([west(30), east(150)], setting);
    // Lines at 30 and 150 heat 0..75 and 105..180, so a strip of 30 mm stays cold.
    expect(report.unheatedArea).toBeCloseTo(0.03 * 0.3, 6);
    expect(report.cold.length).toBe(1);
    expect(report.ok).toBe(true);
  });

  it.each<[string, PartTrace]>([
    ['paths', east(105)],
    [
      'a path and a reserve',
      east(135, [
        [135, 300],
        [105, 300],
      ]),
    ],
  ])('finds %s of two cables nearer than the least spacing', (_what, other) => {
    const report = judgeParts([west(60), other], setting);
    expect(report.nearest).toBeCloseTo(45, 9);
    expect(report.ok).toBe(false);
  });

  it('knows no distance for a single cable', () => {
    const report = judgeParts([west(45)], setting);
    expect(report).toMatchObject({ nearest: null, nearestAt: null, ok: true });
    expect(report.targetArea).toBeCloseTo(0.09 * 0.3, 6);
  });
});
