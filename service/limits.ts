/** Every size limit of the interface, in one place: schemas, checks, messages and documentation read it from here. */

export interface Range {
  readonly min: number;
  readonly max: number;
  readonly unit: string;
}

const range = (min: number, max: number, unit: string): Range => ({ min, max, unit });

/** Allowed values of the numbers in a request. */
export const RANGES = {
  coordinate: range(-1e6, 1e6, 'mm'),
  pitch: range(5, 200, 'mm'),
  spacing: range(1, 20, 'studs'),
  clearance: range(0, 2000, 'mm'),
  clearanceStuds: range(0, 40, 'studs'),
  radius: range(1, 20_000, 'mm'),
  leadIn: range(0, 100_000, 'mm'),
  priorityWeight: range(0, 10, ''),
  cableLength: range(500, 1_000_000, 'mm'),
  power: range(1, 20_000, 'W'),
  voltage: range(1, 1000, 'V'),
  tolerance: range(0, 0.1, ''),
  diameter: range(1, 30, 'mm'),
  bendRadius: range(0, 500, 'mm'),
  coldLead: range(0, 100_000, 'mm'),
  slopPerTurn: range(0, 50, 'mm'),
  turnWeight: range(0, 1_000_000, 'mm2'),
} as const satisfies Record<string, Range>;

/** Allowed sizes of what a request holds. */
export const SIZES = {
  /** Bytes of a request body. */
  bodyBytes: 1_048_576,
  zones: 12,
  verticesPerRing: 400,
  /** Vertices of all outlines of one request together. */
  verticesInAll: 4000,
  exclusions: 60,
  priorities: 20,
  catalogue: 60,
  idLength: 64,
  /** Longest side of a zone's bounding box, mm. */
  zoneSide: 40_000,
  /** Area of a zone's outline, m2. */
  zoneArea: 400,
  /** Lattice nodes in a zone's bounding box. */
  latticeNodes: 400_000,
  /** Vertices of a path that is sent in to be judged. */
  pathVertices: 20_000,
} as const;
