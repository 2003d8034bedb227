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
  metreMark: range(-101_000, 101_000, 'm'),
  markStart: range(-100_000, 100_000, 'm'),
  thermostatHeight: range(0, 5000, 'mm'),
  groove: range(3, 100, 'mm'),
  curbHeight: range(0, 500, 'mm'),
  curbDescent: range(0, 600, 'mm'),
  slopPerTurn: range(0, 50, 'mm'),
  heatDensity: range(1, 1000, 'W/m2'),
  turnWeight: range(0, 1_000_000, 'mm2'),
  ratedCurrent: range(0.1, 200, 'A'),
  trip: range(0.001, 10, 'A'),
  nominalResistance: range(0.01, 100_000, 'ohm'),
  readResistance: range(0, 1e13, 'ohm'),
  testVoltage: range(1, 10_000, 'V'),
  conductorTemperature: range(-40, 120, 'C'),
  siteTemperature: range(-30, 60, 'C'),
  temperatureCoefficient: range(-0.008, 0.008, '1/K'),
  heatedArea: range(0.01, 400, 'm2'),
  runDistance: range(1, 2000, 'mm'),
  coverDepth: range(1, 500, 'mm'),
  conductivity: range(0.02, 20, 'W/(m K)'),
  sensorResistance: range(10, 1e7, 'ohm'),
  sensorBeta: range(500, 10_000, 'K'),
  membraneWidth: range(100, 20_000, 'mm'),
  membraneLength: range(100, 200_000, 'mm'),
  curbLength: range(1, 20_000, 'mm'),
  sensors: range(0, 60, 'pieces'),
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
  /** Heating cables of one electrical report or one set of readings. */
  cables: 60,
  circuits: 30,
  thermostats: 30,
  sensors: 60,
  gaps: 40,
  ratings: 40,
  bareAreas: 20,
  /** Lattice nodes in a zone's bounding box. */
  latticeNodes: 400_000,
  /** Vertices of a path that is sent in to be judged. */
  pathVertices: 5_000,
} as const;
