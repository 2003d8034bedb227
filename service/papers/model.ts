import type { Cable, Exclusion, Lattice, Point, Ring, Shape, Spacing } from '../../solver/problem.js';

/** How lengths are written for people; coordinates stay mm. */
export type Display = 'metric' | 'imperial';

/** One straight run. Lengths mm; `studs` are whole stud spacings, null where an end lies off the lattice. */
export interface SheetRun {
  readonly n: number;
  readonly from: Point;
  readonly to: Point;
  readonly studs: number | null;
  /** Studs across to the next parallel run; null on the last run and wherever the path does not turn back. */
  readonly over: number | null;
  /** Which way the hand turns at the end of the run. */
  readonly turn: 'left' | 'right' | null;
  readonly length: number;
  /** Laid length from the entry to the end of this run, corners rounded. */
  readonly cumulative: number;
}

export interface SheetRule {
  readonly rule: string;
  readonly ok: boolean;
  readonly worst: number;
  readonly limit: number;
}

/** Areas m2, shares 0..1. */
export interface SheetCoverage {
  readonly targetArea: number;
  readonly heatedArea: number;
  readonly unheatedArea: number;
  readonly fraction: number;
  readonly upperBound: number;
  readonly boundBasis: string;
  readonly cold: readonly Ring[];
}

/** Lengths mm. */
export interface SheetLength {
  readonly cable: number;
  readonly leadIn: number;
  readonly path: number;
  readonly sharp: number;
  readonly cornerSaving: number;
  readonly turns: number;
}

/** Where the cable ends at nominal, shortest and longest length. Lengths mm. */
export interface SheetEnd {
  readonly at: Point;
  readonly earliest: Point;
  readonly latest: Point;
  readonly tolerance: number;
  readonly slack: number;
}

/** Raised edge between two zones, plan view. */
export interface SheetCurb {
  readonly outline: Ring;
}

export interface SheetSensor {
  readonly id: string;
  readonly at: Point;
  /** Channel of the lead, from the sensor to the wall or thermostat. */
  readonly lead: Ring;
  readonly spare: boolean;
}

/** Place where the metre mark printed on the cable, or the length laid, is compared. Lengths mm. */
export interface SheetCheckpoint {
  readonly run: number;
  /** Reading expected on the cable at this place; null when the marks of the cable are not known. */
  readonly mark: number | null;
  /** Cable laid at this place, counted from where laying begins. */
  readonly laid: number;
  /** Largest difference that may be laid on without correction. */
  readonly allowed: number;
  readonly at: Point;
  /** What to do when the difference is larger. */
  readonly beyond?: string;
}

/** Where something goes, or what a lead needs, in words. */
export interface SheetFact {
  readonly what: string;
  readonly value: string;
}

export interface SheetStep {
  readonly n: number;
  readonly text: string;
}

/** One line of the electrical report; `source` names the rule or the origin of the figure. */
export interface SheetFigure {
  readonly label: string;
  readonly value: string;
  readonly rule?: string;
  readonly source?: string;
  /** Absent where there is nothing to judge. */
  readonly ok?: boolean;
}

export interface SheetMaterial {
  readonly item: string;
  readonly quantity: string;
  readonly basis: string;
}

/** What the meter should show. Conductor ohm, insulation Mohm, sensor ohm. */
export interface SheetReadings {
  readonly conductor: { readonly nominal: number; readonly low: number; readonly high: number };
  readonly insulation: { readonly legal: number; readonly expected: number; readonly testVoltage: number };
  readonly sensor?: { readonly nominal: number; readonly low: number; readonly high: number };
  /** Temperature the bands hold at, C. */
  readonly temperature: number;
}

/** One zone of the plan; all coordinates mm in the room's frame, x right, y up. Optional parts are drawn only when present. */
export interface SheetZone {
  readonly id: string;
  readonly wet: boolean;
  readonly outline: Ring;
  readonly clearance: number;
  readonly exclusions: readonly Exclusion[];
  readonly buffer: Ring;
  readonly entry: Point;
  /** Centre line with sharp corners, entry to end. */
  readonly path: Ring;
  /** Begins at the last point of `path`. */
  readonly reserve: Ring;
  readonly runs: readonly SheetRun[];
  readonly length: SheetLength;
  readonly end: SheetEnd;
  readonly coverage: SheetCoverage;
  readonly cable: Cable;
  readonly rules: readonly SheetRule[];
  readonly target?: readonly Ring[];
  readonly curb?: SheetCurb;
  readonly drain?: Shape;
  /** Heating cable before the entry: from the joint, over the curb, to the entry. */
  readonly crossing?: Ring;
  /** Where the cold lead joins the heating cable. */
  readonly joint?: Point;
  readonly coldLead?: Ring;
  readonly checkpoints?: readonly SheetCheckpoint[];
  readonly steps?: readonly SheetStep[];
  /** Joint, crossing, cold lead, sensors. */
  readonly facts?: readonly SheetFact[];
  readonly readings?: SheetReadings;
  readonly electrical?: readonly SheetFigure[];
}

/** Whether the joint lies where the cable enters, so that one symbol stands for both. */
export const jointAtEntry = ({ joint, path, entry }: SheetZone): boolean => {
  const [x, y] = path[0] ?? entry;
  return joint !== undefined && Math.hypot(joint[0] - x, joint[1] - y) < 1;
};

/** Everything the papers print. */
export interface PlanSheet {
  readonly id: string;
  readonly title: string;
  readonly display: Display;
  readonly lattice: Lattice;
  readonly spacing: Spacing;
  readonly zones: readonly SheetZone[];
  readonly thermostat?: Point;
  readonly sensors?: readonly SheetSensor[];
  /** Figures of the whole circuit. */
  readonly electrical?: readonly SheetFigure[];
  readonly materials?: readonly SheetMaterial[];
}

/** A zone without the lead that runs over another zone's floor. */
const withoutColdLead = ({ coldLead: _, ...zone }: SheetZone): SheetZone => zone;

/**
 * The same sheet reduced to one zone. Sensors and thermostat stay with a dry zone; the cold lead of a wet one, which
 * runs over the dry floor, stays with the whole plan.
 */
export const onlyZone = (sheet: PlanSheet, index: number): PlanSheet => {
  const { sensors, thermostat, ...rest } = sheet;
  const zone = sheet.zones[index];
  if (zone === undefined) return { ...rest, zones: [] };
  if (zone.wet) return { ...rest, zones: [withoutColdLead(zone)] };
  return {
    ...rest,
    zones: [zone],
    ...(sensors === undefined ? {} : { sensors }),
    ...(thermostat === undefined ? {} : { thermostat }),
  };
};
