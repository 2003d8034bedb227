import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { materialQuantities } from '../../../solver/trade/material.js';
import type { MaterialZone } from '../../../solver/trade/material-input.js';
import { material, materialInput, only, zone } from './samples.js';

const L_SHAPE: MaterialZone['outline'] = [
  [0, 0],
  [3000, 0],
  [3000, 1000],
  [1000, 1000],
  [1000, 2000],
  [0, 2000],
];

describe('membrane', () => {
  it('by sheet: 4.8 m2 and 10 % waste from sheets of 0.8 m2 (waste: common practice, no source)', () => {
    const { membrane } = material({ membrane: { kind: 'sheet', width: 800, length: 1000 } });
    expect(membrane.area.value).toBeCloseTo(4.8, 10);
    expect(membrane.pieces.value).toBe(7);
    expect(membrane.bought.value).toBeCloseTo(5.6, 10);
    expect(membrane.offcut.value).toBeCloseTo(0.8, 10);
  });

  it('no waste, no extra sheet', () => {
    const overrides = { 'membrane-waste': { share: 0 } };
    expect(
      material({ overrides, membrane: { kind: 'sheet', width: 800, length: 1000 } }).membrane.pieces.value,
    ).toBe(6);
  });

  it('by roll: two strips of 2.4 m and a trim each (trim: common practice, no source)', () => {
    const { membrane } = material();
    expect(membrane.strips).toEqual([
      { zone: 'floor', length: 2450 },
      { zone: 'floor', length: 2450 },
    ]);
    expect(membrane.pieces.value).toBe(1);
    expect(membrane.offcut.value).toBeCloseTo(10 - 4.8, 10);
    expect(only(membrane.seams).lengths).toEqual([2400]);
  });

  it('strips that do not share a roll take another', () => {
    const { membrane } = material({ membrane: { kind: 'roll', width: 1000, length: 4000 } });
    expect(membrane.pieces.value).toBe(2);
  });

  it('a strip longer than the roll is pieced', () => {
    const { membrane } = material({ membrane: { kind: 'roll', width: 2000, length: 1000 } });
    // The shorter strip wins: one of 2.0 x 2.4 m laid either way is 2.45 m of roll, three rolls of 1 m.
    expect(membrane.pieces.value).toBe(3);
  });

  it('strips follow the outline: an L of 4 m2 takes 3 m and 1 m', () => {
    const { membrane } = material({ zones: [zone({ outline: L_SHAPE })] });
    expect(membrane.area.value).toBeCloseTo(4, 10);
    expect(membrane.strips.map((s) => s.length)).toEqual([3050, 1050]);
    expect(only(membrane.seams).lengths).toEqual([1000]);
  });

  it('bare areas get no membrane', () => {
    const bare: MaterialZone['bare'] = [
      [
        [0, 0],
        [1000, 0],
        [1000, 800],
        [0, 800],
      ],
    ];
    expect(material({ zones: [zone({ bare })] }).membrane.area.value).toBeCloseTo(4, 10);
  });

  it('what is bought covers the floor, whatever its turn and size', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 300, max: 6000 }),
        fc.integer({ min: 300, max: 6000 }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        fc.constantFrom('sheet', 'roll') as fc.Arbitrary<'sheet' | 'roll'>,
        (w, h, angle, kind) => {
          const turn = (x: number, y: number) =>
            [x * Math.cos(angle) - y * Math.sin(angle), x * Math.sin(angle) + y * Math.cos(angle)] as const;
          const outline = [turn(0, 0), turn(w, 0), turn(w, h), turn(0, h)];
          const { membrane } = material({
            membrane: { kind, width: 1000, length: 5000 },
            zones: [zone({ outline })],
          });
          expect(membrane.area.value).toBeCloseTo((w * h) / 1e6, 6);
          expect(membrane.bought.value).toBeGreaterThanOrEqual(membrane.area.value - 1e-9);
          expect(membrane.offcut.value).toBeCloseTo(membrane.bought.value - membrane.area.value, 9);
        },
      ),
      { seed: 13, numRuns: 200 },
    );
  });
});

describe('mortar (rates: common practice, no source)', () => {
  const cable = { length: 50_000, diameter: 6 };
  const layers = (change = {}) =>
    Object.fromEntries(material({ zones: [zone(change)] }).mortar.layers.map((l) => [l.layer, l.mass.value]));

  it('each layer is area x thickness x rate with waste', () => {
    expect(layers()).toEqual({
      'under-membrane': expect.closeTo(4.8 * 2 * 1.5 * 1.1, 8),
      fill: expect.closeTo(4.8 * 6 * 0.75 * 1.5 * 1.1, 8),
      'under-tile': expect.closeTo(4.8 * 3 * 1.5 * 1.1, 8),
    });
  });

  it('the cable takes its space from the fill and from nothing else', () => {
    // 50 m of 6 mm cable: 50 x pi 0.003^2 m3 = 1.4137 litres
    const [bare, laid] = [layers(), layers({ cable })];
    expect((bare.fill ?? 0) - (laid.fill ?? 0)).toBeCloseTo(50 * Math.PI * 0.003 ** 2 * 1000 * 1.5 * 1.1, 8);
    expect(laid['under-tile']).toBe(bare['under-tile']);
  });

  it('bags are whole, by layer and together', () => {
    const { mortar } = material();
    expect(mortar.mass.value).toBeCloseTo(75.24, 8);
    expect(mortar.layers.map((l) => l.bags.value)).toEqual([1, 2, 2]);
    expect(mortar.bags.value).toBe(4);
    expect(material({ overrides: { 'mortar-bag': { mass: 25 } } }).mortar.bags.value).toBe(4);
    expect(material({ overrides: { 'mortar-bag': { mass: 10 } } }).mortar.bags.value).toBe(8);
  });

  it('contact under tile at least 80 % dry, 95 % wet: ANSI A108.5 as quoted in the trade press', () => {
    const { mortar } = material({ zones: [zone(), zone({ id: 'shower', wet: true })] });
    expect(mortar.contact.map((c) => c.least.value)).toEqual([0.8, 0.95]);
  });
});

