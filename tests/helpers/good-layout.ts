/** A serpentine of twelve runs that keeps every rule, built from closed formulas, and what it lies in. */
import type { Cable, Point, Setting, Trace, Zone } from '../../solver/problem.js';

export const RUNS = 12;
export const RUN_LENGTH = 1380;
export const GAP = 90;
/** (2 - pi/2) r for r = 15 mm: trade table, derived, 6.438 mm. */
export const SAVING = (2 - Math.PI / 2) * 15;

/** Where the last run ends: this far along it. */
export const LAST_RUN = 712;

export const setting: Setting = {
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  placementSlopPerTurn: 2,
};

export const zone: Zone = {
  id: 'floor',
  wet: false,
  outline: [
    [0, 0],
    [1500, 0],
    [1500, 1110],
    [0, 1110],
  ],
  clearance: 50,
  exclusions: [],
  buffer: [
    [0, 1000],
    [1500, 1000],
    [1500, 1110],
    [0, 1110],
  ],
  entry: [55, 62],
  leadIn: 0,
  priorities: [],
};

export const TURNS = 2 * (RUNS - 1);

/** Rows at the given heights, run alternately; the last one `lastRun` long. */
export const serpentine = (rows: readonly number[], lastRun: number): Point[] => {
  const path: Point[] = [];
  rows.forEach((y, k) => {
    const [from, to] = k % 2 === 0 ? [60, 60 + RUN_LENGTH] : [60 + RUN_LENGTH, 60];
    const length = k === rows.length - 1 ? lastRun : RUN_LENGTH;
    path.push([from, y], [from + Math.sign(to - from) * length, y]);
  });
  return path;
};

export const rows = Array.from({ length: RUNS }, (_, k) => 60 + GAP * k);

export const trace: Trace = {
  path: serpentine(rows, LAST_RUN),
  reserve: [
    [60 + RUN_LENGTH - LAST_RUN, 1050],
    [60, 1050],
  ],
};

export const sharpLength = (RUNS - 1) * RUN_LENGTH + LAST_RUN + (RUNS - 1) * GAP;

export const cable: Cable = {
  id: 'made-up',
  length: sharpLength - TURNS * SAVING,
  power: 200,
  voltage: 230,
  tolerance: 0.01,
  diameter: 5,
  minBendRadius: 15,
  coldLead: 3000,
};
