import type { Point, Ring } from '../../solver/problem.js';
import { decimal } from './units.js';

/**
 * A drawing as a flat list of marks in sheet coordinates: mm of the room, x right, y DOWN (a model point [x, y]
 * becomes [x, -y]), so that the list goes unchanged into an SVG and, scaled, onto a PDF page.
 */
export interface Stroke {
  readonly width: number;
  readonly color: string;
  readonly dash?: readonly number[];
  readonly cap?: 'butt' | 'round';
}

export interface PathMark {
  readonly kind: 'path';
  /** What the mark stands for; becomes the class in the SVG. */
  readonly part: string;
  /** SVG path data with absolute M, L, A and Z only. */
  readonly d: string;
  readonly stroke?: Stroke;
  readonly fill?: string;
}

export interface TextMark {
  readonly kind: 'text';
  readonly part: string;
  readonly text: string;
  /** Baseline point. */
  readonly at: Point;
  readonly size: number;
  readonly anchor: 'start' | 'middle' | 'end';
  /** Degrees, positive turns the text clockwise on the page. */
  readonly rotate: number;
  readonly bold: boolean;
  readonly color: string;
}

export type Mark = PathMark | TextMark;

const num = (value: number): string => decimal(value, 3);

export const flip = (p: Point): Point => [p[0], -p[1]];

/** Path data of a polyline given in sheet coordinates. */
export const lineData = (points: Ring, closed = false): string =>
  points.map((p, i) => `${i === 0 ? 'M' : 'L'}${num(p[0])} ${num(p[1])}`).join('') + (closed ? 'Z' : '');

export const circleData = (c: Point, r: number): string =>
  `M${num(c[0] - r)} ${num(c[1])}` +
  `A${num(r)} ${num(r)} 0 0 1 ${num(c[0] + r)} ${num(c[1])}` +
  `A${num(r)} ${num(r)} 0 0 1 ${num(c[0] - r)} ${num(c[1])}Z`;

export const ellipseData = (c: Point, rx: number, ry: number): string =>
  `M${num(c[0] - rx)} ${num(c[1])}` +
  `A${num(rx)} ${num(ry)} 0 0 1 ${num(c[0] + rx)} ${num(c[1])}` +
  `A${num(rx)} ${num(ry)} 0 0 1 ${num(c[0] - rx)} ${num(c[1])}Z`;

export const rectData = (x: number, y: number, w: number, h: number): string =>
  lineData(
    [
      [x, y],
      [x + w, y],
      [x + w, y + h],
      [x, y + h],
    ],
    true,
  );

/** A straight piece or an arc that is tangent to the pieces beside it. */
export type Piece =
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point }
  | {
      readonly kind: 'arc';
      readonly from: Point;
      readonly to: Point;
      readonly radius: number;
      /** Signed turn in radians, positive to the left (counter-clockwise). */
      readonly turn: number;
    };

const STRAIGHT = 1e-9;

/**
 * A polyline with every corner rounded to `radius` mm, smaller only where the legs are too short for it.
 * The points keep their own coordinate frame.
 */
export const roundedPieces = (points: Ring, radius: number): Piece[] => {
  const pieces: Piece[] = [];
  let cursor = points[0];
  if (cursor === undefined) return pieces;
  for (let i = 1; i < points.length; i++) {
    const here = points[i];
    const before = points[i - 1];
    if (here === undefined || before === undefined) break;
    const after = points[i + 1];
    const inLength = Math.hypot(here[0] - before[0], here[1] - before[1]);
    if (inLength < STRAIGHT) continue;
    const ux = (here[0] - before[0]) / inLength;
    const uy = (here[1] - before[1]) / inLength;
    if (after !== undefined) {
      const outLength = Math.hypot(after[0] - here[0], after[1] - here[1]);
      const vx = outLength < STRAIGHT ? ux : (after[0] - here[0]) / outLength;
      const vy = outLength < STRAIGHT ? uy : (after[1] - here[1]) / outLength;
      const turn = Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
      const half = Math.tan(Math.abs(turn) / 2);
      if (Math.abs(turn) > STRAIGHT && Math.abs(turn) < Math.PI - STRAIGHT) {
        const inRoom = i === 1 ? inLength : inLength / 2;
        const outRoom = i + 1 === points.length - 1 ? outLength : outLength / 2;
        const cut = Math.min(radius * half, inRoom, outRoom);
        const near: Point = [here[0] - ux * cut, here[1] - uy * cut];
        const touches = Math.hypot(near[0] - cursor[0], near[1] - cursor[1]) <= STRAIGHT;
        const start = touches ? cursor : near;
        const stop: Point = [here[0] + vx * cut, here[1] + vy * cut];
        if (!touches) pieces.push({ kind: 'line', from: cursor, to: start });
        pieces.push({ kind: 'arc', from: start, to: stop, radius: cut / half, turn });
        cursor = stop;
        continue;
      }
      if (Math.abs(turn) <= STRAIGHT) continue;
    }
    if (Math.hypot(here[0] - cursor[0], here[1] - cursor[1]) > STRAIGHT)
      pieces.push({ kind: 'line', from: cursor, to: here });
    cursor = here;
  }
  return pieces;
};

