import type { Point } from '../../solver/problem.js';
import { circleData, lineData, type Mark, rectData, STAND_IN, textWidth } from './marks.js';
import { jointAtEntry, type PlanSheet } from './model.js';
import { BUFFER_DOT_COLOR, COLD_FILL, INK, PENS, type Pen, pen } from './pens.js';
import { holdsDatum } from './plan-scene.js';
import {
  arrowHead,
  checkpointSymbol,
  datumSymbol,
  endSymbol,
  endTick,
  entrySymbol,
  jointSymbol,
  sensorSymbol,
  thermostatSymbol,
} from './symbols.js';
import { dimensionText } from './units.js';

interface LegendItem {
  readonly label: string;
  /** Draws the sample in a field 10 x 4 mm of paper whose left middle is `at` (sheet coordinates). */
  sample(at: Point, scale: number): Mark[];
}

const stretch =
  (kind: Pen) =>
  ([x, y]: Point, s: number): Mark[] => [
    {
      kind: 'path',
      part: 'legend',
      d: lineData([
        [x, y],
        [x + 10 * s, y],
      ]),
      stroke: pen(kind, s),
    },
  ];

const patch =
  (kind: Pen, inside: (x: number, y: number, s: number) => Mark[], fill?: string) =>
  ([x, y]: Point, s: number): Mark[] => [
    {
      kind: 'path',
      part: 'legend',
      d: rectData(x + 0.5 * s, y - 1.5 * s, 9 * s, 3 * s),
      stroke: pen(kind, s),
      ...(fill === undefined ? {} : { fill }),
    },
    ...inside(x, y, s),
  ];

const hatch = (x: number, y: number, s: number): Mark[] => [
  {
    kind: 'path',
    part: 'legend',
    d: [0, 1, 2, 3, 4]
      .map((k) =>
        lineData([
          [x + (0.5 + k * 1.5) * s, y + 1.5 * s],
          [x + (3.5 + k * 1.5) * s, y - 1.5 * s],
        ]),
      )
      .join(''),
    stroke: pen(PENS.hatch, s),
  },
];

const bufferDots = (x: number, y: number, s: number): Mark[] => [
  {
    kind: 'path',
    part: 'legend',
    d: lineData([
      [x + 1.5 * s, y],
      [x + 8.6 * s, y],
    ]),
    stroke: { width: 0.3 * s, color: BUFFER_DOT_COLOR, dash: [0.01, 1.4 * s], cap: 'round' },
  },
];

const middle = ([x, y]: Point, s: number): Point => [x + 5 * s, y];

/** The samples that this sheet needs, in drawing order. */
export const legendItems = (sheet: PlanSheet): LegendItem[] => {
  const any = (test: (zone: PlanSheet['zones'][number]) => boolean): boolean => sheet.zones.some(test);
  const sensors = sheet.sensors ?? [];
  const items: (LegendItem | false)[] = [
    { label: 'wall', sample: stretch(PENS.wall) },
    {
      label: 'heating cable, direction laid',
      sample: (at, s) => [
        ...stretch(PENS.cable)(at, s),
        arrowHead(middle(at, s), [1, 0], 2.2 * s, PENS.cable.color),
      ],
    },
    any((z) => z.reserve.length > 1) && {
      label: 'reserve, if the cable runs long',
      sample: stretch(PENS.reserve),
    },
    any((z) => !jointAtEntry(z)) && {
      label: 'cable enters the lattice',
      sample: (at, s) => entrySymbol(middle(at, s), s),
    },
    {
      label: 'cable ends; ticks: earliest, latest',
      sample: (at, s) => [
        ...stretch(PENS.cable)(at, s).slice(1),
        ...endSymbol(middle(at, s), [1, 0], s),
        endTick([at[0] + 2 * s, at[1]], [1, 0], s),
        endTick([at[0] + 9 * s, at[1]], [1, 0], s),
      ],
    },
    any((z) => z.buffer.length > 2) && {
      label: 'buffer: the cable ends in here',
      sample: patch(PENS.buffer, bufferDots),
    },
    any((z) => z.exclusions.length > 0) && { label: 'no heat', sample: patch(PENS.noHeat, hatch) },
    any((z) => z.coverage.cold.length > 0) && {
      label: 'floor left cold',
      sample: patch(PENS.cold, () => [], COLD_FILL),
    },
    any((z) => z.drain !== undefined) && {
      label: 'drain',
      sample: ([x, y], s) => [
        { kind: 'path', part: 'legend', d: circleData([x + 5 * s, y], 1.6 * s), stroke: pen(PENS.noHeat, s) },
        {
          kind: 'path',
          part: 'legend',
          d:
            lineData([
              [x + 3.9 * s, y - 1.1 * s],
              [x + 6.1 * s, y + 1.1 * s],
            ]) +
            lineData([
              [x + 3.9 * s, y + 1.1 * s],
              [x + 6.1 * s, y - 1.1 * s],
            ]),
          stroke: pen(PENS.symbol, s),
        },
      ],
    },
    any((z) => z.curb !== undefined) && { label: 'curb', sample: patch(PENS.noHeat, () => [], '#ebebeb') },
    any((z) => z.coldLead !== undefined) && { label: 'cold lead', sample: stretch(PENS.coldLead) },
    any((z) => z.joint !== undefined) && {
      label: 'joint, hot to cold',
      sample: (at, s) => jointSymbol(middle(at, s), s),
    },
    sensors.length > 0 && { label: 'floor sensor', sample: (at, s) => sensorSymbol(middle(at, s), false, s) },
    sensors.some((x) => x.spare) && {
      label: 'spare sensor',
      sample: (at, s) => sensorSymbol(middle(at, s), true, s),
    },
    sensors.some((x) => x.lead.length > 1) && { label: 'sensor lead', sample: stretch(PENS.sensor) },
    sheet.thermostat !== undefined && {
      label: 'thermostat',
      sample: (at, s) => thermostatSymbol(middle(at, s), s * 0.75),
    },
    holdsDatum(sheet) && {
      label: 'zero point of the run table',
      sample: (at, s) => datumSymbol(middle(at, s), s),
    },
    any((z) => (z.checkpoints ?? []).length > 0) && {
      label: 'checkpoint',
      sample: (at, s) => [checkpointSymbol(middle(at, s), s)],
    },
  ];
  return items.filter((item) => item !== false);
};

