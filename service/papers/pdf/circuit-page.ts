import { fitText, lineData, type Mark, rectData } from '../marks.js';
import type { PlanSheet, SheetFigure } from '../model.js';
import { INK, PENS, type Pen, pen } from '../pens.js';
import { earthSymbol, heaterSymbol, jointSymbol, thermostatSymbol } from '../symbols.js';
import { lengthText } from '../units.js';
import { type Book, TYPE } from './book.js';
import { paint } from './paint.js';
import { type TableRow, table } from './table.js';

const stroke = (d: string, kind: Pen): Mark => ({ kind: 'path', part: 'circuit', d, stroke: pen(kind, 1) });

const label = (text: string, x: number, y: number, anchor: 'start' | 'middle' = 'middle'): Mark => ({
  kind: 'text',
  part: 'circuit',
  text,
  at: [x, y],
  size: 2.7,
  anchor,
  rotate: 0,
  bold: false,
  color: INK,
});

/** Circuit-breaker contact (IEC 60617 from memory): an open blade with a cross at the fixed contact. */
const breaker = (x: number, y: number): Mark[] => [
  stroke(
    lineData([
      [x, y],
      [x + 7.4, y - 3.4],
    ]) +
      lineData([
        [x + 7.2, y - 1],
        [x + 9.2, y + 1],
      ]) +
      lineData([
        [x + 7.2, y + 1],
        [x + 9.2, y - 1],
      ]),
    PENS.frame,
  ),
];

/** Residual-current device: an open blade with its current-difference box above. */
const residual = (x: number, y: number): Mark[] => [
  stroke(
    lineData([
      [x, y],
      [x + 7.4, y - 3.4],
    ]),
    PENS.frame,
  ),
  stroke(
    lineData([
      [x + 4.5, y - 2.2],
      [x + 4.5, y - 5],
    ]),
    { ...PENS.symbol, type: 'dashed', width: 0.18 },
  ),
  stroke(rectData(x + 1.6, y - 8.2, 5.8, 3.4), PENS.symbol),
  {
    kind: 'text',
    part: 'circuit',
    text: 'I',
    at: [x + 3.1, y - 5.6],
    size: 2.4,
    anchor: 'start',
    rotate: 0,
    bold: false,
    color: INK,
  },
  stroke(
    lineData(
      [
        [x + 4.2, y - 5.7],
        [x + 6.2, y - 5.7],
        [x + 5.2, y - 7.5],
      ],
      true,
    ),
    PENS.dimension,
  ),
];

const ROW = 19;

/** Single-line diagram, 178 mm wide, one branch per zone; height in mm. */
const diagram = (sheet: PlanSheet): { marks: Mark[]; height: number } => {
  const marks: Mark[] = [];
  const wire = (x0: number, y0: number, x1: number, y1: number): void => {
    marks.push(
      stroke(
        lineData([
          [x0, y0],
          [x1, y1],
        ]),
        PENS.frame,
      ),
    );
  };
  const y = 14;
  marks.push(label('supply', 0, y - 2.5, 'start'));
  wire(0, y, 16, y);
  marks.push(...breaker(16, y));
  wire(24.2, y, 38, y);
  marks.push(label('overcurrent', 21, y + 4.5), label('protection', 21, y + 7.8));
  marks.push(...residual(38, y));
  wire(46.4, y, 66, y);
  marks.push(label('ground-fault', 43, y + 4.5), label('protection', 43, y + 7.8));
  wire(66, y, 78, y);
  marks.push(...thermostatSymbol([68, y], 1));
  marks.push(label('thermostat', 68, y + 6.2));
  if ((sheet.sensors ?? []).length > 0) {
    marks.push(
      stroke(
        lineData([
          [68, y - 2.5],
          [68, y - 8],
          [84, y - 8],
        ]),
        PENS.sensor,
      ),
    );
    marks.push(label('floor sensor', 85.5, y - 7.2, 'start'));
  }
  const last = y + (sheet.zones.length - 1) * ROW;
  if (sheet.zones.length > 1) wire(78, y, 78, last);
  sheet.zones.forEach((zone, i) => {
    const row = y + i * ROW;
    wire(78, row, 84, row);
    marks.push(
      stroke(
        lineData([
          [84, row],
          [112, row],
        ]),
        { ...PENS.coldLead, color: INK },
      ),
    );
    marks.push(label(`cold lead ${lengthText(zone.cable.coldLead, sheet.display)}`, 97, row + 4.5));
    marks.push(...jointSymbol([113.5, row], 1));
    wire(115.1, row, 122, row);
    marks.push(...heaterSymbol([128, row], 1));
    [zone.id, zone.cable.id, `${zone.cable.power} W, ${zone.cable.voltage} V`].forEach((text, k) => {
      marks.push(label(fitText(text, 2.7, 36), 142, row - 2.6 + k * 3.6, 'start'));
    });
    wire(128, row + 1.8, 128, row + 5.4);
    marks.push(...earthSymbol([128, row + 7.4], 1));
  });
  return { marks, height: last + 14 };
};

