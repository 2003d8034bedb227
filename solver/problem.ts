/** The routing problem in plain data: lengths mm, power W, voltage V, areas mm2 unless said otherwise. */

export type Point = readonly [x: number, y: number];

/** Simple polygon, either winding, first vertex not repeated at the end. */
export type Ring = readonly Point[];

/** Area with holes: outer rings counter-clockwise, holes clockwise (non-zero fill). */
export type Region = readonly Ring[];

/** Stud channels run at origin + k * pitch on both axes. */
export interface Lattice {
  readonly pitch: number;
  readonly origin: Point;
}

/** Centre-to-centre distance of neighbouring parallel runs, in studs. */
export interface Spacing {
  readonly min: number;
  readonly target: number;
  readonly max: number;
}

export type Shape =
  | { readonly kind: 'polygon'; readonly outline: Ring }
  | { readonly kind: 'circle'; readonly center: Point; readonly radius: number };

/** No-heat area; the cable's centre line keeps `clearance` mm from `shape`. */
export interface Exclusion {
  readonly id: string;
  readonly shape: Shape;
  readonly clearance: number;
  /**
   * True for the floor of a neighbouring cable: the band of its clearance is floor to be heated from this side, where
   * beside a no-heat area it is not.
   */
  readonly seam?: true;
}

/** Area whose heat counts `weight` times (1 = ordinary floor). */
export interface Priority {
  readonly outline: Ring;
  readonly weight: number;
}

/** Wished W/m2 over the heated target area, and its limits; null = none. */
export interface HeatDensity {
  readonly target: number | null;
  readonly least: number | null;
  readonly most: number | null;
}

export interface Cable {
  readonly id: string;
  readonly length: number;
  readonly power: number;
  readonly voltage: number;
  /** Fraction of `length` the real cable may be longer or shorter. */
  readonly tolerance: number;
  readonly diameter: number;
  readonly minBendRadius: number;
  /** Length of the unheated supply lead. */
  readonly coldLead: number;
}

export interface Zone {
  readonly id: string;
  readonly wet: boolean;
  /** Wall line. */
  readonly outline: Ring;
  readonly clearance: number;
  readonly exclusions: readonly Exclusion[];
  /** The cable must end in here. */
  readonly buffer: Ring;
  /** Where the heating cable enters the zone's lattice (any point; the nearest routable node is used). */
  readonly entry: Point;
  /** Heating cable used up before the entry. */
  readonly leadIn: number;
  readonly priorities: readonly Priority[];
  /** Steers and limits the choice of cable. */
  readonly heatDensity?: HeatDensity;
}

/** What all zones of one request share. */
export interface Setting {
  readonly lattice: Lattice;
  readonly spacing: Spacing;
  /** Length that hand-laying adds or loses at each corner. */
  readonly placementSlopPerTurn: number;
}

export type Effort = 'quick' | 'normal' | 'thorough';

/** Centre line with sharp corners; `reserve` begins at the last point of `path`. */
export interface Trace {
  readonly path: Ring;
  readonly reserve: Ring;
}

/** Half the target spacing: floor nearer than this to the centre line counts as heated. */
export const heatRadius = (setting: Setting): number => (setting.spacing.target * setting.lattice.pitch) / 2;

/** Radius of a laid corner. */
export const cornerRadius = (lattice: Lattice): number => lattice.pitch / 2;

/** Cable saved by rounding one right-angled corner: (2 - pi/2) r. */
export const cornerSaving = (lattice: Lattice): number => (2 - Math.PI / 2) * cornerRadius(lattice);
