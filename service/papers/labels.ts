import type { Point } from '../../solver/problem.js';
import type { Box } from './clip.js';
import { type Mark, rectData, textWidth } from './marks.js';
import { INK, PAPER } from './pens.js';

/** Remembers what is taken, so that small labels are left out rather than laid over one another. */
export interface LabelField {
  /** False, and nothing taken, when the box meets one that is already taken. */
  claim(box: Box): boolean;
  /** Takes the box whatever is there. */
  reserve(box: Box): void;
}

export const labelField = (): LabelField => {
  const taken: Box[] = [];
  const meets = (a: Box, b: Box): boolean =>
    a.minX < b.maxX && b.minX < a.maxX && a.minY < b.maxY && b.minY < a.maxY;
  return {
    claim(box) {
      if (taken.some((other) => meets(box, other))) return false;
      taken.push(box);
      return true;
    },
    reserve(box) {
      taken.push(box);
    },
  };
};

/** Box of a label centred on `at` (sheet coordinates). */
export const labelBox = (at: Point, text: string, size: number, pad: number): Box => {
  const half = textWidth(text, size) / 2 + pad;
  return {
    minX: at[0] - half,
    maxX: at[0] + half,
    minY: at[1] - size * 0.42 - pad,
    maxY: at[1] + size * 0.42 + pad,
  };
};

/** Text centred on `at` over a patch of paper. */
export const labelMarks = (
  part: string,
  at: Point,
  text: string,
  size: number,
  pad: number,
  options: { readonly bold?: boolean; readonly color?: string } = {},
): Mark[] => {
  const box = labelBox(at, text, size, pad);
  return [
    {
      kind: 'path',
      part,
      d: rectData(box.minX, box.minY, box.maxX - box.minX, box.maxY - box.minY),
      fill: PAPER,
    },
    {
      kind: 'text',
      part,
      text,
      at: [at[0], at[1] + size * 0.36],
      size,
      anchor: 'middle',
      rotate: 0,
      bold: options.bold ?? false,
      color: options.color ?? INK,
    },
  ];
};
