import type { Point, Ring } from '../problem.js';

export type RuleName =
  | 'lattice'
  | 'entry'
  | 'routing-area'
  | 'spacing'
  | 'bends'
  | 'length'
  | 'end-in-buffer'
  | 'reserve';

/** Longest list of violations that one rule reports. */
export const MOST_VIOLATIONS = 50;

/** One place where a rule is broken. `size` is in the rule's own unit (mm unless the rule says otherwise). */
export interface Violation {
  readonly at: Point;
  readonly size: number;
  readonly message: string;
}

export interface RuleVerdict {
  readonly rule: RuleName;
  readonly ok: boolean;
  /** The value that comes closest to the limit, or is furthest beyond it; the limit itself where nothing came near. */
  readonly worst: number;
  readonly limit: number;
  /** Where `worst` was found; null where there is no such place. */
  readonly at: Point | null;
  /** One entry per place, worst first, at most MOST_VIOLATIONS. */
  readonly violations: readonly Violation[];
}

/** Lengths in mm. */
export interface LengthReport {
  readonly cable: number;
  readonly leadIn: number;
  /** Laid length with rounded corners, lead-in included. */
  readonly path: number;
  readonly sharp: number;
  readonly cornerSaving: number;
  readonly turns: number;
}

export interface EndReport {
  readonly at: Point;
  readonly earliest: Point;
  readonly latest: Point;
  /** Length tolerance t: the real end falls within +-t of nominal along the path. */
  readonly tolerance: number;
  /**
   * How much longer or shorter than nominal +-t the cable could be with its end still in the buffer (smaller side);
   * negative by the missing length where the end leaves the buffer within +-t.
   */
  readonly slack: number;
}

/** Areas in m2, measured on true geometry. */
export interface CoverageReport {
  readonly targetArea: number;
  readonly heatedArea: number;
  readonly unheatedArea: number;
  readonly fraction: number;
  /** Outlines of cold patches in the target area, mm; counter-clockwise, holes in a patch clockwise. */
  readonly cold: readonly Ring[];
  readonly bufferArea: number;
  readonly bufferHeatedArea: number;
  /** Coverage when the cable is as short or as long as its tolerance allows. */
  readonly fractionShortest: number;
  readonly fractionLongest: number;
}

export interface CheckReport {
  readonly ok: boolean;
  readonly rules: readonly RuleVerdict[];
  readonly length: LengthReport;
  readonly end: EndReport;
  readonly coverage: CoverageReport;
}
