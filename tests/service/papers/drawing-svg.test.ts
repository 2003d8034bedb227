import { describe, expect, it } from 'vitest';
import { drawingSvg, SHEET_MARGIN, xmlText } from '../../../service/papers/drawing-svg.js';
import { textWidth } from '../../../service/papers/marks.js';
import { planFrame } from '../../../service/papers/plan-frame.js';
import { bathroom, demoSheet, shower } from './demo-sheet.js';
import { pathDataLength } from './svg-path.js';
import { ofClass, readXml, type XmlNode } from './xml-read.js';

const viewOf = (svg: XmlNode): number[] => (svg.attributes.viewBox ?? '').split(' ').map(Number);

const texts = (node: XmlNode): XmlNode[] => [
  ...(node.name === 'text' ? [node] : []),
  ...node.children.flatMap(texts),
];

describe('SVG drawing', () => {
  it('is well-formed and keeps odd names whole', () => {
    const odd = '<&"\'> \u0001 ]]> \ud800';
    const zone = { ...bathroom(), id: odd, cable: { ...bathroom().cable, id: '<&">' } };
    const svg = readXml(drawingSvg(demoSheet({ title: odd, id: odd, zones: [zone] })));
    expect(svg.children.find((child) => child.name === 'title')?.text).toBe('<&"\'> \ufffd ]]> \ufffd');
    expect(texts(svg).some((node) => node.text === '<&">')).toBe(true);
    expect(xmlText('a\u0000b')).toBe('a\ufffdb');
  });

  it('is in millimetres: view box = plan with margins, paper size = view box / scale', () => {
    const sheet = demoSheet();
    const svg = readXml(drawingSvg(sheet, { scale: { ratio: 20, name: '1:20' } }));
    const [x = 0, y = 0, w = 0, h = 0] = viewOf(svg);
    const frame = planFrame(sheet, 20);
    expect(frame.right - frame.left).toBeGreaterThan(176 * 20);
    expect(x).toBeCloseTo(frame.left - SHEET_MARGIN * 20, 3);
    expect(w).toBeCloseTo(frame.right - frame.left + 2 * SHEET_MARGIN * 20, 3);
    expect(y).toBeCloseTo(frame.top - SHEET_MARGIN * 20, 3);
    expect(Number.parseFloat(svg.attributes.width ?? '')).toBeCloseTo(w / 20, 3);
    expect(Number.parseFloat(svg.attributes.height ?? '')).toBeCloseTo(h / 20, 3);
    expect(svg.attributes.width).toMatch(/mm$/);
  });

  it('draws walls where they stand, y turned over', () => {
    const svg = readXml(drawingSvg(demoSheet()));
    expect(ofClass(svg, 'wall').map((wall) => wall.attributes.d)).toEqual([
      'M0 0L2400 0L2400 -2100L0 -2100Z',
      'M2400 -500L3300 -500L3300 -1700L2400 -1700Z',
    ]);
  });

  it('draws each cable as one stroke as long as the cable lies', () => {
    const sheet = demoSheet();
    const cables = ofClass(readXml(drawingSvg(sheet)), 'heating-cable');
    expect(cables).toHaveLength(2);
    sheet.zones.forEach((zone, i) => {
      const laid = zone.length.path - zone.length.leadIn;
      const d = cables[i]?.attributes.d ?? '';
      expect(d.match(/M/g)).toHaveLength(1);
      expect(Math.abs(pathDataLength(d) - laid)).toBeLessThanOrEqual(laid * 0.001);
    });
  });

  it('keeps every letter inside the sheet and none of them tiny', () => {
    const long = 'a name that goes on and on '.repeat(9);
    for (const display of ['metric', 'imperial'] as const) {
      const sheet = demoSheet({ display, title: long, zones: [{ ...bathroom(), id: long }, shower()] });
      const svg = readXml(drawingSvg(sheet));
      const [x = 0, y = 0, w = 0, h = 0] = viewOf(svg);
      const scale = Number(svg.attributes['data-scale']);
      for (const node of texts(svg)) {
        const size = Number(node.attributes['font-size']);
        const at = Number(node.attributes.x);
        const long = textWidth(node.text, size, node.attributes['font-weight'] === 'bold');
        const share = { start: 0, middle: 0.5, end: 1 }[node.attributes['text-anchor'] ?? ''] ?? 0;
        expect(size / scale, node.text).toBeGreaterThanOrEqual(1.8);
        if (node.attributes.transform === undefined) {
          expect(at - share * long, node.text).toBeGreaterThanOrEqual(x);
          expect(at + (1 - share) * long, node.text).toBeLessThanOrEqual(x + w);
        }
        expect(Number(node.attributes.y)).toBeGreaterThan(y);
        expect(Number(node.attributes.y)).toBeLessThan(y + h);
      }
    }
  });

  it('draws optional parts only when they are there, in plan and legend alike', () => {
    const { thermostat: _t, sensors: _s, ...bare } = demoSheet();
    const { joint: _j, coldLead: _c, checkpoints: _k, ...plain } = bathroom();
    const without = readXml(drawingSvg({ ...bare, zones: [plain] }));
    const dressed = readXml(
      drawingSvg(
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
                  [2380, 1700],
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
    for (const [part, label] of [
      ['thermostat', 'thermostat'],
      ['sensor', 'floor sensor'],
      ['sensor-lead', 'sensor lead'],
      ['joint', 'joint, hot to cold'],
      ['cold-lead', 'cold lead'],
      ['checkpoint', 'checkpoint'],
      ['curb', 'curb'],
      ['drain', 'drain'],
    ] as const) {
      expect(ofClass(without, part), part).toHaveLength(0);
      expect(
        texts(without).some((node) => node.text === label),
        label,
      ).toBe(false);
      expect(ofClass(dressed, part).length, part).toBeGreaterThan(0);
      expect(
        texts(dressed).some((node) => node.text === label),
        label,
      ).toBe(true);
    }
    expect(ofClass(dressed, 'crossing')).toHaveLength(1);
  });

  it('names a no-heat area inside it, or by a key when the name does not fit', () => {
    const zone = bathroom();
    const pipe = {
      id: 'soil pipe behind the wall',
      shape: { kind: 'circle', center: [1500, 1000], radius: 25 },
      clearance: 0,
    } as const;
    const svg = readXml(
      drawingSvg(demoSheet({ zones: [{ ...zone, exclusions: [...zone.exclusions, pipe] }] })),
    );
    const names = ofClass(svg, 'name').map((node) => node.text);
    expect(names).toContain('vanity');
    expect(names).toContain('A');
    expect(texts(svg).some((node) => node.text.includes('A soil pipe'))).toBe(true);
  });

  it('hatches no further than the wall', () => {
    const zone = bathroom();
    const over = {
      id: 'x',
      shape: {
        kind: 'polygon',
        outline: [
          [2200, 300],
          [2700, 300],
          [2700, 600],
          [2200, 600],
        ],
      },
      clearance: 0,
    } as const;
    const svg = readXml(drawingSvg(demoSheet({ zones: [{ ...zone, exclusions: [over] }] })));
    const numbers = ofClass(svg, 'no-heat-hatch').flatMap((node) =>
      [...(node.attributes.d ?? '').matchAll(/[ML](-?[\d.]+) /g)].map((m) => Number(m[1])),
    );
    expect(numbers.length).toBeGreaterThan(10);
    expect(Math.max(...numbers)).toBeLessThanOrEqual(2400);
  });

  it('says the same twice', () => {
    expect(drawingSvg(demoSheet())).toBe(drawingSvg(demoSheet()));
  });

  it('prints the cautions on the drawing', () => {
    const words = ofClass(readXml(drawingSvg(demoSheet())), 'title-block')
      .map((node) => node.text)
      .join(' ');
    expect(words).toMatch(/not an approval/);
    expect(words).toMatch(/coiled/);
    expect(words).toMatch(/licensed electrician/);
  });

  it('the cautions stay on the sheet and the legend in its columns where a wider font stands in', () => {
    // DejaVu Sans sets these lines 1.14 times as wide as Helvetica (measured on a rendered sheet).
    const svg = readXml(drawingSvg(demoSheet()));
    const [x = 0, , w = 0] = viewOf(svg);
    const ends = (part: string) =>
      ofClass(svg, part).flatMap(({ name, attributes, text }) => {
        if (name !== 'text' || attributes['text-anchor'] === 'middle') return [];
        const left = Number(attributes.x);
        return [{ left, right: left + 1.14 * textWidth(text, Number(attributes['font-size'])) }];
      });
    for (const { right } of ends('title-block')) expect(right).toBeLessThan(x + w);
    const legend = ends('legend');
    const columns = [...new Set(legend.map(({ left }) => left))].sort((a, b) => a - b);
    expect(columns.length).toBeGreaterThan(1);
    for (const { left, right } of legend) {
      const next = columns[columns.indexOf(left) + 1] ?? x + w;
      expect(right).toBeLessThan(next);
    }
  });
});
