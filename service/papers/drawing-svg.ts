import type { Mark } from './marks.js';
import type { PlanSheet } from './model.js';
import { PAPER } from './pens.js';
import { drawingScale, planFrame } from './plan-frame.js';
import { planScene } from './plan-scene.js';
import type { Scale } from './scale.js';
import { titleBlock } from './title-block.js';
import { decimal } from './units.js';

export interface DrawingOptions {
  /** mm of the room per mm of paper; by default the largest standard scale that fits an A4 page. */
  readonly scale?: Scale;
  /** Dots where the studs stand; on by default. */
  readonly studs?: boolean;
}

/** Paper mm around everything, and the least width of the title block. */
export const SHEET_MARGIN = 8;
const LEAST_WIDTH = 176;

const ENTITIES: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text safe inside XML content and attributes; characters that XML 1.0 forbids become U+FFFD. */
export const xmlText = (text: string): string =>
  [...text]
    .map((char) => {
      const code = char.codePointAt(0) ?? 0;
      const legal =
        code === 9 ||
        code === 10 ||
        code === 13 ||
        (code >= 32 && code < 0xd800) ||
        (code > 0xdfff && code < 0xfffe) ||
        code > 0xffff;
      return legal ? (ENTITIES[char] ?? char) : '\ufffd';
    })
    .join('');

const num = (value: number): string => decimal(value, 3);

const markXml = (mark: Mark): string => {
  if (mark.kind === 'text') {
    const turn =
      Math.abs(mark.rotate) < 1e-6
        ? ''
        : ` transform="rotate(${num(mark.rotate)} ${num(mark.at[0])} ${num(mark.at[1])})"`;
    const weight = mark.bold ? ' font-weight="bold"' : '';
    return (
      `<text class="${mark.part}" x="${num(mark.at[0])}" y="${num(mark.at[1])}" font-size="${num(mark.size)}" ` +
      `text-anchor="${mark.anchor}" fill="${mark.color}"${weight}${turn}>${xmlText(mark.text)}</text>`
    );
  }
  const { stroke } = mark;
  const line =
    stroke === undefined
      ? ''
      : ` stroke="${stroke.color}" stroke-width="${num(stroke.width)}"` +
        (stroke.dash === undefined ? '' : ` stroke-dasharray="${stroke.dash.map(num).join(' ')}"`) +
        (stroke.cap === 'round' ? ' stroke-linecap="round"' : '');
  return `<path class="${mark.part}" d="${mark.d}" fill="${mark.fill ?? 'none'}"${line}/>`;
};

/**
 * The plan as an SVG document. One user unit is one mm of the room; y of the model points up, so a model point (x, y)
 * is drawn at (x, -y). `width` and `height` are mm of paper at the stated scale. Lines and letters are sized for it.
 */
export const drawingSvg = (sheet: PlanSheet, options: DrawingOptions = {}): string => {
  const scale = options.scale ?? drawingScale(sheet);
  const { ratio } = scale;
  const frame = planFrame(sheet, ratio);
  const plan = planScene(sheet, { scale: ratio, studs: options.studs ?? true });
  const width = Math.max(frame.right - frame.left, LEAST_WIDTH * ratio);
  const left = (frame.left + frame.right) / 2 - width / 2;
  const block = titleBlock(
    sheet,
    { keys: plan.keys, scaleName: scale.name },
    [left, frame.bottom + 3 * ratio],
    width / ratio,
    ratio,
  );
  const margin = SHEET_MARGIN * ratio;
  const view = {
    x: left - margin,
    y: frame.top - margin,
    w: width + 2 * margin,
    h: frame.bottom - frame.top + (3 + block.height) * ratio + 2 * margin,
  };
  const marks = [...plan.marks, ...frame.dimensions.marks, ...block.marks];
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${num(view.w / ratio)}mm" height="${num(view.h / ratio)}mm" ` +
      `viewBox="${num(view.x)} ${num(view.y)} ${num(view.w)} ${num(view.h)}" data-scale="${ratio}" ` +
      `font-family="Helvetica, Arial, 'Liberation Sans', sans-serif" stroke-linejoin="round">`,
    `<title>${xmlText(sheet.title)}</title>`,
    `<desc>${xmlText(`Plan ${sheet.id}, scale ${scale.name}, one unit is one millimetre of the room`)}</desc>`,
    `<rect x="${num(view.x)}" y="${num(view.y)}" width="${num(view.w)}" height="${num(view.h)}" fill="${PAPER}"/>`,
    ...marks.map(markXml),
    '</svg>',
    '',
  ].join('\n');
};
