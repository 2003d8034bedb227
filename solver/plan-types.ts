import type { CheckReport } from './check/report.js';
import type { MipEngine } from './engines/port.js';
import type { Cable, Effort, Lattice, Point, Spacing, Trace, Zone } from './problem.js';

export interface PlanRequest {
  /** origin null: the planner chooses the phase of the lattice. */
  readonly lattice: { readonly pitch: number; readonly origin: Point | null };
  readonly spacing: Spacing;
  readonly placementSlopPerTurn: number;
  readonly zones: readonly Zone[];
  readonly catalogue: readonly Cable[];
  /** Zone id -> cable id, where the caller insists on one. */
  readonly insisted: ReadonlyMap<string, string>;
  /** Unheated area (mm2) that one turn fewer is worth. */
  readonly turnWeight: number;
  readonly effort: Effort;
  /** Effort behind the bounds on turns; by default that of the layout. */
  readonly boundEffort?: Effort;
}

/** What the planner may use from outside; everything else in it is pure. */
export interface PlanTools {
  readonly engine: MipEngine | null;
  /** Guard against a runaway solve; work is bounded by counts, so it normally never fires. */
  expired(): boolean;
  /**
   * How well what else must go into a zone (its sensor) finds room beside this trace: 0 not at all, 1 as well as can
   * be. Among layouts nearly as good as the best the one with the highest value is preferred; none is refused for it.
   */
  accept?(zone: Zone, trace: Trace): number;
  /** Told when a phase begins, so that the caller can time it. */
  onPhase?(phase: 'prepare' | 'solve' | 'verify'): void;
}

export type RefusalReason =
  | 'too-long'
  | 'too-short'
  | 'bend-radius'
  | 'buffer-too-small'
  | 'buffer-unreachable'
  | 'entry-outside'
  | 'voltage'
  | 'too-much-load'
  | 'heat-density'
  | 'no-route';

/** What became of one catalogue entry in one zone. */
export interface CableVerdict {
  readonly zone: string;
  readonly cable: string;
  readonly fits: boolean;
  readonly chosen: boolean;
  readonly reason: RefusalReason | null;
  /**
   * Size of the obstacle in mm (too long or too short by, missing buffer run, ...), W/m2 for 'heat-density'; null
   * where there is none.
   */
  readonly by: number | null;
  /** Coverage fraction reached (null when it was not routed). */
  readonly coverage: number | null;
  readonly turns: number | null;
  readonly detail: string;
}

/** What the lane-grid model says, apart from the bound on every legal layout. */
export interface ModelReport {
  /** 'frontier' or the engine's name. */
  readonly method: string;
  readonly nodes: number;
  readonly columns: number;
  readonly rows: number;
  readonly cost: number;
  readonly bound: number;
  readonly proven: boolean;
}

export interface ZonePlan {
  readonly zone: Zone;
  readonly cable: Cable;
  readonly trace: Trace;
  readonly check: CheckReport;
  /** Proven bound on the coverage fraction of every legal layout on this lattice, and how it was proven. */
  readonly upperBound: number;
  readonly boundBasis: string;
  /**
   * About the lane-grid route behind the layout: the fewest straight pieces its nodes fall into, a proven bound on the
   * turns of any route over them, the same for routes that are as long as the cable asks for (with no more of it in the
   * buffer than here), and the turns of the route itself (before shaping, without the last stretch).
   */
  readonly turnBound: {
    readonly pieces: number;
    readonly turns: number;
    readonly atLength: number;
    readonly route: number;
  } | null;
  readonly model: ModelReport | null;
}

export type PlanOutcome =
  | {
      readonly kind: 'planned';
      readonly lattice: Lattice;
      readonly zones: readonly ZonePlan[];
      readonly verdicts: readonly CableVerdict[];
      readonly guardFired: boolean;
      readonly work: number;
    }
  | {
      readonly kind: 'impossible';
      /** Zones that could not be laid; every catalogue entry of each has its verdict. */
      readonly zones: readonly string[];
      readonly verdicts: readonly CableVerdict[];
      readonly guardFired: boolean;
    };
