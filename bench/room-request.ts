import type { PlanRequest } from '../solver/plan-types.js';
import type { Effort } from '../solver/problem.js';
import type { BenchRoom } from './room-set.js';

/** What every bench asks for: studs 30 mm apart, runs two or three studs apart. */
export const requestOf = (room: BenchRoom, effort: Effort): PlanRequest => ({
  lattice: { pitch: 30, origin: null },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
  zones: [room.zone],
  catalogue: room.catalogue,
  insisted: new Map(),
  turnWeight: 1000,
  effort,
});

export const isEffort = (word: string): word is Effort =>
  word === 'quick' || word === 'normal' || word === 'thorough';
