import PDFDocument from 'pdfkit';
import type { PlanSheet } from './model.js';
import { openBook } from './pdf/book.js';
import { circuitPage } from './pdf/circuit-page.js';
import { cautionPage, handoverPage, materialSection } from './pdf/closing-pages.js';
import { layingPages } from './pdf/laying-pages.js';
import { planPages } from './pdf/plan-pages.js';
import { recordPage } from './pdf/record-page.js';
import { winAnsi } from './pdf/win-ansi.js';

export interface SheetOptions {
  /** Date in the document's properties; left out when absent, so that equal sheets give equal bytes. */
  readonly issued?: Date;
  /** On by default. */
  readonly compress?: boolean;
}

const isPlain = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null;

const printable = (value: unknown): unknown => {
  if (typeof value === 'string') return winAnsi(value);
  if (Array.isArray(value)) return value.map(printable);
  if (!isPlain(value)) return value;
  return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, printable(part)]));
};

/** The same sheet with every text printable in the standard fonts. */
const printableSheet = (sheet: PlanSheet): PlanSheet => printable(sheet) as PlanSheet;

/**
 * All papers of a plan as one PDF: plans to scale, runs, laying order, test record, circuit sheet, materials,
 * hand-over, cautions. A4, or Letter for imperial sheets. The same sheet and options give the same bytes.
 */
export const sheetPdf = (plan: PlanSheet, options: SheetOptions = {}): Promise<Uint8Array> =>
  new Promise((resolve, reject) => {
    const doc = new PDFDocument({
      autoFirstPage: false,
      bufferPages: true,
      compress: options.compress ?? true,
      lang: 'en',
      displayTitle: true,
      info: {
        Title: winAnsi(plan.title),
        Subject: winAnsi(`Heating cable plan ${plan.id}`),
        // pdfkit derives the file's identifier from this date: a fixed one keeps the bytes the same.
        CreationDate: options.issued ?? new Date(0),
      },
    });
    // pdfkit needs the date to be there until the end; hidden, it is not printed.
    if (options.issued === undefined) Object.defineProperty(doc.info, 'CreationDate', { enumerable: false });
    const chunks: Uint8Array[] = [];
    doc.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    doc.on('end', () => resolve(Buffer.concat(chunks)));
    doc.on('error', reject);
    // Before anything is measured, so that what is measured is what is printed.
    const sheet = printableSheet(plan);
    const book = openBook(doc, sheet.display === 'metric' ? 'A4' : 'LETTER');
    planPages(book, sheet);
    layingPages(book, sheet);
    recordPage(book, sheet);
    circuitPage(book, sheet);
    materialSection(book, sheet);
    handoverPage(book, sheet);
    cautionPage(book);
    book.finish(
      `${sheet.title}   plan ${sheet.id}`,
      'A plan, not an approval: local code and the instructions in hand come first.',
    );
    doc.end();
  });
