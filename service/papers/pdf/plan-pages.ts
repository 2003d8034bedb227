import { onlyZone, type PlanSheet } from '../model.js';
import { planFrame, scaleToFit } from '../plan-frame.js';
import { planScene } from '../plan-scene.js';
import type { Scale } from '../scale.js';
import { titleBlock } from '../title-block.js';
import { type Book, PAPER_SIZE } from './book.js';
import { paint } from './paint.js';

/** Room between plan and title block, mm. */
const GAP = 4;

interface Fit {
  readonly landscape: boolean;
  readonly scale: Scale;
}

/** Upright unless lying down gives a larger standard scale. */
const bestFit = (book: Book, sheet: PlanSheet): Fit => {
  const [short, long] = PAPER_SIZE[book.paper];
  const frameWidth = 2 * book.left;
  const frameHeight = 2 * book.top;
  const fitted = (landscape: boolean): Fit => {
    const width = (landscape ? long : short) - frameWidth;
    const block = titleBlock(
      sheet,
      { keys: planScene(sheet, { scale: 20, studs: false }).keys, scaleName: '' },
      [0, 0],
      width,
      1,
    );
    const height = (landscape ? short : long) - frameHeight - block.height - GAP;
    return { landscape, scale: scaleToFit(sheet, width, height) };
  };
  const upright = fitted(false);
  const lying = fitted(true);
  return lying.scale.ratio < upright.scale.ratio ? lying : upright;
};

const planPage = (book: Book, sheet: PlanSheet, subject: string): void => {
  const { landscape, scale } = bestFit(book, sheet);
  const { ratio } = scale;
  book.page(subject, landscape);
  const plan = planScene(sheet, { scale: ratio, studs: true });
  const frame = planFrame(sheet, ratio);
  const width = book.width();
  const block = titleBlock(sheet, { keys: plan.keys, scaleName: scale.name }, [0, 0], width, ratio);
  const top = book.bottom() - block.height;
  const free = top - GAP - book.top;
  const planWidth = (frame.right - frame.left) / ratio;
  const planHeight = (frame.bottom - frame.top) / ratio;
  const at: [number, number] = [
    book.left + (width - planWidth) / 2,
    book.top + Math.max(0, Math.min((free - planHeight) / 2, 25)),
  ];
  paint(book.doc, [...plan.marks, ...frame.dimensions.marks], [frame.left, frame.top], at, ratio);
  paint(book.doc, block.marks, [0, 0], [book.left, top], ratio);
};

/** One plan to scale; with several zones an overview first, then a page for each. */
export const planPages = (book: Book, sheet: PlanSheet): void => {
  planPage(book, sheet, sheet.zones.length > 1 ? 'Plan of all zones' : `Plan: ${sheet.zones[0]?.id ?? ''}`);
  if (sheet.zones.length > 1)
    sheet.zones.forEach((zone, i) => {
      planPage(book, onlyZone(sheet, i), `Plan: ${zone.id}`);
    });
};
