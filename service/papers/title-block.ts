import type { Point } from '../../solver/problem.js';
import { BRIEF_CAUTION } from './cautions.js';
import { legendMarks, scaleBarMarks } from './legend.js';
import { fitText, lineData, type Mark, STAND_IN, wrapText } from './marks.js';
import type { PlanSheet } from './model.js';
import { INK, PENS, pen } from './pens.js';
import type { KeyEntry } from './plan-scene.js';
import { lengthText, percentText } from './units.js';

interface Column {
  readonly head: string;
  /** Share of the block's width. */
  readonly share: number;
  cell(zone: PlanSheet['zones'][number], sheet: PlanSheet): string;
}

const COLUMNS: readonly Column[] = [
  { head: 'zone', share: 0.2, cell: (z) => `${z.id}${z.wet ? ' (wet)' : ''}` },
  { head: 'cable', share: 0.17, cell: (z) => z.cable.id },
  { head: 'cable length', share: 0.15, cell: (z, s) => lengthText(z.length.cable, s.display) },
  { head: 'coverage', share: 0.12, cell: (z) => percentText(z.coverage.fraction) },
  { head: 'best possible', share: 0.14, cell: (z) => percentText(z.coverage.upperBound) },
  { head: 'turns', share: 0.08, cell: (z) => String(z.length.turns) },
  { head: 'end may move', share: 0.14, cell: (z, s) => `± ${lengthText(z.end.tolerance, s.display)}` },
];

const TEXT = 2.7;
const HEAD = 2.2;

/** Bounds on what the block lists, so that the plan keeps the larger part of the page. */
const MOST_ZONES = 10;
const MOST_LINES = 5;
/** mm on paper. */
const LONGEST_NAME = 45;

export interface BlockContent {
  readonly keys: readonly KeyEntry[];
  /** For instance "1:20". */
  readonly scaleName: string;
}

/** Title block below the plan: `width` mm of paper from its top left corner; the height comes back in mm of paper. */
export const titleBlock = (
  sheet: PlanSheet,
  content: BlockContent,
  at: Point,
  width: number,
  scale: number,
): { marks: Mark[]; height: number } => {
  const marks: Mark[] = [];
  const px = (x: number): number => at[0] + x * scale;
  const py = (y: number): number => at[1] + y * scale;
  const write = (
    x: number,
    y: number,
    text: string,
    size: number,
    bold = false,
    anchor: 'start' | 'end' = 'start',
  ): void => {
    marks.push({
      kind: 'text',
      part: 'title-block',
      text,
      at: [px(x), py(y)],
      size: size * scale,
      anchor,
      rotate: 0,
      bold,
      color: INK,
    });
  };
  const rule = (y: number): void => {
    marks.push({
      kind: 'path',
      part: 'title-block',
      d: lineData([
        [px(0), py(y)],
        [px(width), py(y)],
      ]),
      stroke: pen(PENS.dimension, scale),
    });
  };
  const barWidth = 52;
  let y = 0;
  rule(y);
  write(0, y + 6, fitText(sheet.title, 4.2, width - barWidth - 4, true), 4.2, true);
  write(
    0,
    y + 10.4,
    fitText(`plan ${sheet.id}   scale ${content.scaleName}`, TEXT, width - barWidth - 4),
    TEXT,
  );
  marks.push(...scaleBarMarks(sheet, [px(width - barWidth + 2), py(y + 3)], scale));
  y += 13;
  rule(y);
  let x = 0;
  const cells = COLUMNS.map((column) => {
    const left = x;
    x += column.share * width;
    return { column, left, width: column.share * width - 2 };
  });
  for (const { column, left } of cells) write(left, y + 3.4, column.head, HEAD);
  y += 4;
  for (const zone of sheet.zones.slice(0, MOST_ZONES)) {
    for (const { column, left, width: room } of cells)
      write(left, y + 3.6, fitText(column.cell(zone, sheet), TEXT, room), TEXT);
    y += 4.6;
  }
  if (sheet.zones.length > MOST_ZONES) {
    write(0, y + 3.6, `and ${sheet.zones.length - MOST_ZONES} more zones`, TEXT);
    y += 4.6;
  }
  y += 1;
  rule(y);
  y += 1.2;
  const legend = legendMarks(sheet, [px(0), py(y)], width, scale);
  marks.push(...legend.marks);
  y += legend.height;
  if (content.keys.length > 0) {
    const names = content.keys.map((key) => `${key.key} ${fitText(key.name, TEXT, LONGEST_NAME)}`);
    const lines = wrapText(`no heat: ${names.join(', ')}`, TEXT, width / STAND_IN);
    const shown = lines.length > MOST_LINES ? [...lines.slice(0, MOST_LINES - 1), 'and more'] : lines;
    for (const line of shown) {
      write(0, y + 3.2, line, TEXT);
      y += 3.8;
    }
  }
  y += 1;
  rule(y);
  for (const line of wrapText(BRIEF_CAUTION, TEXT, width / STAND_IN)) {
    write(0, y + 3.8, line, TEXT);
    y += 3.8;
  }
  return { marks, height: y + 1 };
};
