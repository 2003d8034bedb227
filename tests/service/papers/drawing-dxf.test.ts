import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { drawingDxf } from '../../../service/papers/drawing-dxf.js';
import { bathroom, demoSheet, shower } from './demo-sheet.js';

/** dxf-parser is the outside reader here. Its module is the class itself, its type declarations say otherwise. */
const DxfParser: new () => { parseSync(text: string): unknown } = createRequire(import.meta.url)(
  'dxf-parser',
);

interface Vertex {
  readonly x: number;
  readonly y: number;
  readonly bulge?: number;
}

interface Entity {
  readonly type: string;
  readonly layer: string;
  readonly vertices?: readonly Vertex[];
  readonly shape?: boolean;
  readonly center?: Vertex;
  readonly radius?: number;
  readonly text?: string;
}

interface Read {
  readonly header: Readonly<Record<string, unknown>>;
  readonly tables: { readonly layer: { readonly layers: Readonly<Record<string, unknown>> } };
  readonly entities: readonly Entity[];
}

const read = (dxf: string): Read => new DxfParser().parseSync(dxf) as Read;

/** Length of a polyline with arcs: a bulge is tan(angle / 4) (DXF reference, group code 42). */
const lengthOf = (vertices: readonly Vertex[]): number =>
  vertices.reduce((sum, v, i) => {
    const next = vertices[i + 1];
    if (next === undefined) return sum;
    const chord = Math.hypot(next.x - v.x, next.y - v.y);
    const angle = 4 * Math.atan(Math.abs(v.bulge ?? 0));
    return sum + (angle === 0 ? chord : (chord / (2 * Math.sin(angle / 2))) * angle);
  }, 0);

describe('DXF drawing', () => {
  const sheet = demoSheet();
  const dxf = read(drawingDxf(sheet));
  const on = (layer: string): Entity[] => dxf.entities.filter((entity) => entity.layer === layer);

  it('is R12 in millimetres', () => {
    expect(dxf.header.$ACADVER).toBe('AC1009');
    expect(dxf.header.$INSUNITS).toBe(4);
    expect(dxf.header.$MEASUREMENT).toBe(1);
    // R12 has no LWPOLYLINE, MTEXT or HATCH
    expect(new Set(dxf.entities.map((entity) => entity.type))).toEqual(
      new Set(['POLYLINE', 'CIRCLE', 'LINE', 'TEXT']),
    );
  });

  it('names its layers for what they hold', () => {
    const layers = Object.keys(dxf.tables.layer.layers);
    for (const layer of [
      'WALL',
      'NO_HEAT',
      'BUFFER',
      'HEATING_CABLE',
      'RESERVE',
      'COLD_LEAD',
      'SENSOR',
      'CURB',
      'DIMENSIONS',
      'TEXT',
    ])
      expect(layers).toContain(layer);
    for (const entity of dxf.entities) expect(layers).toContain(entity.layer);
  });

  it('gives the walls, y up, as they came', () => {
    const [wall] = on('WALL');
    expect(wall?.shape).toBe(true);
    expect(wall?.vertices?.map(({ x, y }) => [x, y])).toEqual(sheet.zones[0]?.outline);
  });

  it('gives the cable with rounded corners as long as it lies', () => {
    const cables = on('HEATING_CABLE');
    expect(cables).toHaveLength(2);
    sheet.zones.forEach((zone, i) => {
      const laid = zone.length.path - zone.length.leadIn;
      expect(Math.abs(lengthOf(cables[i]?.vertices ?? []) - laid)).toBeLessThan(0.01);
    });
    const first = cables[0]?.vertices ?? [];
    // first corner turns left: bulge tan(90 deg / 4)
    expect(first[1]?.bulge).toBeCloseTo(Math.tan(Math.PI / 8), 6);
    expect(first[0]).toMatchObject({ x: 60, y: 60 });
  });

  it('gives round things as circles, optional ones only when present', () => {
    expect(on('NO_HEAT').find((entity) => entity.type === 'CIRCLE')).toMatchObject({
      center: { x: 2080, y: 1530 },
      radius: 190,
    });
    expect(on('CURB')).toHaveLength(0);
    const curbed = read(
      drawingDxf(
        demoSheet({
          zones: [
            bathroom(),
            {
              ...shower(),
              curb: {
                outline: [
                  [2380, 500],
                  [2400, 500],
                  [2400, 1700],
                ],
              },
              crossing: [
                [2300, 570],
                [2490, 570],
              ],
            },
          ],
        }),
      ),
    );
    expect(curbed.entities.filter((entity) => entity.layer === 'CURB')).toHaveLength(1);
    expect(curbed.entities.filter((entity) => entity.layer === 'HEATING_CABLE')).toHaveLength(3);
  });

  it('writes dimensions as lines and text', () => {
    const texts = on('DIMENSIONS').flatMap((entity) => entity.text ?? []);
    expect(texts.sort()).toEqual(['1200', '2100', '2400', '900']);
    expect(on('DIMENSIONS').filter((entity) => entity.type === 'LINE').length).toBeGreaterThan(12);
  });

  it('stays one file whatever the names hold', () => {
    const odd = 'a\r\n  0\r\nEOF\r\n%%c ^J é Ω 😀';
    const text = drawingDxf(
      demoSheet({
        title: odd,
        zones: [
          { ...bathroom(), id: odd, exclusions: bathroom().exclusions.map((e) => ({ ...e, id: odd })) },
        ],
      }),
    );
    expect(text).toMatch(/^[\r\n\x20-\x7e]*$/);
    expect(text.match(/^EOF\r?$/gm)).toHaveLength(1);
    expect(read(text).entities.length).toBeGreaterThan(20);
    expect(text).toContain('% %c ^ J \\U+00E9 \\U+03A9 ?');
  });

  it('says the same twice', () => {
    expect(drawingDxf(sheet)).toBe(drawingDxf(demoSheet()));
  });
});