const judged = (figure: SheetFigure): string =>
  figure.ok === undefined ? '' : figure.ok ? 'holds' : 'DOES NOT HOLD';

const figureRow = (figure: SheetFigure): TableRow => ({
  cells: [
    figure.label,
    figure.value,
    judged(figure),
    [figure.rule, figure.source].filter(Boolean).join('; '),
  ],
  bold: figure.ok === false,
});

const figures = (book: Book, title: string, rows: readonly SheetFigure[]): void => {
  book.heading(title);
  table(
    book,
    [
      { head: 'figure', share: 0.33 },
      { head: 'value', share: 0.22 },
      { head: 'check', share: 0.13 },
      { head: 'rule and source', share: 0.32 },
    ],
    rows.map(figureRow),
    { size: 8 },
  );
};

/** What follows from the label alone, for sheets without an electrical report. */
const labelFigures = (sheet: PlanSheet): SheetFigure[] =>
  sheet.zones.flatMap((zone) => {
    const { power, voltage } = zone.cable;
    return [
      { label: `${zone.id}: power at ${voltage} V`, value: `${power} W`, source: 'cable data' },
      {
        label: `${zone.id}: current`,
        value: `${(power / voltage).toFixed(2)} A`,
        rule: 'I = P / V',
        source: 'physics',
      },
      {
        label: `${zone.id}: resistance`,
        value: `${(voltage ** 2 / power).toFixed(2)} ohm`,
        rule: 'R = V x V / P',
        source: 'physics',
      },
    ];
  });

/** Sheet for the electrician: single-line diagram, figures, boxes for what is fitted. */
export const circuitPage = (book: Book, sheet: PlanSheet): void => {
  book.page('Circuit sheet');
  book.heading('Circuit sheet for the electrician');
  book.paragraph(
    'Work for a licensed electrician. The code in force overrides every figure here; where the two differ, the code counts.',
    { bold: true },
  );
  const { marks, height } = diagram(sheet);
  const room = book.bottom() - book.y;
  const ratio = Math.max(178 / book.width(), height / room);
  paint(book.doc, marks, [0, 0], [book.left, book.y], ratio);
  book.y += height / ratio + 2;
  const perZone = sheet.zones.filter((zone) => (zone.electrical ?? []).length > 0);
  if ((sheet.electrical ?? []).length > 0) figures(book, 'Whole circuit', sheet.electrical ?? []);
  else if (perZone.length === 0) figures(book, 'From the cable data', labelFigures(sheet));
  book.heading('As fitted', 45);
  table(
    book,
    [
      { head: 'item', share: 0.45 },
      { head: 'make, type, rating or number', share: 0.55 },
    ],
    [
      'circuit number and panel',
      'overcurrent device',
      'ground-fault device, trip current, trip test done',
      'thermostat',
      'supply voltage measured',
      'protective conductor joined to the cable braid',
      'name, licence, date, signature',
    ].map((item) => ({ cells: [item, ''], height: 8.5 })),
    { size: TYPE.body, grid: true },
  );
  for (const zone of perZone) figures(book, `${zone.id}: cable ${zone.cable.id}`, zone.electrical ?? []);
};