const ROW = 4.6;
const TEXT = 2.5;

/** Legend in as many columns as fit; `width` in mm of paper. Height comes back in mm of paper. */
export const legendMarks = (
  sheet: PlanSheet,
  at: Point,
  width: number,
  scale: number,
): { marks: Mark[]; height: number } => {
  const items = legendItems(sheet);
  const widest = Math.max(...items.map((item) => textWidth(item.label, TEXT)));
  const column = 12 + widest * STAND_IN + 4;
  const columns = Math.max(1, Math.floor((width + 4) / column));
  const rows = Math.ceil(items.length / columns);
  const marks = items.flatMap((item, i): Mark[] => {
    const x = at[0] + Math.floor(i / rows) * column * scale;
    const y = at[1] + ((i % rows) + 0.5) * ROW * scale;
    return [
      ...item.sample([x, y], scale),
      {
        kind: 'text',
        part: 'legend',
        text: item.label,
        at: [x + 12 * scale, y + TEXT * 0.36 * scale],
        size: TEXT * scale,
        anchor: 'start',
        rotate: 0,
        bold: false,
        color: INK,
      },
    ];
  });
  return { marks, height: rows * ROW };
};

const METRIC_BARS = [100, 200, 250, 500, 1000, 2000, 5000];
const IMPERIAL_BARS = [6, 12, 24, 36, 48, 72, 120, 240].map((inches) => inches * 25.4);

/** Scale bar of four fields; takes about 45 x 8 mm of paper from its top left corner. */
export const scaleBarMarks = (sheet: PlanSheet, at: Point, scale: number): Mark[] => {
  const bars = sheet.display === 'metric' ? METRIC_BARS : IMPERIAL_BARS;
  const total = bars.findLast((mm) => mm <= 44 * scale) ?? bars[0] ?? 100;
  const field = total / 4;
  const top = at[1] + 3.6 * scale;
  const h = 1.4 * scale;
  const stroke = pen(PENS.dimension, scale);
  const marks: Mark[] = [{ kind: 'path', part: 'scale-bar', d: rectData(at[0], top, total, h), stroke }];
  for (const k of [0, 2])
    marks.push({ kind: 'path', part: 'scale-bar', d: rectData(at[0] + k * field, top, field, h), fill: INK });
  const label = (mm: number, anchor: 'start' | 'middle' | 'end'): Mark => ({
    kind: 'text',
    part: 'scale-bar',
    text: `${mm === 0 ? '0' : dimensionText(mm, sheet.display)}${mm === total && sheet.display === 'metric' ? ' mm' : ''}`,
    at: [at[0] + mm, top - 0.9 * scale],
    size: 2.4 * scale,
    anchor,
    rotate: 0,
    bold: false,
    color: INK,
  });
  marks.push(label(0, 'start'), label(total / 2, 'middle'), label(total, 'middle'));
  return marks;
};
