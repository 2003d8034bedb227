import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runsCsv } from '../../../service/papers/runs-csv.js';
import { bathroom, demoSheet } from './demo-sheet.js';

/** Reader written from the grammar of RFC 4180, section 2. */
const readCsv = (text: string): string[][] => {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  while (at < text.length) {
    let field = '';
    if (text[at] === '"') {
      at++;
      for (;;) {
        if (at >= text.length) throw new Error('quote never closed');
        if (text[at] === '"' && text[at + 1] === '"') {
          field += '"';
          at += 2;
        } else if (text[at] === '"') {
          at++;
          break;
        } else field += text[at++];
      }
    } else
      while (at < text.length && text[at] !== ',' && text[at] !== '\r') {
        if (text[at] === '"' || text[at] === '\n') throw new Error(`stray character at ${at}`);
        field += text[at++];
      }
    row.push(field);
    if (text[at] === ',') at++;
    else if (text.startsWith('\r\n', at)) {
      at += 2;
      rows.push(row);
      row = [];
    } else throw new Error(`expected comma or CRLF at ${at}`);
  }
  if (row.length > 0) throw new Error('last line has no CRLF');
  return rows;
};

const records = (text: string): Record<string, string>[] => {
  const [head = [], ...rows] = readCsv(text);
  return rows.map((row) => {
    expect(row).toHaveLength(head.length);
    return Object.fromEntries(head.map((name, i) => [name, row[i] ?? '']));
  });
};

describe('runs.csv', () => {
  it('has one row for every run, with its figures', () => {
    const sheet = demoSheet();
    const rows = records(runsCsv(sheet));
    const runs = sheet.zones.flatMap((zone) => zone.runs.map((run) => ({ zone: zone.id, run })));
    expect(rows).toHaveLength(runs.length);
    runs.forEach(({ zone, run }, i) => {
      const row = rows[i] ?? {};
      expect(row.zone).toBe(zone);
      expect(Number(row.run)).toBe(run.n);
      expect([Number(row.from_x_mm), Number(row.from_y_mm)]).toEqual(run.from);
      expect([Number(row.to_x_mm), Number(row.to_y_mm)]).toEqual(run.to);
      expect(Number(row.length_mm)).toBeCloseTo(run.length, 1);
      expect(Number(row.cumulative_mm)).toBeCloseTo(run.cumulative, 1);
      expect(row.turn).toBe(run.turn ?? '');
      expect(row.studs_along).toBe(run.studs === null ? '' : String(run.studs));
      expect(row.studs_over).toBe(run.over === null ? '' : String(run.over));
    });
    expect(rows[0]).toMatchObject({ studs_along: '76', studs_over: '3', turn: 'left', length_mm: '2280' });
  });

  it('adds feet and inches on imperial sheets only', () => {
    expect(records(runsCsv(demoSheet()))[0]).not.toHaveProperty('length_ft_in');
    // 2280 / 25.4 = 89.76 in = 7 ft 5 3/4 in
    expect(records(runsCsv(demoSheet({ display: 'imperial' })))[0]?.length_ft_in).toBe(`7' 5 3/4"`);
  });

  it('carries any name, and hands no formula to a spreadsheet', () => {
    const zone = bathroom();
    fc.assert(
      fc.property(fc.string({ maxLength: 40, unit: 'binary' }), (id) => {
        const [row] = records(runsCsv(demoSheet({ zones: [{ ...zone, id }] })));
        expect(row?.zone).not.toMatch(/^[=+\-@\t\r]/);
        expect(row?.zone === id || row?.zone === `'${id}`).toBe(true);
      }),
      { seed: 41, numRuns: 150 },
    );
    const [row] = records(runsCsv(demoSheet({ zones: [{ ...bathroom(), id: '=cmd|"x",1' }] })));
    expect(row?.zone).toBe(`'=cmd|"x",1`);
  });

  it('leaves negative coordinates as numbers', () => {
    const zone = bathroom();
    const [run] = zone.runs;
    if (run === undefined) throw new Error('demo zone without runs');
    const [row] = records(
      runsCsv(demoSheet({ zones: [{ ...zone, runs: [{ ...run, from: [-60, -0.04] }] }] })),
    );
    expect(row).toMatchObject({ from_x_mm: '-60', from_y_mm: '0' });
  });
});
