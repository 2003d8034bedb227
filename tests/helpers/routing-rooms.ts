/** Invented rooms of everyday size for tests of the router; what is not said is a plain bathroom. */
import type { PlanRequest } from '../../solver/plan-types.js';
import type { Cable, Ring, Setting, Zone } from '../../solver/problem.js';

export const box = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

export const roomOf = (zone: Partial<Zone> = {}): Zone => ({
  id: 'floor',
  wet: false,
  outline: box(0, 0, 1800, 1300),
  clearance: 50,
  exclusions: [],
  buffer: box(0, 1150, 1800, 1300),
  entry: [60, 60],
  leadIn: 0,
  priorities: [],
  ...zone,
});

export const settingOf = ({
  pitch = 30,
  ...setting
}: Partial<Setting> & { pitch?: number } = {}): Setting => ({
  lattice: { pitch, origin: [50, 50] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
  ...setting,
});

export const cableOf = (length: number, cable: Partial<Cable> = {}): Cable => ({
  id: `C${length}`,
  length,
  power: Math.round(length * 0.015),
  voltage: 230,
  tolerance: 0.01,
  diameter: 5,
  minBendRadius: 15,
  coldLead: 3000,
  ...cable,
});

/** Lengths from `first` to `last` mm in equal ratios. */
export const catalogueOf = (
  first: number,
  last: number,
  ratio: number,
  cable: Partial<Cable> = {},
): Cable[] => {
  const lengths = new Set<number>();
  for (let length = first; length <= last * 1.0001; length *= ratio)
    lengths.add(Math.round(length / 500) * 500);
  return [...lengths].map((length) => cableOf(length, cable));
};

export const planRequest = (zone: Zone, request: Partial<PlanRequest> = {}): PlanRequest => ({
  lattice: { pitch: 30, origin: null },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
  zones: [zone],
  catalogue: catalogueOf(4000, 60_000, 1.12),
  insisted: new Map(),
  turnWeight: 600,
  effort: 'quick',
  ...request,
});
