import type PDFDocument from 'pdfkit';
import { wrapBy } from '../marks.js';
import { INK } from '../pens.js';
import { winAnsi } from './win-ansi.js';

export type Doc = InstanceType<typeof PDFDocument>;

/** Points per mm. */
export const MM = 72 / 25.4;

export type Paper = 'A4' | 'LETTER';

/** Paper sizes in mm, upright. */
export const PAPER_SIZE: Record<Paper, readonly [number, number]> = {
  A4: [210, 297],
  LETTER: [215.9, 279.4],
};

const MARGIN = 14;
const HEADER = 9;
const FOOTER = 9;

/** Type sizes in points. */
export const TYPE = { body: 9, small: 7.5, head: 11.5, title: 16 } as const;

export interface TextStyle {
  readonly size?: number;
  readonly bold?: boolean;
  readonly color?: string;
}

/** A paged document written top down. Positions and sizes mm from the top left of the page. */
export interface Book {
  readonly doc: Doc;
  readonly paper: Paper;
  readonly left: number;
  readonly top: number;
  width(): number;
  bottom(): number;
  y: number;
  /** Starts a page; `subject` stands in its header. */
  page(subject: string, landscape?: boolean): void;
  /** Starts a page with the same subject unless `height` mm are still free. True when it did. */
  ensure(height: number): boolean;
  measure(text: string, style?: TextStyle): number;
  wrap(text: string, width: number, style?: TextStyle): string[];
  /** One line; `y` is the top of the line. Cut with an ellipsis when wider than `width`. */
  line(
    text: string,
    x: number,
    y: number,
    style?: TextStyle & { readonly width?: number; readonly align?: 'left' | 'right' | 'center' },
  ): void;
  /** Wrapped text at the cursor; breaks across pages. */
  paragraph(text: string, style?: TextStyle & { readonly indent?: number; readonly after?: number }): void;
  heading(text: string, keepWith?: number): void;
  rule(x0: number, y0: number, x1: number, y1: number, width?: number, color?: string): void;
  box(
    x: number,
    y: number,
    w: number,
    h: number,
    options?: { readonly fill?: string; readonly stroke?: number },
  ): void;
  /** Writes headers and footers; nothing may follow. */
  finish(header: string, footer: string): void;
}

/** Line height in mm for a type size in points. */
export const leading = (size: number): number => (size * 1.28) / MM;

export const openBook = (doc: Doc, paper: Paper): Book => {
  const subjects: string[] = [];
  const setFont = (style: TextStyle): void => {
    doc.font(style.bold ? 'Helvetica-Bold' : 'Helvetica').fontSize(style.size ?? TYPE.body);
  };
  const fitted = (text: string, width: number, style: TextStyle): string => {
    if (book.measure(text, style) <= width) return text;
    let cut = text;
    while (cut !== '' && book.measure(`${cut}…`, style) > width) cut = [...cut].slice(0, -1).join('');
    return `${cut}…`;
  };
  const book: Book = {
    doc,
    paper,
    left: MARGIN,
    top: MARGIN + HEADER,
    y: 0,
    width: () => doc.page.width / MM - 2 * MARGIN,
    bottom: () => doc.page.height / MM - MARGIN - FOOTER,
    page(subject, landscape = false) {
      doc.addPage({ size: paper, margin: 0, layout: landscape ? 'landscape' : 'portrait' });
      subjects.push(subject);
      book.y = book.top;
    },
    ensure(height) {
      if (book.y + height <= book.bottom() + 1e-6) return false;
      book.page(subjects.at(-1) ?? '');
      return true;
    },
    measure(text, style = {}) {
      setFont(style);
      return doc.widthOfString(winAnsi(text)) / MM;
    },
    wrap(text, width, style = {}) {
      setFont(style);
      return wrapBy(winAnsi(text), width * MM, (part) => doc.widthOfString(part));
    },
    line(text, x, y, style = {}) {
      const size = style.size ?? TYPE.body;
      const clean = style.width === undefined ? winAnsi(text) : fitted(winAnsi(text), style.width, style);
      const slack =
        (style.width ?? 0) -
        (style.align === undefined || style.align === 'left' ? 0 : book.measure(clean, style));
      const shift = style.align === 'right' ? slack : style.align === 'center' ? slack / 2 : 0;
      setFont(style);
      doc.fillColor(style.color ?? INK);
      doc.text(clean, (x + shift) * MM, y * MM + size * 0.98, { lineBreak: false, baseline: 'alphabetic' });
    },
    paragraph(text, style = {}) {
      const indent = style.indent ?? 0;
      const step = leading(style.size ?? TYPE.body);
      for (const part of book.wrap(text, book.width() - indent, style)) {
        book.ensure(step);
        book.line(part, book.left + indent, book.y, style);
        book.y += step;
      }
      book.y += style.after ?? 1.5;
    },
    heading(text, keepWith = 20) {
      const step = leading(TYPE.head);
      const lines = book.wrap(text, book.width(), { size: TYPE.head, bold: true });
      if (book.y > book.top + 1) book.y += 4;
      book.ensure(lines.length * step + keepWith);
      for (const part of lines) {
        book.line(part, book.left, book.y, { size: TYPE.head, bold: true });
        book.y += step;
      }
      book.y += 1.2;
    },
    rule(x0, y0, x1, y1, width = 0.18, color = INK) {
      doc
        .save()
        .lineWidth(width * MM)
        .strokeColor(color);
      doc
        .moveTo(x0 * MM, y0 * MM)
        .lineTo(x1 * MM, y1 * MM)
        .stroke()
        .restore();
    },
    box(x, y, w, h, options = {}) {
      doc.save();
      if (options.fill !== undefined) doc.rect(x * MM, y * MM, w * MM, h * MM).fill(options.fill);
      const width = options.stroke ?? 0.18;
      if (width > 0)
        doc
          .lineWidth(width * MM)
          .strokeColor(INK)
          .rect(x * MM, y * MM, w * MM, h * MM)
          .stroke();
      doc.restore();
    },
    finish(header, footer) {
      const range = doc.bufferedPageRange();
      for (let i = 0; i < range.count; i++) {
        doc.switchToPage(range.start + i);
        const width = book.width();
        const right = book.left + width;
        const low = book.bottom() + 4;
        const subject = subjects[i] ?? '';
        const small = { size: TYPE.small };
        const share = Math.min(width / 2, book.measure(subject, { ...small, bold: true }));
        book.line(subject, right - share, MARGIN, { ...small, bold: true, width: share });
        book.line(header, book.left, MARGIN, { ...small, width: width - share - 6 });
        book.rule(book.left, MARGIN + 4.5, right, MARGIN + 4.5);
        book.rule(book.left, low, right, low);
        book.line(footer, book.left, low + 1.2, { ...small, width: width - 30 });
        book.line(`page ${i + 1} of ${range.count}`, right - 28, low + 1.2, {
          ...small,
          width: 28,
          align: 'right',
        });
      }
    },
  };
  return book;
};
