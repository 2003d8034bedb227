import PDFDocument from 'pdfkit';
import { beforeAll, describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../../service/papers/cautions.js';
import type { PlanSheet } from '../../../service/papers/model.js';
import { sheetPdf } from '../../../service/papers/sheet-pdf.js';
import { bathroom, demoSheet, shower } from './demo-sheet.js';
import { type PdfPage, readPdf } from './pdf-read.js';

const ruler = new PDFDocument({ autoFirstPage: false }).font('Helvetica');
const measure = (text: string, size: number): number => ruler.fontSize(size).widthOfString(text);

const pagesOf = async (sheet: PlanSheet): Promise<PdfPage[]> =>
  readPdf(await sheetPdf(sheet, { compress: false }), measure);

const words = (page: PdfPage | undefined): string => (page?.texts ?? []).map((text) => text.text).join(' ');

/** The header holds the subject of a page. */
const pageAbout = (pages: readonly PdfPage[], subject: string): PdfPage | undefined =>
  pages.find((page) => page.texts.some((text) => text.text === subject));

const LONG = 'a very long name for a vanity unit with drawers & <doors>, "Ωλ" '.repeat(4);

const full = (): PlanSheet => {
  const dress = <T extends object>(zone: T) => ({
    ...zone,
    steps: [
      { n: 1, text: 'Fix the joint.' },
      { n: 2, text: LONG },
    ],
    readings: {
      conductor: { nominal: 108.7, low: 103.3, high: 119.6 },
      insulation: { legal: 1, expected: 20, testVoltage: 500 },
      temperature: 20,
    },
    electrical: [
      { label: 'power per metre', value: '12.1 W/m', rule: 'NEC 424.44(A)', source: 'memory', ok: false },
    ],
  });
  return demoSheet({
    zones: [dress(bathroom()), dress(shower())],
    electrical: [
      {
        label: 'protective device',
        value: '15 A',
        rule: '125 % of the load',
        source: 'NEC 210.20',
        ok: true,
      },
    ],
    materials: [{ item: 'membrane', quantity: '5.6 m²', basis: 'floor area with 10 % waste' }],
  });
};

const odd = (): PlanSheet => {
  const zone = bathroom();
  return demoSheet({
    id: '<&">'.repeat(10),
    title: LONG,
    zones: [
      {
        ...zone,
        id: LONG,
        cable: { ...zone.cable, id: 'CABLE-'.repeat(12) },
        exclusions: zone.exclusions.map((exclusion) => ({ ...exclusion, id: LONG })),
        runs: Array.from({ length: 6 }, () => zone.runs).flat(),
        steps: [{ n: 1, text: LONG.repeat(30) }],
        electrical: Array.from({ length: 50 }, (_, i) => ({
          label: `${i} ${LONG.slice(0, i * 5)}`,
          value: '1',
          source: LONG,
        })),
      },
      shower(),
    ],
    materials: Array.from({ length: 40 }, (_, i) => ({ item: `${i} ${LONG}`, quantity: '1', basis: LONG })),
  });
};

describe('sheet as PDF', () => {
  let pages: PdfPage[] = [];
  beforeAll(async () => {
    pages = await pagesOf(full());
  });

  it('holds every paper of the job', () => {
    for (const subject of [
      'Plan of all zones',
      'Plan: floor',
      'Plan: shower',
      'Runs: floor',
      'Runs: shower',
      'Test record',
      'Circuit sheet',
      'Materials',
      'Hand-over',
      'Cautions',
    ])
      expect(pageAbout(pages, subject), subject).toBeDefined();
  });

  it('numbers its pages and names the plan on each', () => {
    pages.forEach((page, i) => {
      expect(words(page)).toContain(`page ${i + 1} of ${pages.length}`);
      expect(words(page)).toContain('plan 3f9c1a7e');
    });
  });

  it('is A4, or Letter on imperial sheets (ISO 216; ANSI/ASME Y14.1)', async () => {
    const sizes = (all: readonly PdfPage[]): string[] => [
      ...new Set(
        all.map((page) =>
          [page.width, page.height]
            .sort((a, b) => a - b)
            .map(Math.round)
            .join('x'),
        ),
      ),
    ];
    expect(sizes(pages)).toEqual(['595x842']);
    expect(sizes(await pagesOf(demoSheet({ display: 'imperial' })))).toEqual(['612x792']);
  });

  it('draws the plan to the scale it states', () => {
    const plan = pageAbout(pages, 'Plan: floor');
    const ratio = Number(/scale 1:(\d+)/.exec(words(plan))?.[1]);
    expect([10, 20, 25, 50]).toContain(ratio);
    // the floor is 2400 mm wide: its two lower corners lie that far apart on paper
    const wide = ((2400 / ratio) * 72) / 25.4;
    const tall = ((2100 / ratio) * 72) / 25.4;
    const points = plan?.points ?? [];
    const found = points.some(([x, y], i) => {
      const [a, b] = [points[i + 1], points[i + 2]];
      return (
        a !== undefined &&
        b !== undefined &&
        Math.abs(a[0] - x - wide) < 0.01 &&
        Math.abs(a[1] - y) < 0.01 &&
        Math.abs(b[1] - a[1] - tall) < 0.01
      );
    });
    expect(found).toBe(true);
    expect(words(plan)).toContain('2400');
    expect(words(plan)).toContain('vanity');
  });

  it('lists every run and marks the checkpoints', () => {
    const runs = words(pageAbout(pages, 'Runs: floor'));
    expect(runs).toContain('76 3 left 2.28 m 2.28 m');
    expect(runs).toContain('mark 9.35 ± 12 cm');
    expect(runs).toContain('18.78 m laid ± 16 cm');
  });

  it('has three rounds of readings per cable with the band beside', () => {
    const record = words(pageAbout(pages, 'Test record'));
    for (const round of ['off the spool', 'after laying', 'after tiling'])
      expect(record.split(round)).toHaveLength(3);
    expect(record).toContain('103.3 ohm to 119.6 ohm');
    expect(record).toContain('at least 1 megohm at 500 V d.c.');
  });

  it('gives the nominal resistance where no band is known: 240 V, 530 W -> 108.7 ohm (R = V x V / P)', async () => {
    expect(words(pageAbout(await pagesOf(demoSheet()), 'Test record'))).toContain('nominal 108.7 ohm');
  });

  it('tells the electrician what does not hold, with rule and source', () => {
    const circuit = words(pageAbout(pages, 'Circuit sheet'));
    expect(circuit).toContain('DOES NOT HOLD');
    expect(circuit).toContain('NEC 424.44(A); memory');
    expect(circuit).toContain('licensed electrician');
  });

  it('prints every caution', () => {
    const page = words(pageAbout(pages, 'Cautions'));
    for (const { head } of CAUTIONS) expect(page).toContain(head);
    for (const must of [
      /authority having jurisdiction/,
      /licensed electrician/,
      /coiled/,
      /override/,
      /Ground-fault/,
      /Never cut/,
      /cure/,
      /estimates/i,
    ])
      expect(page).toMatch(must);
  });

  it('leaves out what nobody worked out', async () => {
    const plain = await pagesOf(demoSheet());
    expect(pageAbout(plain, 'Materials')).toBeUndefined();
    expect(plain.some((page) => words(page).includes('Laying order'))).toBe(false);
  });

  it('keeps every text on the page and apart from every other, for ordinary and for odd sheets', async () => {
    const edge = 20;
    for (const all of [pages, await pagesOf(odd()), await pagesOf({ ...odd(), display: 'imperial' })]) {
      const faults: string[] = [];
      for (const page of all) {
        page.texts.forEach(({ text, box, size }, i) => {
          const inside =
            box.minX > edge &&
            box.minY > edge &&
            box.maxX < page.width - edge &&
            box.maxY < page.height - edge;
          if (!inside) faults.push(`off the page: ${text}`);
          if (size < 5) faults.push(`tiny: ${text}`);
          for (const other of page.texts.slice(i + 1)) {
            const over =
              box.maxX > other.box.minX + 0.2 &&
              other.box.maxX > box.minX + 0.2 &&
              box.maxY > other.box.minY + 0.2 &&
              other.box.maxY > box.minY + 0.2;
            if (over) faults.push(`${text} over ${other.text}`);
          }
        });
      }
      expect(faults).toEqual([]);
    }
  });

  it('repeats the head of a table on every page it goes on to', async () => {
    const long = (await pagesOf(odd())).filter((page) => words(page).includes('76 3 left'));
    expect(long.length).toBeGreaterThan(2);
    for (const page of long) expect(words(page)).toContain('run length');
  });

  it('gives the same bytes for the same sheet, and carries a date only when told one', async () => {
    const [a, b] = [await sheetPdf(full()), await sheetPdf(full())];
    expect(Buffer.compare(a, b)).toBe(0);
    expect(Buffer.from(a).includes('CreationDate')).toBe(false);
    const dated = await sheetPdf(full(), { issued: new Date(Date.UTC(2030, 0, 2, 3, 4, 5)) });
    expect(Buffer.from(dated).includes('(D:20300102030405Z)')).toBe(true);
  });
});
