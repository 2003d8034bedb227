import { piecesLength, roundedPieces } from '../../../service/papers/marks.js';
import type { PlanSheet, SheetRun, SheetZone } from '../../../service/papers/model.js';
import type { Cable, Point, Ring } from '../../../solver/problem.js';

/** Invented rooms with hand-laid serpentines: material to draw, not layouts that a checker has read. */
export const LATTICE = { pitch: 30, origin: [60, 60] as Point };

export const runsAlong = (path: Ring, pitch: number): SheetRun[] => {
  const runs: SheetRun[] = [];
  let sharp = 0;
  for (let i = 0; i + 1 < path.length; i++) {
    const a = path[i] ?? [0, 0];
    const b = path[i + 1] ?? [0, 0];
    const c = path[i + 2];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    sharp += length;
    const cross = c === undefined ? 0 : (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
    const over = c === undefined ? null : Math.hypot(c[0] - b[0], c[1] - b[1]) / pitch;
    const studs = length / pitch;
    if (length <= 3 * pitch) continue;
    runs.push({
      n: runs.length + 1,
      from: a,
      to: b,
      studs: Number.isInteger(studs) ? studs : null,
      over: over !== null && over <= 3 ? over : null,
      turn: cross > 0 ? 'left' : cross < 0 ? 'right' : null,
      length,
      cumulative: sharp - (i * (2 - Math.PI / 2) * pitch) / 2,
    });
  }
  return runs;
};

/** Rows bottom to top, gaps of three studs, each from x0 to x1; the walk alternates. */
const serpentine = (rows: readonly (readonly [y: number, x0: number, x1: number])[]): Point[] =>
  rows.flatMap(([y, x0, x1], i): Point[] =>
    i % 2 === 0
      ? [
          [x0, y],
          [x1, y],
        ]
      : [
          [x1, y],
          [x0, y],
        ],
  );

const floorPath: Ring = [
  ...serpentine(
    Array.from({ length: 22 }, (_, k): [number, number, number] => {
      const y = 60 + 90 * k;
      return [y, y >= 1400 ? 1050 : 60, y >= 1300 && y <= 1800 ? 1770 : 2340];
    }),
  ),
  [1050, 2040],
  [1500, 2040],
];

const cable = (id: string, length: number, power: number): Cable => ({
  id,
  length,
  power,
  voltage: 240,
  tolerance: 0.01,
  diameter: 5,
  minBendRadius: 15,
  coldLead: 3000,
});

const zone = (part: Omit<SheetZone, 'runs' | 'length' | 'rules'> & { leadIn: number }): SheetZone => {
  const { leadIn, ...rest } = part;
  const laid = piecesLength(roundedPieces(part.path, LATTICE.pitch / 2));
  const sharp = part.path.reduce((sum, p, i) => {
    const q = part.path[i - 1];
    return q === undefined ? 0 : sum + Math.hypot(p[0] - q[0], p[1] - q[1]);
  }, 0);
  const turns = part.path.length - 2;
  return {
    ...rest,
    runs: runsAlong(part.path, LATTICE.pitch),
    length: {
      cable: part.cable.length,
      leadIn,
      path: laid + leadIn,
      sharp,
      cornerSaving: sharp - laid,
      turns,
    },
    rules: [
      { rule: 'spacing', ok: true, worst: 90, limit: 60 },
      { rule: 'end-in-buffer', ok: true, worst: 120, limit: 0 },
    ],
  };
};

const showerPath: Ring = [
  ...serpentine(
    Array.from({ length: 11 }, (_, k): [number, number, number] => {
      const y = 570 + 90 * k;
      return [y, 2490, y >= 900 && y <= 1250 ? 2760 : 3210];
    }),
  ),
  [3210, 1560],
  [2800, 1560],
];

export const bathroom = (): SheetZone =>
  zone({
    id: 'floor',
    wet: false,
    outline: [
      [0, 0],
      [2400, 0],
      [2400, 2100],
      [0, 2100],
    ],
    clearance: 50,
    exclusions: [
      {
        id: 'vanity',
        shape: {
          kind: 'polygon',
          outline: [
            [0, 1500],
            [1000, 1500],
            [1000, 2100],
            [0, 2100],
          ],
        },
        clearance: 0,
      },
      { id: 'wc', shape: { kind: 'circle', center: [2080, 1530], radius: 190 }, clearance: 50 },
    ],
    buffer: [
      [1000, 1950],
      [2400, 1950],
      [2400, 2100],
      [1000, 2100],
    ],
    entry: [60, 60],
    path: floorPath,
    reserve: [
      [1500, 2040],
      [2100, 2040],
    ],
    end: { at: [1500, 2040], earliest: [1250, 2040], latest: [1790, 2040], tolerance: 410, slack: 250 },
    coverage: {
      targetArea: 4.01,
      heatedArea: 3.96,
      unheatedArea: 0.05,
      fraction: 0.9875,
      upperBound: 0.9953,
      boundBasis: 'demo',
      cold: [
        [
          [1800, 1400],
          [1890, 1400],
          [1860, 1520],
          [1800, 1520],
        ],
      ],
    },
    cable: cable('D44', 44000, 530),
    leadIn: 0,
    joint: [30, 30],
    coldLead: [
      [30, 30],
      [30, 1290],
      [0, 1290],
    ],
    checkpoints: [
      { run: 4, mark: 9350, laid: 9350, allowed: 120, at: [1200, 330] },
      { run: 8, mark: null, laid: 18780, allowed: 160, at: [1200, 690] },
    ],
  });

export const shower = (): SheetZone =>
  zone({
    id: 'shower',
    wet: true,
    outline: [
      [2400, 500],
      [3300, 500],
      [3300, 1700],
      [2400, 1700],
    ],
    clearance: 50,
    exclusions: [
      { id: 'drain', shape: { kind: 'circle', center: [2960, 1080], radius: 110 }, clearance: 60 },
    ],
    buffer: [
      [2450, 1500],
      [3250, 1500],
      [3250, 1650],
      [2450, 1650],
    ],
    entry: [2490, 570],
    path: showerPath,
    reserve: [
      [2800, 1560],
      [2500, 1560],
    ],
    end: { at: [2800, 1560], earliest: [2930, 1560], latest: [2670, 1560], tolerance: 130, slack: 60 },
    coverage: {
      targetArea: 0.83,
      heatedArea: 0.81,
      unheatedArea: 0.02,
      fraction: 0.976,
      upperBound: 0.989,
      boundBasis: 'demo',
      cold: [],
    },
    cable: cable('D10', 10000, 120),
    leadIn: 700,
    drain: { kind: 'circle', center: [2960, 1080], radius: 60 },
  });

export const demoSheet = (over: Partial<PlanSheet> = {}): PlanSheet => ({
  id: '3f9c1a7e',
  title: 'Bathroom with shower',
  display: 'metric',
  lattice: LATTICE,
  spacing: { min: 2, target: 3, max: 3 },
  zones: [bathroom(), shower()],
  thermostat: [0, 1350],
  sensors: [
    {
      id: 'S1',
      at: [600, 825],
      lead: [
        [600, 825],
        [0, 825],
      ],
      spare: false,
    },
    {
      id: 'S2',
      at: [600, 1185],
      lead: [
        [600, 1185],
        [0, 1185],
      ],
      spare: true,
    },
  ],
  ...over,
});