describe('sealing tape', () => {
  const wet = (change: Partial<MaterialZone> = {}) => zone({ id: 'shower', wet: true, ...change });

  it('a dry floor takes none', () => {
    expect(material().sealing).toEqual([]);
  });

  it('perimeter, corners, seams and an overlap of 51 mm at every end (common practice, no source)', () => {
    const tape = only(material({ zones: [wet()] }).sealing);
    expect(tape.perimeter.value).toBeCloseTo(8800, 8);
    expect(tape.corners.value).toBe(4 * 200);
    expect(tape.seams.value).toBe(2400);
    // Four walls, four corners, one seam: nine pieces, two ends each.
    expect(tape.overlaps.value).toBe(9 * 2 * 51);
    expect(tape.total.value).toBeCloseTo(8800 + 800 + 2400 + 918, 8);
    expect(tape.rolls.value).toBe(2);
    expect(tape.width.value).toBe(102);
    expect(tape.insideCornerPieces.value).toBe(4);
    expect(tape.outsideCornerPieces.value).toBe(0);
  });

  it('an overlap below 51 mm (2 in) is refused', () => {
    const outcome = materialQuantities(materialInput({ overrides: { 'seam-overlap': { length: 50 } } }));
    expect(outcome.kind).toBe('bad-overrides');
  });

  it('a run longer than the roll is joined once more', () => {
    const overrides = { 'sealing-tape': { roll: 2000, upstand: 0 } };
    const tape = only(
      material({ overrides, zones: [wet()], membrane: { kind: 'roll', width: 3000, length: 9000 } }).sealing,
    );
    // Walls of 2.4, 2.0, 2.4, 2.0 m: 3 + 2 + 3 + 2 overlaps.
    expect(tape.overlaps.value).toBe(10 * 51);
  });

  it('an L has one corner that sticks out', () => {
    const tape = only(material({ zones: [wet({ outline: L_SHAPE })] }).sealing);
    expect([tape.insideCornerPieces.value, tape.outsideCornerPieces.value]).toEqual([5, 1]);
  });

  it('a curb is taped along both feet', () => {
    const curb = { length: 900, crossing: 400, diameter: 5 };
    expect(only(material({ zones: [wet({ curb })] }).sealing).curb.value).toBe(1800);
  });
});

describe('groove over the curb, 19 x 6 mm (common practice, no source)', () => {
  it('is filled solid around the cable', () => {
    const curb = { length: 900, crossing: 400, diameter: 5 };
    const groove = only(material({ zones: [zone({ curb })] }).grooves);
    expect([groove.width.value, groove.depth.value, groove.length.value]).toEqual([19, 6, 400]);
    // (19 x 6 - pi 2.5^2) mm2 x 400 mm at 2 g/cm3
    expect(groove.fill.value).toBeCloseTo(((114 - Math.PI * 6.25) * 400 * 2) / 1e6, 10);
  });

  it('without a curb there is none', () => {
    expect(material().grooves).toEqual([]);
  });
});

describe('sensors (spare: common practice, no source)', () => {
  it('one spare for each in use', () => {
    const { sensors } = material({ sensors: 2 });
    expect([sensors.inUse.value, sensors.spare.value]).toEqual([2, 2]);
  });
});

describe('input that gives no quantities', () => {
  const paths = (change: Parameters<typeof materialInput>[0]) => {
    const outcome = materialQuantities(materialInput(change));
    return outcome.kind === 'bad-input' ? outcome.problems.map((p) => p.path.join('.')) : outcome.kind;
  };
  const square = (side: number): MaterialZone['outline'] => [
    [0, 0],
    [side, 0],
    [side, side],
    [0, side],
  ];
  it.each([
    [{ zones: [] }, ['zones']],
    [{ zones: [zone(), zone()] }, ['zones.1.id']],
    [{ zones: [zone({ outline: [] })] }, ['zones.0.outline']],
    [
      {
        zones: [
          zone({
            outline: [
              [0, 0],
              [1000, 1000],
              [1000, 0],
              [0, 1000],
            ],
          }),
        ],
      },
      ['zones.0.outline'],
    ],
    [
      {
        zones: [
          zone({
            outline: [
              [0, 0],
              [Number.NaN, 0],
              [0, 1000],
            ],
          }),
        ],
      },
      ['zones.0.outline'],
    ],
    [{ zones: [zone({ bare: [square(5000)] })] }, ['zones.0.bare']],
    [{ zones: [zone({ bare: [[]] })] }, ['zones.0.bare.0']],
    [
      { zones: [zone({ cable: { length: 0, diameter: -1 } })] },
      ['zones.0.cable.length', 'zones.0.cable.diameter'],
    ],
    [
      { zones: [zone({ curb: { length: 0, crossing: 0, diameter: 0 } })] },
      ['zones.0.curb.length', 'zones.0.curb.crossing', 'zones.0.curb.diameter'],
    ],
    [{ sensors: -1 }, ['sensors']],
    [{ sensors: 1.5 }, ['sensors']],
    [{ membrane: { kind: 'roll', width: 0, length: 10 } as const }, ['membrane.width']],
    [{ membrane: { kind: 'sheet', width: 1, length: 1 } as const }, ['membrane']],
  ] satisfies [Parameters<typeof materialInput>[0], string[]][])('%#', (change, expected) => {
    expect(paths(change)).toEqual(expected);
  });
});
