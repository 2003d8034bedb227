import { type Book, leading, TYPE } from './book.js';

export interface TableColumn {
  readonly head: string;
  /** Share of the table's width; the shares add up to 1. */
  readonly share: number;
  readonly align?: 'left' | 'right';
}

export interface TableRow {
  readonly cells: readonly string[];
  readonly shade?: boolean;
  readonly bold?: boolean;
  /** Least height in mm, for cells that are filled in by hand. */
  readonly height?: number;
}

const PAD = 1.7;
/** Space above and below the text of a cell, mm. */
const AIR = 1;
const SHADE = '#e9e9e9';

/**
 * A ruled table at the cursor. Cells wrap, rows never split, the head is repeated on every page; of three rows or more the
 * last two stay together.
 */
export const table = (
  book: Book,
  columns: readonly TableColumn[],
  rows: readonly TableRow[],
  options: { readonly size?: number; readonly grid?: boolean } = {},
): void => {
  const size = options.size ?? TYPE.body;
  const step = leading(size);
  const width = book.width();
  const lefts: number[] = [];
  let x = book.left;
  for (const column of columns) {
    lefts.push(x);
    x += column.share * width;
  }
  const mostLines = Math.floor((book.bottom() - book.top - 30) / step);
  const layOut = (cells: readonly string[], bold: boolean): string[][] =>
    columns.map((column, i) => {
      const lines = book.wrap(cells[i] ?? '', column.share * width - 2 * PAD, { size, bold });
      return lines.length <= mostLines ? lines : [...lines.slice(0, mostLines - 1), '…'];
    });
  const heightOf = (lines: readonly string[][], least: number): number =>
    Math.max(least, Math.max(1, ...lines.map((cell) => cell.length)) * step + 2 * AIR);
  const draw = (
    lines: readonly string[][],
    height: number,
    style: { bold: boolean; shade: boolean },
  ): void => {
    const top = book.y;
    if (style.shade) book.box(book.left, top, width, height, { fill: SHADE, stroke: 0 });
    lines.forEach((cell, i) => {
      const column = columns[i];
      if (column === undefined) return;
      const indent = (height - cell.length * step) / 2;
      cell.forEach((text, k) => {
        book.line(text, (lefts[i] ?? 0) + PAD, top + indent + k * step, {
          size,
          bold: style.bold,
          width: column.share * width - 2 * PAD + 0.01,
          align: column.align ?? 'left',
        });
      });
    });
    book.y += height;
    book.rule(book.left, book.y, book.left + width, book.y, style.bold ? 0.35 : 0.13);
    if (options.grid)
      for (const edge of [...lefts, book.left + width]) book.rule(edge, top, edge, book.y, 0.13);
  };
  const head = layOut(
    columns.map((column) => column.head),
    true,
  );
  const headHeight = heightOf(head, 0);
  const drawHead = (): void => {
    book.rule(book.left, book.y, book.left + width, book.y, 0.35);
    draw(head, headHeight, { bold: true, shade: false });
  };
  const laidOut = rows.map((row) => {
    const lines = layOut(row.cells, row.bold ?? false);
    return { row, lines, height: heightOf(lines, row.height ?? 0) };
  });
  const page = book.bottom() - book.top - headHeight;
  for (const [k, { row, lines, height }] of laidOut.entries()) {
    // A first row moves with its heading only: to take the second along could leave the heading behind.
    const last = k > 0 && k === laidOut.length - 2 ? (laidOut.at(-1)?.height ?? 0) : 0;
    const together = height + last <= page ? height + last : height;
    const broke = book.ensure(together + (k > 0 ? 0 : headHeight));
    if (broke || k === 0) drawHead();
    draw(lines, height, { bold: row.bold ?? false, shade: row.shade ?? false });
  }
  book.y += 3;
};
