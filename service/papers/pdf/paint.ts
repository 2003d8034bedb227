import type { Mark } from '../marks.js';
import { type Doc, MM } from './book.js';
import { winAnsi } from './win-ansi.js';

/**
 * Draws marks on the current page: the sheet point `origin` (mm of the room) comes to `at` (mm of paper from the top
 * left), at `ratio` mm of the room per mm of paper.
 */
export const paint = (
  doc: Doc,
  marks: readonly Mark[],
  origin: readonly [number, number],
  at: readonly [number, number],
  ratio: number,
): void => {
  const k = MM / ratio;
  doc.save();
  doc.translate(at[0] * MM - origin[0] * k, at[1] * MM - origin[1] * k).scale(k);
  doc.lineJoin('round');
  for (const mark of marks) {
    if (mark.kind === 'text') {
      const text = winAnsi(mark.text);
      doc.font(mark.bold ? 'Helvetica-Bold' : 'Helvetica').fontSize(mark.size);
      const width = doc.widthOfString(text);
      const shift = mark.anchor === 'middle' ? -width / 2 : mark.anchor === 'end' ? -width : 0;
      doc.save().translate(mark.at[0], mark.at[1]).rotate(mark.rotate);
      doc.fillColor(mark.color).text(text, shift, 0, { lineBreak: false, baseline: 'alphabetic' });
      doc.restore();
      continue;
    }
    if (mark.d === '') continue;
    if (mark.fill !== undefined) doc.path(mark.d).fill(mark.fill);
    if (mark.stroke !== undefined) {
      doc.lineWidth(mark.stroke.width).strokeColor(mark.stroke.color);
      doc.lineCap(mark.stroke.cap ?? 'butt');
      if (mark.stroke.dash === undefined) doc.undash();
      // pdfkit takes a list of lengths, its type declarations only one.
      else doc.dash([...mark.stroke.dash] as unknown as number, {});
      doc.path(mark.d).stroke();
    }
  }
  doc.restore();
};
