import { CAUTIONS } from '../cautions.js';
import type { PlanSheet } from '../model.js';
import { areaText, lengthText, percentText } from '../units.js';
import { type Book, leading, TYPE } from './book.js';
import { table } from './table.js';

/** Quantities; absent when nobody worked them out. */
export const materialSection = (book: Book, sheet: PlanSheet): void => {
  const materials = sheet.materials ?? [];
  if (materials.length === 0) return;
  book.page('Materials');
  book.heading('Materials');
  table(
    book,
    [
      { head: 'item', share: 0.34 },
      { head: 'quantity', share: 0.2 },
      { head: 'worked out from', share: 0.46 },
    ],
    materials.map((row) => ({ cells: [row.item, row.quantity, row.basis] })),
  );
};

/** Page that stays with the owner. */
export const handoverPage = (book: Book, sheet: PlanSheet): void => {
  book.page('Hand-over');
  book.heading('Hand-over');
  book.paragraph(
    'This floor is heated by electric cable in the mortar under the tiles. Keep this page and the plan with the house papers, and a copy at the panel.',
  );
  table(
    book,
    [
      { head: 'zone', share: 0.18 },
      { head: 'cable', share: 0.16 },
      { head: 'length', share: 0.14, align: 'right' },
      { head: 'power', share: 0.12, align: 'right' },
      { head: 'area heated', share: 0.16, align: 'right' },
      { head: 'coverage', share: 0.12, align: 'right' },
      { head: 'place', share: 0.12 },
    ],
    sheet.zones.map((zone) => ({
      cells: [
        zone.id,
        zone.cable.id,
        lengthText(zone.length.cable, sheet.display),
        `${zone.cable.power} W`,
        areaText(zone.coverage.heatedArea, sheet.display),
        percentText(zone.coverage.fraction),
        zone.wet ? 'wet' : 'dry',
      ],
    })),
  );
  book.heading('Handed over');
  table(
    book,
    [
      { head: 'item', share: 0.62 },
      { head: 'done', share: 0.12 },
      { head: 'remark', share: 0.26 },
    ],
    [
      'as-built plan with every change marked',
      'test record with three rounds of readings',
      'labels and serial numbers of cables and sensor',
      'circuit sheet filled in and signed by the electrician',
      'instructions of thermostat, cable and membrane',
      'approval of the authority having jurisdiction, where a shower is heated',
      'first heating explained: not before the mortar has cured',
    ].map((item) => ({ cells: [item, '', ''], height: 7.5 })),
    { grid: true },
  );
  book.heading('For the owner', 25);
  for (const text of [
    'Do not drill, screw or nail into the heated floor, and do not cut tiles without the plan in hand.',
    'Do not lay thick rugs or set furniture without legs on it: heat that cannot leave the floor builds up.',
    'If the ground-fault device trips, leave the heating off and call an electrician.',
  ])
    book.paragraph(`• ${text}`, { after: 0.6 });
  book.heading('Signatures', 40);
  table(
    book,
    [
      { head: 'who', share: 0.22 },
      { head: 'name', share: 0.3 },
      { head: 'date', share: 0.18 },
      { head: 'signature', share: 0.3 },
    ],
    ['tile setter', 'electrician', 'owner'].map((who) => ({ cells: [who], height: 10 })),
    { grid: true },
  );
};

/** Everything that can hurt someone, grave ones first and in bold. */
export const cautionPage = (book: Book): void => {
  book.page('Cautions');
  book.heading('Read before the work begins');
  const inner = book.width() - 12;
  for (const caution of CAUTIONS) {
    const lines = book.wrap(caution.text, inner, { size: TYPE.body });
    const height = leading(TYPE.head) + lines.length * leading(TYPE.body) + 3.4;
    book.ensure(height + 2);
    const top = book.y;
    book.box(book.left, top, book.width(), height, caution.grave ? { stroke: 0.5 } : { stroke: 0.13 });
    if (caution.grave) {
      // Triangle with exclamation mark: the general warning of ISO 7010 W001, in outline.
      const x = book.left + 2.2;
      book.rule(x, top + 7, x + 3, top + 1.8, 0.35);
      book.rule(x + 3, top + 1.8, x + 6, top + 7, 0.35);
      book.rule(x + 6, top + 7, x, top + 7, 0.35);
      book.rule(x + 3, top + 3.5, x + 3, top + 5.3, 0.45);
      book.rule(x + 3, top + 5.8, x + 3, top + 6.3, 0.45);
    }
    const left = book.left + 10;
    book.line(caution.head, left, top + 1.2, { size: 10.5, bold: true });
    lines.forEach((text, i) => {
      book.line(text, left, top + 1.4 + leading(TYPE.head) + i * leading(TYPE.body));
    });
    book.y = top + height + 2;
  }
};
