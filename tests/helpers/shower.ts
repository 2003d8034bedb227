/** An invented shower of 0.9 x 0.9 m and cables for it, in the solver's terms. */
import { planLayout } from '../../solver/plan.js';
import type { CableVerdict, PlanRequest, PlanTools } from '../../solver/plan-types.js';
import type { Cable, Ring, Zone } from '../../solver/problem.js';

export const rect = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

export const shower = (change: Partial<Zone> = {}): Zone => ({
  id: 'shower',
  wet: true,
  outline: rect(0, 0, 900, 900),
  clearance: 30,
  exclusions: [{ id: 'drain', shape: { kind: 'circle', center: [450, 480], radius: 50 }, clearance: 30 }],
  buffer: rect(0, 0, 900, 200),
  entry: [60, 840],
  leadIn: 0,
  priorities: [],
  ...change,
});

/** 12 W/m unless changed. */
export const metres = (length: number, change: Partial<Cable> = {}): Cable => ({
  id: `S${length}`,
  length: length * 1000,
  power: length * 12,
  voltage: 230,
  tolerance: 0.01,
  diameter: 5,
  minBendRadius: 15,
  coldLead: 3000,
  ...change,
});

export const requestFor = (zone: Zone, catalogue: readonly Cable[]): PlanRequest => ({
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
  zones: [zone],
  catalogue,
  insisted: new Map(),
  turnWeight: 600,
  effort: 'quick',
});

export const TOOLS: PlanTools = { engine: null, expired: () => false };

/** The verdicts on a catalogue in one zone, by cable. */
export const verdictsIn = (
  zone: Zone,
  catalogue: readonly Cable[],
  tools: PlanTools = TOOLS,
): ReadonlyMap<string, CableVerdict> =>
  new Map(planLayout(requestFor(zone, catalogue), tools).verdicts.map((verdict) => [verdict.cable, verdict]));

/** The verdict on one cable, the others of the catalogue beside it. */
export const verdictOn = (
  cable: Cable,
  zone: Zone,
  others: readonly Cable[] = [],
  tools: PlanTools = TOOLS,
): CableVerdict => {
  const verdict = verdictsIn(zone, [cable, ...others], tools).get(cable.id);
  if (verdict === undefined) throw new Error(`no verdict on ${cable.id}`);
  return verdict;
};
