import type { Point } from '../../solver/problem.js';
import { circleData, ellipseData, lineData, type Mark, rectData } from './marks.js';
import { INK, PAPER, PENS, type Pen, pen } from './pens.js';

/**
 * Symbols in sheet coordinates (y down), sized in mm of paper times `scale`. Shapes follow the descriptions of
 * IEC 60617 and IEC 60417 from memory where one exists.
 */
const stroke = (part: string, d: string, kind: Pen, scale: number, fill?: string): Mark => ({
  kind: 'path',
  part,
  d,
  stroke: pen(kind, scale),
  ...(fill === undefined ? {} : { fill }),
});

const solid = (part: string, d: string, fill: string): Mark => ({ kind: 'path', part, d, fill });

/** Terminal (IEC 60617: open circle): where the heating cable enters the lattice. */
export const entrySymbol = (at: Point, scale: number): Mark[] => [
  stroke('entry', circleData(at, 1.3 * scale), PENS.symbol, scale, PAPER),
  solid('entry', circleData(at, 0.45 * scale), INK),
];

/** Sealed end: a bar across the cable and a filled square behind it. `along` is the unit direction of travel. */
export const endSymbol = (at: Point, along: Point, scale: number): Mark[] => {
  const [ux, uy] = along;
  const s = 1.1 * scale;
  const corner = (a: number, b: number): Point => [at[0] + ux * a - uy * b, at[1] + uy * a + ux * b];
  return [solid('end', lineData([corner(0, -s), corner(s, -s), corner(s, s), corner(0, s)], true), INK)];
};

/** Tick across the cable where the end may fall. */
export const endTick = (at: Point, along: Point, scale: number): Mark => {
  const s = 1.7 * scale;
  return stroke(
    'end-range',
    lineData([
      [at[0] - along[1] * s, at[1] + along[0] * s],
      [at[0] + along[1] * s, at[1] - along[0] * s],
    ]),
    PENS.endRange,
    scale,
  );
};

/** Connection (IEC 60617: filled dot) inside a box: the hot-to-cold joint. */
export const jointSymbol = (at: Point, scale: number): Mark[] => [
  stroke(
    'joint',
    rectData(at[0] - 1.6 * scale, at[1] - 1.1 * scale, 3.2 * scale, 2.2 * scale),
    PENS.symbol,
    scale,
    PAPER,
  ),
  solid('joint', circleData(at, 0.6 * scale), INK),
];

/** Letter theta, the mark of temperature, drawn so that no font is needed. */
const theta = (part: string, at: Point, size: number, scale: number): Mark[] => [
  stroke(part, ellipseData(at, size * 0.3 * scale, size * 0.5 * scale), PENS.symbol, scale),
  stroke(
    part,
    lineData([
      [at[0] - size * 0.3 * scale, at[1]],
      [at[0] + size * 0.3 * scale, at[1]],
    ]),
    PENS.symbol,
    scale,
  ),
];

/** Temperature sensor: theta in a circle; a spare one has a dashed circle. */
export const sensorSymbol = (at: Point, spare: boolean, scale: number): Mark[] => [
  stroke(
    'sensor',
    circleData(at, 1.7 * scale),
    spare ? { ...PENS.symbol, width: 0.18, type: 'dashed' } : PENS.symbol,
    scale,
    PAPER,
  ),
  ...theta('sensor', at, 2, scale),
];

/** Thermostat: theta in a box. */
export const thermostatSymbol = (at: Point, scale: number): Mark[] => [
  stroke(
    'thermostat',
    rectData(at[0] - 2.5 * scale, at[1] - 2.5 * scale, 5 * scale, 5 * scale),
    PENS.frame,
    scale,
    PAPER,
  ),
  ...theta('thermostat', at, 3, scale),
];

/** Heating element (IEC 60617: rectangle cut by bars), lying along x, centred on `at`. */
export const heaterSymbol = (at: Point, scale: number): Mark[] => {
  const w = 12 * scale;
  const h = 3.6 * scale;
  const bars = [1, 2, 3, 4].map((k): string => {
    const x = at[0] - w / 2 + (k * w) / 5;
    return lineData([
      [x, at[1] - h / 2],
      [x, at[1] + h / 2],
    ]);
  });
  return [
    stroke('heater', rectData(at[0] - w / 2, at[1] - h / 2, w, h), PENS.frame, scale, PAPER),
    stroke('heater', bars.join(''), PENS.symbol, scale),
  ];
};

/** Protective earth (IEC 60417-5019): earth bars in a circle. */
export const earthSymbol = (at: Point, scale: number): Mark[] => {
  const bar = (y: number, half: number): string =>
    lineData([
      [at[0] - half * scale, at[1] + y * scale],
      [at[0] + half * scale, at[1] + y * scale],
    ]);
  return [
    stroke('earth', circleData(at, 2.2 * scale), PENS.symbol, scale, PAPER),
    stroke(
      'earth',
      lineData([
        [at[0], at[1] - 1.5 * scale],
        [at[0], at[1]],
      ]) +
        bar(0, 1.4) +
        bar(0.55, 0.9) +
        bar(1.1, 0.4),
      PENS.symbol,
      scale,
    ),
  ];
};

/** Zero point of the coordinates (ISO 129-1 origin: small circle), with the two axes as short strokes. */
export const datumSymbol = (at: Point, scale: number): Mark[] => {
  const reach = 2.6 * scale;
  return [
    stroke(
      'datum',
      lineData([
        [at[0] - reach, at[1]],
        [at[0] + reach, at[1]],
      ]) +
        lineData([
          [at[0], at[1] - reach],
          [at[0], at[1] + reach],
        ]),
      PENS.dimension,
      scale,
    ),
    stroke('datum', circleData(at, 1.1 * scale), PENS.symbol, scale, PAPER),
  ];
};

/** Place where the metre mark is read: a lozenge. */
export const checkpointSymbol = (at: Point, scale: number): Mark => {
  const s = 1.1 * scale;
  return stroke(
    'checkpoint',
    lineData(
      [
        [at[0], at[1] - s],
        [at[0] + s, at[1]],
        [at[0], at[1] + s],
        [at[0] - s, at[1]],
      ],
      true,
    ),
    PENS.symbol,
    scale,
    PAPER,
  );
};

/** Filled arrowhead centred on `at`, pointing along the unit vector. */
export const arrowHead = (at: Point, along: Point, size: number, color: string): Mark => {
  const [ux, uy] = along;
  const h = size / 2;
  return solid(
    'direction',
    lineData(
      [
        [at[0] + ux * h, at[1] + uy * h],
        [at[0] - ux * h - uy * h * 0.75, at[1] - uy * h + ux * h * 0.75],
        [at[0] - ux * h + uy * h * 0.75, at[1] - uy * h - ux * h * 0.75],
      ],
      true,
    ),
    color,
  );
};
