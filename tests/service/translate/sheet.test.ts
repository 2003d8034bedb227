import { beforeAll, describe, expect, it } from 'vitest';
import type { SheetZone } from '../../../service/papers/model.js';
import { layoutTask } from '../../../service/pool/layout-task.js';
import { PhaseClock } from '../../../service/pool/phase-clock.js';
import { layoutRequestSchema } from '../../../service/schemas/layout-request.js';
import type { Sheets } from '../../../service/translate/sheet.js';
import { bathroomRequest } from '../../helpers/requests.js';

let sheets: Sheets;

beforeAll(async () => {
  const request = {
    ...bathroomRequest(),
    title: 'Attic bath',
    materials: { membrane: { kind: 'sheet', width: 1000, length: 1000 } },
  };
  const outcome = await layoutTask(layoutRequestSchema.parse(request), 'plan', new PhaseClock(), {
    expired: () => false,
    withEngine: async (work) => work(null),
  });
  if (outcome.kind !== 'answer' || outcome.sheet === null) throw new Error('no sheet');
  sheets = JSON.parse(outcome.sheet) as Sheets;
}, 60_000);

const zoneOf = (display: 'metric' | 'imperial', id: string): SheetZone => {
  const zone = sheets[display].zones.find((other) => other.id === id);
  if (zone === undefined) throw new Error(`no zone ${id}`);
  return zone;
};

const factOf = (zone: SheetZone, what: string): string => {
  const fact = zone.facts?.find((other) => other.what === what);
  if (fact === undefined)
    throw new Error(`no ${what} in ${zone.facts?.map((other) => other.what).join(', ')}`);
  return fact.value;
};

describe('sheet of a whole job', () => {
  it('carries the title, and the display asked for beside the other', () => {
    expect([sheets.display, sheets.metric.display, sheets.imperial.display]).toEqual([
      'metric',
      'metric',
      'imperial',
    ]);
    expect(sheets.imperial.title).toBe('Attic bath');
  });

  it('says where the joint lies, how the curb is crossed and what the leads need', () => {
    const shower = zoneOf('metric', 'shower');
    expect(factOf(shower, 'joint, hot to cold')).toContain('dry floor "floor"');
    expect(factOf(shower, 'crossing')).toMatch(/^once, .*over the top of the curb, square to it$/);
    expect(factOf(shower, 'over the curb')).toContain('100 mm up, 100 mm across, 100 mm down');
    // 3/4 x 1/4 in = 19 x 6 mm (common practice, no source).
    expect(factOf(shower, 'groove over the curb')).toContain('19 mm wide, 6 mm deep');
    expect(factOf(zoneOf('imperial', 'shower'), 'groove over the curb')).toContain('3/4" wide, 1/4" deep');
    expect(factOf(shower, 'cold lead')).toContain('of 4.00 m needed');
    expect(factOf(zoneOf('metric', 'floor'), 'floor sensor')).toMatch(/midway between runs \d+ and \d+/);
    expect(() => factOf(shower, 'floor sensor')).toThrow();
  });

  it('draws the joint of the floor at the end of its cold lead', () => {
    const floor = zoneOf('metric', 'floor');
    expect(floor.joint).toEqual(floor.coldLead?.at(-1));
    expect(floor.joint).toEqual(floor.path[0]);
  });

  it('writes steps in the units of its display', () => {
    const text = (display: 'metric' | 'imperial'): string =>
      (zoneOf(display, 'shower').steps ?? []).map((step) => step.text).join(' ');
    expect(text('metric')).toMatch(/\d\.\d\d m of cable/);
    expect(text('imperial')).not.toMatch(/\d\.\d\d m of cable/);
    expect(text('imperial')).toMatch(/\d+' \d+/);
  });

  it('prints units as units', () => {
    const rows = zoneOf('metric', 'floor').electrical ?? [];
    expect(rows.some(({ label }) => label === 'resistance at 20 °C')).toBe(true);
    const text = JSON.stringify(rows.map(({ label, value }) => [label, value]));
    expect(text).not.toMatch(/W\/m2|\d C\b/);
    expect(text).toMatch(/\d W\/m²/);
  });

  it('expects a sensor of the typical kind only where one lies', () => {
    // 10 kohm at 25 C, B 3950 K (common practice, no source): 12 535 ohm at 20 C.
    const expected = 10_000 * Math.exp(3950 * (1 / 293.15 - 1 / 298.15));
    expect(zoneOf('metric', 'floor').readings?.sensor?.nominal).toBeCloseTo(expected, 3);
    expect(zoneOf('metric', 'shower').readings?.sensor).toBeUndefined();
  });

  it('lists materials with what they are worked out from', () => {
    const lines = sheets.metric.materials ?? [];
    const quantityOf = (item: string): string =>
      lines.find((row) => row.item.startsWith(item))?.quantity ?? '';
    // 2.4 x 2.1 + 0.9 x 1.2 m2 and 10 % waste (common practice, no source): seven sheets of 1 m2.
    expect(quantityOf('floor to cover')).toBe('6.12 m²');
    expect(quantityOf('membrane, sheets')).toBe('7');
    expect(quantityOf('grout for the groove')).toContain('300 mm');
    expect(lines.every(({ basis }) => basis.length > 0)).toBe(true);
    // 1 m2 = 10.7639 sq ft (definition of the foot).
    expect(sheets.imperial.materials?.[0]?.quantity).toBe('65.9 sq ft');
  });

  it('draws curb and drain as themselves, not as areas without heat', () => {
    const shower = zoneOf('metric', 'shower');
    expect(shower.curb).toBeDefined();
    expect(shower.drain).toBeDefined();
    expect(shower.exclusions.map(({ id }) => id)).not.toContain('shower drain');
  });
});