export const piecesLength = (pieces: readonly Piece[]): number =>
  pieces.reduce(
    (sum, piece) =>
      sum +
      (piece.kind === 'line'
        ? Math.hypot(piece.to[0] - piece.from[0], piece.to[1] - piece.from[1])
        : piece.radius * Math.abs(piece.turn)),
    0,
  );

/** Path data, in sheet coordinates, of pieces given in model coordinates. */
export const piecesData = (pieces: readonly Piece[]): string => {
  const first = pieces[0];
  if (first === undefined) return '';
  const start = flip(first.from);
  let d = `M${num(start[0])} ${num(start[1])}`;
  for (const piece of pieces) {
    const to = flip(piece.to);
    d +=
      piece.kind === 'line'
        ? `L${num(to[0])} ${num(to[1])}`
        : `A${num(piece.radius)} ${num(piece.radius)} 0 0 ${piece.turn > 0 ? 0 : 1} ${num(to[0])} ${num(to[1])}`;
  }
  return d;
};

/** Widths of the printable ASCII characters of Helvetica, thousandths of the size (Adobe core font metrics, from memory). */
const WIDTHS = [
  278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
  556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278,
  500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469,
  556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500,
  278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];

/** Width of a line of text in the unit of `size`; a little generous for bold and for characters outside ASCII. */
export const textWidth = (text: string, size: number, bold = false): number => {
  let sum = 0;
  for (const char of text) {
    const code = char.codePointAt(0) ?? 0;
    sum += WIDTHS[code - 32] ?? (code > 0x2e80 ? 1000 : 640);
  }
  return (sum / 1000) * size * (bold ? 1.07 : 1);
};

/** Drawings are shown with what fonts there are: one that stands in for Helvetica may be so many times as wide. */
export const STAND_IN = 1.2;

/**
 * Breaks text into lines no wider than `width` by the given measure, not inside a length in feet and inches; a word
 * that is too wide by itself is cut.
 */
export const wrapBy = (text: string, width: number, measure: (text: string) => number): string[] => {
  const lines: string[] = [];
  let line = '';
  const flush = (): void => {
    if (line !== '') lines.push(line);
    line = '';
  };
  for (const word of text.split(/(?<!')\s+(?!\d+\/\d)/).filter((part) => part !== '')) {
    const joined = line === '' ? word : `${line} ${word}`;
    if (measure(joined) <= width) {
      line = joined;
      continue;
    }
    flush();
    if (measure(word) <= width) {
      line = word;
      continue;
    }
    for (const char of word) {
      if (line !== '' && measure(line + char) > width) flush();
      line += char;
    }
  }
  flush();
  return lines;
};

/** `wrapBy` with the widths of Helvetica. */
export const wrapText = (text: string, size: number, width: number, bold = false): string[] =>
  wrapBy(text, width, (part) => textWidth(part, size, bold));

/** Text shortened with an ellipsis so that it fits. */
export const fitText = (text: string, size: number, width: number, bold = false): string => {
  if (textWidth(text, size, bold) <= width) return text;
  let cut = '';
  for (const char of text) {
    if (textWidth(`${cut}${char}…`, size, bold) > width) break;
    cut += char;
  }
  return `${cut}…`;
};
