import type { Cable, Exclusion, Point, Ring, Zone } from '../solver/problem.js';

/** A room to plan: one zone and the cables at hand. All rooms in this file are invented. */
export interface BenchRoom {
  readonly name: string;
  readonly zone: Zone;
  readonly catalogue: readonly Cable[];
  /** Floor area inside the walls, m2. */
  readonly area: number;
}

/** Cable lengths from `first` to `last` metres in equal ratios; 15 W/m at 230 V, all else typical and invented. */
export function catalogue(first: number, last: number, ratio: number): Cable[] {
  const cables: Cable[] = [];
  for (let length = first; length <= last * 1.0001; length *= ratio) {
    const metres = Math.round(length * 2) / 2;
    cables.push({
      id: `C${metres}`,
      length: metres * 1000,
      power: Math.round(metres * 15),
      voltage: 230,
      tolerance: 0.01,
      diameter: 5,
      minBendRadius: 15,
      coldLead: 3000,
    });
  }
  return cables;
}

const rect = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

const box = (id: string, x0: number, y0: number, x1: number, y1: number, clearance = 0): Exclusion => ({
  id,
  shape: { kind: 'polygon', outline: rect(x0, y0, x1, y1) },
  clearance,
});

const disc = (id: string, x: number, y: number, radius: number, clearance: number): Exclusion => ({
  id,
  shape: { kind: 'circle', center: [x, y], radius },
  clearance,
});

export const ringArea = (ring: Ring): number =>
  Math.abs(
    ring.reduce((sum, [x, y], k) => {
      const [u, v] = ring[(k + 1) % ring.length];
      return sum + x * v - u * y;
    }, 0),
  ) / 2e6;

function room(
  name: string,
  outline: Ring,
  entry: Point,
  buffer: Ring,
  exclusions: readonly Exclusion[] = [],
  wet = false,
): BenchRoom {
  return {
    name,
    zone: { id: name, wet, outline, clearance: 50, exclusions, buffer, entry, leadIn: 0, priorities: [] },
    catalogue: catalogue(4, 320, 1.25),
    area: ringArea(outline),
  };
}

export const ROOMS: readonly BenchRoom[] = [
  room(
    'shower-0.9x0.9-centre-drain',
    rect(0, 0, 900, 900),
    [60, 60],
    rect(0, 750, 900, 900),
    [disc('drain', 450, 450, 60, 90)],
    true,
  ),
  room(
    'shower-1.2x0.9-wall-drain',
    rect(0, 0, 1200, 900),
    [60, 200],
    rect(1050, 0, 1200, 900),
    [box('drain', 200, 0, 1000, 70, 60)],
    true,
  ),
  room('bathroom-2.4x1.8', rect(0, 0, 2400, 1800), [60, 60], rect(2250, 0, 2400, 1800), [
    box('vanity', 0, 1300, 900, 1800),
    disc('wc', 1900, 1450, 150, 50),
  ]),
  room(
    'l-shape-3.6x3.0',
    [
      [0, 0],
      [3600, 0],
      [3600, 1500],
      [1600, 1500],
      [1600, 3000],
      [0, 3000],
    ],
    [60, 60],
    rect(0, 2850, 1600, 3000),
    [box('cupboard', 2700, 0, 3600, 550)],
  ),
  room('kitchen-5x4-island', rect(0, 0, 5000, 4000), [60, 60], rect(0, 3850, 5000, 4000), [
    box('island', 1900, 1500, 3300, 2400),
    box('units', 0, 1200, 620, 2800),
    disc('post', 4200, 2900, 120, 40),
  ]),
  room(
    'shower-neo-angle',
    [
      [0, 0],
      [1000, 0],
      [1000, 450],
      [450, 1000],
      [0, 1000],
    ],
    [60, 60],
    rect(0, 850, 600, 1000),
    [disc('drain', 420, 420, 55, 90)],
    true,
  ),
  room('corridor-4.0x0.9', rect(0, 0, 4000, 900), [60, 60], rect(3850, 0, 4000, 900)),
  room(
    'bay-slanted-walls',
    [
      [0, 0],
      [3000, 0],
      [3000, 1600],
      [2300, 2300],
      [700, 2300],
      [0, 1600],
    ],
    [60, 60],
    rect(700, 2150, 2300, 2300),
  ),
  room('plain-3.0x2.4', rect(0, 0, 3000, 2400), [50, 50], rect(0, 2250, 3000, 2400)),
  room('cloakroom-1.6x1.1', rect(0, 0, 1600, 1100), [60, 550], rect(1450, 0, 1600, 1100), [
    disc('wc', 800, 900, 170, 40),
    box('basin', 1000, 0, 1400, 250),
  ]),
  room('bathroom-3.1x2.2-tub', rect(0, 0, 3100, 2200), [1500, 60], rect(2950, 600, 3100, 2200), [
    box('tub', 0, 1450, 1750, 2200),
    disc('wc', 2500, 300, 160, 50),
    box('vanity', 200, 0, 1100, 480),
  ]),
  room(
    'u-shape-4.2x3.2',
    [
      [0, 0],
      [4200, 0],
      [4200, 3200],
      [2900, 3200],
      [2900, 1300],
      [1400, 1300],
      [1400, 3200],
      [0, 3200],
    ],
    [60, 3100],
    rect(2900, 2900, 4200, 3200),
  ),
  room(
    'trapezium-2.8x2.0',
    [
      [0, 0],
      [2800, 0],
      [2300, 2000],
      [350, 2000],
    ],
    [1400, 60],
    rect(350, 1850, 2300, 2000),
    [disc('column', 1700, 1000, 90, 40)],
  ),
  room('long-bath-3.4x1.5', rect(0, 0, 3400, 1500), [3300, 60], rect(0, 0, 150, 1500), [
    box('shower', 900, 700, 1900, 1500, 30),
    box('basin', 2300, 1050, 2900, 1500),
  ]),
];
