import { describe, expect, it } from 'vitest';
import { SIZES } from '../../../service/limits.js';
import { layoutRequestSchema } from '../../../service/schemas/layout-request.js';
import { layoutFaults } from '../../../service/validate/layout.js';
import { type ShowerRequest, showerRequest } from '../../helpers/requests.js';

const faults = (change: (request: ShowerRequest) => unknown) => {
  const request = showerRequest();
  const result = change(request);
  return layoutFaults(layoutRequestSchema.parse(result ?? request));
};

const pointers = (change: (request: ShowerRequest) => unknown): string[] =>
  faults(change).map(({ pointer }) => pointer);

const withOutline = (request: ShowerRequest, outline: number[][]) => ({
  ...request,
  zones: request.zones.map((zone) => ({ ...zone, outline })),
});

describe('layoutFaults', () => {
  it('finds nothing wrong with the shower', () => {
    expect(faults(() => undefined)).toEqual([]);
  });

  it.each([
    [
      'a bow tie',
      [
        [0, 0],
        [900, 900],
        [900, 0],
        [0, 900],
      ],
      'crosses itself',
    ],
    [
      'no area',
      [
        [0, 0],
        [900, 0],
        [450, 0],
      ],
      '',
    ],
    [
      'a vertex given twice',
      [
        [0, 0],
        [900, 0],
        [900, 0],
        [0, 900],
      ],
      'twice in a row',
    ],
    [
      'the first vertex repeated at the end',
      [
        [0, 0],
        [900, 0],
        [0, 900],
        [0, 0],
      ],
      'twice in a row',
    ],
    [
      'a spike',
      [
        [0, 0],
        [900, 0],
        [900, 900],
        [1200, 900],
        [900, 900],
        [0, 900],
      ],
      '',
    ],
  ])('outline with %s', (_name, outline, says) => {
    const found = faults((request) => withOutline(request, outline));
    expect(found.length).toBeGreaterThan(0);
    for (const { pointer, detail } of found) {
      expect(pointer).toMatch(/^\/zones\/0\/outline/);
      expect(detail).toContain(says);
    }
  });

  it('looks at every outline: buffer, exclusions, priorities', () => {
    const bowTie = [
      [0, 0],
      [100, 100],
      [100, 0],
      [0, 100],
    ];
    const found = pointers((request) => ({
      ...request,
      zones: request.zones.map((zone) => ({
        ...zone,
        buffer: { outline: bowTie },
        exclusions: [{ id: 'x', outline: bowTie }],
        priority: [{ outline: bowTie, weight: 2 }],
      })),
    }));
    for (const place of ['buffer', 'exclusions/0', 'priority/0']) {
      expect(found.some((pointer) => pointer.startsWith(`/zones/0/${place}/outline`))).toBe(true);
    }
  });

  it('wants ids of their own within each list', () => {
    expect(pointers((request) => ({ ...request, zones: [...request.zones, ...request.zones] }))).toEqual([
      '/zones/1/id',
    ]);
    expect(
      pointers((request) => ({ ...request, catalogue: [...request.catalogue, ...request.catalogue] })),
    ).toEqual(['/catalogue/2/id', '/catalogue/3/id']);
    expect(
      pointers((request) => ({
        ...request,
        zones: request.zones.map((zone) => ({
          ...zone,
          exclusions: [...zone.exclusions, ...zone.exclusions],
        })),
      })),
    ).toEqual(['/zones/0/exclusions/1/id']);
  });

  it('wants the insisted cable to be in the catalogue', () => {
    expect(
      pointers((request) => ({ ...request, zones: request.zones.map((zone) => ({ ...zone, cable: 'S9' })) })),
    ).toEqual(['/zones/0/cable']);
    expect(
      pointers((request) => ({ ...request, zones: request.zones.map((zone) => ({ ...zone, cable: 'S7' })) })),
    ).toEqual([]);
  });

  it('wants min <= target <= max', () => {
    expect(pointers((request) => ({ ...request, spacing: { min: 4, target: 3, max: 3 } }))).toEqual([
      '/spacing/min',
    ]);
    expect(pointers((request) => ({ ...request, spacing: { min: 2, target: 4, max: 3 } }))).toEqual([
      '/spacing/max',
    ]);
  });

  const box = (w: number, h: number): number[][] => [
    [0, 0],
    [w, 0],
    [w, h],
    [0, h],
  ];

  it.each([
    ['side', box(SIZES.zoneSide + 1000, 1000), SIZES.zoneSide, SIZES.zoneSide + 1000],
    ['area', box(30_000, 20_000), SIZES.zoneArea, '600.00'],
  ])('limits the %s of a zone', (_what, outline, limit, value) => {
    const [fault, ...more] = faults((request) => withOutline(request, outline));
    expect(more).toEqual([]);
    expect(fault?.pointer).toBe('/zones/0/outline');
    expect(fault?.detail).toContain(String(limit));
    expect(fault?.detail).toContain(String(value));
  });

  it('limits the stud crossings of a zone', () => {
    const found = faults((request) => ({
      ...withOutline(request, box(15_000, 15_000)),
      lattice: { pitch: 5 },
    }));
    expect(found.map(({ pointer }) => pointer)).toEqual(['/zones/0/outline']);
    expect(found[0]?.detail).toContain(String(SIZES.latticeNodes));
    expect(found[0]?.detail).toContain(String(3001 * 3001));
  });

  it('limits the vertices of all outlines together', () => {
    const circle = Array.from({ length: 400 }, (_, k) => [
      450 + 400 * Math.cos((2 * Math.PI * k) / 400),
      450 + 400 * Math.sin((2 * Math.PI * k) / 400),
    ]);
    const found = faults((request) => ({
      ...request,
      zones: request.zones.map((zone) => ({
        ...zone,
        exclusions: Array.from({ length: 11 }, (_, k) => ({ id: `x${k}`, outline: circle })),
      })),
    }));
    expect(found.map(({ pointer }) => pointer)).toEqual(['/zones']);
    expect(found[0]?.detail).toContain(String(SIZES.verticesInAll));
  });
});
