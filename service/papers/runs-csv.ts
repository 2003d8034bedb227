import type { PlanSheet, SheetRun } from './model.js';
import { decimal, feetInches } from './units.js';

type Cell = string | number | null;

/** RFC 4180 field. Text that a spreadsheet would take for a formula gets an apostrophe in front (OWASP advice). */
const field = (cell: Cell): string => {
  if (cell === null) return '';
  if (typeof cell === 'number') return decimal(cell, 1);
  const safe = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
};

interface Column {
  readonly head: string;
  cell(run: SheetRun, zone: string): Cell;
}

const COLUMNS: readonly Column[] = [
  { head: 'zone', cell: (_, zone) => zone },
  { head: 'run', cell: (run) => run.n },
  { head: 'from_x_mm', cell: (run) => run.from[0] },
  { head: 'from_y_mm', cell: (run) => run.from[1] },
  { head: 'to_x_mm', cell: (run) => run.to[0] },
  { head: 'to_y_mm', cell: (run) => run.to[1] },
  { head: 'studs_along', cell: (run) => run.studs },
  { head: 'studs_over', cell: (run) => run.over },
  { head: 'turn', cell: (run) => run.turn },
  { head: 'length_mm', cell: (run) => run.length },
  { head: 'cumulative_mm', cell: (run) => run.cumulative },
];

const IMPERIAL: readonly Column[] = [
  { head: 'length_ft_in', cell: (run) => feetInches(run.length) },
  { head: 'cumulative_ft_in', cell: (run) => feetInches(run.cumulative) },
];

/**
 * One row per run, zones in order: RFC 4180, UTF-8 without a byte order mark, CRLF, a header row. Lengths mm to 0.1;
 * imperial sheets add two columns in feet and inches. An empty field means that the value does not exist.
 */
export const runsCsv = (sheet: PlanSheet): string => {
  const columns = sheet.display === 'imperial' ? [...COLUMNS, ...IMPERIAL] : COLUMNS;
  const rows = sheet.zones.flatMap((zone) =>
    zone.runs.map((run) => columns.map((column) => field(column.cell(run, zone.id)))),
  );
  return [columns.map((column) => column.head), ...rows].map((row) => `${row.join(',')}\r\n`).join('');
};
