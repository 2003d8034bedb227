import { number, type Rule } from './rule.js';

/** Heat density and floor surface. Units: W/m2, C, K, mm, W/(m K), W/(m2 K). */
export const HEAT_RULES = {
  'mean-spacing': {
    title: 'Mean spacing = heated area / cable length',
    region: 'both',
    clauses: [],
    values: {},
    source: { kind: 'derived', text: 'derived' },
    overridable: false,
  },
  'stud-pattern': {
    title: 'Mean spacing of a stud pattern = mean of the gaps x pitch',
    region: 'both',
    clauses: [],
    values: {},
    source: { kind: 'derived', text: 'derived' },
    overridable: false,
  },
  'heat-density': {
    title: 'Heat density = power per metre / spacing',
    region: 'both',
    clauses: [],
    values: {},
    source: { kind: 'derived', text: 'derived' },
    overridable: false,
  },
  'heat-density-limits': {
    title: 'Heat density of a tiled floor: least that warms it, most that is installed',
    region: 'trade',
    clauses: [],
    values: { least: number(100, 'W/m2', 0, 300), most: number(200, 'W/m2', 50, 400) },
    source: { kind: 'common practice', text: 'common practice, no source' },
    overridable: true,
  },
  'surface-estimate': {
    title: 'q = coefficient x (floor surface - room) ^ exponent',
    region: 'both',
    clauses: [{ document: 'EN 1264-2', edition: 'any', clause: 'basic characteristic curve' }],
    values: { coefficient: number(8.92, 'W/m2', 5, 15), exponent: number(1.1, 'ratio', 1, 1.4) },
    source: { kind: 'published', text: 'EN 1264-2' },
    overridable: true,
  },
  'surface-limits': {
    title: 'Floor surface limits, each with the room temperature it is meant for',
    region: 'both',
    clauses: [
      { document: 'EN 1264-2, EN 1264-3', edition: 'any', clause: 'limit of the surface temperature' },
    ],
    values: {
      occupied: number(29, 'C', 20, 45),
      occupiedRoom: number(20, 'C', 0, 40),
      bathroom: number(33, 'C', 20, 45),
      bathroomRoom: number(24, 'C', 0, 40),
      edge: number(35, 'C', 20, 45),
      edgeRoom: number(20, 'C', 0, 40),
    },
    source: { kind: 'published', text: 'EN 1264-2/-3' },
    overridable: true,
  },
  'walked-floor': {
    title: 'Surface of a floor that is walked on',
    region: 'IEC',
    clauses: [{ document: 'BS 7671', edition: '2018', clause: '753.423 note' }],
    values: { most: number(35, 'C', 20, 45) },
    source: { kind: 'published', text: 'BS 7671:2018 753.423 note (secondary source)' },
    overridable: true,
  },
  'ripple-model': {
    title:
      'Surface ripple above parallel line sources (Fourier series; open below and insulated just under the cable)',
    region: 'both',
    clauses: [],
    values: {
      depth: number(15, 'mm', 2, 100),
      conductivity: number(1, 'W/(m K)', 0.1, 5),
      surfaceCoefficient: number(10.8, 'W/(m2 K)', 2, 30),
    },
    source: { kind: 'derived', text: 'derived (Fourier), confirmed by a finite-difference run' },
    overridable: true,
  },
  'ripple-felt': {
    title: 'Surface ripple that bare feet notice',
    region: 'trade',
    clauses: [],
    values: { most: number(4, 'K', 0.5, 20) },
    source: { kind: 'common practice', text: 'common practice, no source' },
    overridable: true,
  },
} as const satisfies Record<string, Rule>;
