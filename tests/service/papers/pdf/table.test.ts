import PDFDocument from 'pdfkit';
import { describe, expect, it } from 'vitest';
import { openBook } from '../../../../service/papers/pdf/book.js';
import { table } from '../../../../service/papers/pdf/table.js';
import { readPdf } from '../pdf-read.js';

/** How many rows of a table of `count` rows stand on each page. */
const rowsOnPages = async (count: number, height: number): Promise<number[]> => {
  const doc = new PDFDocument({ autoFirstPage: false, bufferPages: true, compress: false, margin: 0 });
  const parts: Buffer[] = [];
  doc.on('data', (part: Buffer) => parts.push(part));
  const ended = new Promise((resolve) => doc.on('end', resolve));
  const book = openBook(doc, 'A4');
  book.page('rows');
  const rows = Array.from({ length: count }, (_, k) => ({ cells: [`row ${k}`], height }));
  table(book, [{ head: 'head', share: 1 }], rows);
  doc.end();
  await ended;
  const pages = readPdf(Buffer.concat(parts), (text, size) => text.length * size);
  for (const { texts } of pages) expect(texts.filter(({ text }) => text === 'head').length).toBe(1);
  return pages.map(({ texts }) => texts.filter(({ text }) => text.startsWith('row ')).length);
};

describe('table on paper', () => {
  it('breaks between rows and leaves no last row alone on a page', async () => {
    const broken: number[][] = [];
    for (const height of [0, 9, 60, 120, 240])
      for (let count = 1; count <= 60; count++) {
        const pages = await rowsOnPages(count, height);
        expect(pages.reduce((sum, rows) => sum + rows, 0)).toBe(count);
        if (pages.length > 1) broken.push(pages);
        // Rows of which a page holds one alone cannot keep together.
        if (pages.length > 1 && height < 120) expect(pages.at(-1)).toBeGreaterThan(1);
      }
    expect(broken.length).toBeGreaterThan(100);
  });
});
