import { type LayoutRequest, layoutRequestSchema } from './schemas/layout-request.js';

type Corner = [x: number, y: number];

type Thing =
  | { readonly id: string; readonly outline: Corner[] }
  | { readonly id: string; readonly center: Corner; readonly radius: number; readonly clearance: number };

interface Room {
  readonly outline: Corner[];
  readonly buffer: Corner[];
  readonly exclusions?: readonly Thing[];
  readonly wet?: true;
}

const rect = (x0: number, y0: number, x1: number, y1: number): Corner[] => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

const box = (id: string, x0: number, y0: number, x1: number, y1: number): Thing => ({
  id,
  outline: rect(x0, y0, x1, y1),
});

const disc = (id: string, x: number, y: number, radius: number): Thing => ({
  id,
  center: [x, y],
  radius,
  clearance: 40,
});

/** Plain, stepped and slanted walls, things in the way, large and small buffers: what sends the search another way. */
const ROOMS: readonly Room[] = [
  {
    outline: rect(0, 0, 1900, 1500),
    buffer: rect(0, 1350, 1900, 1500),
    exclusions: [box('basin', 1300, 0, 1900, 450), disc('wc', 400, 1000, 150)],
  },
  {
    outline: [
      [0, 0],
      [2300, 0],
      [2300, 1300],
      [1700, 1900],
      [0, 1900],
    ],
    buffer: rect(0, 1750, 1700, 1900),
  },
  {
    outline: rect(0, 0, 1000, 900),
    buffer: rect(0, 750, 1000, 900),
    exclusions: [disc('drain', 520, 430, 60)],
    wet: true,
  },
  {
    outline: [
      [0, 0],
      [2700, 0],
      [2700, 1200],
      [1400, 1200],
      [1400, 2300],
      [0, 2300],
    ],
    buffer: rect(0, 2150, 1400, 2300),
    exclusions: [box('cupboard', 2100, 0, 2700, 400)],
  },
  {
    outline: rect(0, 0, 2500, 1800),
    buffer: rect(300, 1650, 1300, 1800),
    exclusions: [disc('wc', 1900, 1100, 170)],
  },
  {
    outline: [
      [0, 0],
      [2600, 0],
      [2200, 1900],
      [250, 1900],
    ],
    buffer: rect(250, 1750, 2200, 1900),
    exclusions: [box('vanity', 900, 0, 1700, 420)],
  },
  {
    outline: rect(0, 0, 2800, 2000),
    buffer: rect(2650, 0, 2800, 2000),
    exclusions: [box('tub', 0, 1300, 1600, 2000), box('basin', 1200, 0, 1800, 450)],
  },
  { outline: rect(0, 0, 3100, 2600), buffer: rect(0, 2450, 3100, 2600) },
];

const FIRST_METRES = 5;
const LAST_METRES = 130;
const RATIO = 1.18;

const CATALOGUE = Array.from(
  { length: 1 + Math.floor(Math.log(LAST_METRES / FIRST_METRES) / Math.log(RATIO)) },
  (_, k) => Math.round(FIRST_METRES * RATIO ** k),
).map((metres) => ({
  id: `warm-${metres}`,
  length: metres * 1000,
  power: metres * 12,
  voltage: 230,
  minBendRadius: 15,
}));

/** The same room with its axes exchanged, which the search lays another way. */
const turned = ({ outline, buffer, exclusions = [], ...rest }: Room): Room => ({
  ...rest,
  outline: outline.map(exchanged),
  buffer: buffer.map(exchanged),
  exclusions: exclusions.map((thing) =>
    'outline' in thing
      ? { ...thing, outline: thing.outline.map(exchanged) }
      : { ...thing, center: exchanged(thing.center) },
  ),
});

const exchanged = ([x, y]: Corner): Corner => [y, x];

/** Rooms that have a solver thread compile what planning needs. All invented; each names its buffer and entry. */
export const WARM_UP_ROOMS: readonly LayoutRequest[] = [...ROOMS, ...ROOMS.map(turned)].map((room, k) =>
  layoutRequestSchema.parse({
    lattice: { pitch: 30 },
    spacing: { min: 2, target: 3, max: 3 },
    zones: [{ ...room, id: `warm-up-${k}`, entry: [60, 60], buffer: { outline: room.buffer } }],
    catalogue: CATALOGUE,
    effort: 'quick',
  }),
);
