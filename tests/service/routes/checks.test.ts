/** Paths from anywhere; lengths, coverage and spacing against a calculation that shares nothing with the checker. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type CheckResponse, checkResponseSchema } from '../../../service/schemas/check-response.js';
import { type RunningService, startService } from '../../helpers/service.js';

type P = [number, number];

let service: RunningService;

beforeAll(async () => {
  service = await startService();
});

afterAll(async () => {
  await service.close();
});

const PITCH = 30;
const zone = {
  id: 'z',
  outline: [
    [0, 0],
    [1200, 0],
    [1200, 900],
    [0, 900],
  ] as P[],
  clearance: 50,
  exclusions: [{ id: 'pipe', center: [600, 450] as P, radius: 80, clearance: 20 }],
  buffer: {
    outline: [
      [1000, 0],
      [1200, 0],
      [1200, 900],
      [1000, 900],
    ] as P[],
  },
  entry: [60, 60] as P,
};

const check = async (path: readonly P[], reserve: readonly P[] = []): Promise<CheckResponse> => {
  const response = await service.post('/v1/checks', {
    lattice: { pitch: PITCH, origin: [0, 0] },
    spacing: { min: 2, target: 3, max: 3 },
    zone,
    cable: { id: 'C', length: 8000, power: 100, voltage: 230, minBendRadius: 15 },
    path,
    reserve,
  });
  const text = await response.text();
  expect(response.status, text).toBe(200);
  return checkResponseSchema.parse(JSON.parse(text));
};

const far = ([ax, ay]: P, [bx, by]: P): number => Math.hypot(ax - bx, ay - by);

const toSegment = (p: P, a: P, b: P): number => {
  const square = (b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2;
  const t = square === 0 ? 0 : ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / square;
  const s = Math.max(0, Math.min(1, t));
  return far(p, [a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1])]);
};

const legs = (path: readonly P[]): [P, P][] => path.slice(1).map((b, k) => [path[k] ?? b, b]);

/** Target floor of the zone that lies within 45 mm of the path, by points 5 mm apart. */
const sampledCoverage = (path: readonly P[]): number => {
  let [all, warm] = [0, 0];
  for (let x = 52.5; x < 1000; x += 5)
    for (let y = 52.5; y < 850; y += 5) {
      if (far([x, y], [600, 450]) < 100) continue;
      all++;
      if (legs(path).some(([a, b]) => toSegment([x, y], a, b) <= 45)) warm++;
    }
  return warm / all;
};

/** Sharp length, and with each corner of angle a rounded at 15 mm: less (2 tan(a / 2) - a) 15, a at most 90 degrees. */
const lengths = (path: readonly P[]): { sharp: number; laid: number; turns: number } => {
  const pieces = legs(path).filter(([a, b]) => far(a, b) > 0);
  let [sharp, saved, turns] = [0, 0, 0];
  let before: number | null = null;
  for (const [a, b] of pieces) {
    sharp += far(a, b);
    const way = Math.atan2(b[1] - a[1], b[0] - a[0]);
    if (before !== null) {
      const turn = Math.abs(Math.atan2(Math.sin(way - before), Math.cos(way - before)));
      if (turn > 1e-6) {
        turns++;
        const angle = Math.min(turn, Math.PI / 2);
        saved += (2 * Math.tan(angle / 2) - angle) * 15;
      }
    }
    before = way;
  }
  return { sharp, laid: sharp - saved, turns };
};

const serpentine: P[] = [
  [60, 60],
  [930, 60],
  [930, 150],
  [60, 150],
  [60, 240],
  [930, 240],
];

const drawings: [string, P[]][] = [
  ['a serpentine', serpentine],
  [
    'the same with vertices that repeat and lie on a run',
    serpentine.flatMap(([x, y]): P[] => [
      [x, y],
      [x, y],
    ]),
  ],
  [
    'diagonals by hand',
    [
      [57, 63],
      [411.5, 333.25],
      [800, 70],
      [1100, 830],
    ],
  ],
  [
    'a path that crosses itself',
    [
      [60, 60],
      [600, 60],
      [600, 300],
      [300, 300],
      [300, -90],
    ],
  ],
  [
    'there and back on one channel',
    [
      [60, 60],
      [600, 60],
      [90, 60],
      [90, 300],
    ],
  ],
  [
    'through the pipe and out of the room',
    [
      [60, 450],
      [1500, 450],
      [1500, 2000],
    ],
  ],
  [
    'no length at all',
    [
      [60, 60],
      [60, 60],
    ],
  ],
];

describe('POST /v1/checks', () => {
  it.each(drawings)('measures %s as an independent calculation does', async (_name, path) => {
    const { length, coverage, runs } = await check(path);
    const own = lengths(path);
    expect(length.sharp).toBeCloseTo(own.sharp, 3);
    expect(length.path).toBeCloseTo(own.laid, 3);
    expect(length.turns).toBe(own.turns);
    expect(runs).toHaveLength(own.sharp === 0 ? 0 : own.turns + 1);
    expect(Math.abs(coverage.fraction - sampledCoverage(path))).toBeLessThan(0.006);
  });

  it('every broken rule has at least one place with a size', async () => {
    for (const [, path] of drawings)
      for (const { ok, violations } of (await check(path)).rules) {
        expect(violations.length > 0).toBe(!ok);
        for (const { size } of violations) expect(size).toBeGreaterThanOrEqual(0);
      }
  });

  it('calls a corner sharper than a right angle what it is, not a crossing', async () => {
    const { rules } = await check([
      [60, 60],
      [600, 60],
      [120, 150],
    ]);
    const spacing = rules.find(({ rule }) => rule === 'spacing');
    expect(spacing?.ok).toBe(false);
    // atan2(90, 480) = 10.6 degrees short of a full reversal.
    expect(spacing?.violations[0]?.message).toContain('169 degrees');
    expect(spacing?.violations[0]?.at).toEqual([600, 60]);
  });

  it('judges thousands of vertices on less than a millimetre in no time', async () => {
    const path = Array.from({ length: 5000 }, (_, k): P => [60 + k * 1e-4, 60 + (k % 2) * 1e-5]);
    const { length } = await check(path);
    expect(length.sharp).toBeLessThan(1);
  });
});
