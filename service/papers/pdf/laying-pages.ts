import type { PlanSheet, SheetCheckpoint, SheetRun, SheetZone } from '../model.js';
import { columnText, dimensionText, lengthText, markText } from '../units.js';
import { type Book, TYPE } from './book.js';
import { table } from './table.js';

/** Allowed difference of a mark: centimetres or inches. */
const allowedText = (mm: number, sheet: PlanSheet): string =>
  sheet.display === 'metric' ? `${Math.round(mm / 10)} cm` : `${(mm / 25.4).toFixed(1)} in`;

/** What is compared at a checkpoint. */
const expectedText = (stop: SheetCheckpoint, sheet: PlanSheet): string =>
  stop.mark === null ? `${columnText(stop.laid, sheet.display)} laid` : `mark ${markText(stop.mark)}`;

const lengthLine = (zone: SheetZone, sheet: PlanSheet): string => {
  const show = (mm: number): string => lengthText(mm, sheet.display);
  const lead = zone.length.leadIn > 0 ? `, ${show(zone.length.leadIn)} of it before the entry` : '';
  return (
    `Cable ${zone.cable.id}: ${show(zone.length.cable)}${lead}. ${zone.runs.length} runs, ${zone.length.turns} turns; ` +
    `each turn is a bend of ${dimensionText(sheet.lattice.pitch / 2, sheet.display)}${sheet.display === 'metric' ? ' mm' : ''} radius ` +
    `about the studs. Stud pitch ${dimensionText(sheet.lattice.pitch, sheet.display)}${sheet.display === 'metric' ? ' mm' : ''}.`
  );
};

const turnText = (run: SheetRun): string => run.turn ?? '';

const runPage = (book: Book, sheet: PlanSheet, zone: SheetZone): void => {
  book.page(`Runs: ${zone.id}`);
  book.heading(`Runs of ${zone.id}`);
  book.paragraph(lengthLine(zone, sheet));
  book.paragraph(
    'Runs are numbered in the order of work, as on the plan and in the laying order; a run and its step over to the next are one row. Places are measured to the right and up from the zero point of the plan. Grey rows are checkpoints: compare before going on.',
    { size: TYPE.small },
  );
  const stops = new Map((zone.checkpoints ?? []).map((stop) => [stop.run, stop]));
  const place = (value: number): string => dimensionText(value, sheet.display);
  table(
    book,
    [
      { head: 'run', share: 0.055, align: 'right' },
      { head: 'starts right', share: 0.115, align: 'right' },
      { head: 'starts up', share: 0.11, align: 'right' },
      { head: 'studs along', share: 0.08, align: 'right' },
      { head: 'studs over', share: 0.08, align: 'right' },
      { head: 'then turn', share: 0.09 },
      { head: 'run length', share: 0.13, align: 'right' },
      { head: 'laid so far', share: 0.13, align: 'right' },
      { head: 'checkpoint', share: 0.21 },
    ],
    zone.runs.map((run) => {
      const stop = stops.get(run.n);
      return {
        cells: [
          String(run.n),
          place(run.from[0]),
          place(run.from[1]),
          run.studs === null ? '-' : String(run.studs),
          run.over === null ? '-' : String(run.over),
          turnText(run),
          columnText(run.length, sheet.display),
          columnText(run.cumulative, sheet.display),
          stop === undefined ? '' : `${expectedText(stop, sheet)} ± ${allowedText(stop.allowed, sheet)}`,
        ],
        shade: stop !== undefined,
      };
    }),
    { size: 8 },
  );
};

const REMEDY = 'Count the studs since the last checkpoint and put right what is wrong before going on.';

const factSection = (book: Book, zone: SheetZone): void => {
  const facts = zone.facts ?? [];
  if (facts.length === 0) return;
  book.heading(`Before laying ${zone.id}`, 30);
  table(
    book,
    [
      { head: 'what', share: 0.24 },
      { head: 'where and how long', share: 0.76 },
    ],
    facts.map(({ what, value }) => ({ cells: [what, value] })),
    { size: 8 },
  );
};

const orderSection = (book: Book, sheet: PlanSheet, zone: SheetZone): void => {
  const steps = zone.steps ?? [];
  const stops = zone.checkpoints ?? [];
  if (steps.length > 0) book.heading(`Laying order of ${zone.id}`, 30);
  for (const step of steps) {
    const label = `${step.n}.`;
    const lines = book.wrap(step.text, book.width() - 8);
    book.ensure(Math.min(lines.length, 3) * 4.2);
    book.line(label, book.left, book.y, { bold: true });
    book.paragraph(step.text, { indent: 8, after: 1 });
  }
  if (stops.length === 0) return;
  book.heading(`Checkpoints of ${zone.id}`, 30);
  const remedies = new Set(stops.map((stop) => stop.beyond ?? REMEDY));
  const [common] = remedies;
  const own = remedies.size > 1;
  if (!own && common !== undefined) book.paragraph(`Where more than the allowed difference shows: ${common}`);
  table(
    book,
    [
      { head: 'end of run', share: 0.14 },
      { head: 'expected', share: 0.2 },
      { head: 'allowed', share: 0.16 },
      { head: 'found', share: own ? 0.14 : 0.22 },
      own ? { head: 'beyond it', share: 0.36 } : { head: 'name', share: 0.28 },
    ],
    stops.map((stop) => ({
      cells: [
        String(stop.run),
        expectedText(stop, sheet),
        `± ${allowedText(stop.allowed, sheet)}`,
        '',
        own ? (stop.beyond ?? REMEDY) : '',
      ],
      height: 7,
    })),
    { grid: true },
  );
};

/** Run table, laying order and checkpoints of every zone. */
export const layingPages = (book: Book, sheet: PlanSheet): void => {
  for (const zone of sheet.zones) {
    runPage(book, sheet, zone);
    factSection(book, zone);
    orderSection(book, sheet, zone);
  }
};
