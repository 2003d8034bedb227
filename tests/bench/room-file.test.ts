import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { attributionOf, roomsFromFile } from '../../bench/room-file.js';

/** Invented rooms: a rectangle in metres, the same clockwise in millimetres, and an L. */
const ROOMS = [
  {
    id: 'store',
    unit: 'm',
    polygon: [
      [0, 0],
      [2, 0],
      [2, 3.5],
      [0, 3.5],
    ],
    floor: 'ignored',
  },
  {
    id: 'turned',
    unit: 'mm',
    polygon: [
      [0, 0],
      [0, 2000],
      [3500, 2000],
      [3500, 0],
    ],
  },
  {
    id: 'corner',
    unit: 'm',
    polygon: [
      [0, 0],
      [4, 0],
      [4, 1],
      [1.5, 1],
      [1.5, 3],
      [0, 3],
    ],
  },
];

let folder = '';
const put = (name: string, content: unknown): string => {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(content));
  return path;
};

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'rooms-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('rooms from a file', () => {
  it('reads outlines in millimetres, whatever the unit', () => {
    const [store, turned, corner] = roomsFromFile(put('rooms.json', { rooms: ROOMS }));
    expect(store.zone.outline).toEqual([
      [0, 0],
      [2000, 0],
      [2000, 3500],
      [0, 3500],
    ]);
    expect([store.area, turned.area, corner.area]).toEqual([7, 7, 7]);
    expect([store.name, store.zone.id]).toEqual(['store', 'store']);
  });

  it('lays a buffer 150 mm deep along the longest wall, with the entry at a corner of the wall opposite', () => {
    const [store, turned, corner] = roomsFromFile(put('rooms.json', { rooms: ROOMS }));
    expect(store.zone.buffer).toEqual([
      [2000, 0],
      [2000, 3500],
      [1850, 3500],
      [1850, 0],
    ]);
    expect(store.zone.entry).toEqual([0, 3500]);
    expect(turned.zone.buffer).toEqual([
      [0, 2000],
      [3500, 2000],
      [3500, 1850],
      [0, 1850],
    ]);
    expect(turned.zone.entry).toEqual([3500, 0]);
    expect(corner.zone.buffer).toEqual([
      [0, 0],
      [4000, 0],
      [4000, 150],
      [0, 150],
    ]);
    expect(corner.zone.entry).toEqual([1500, 3000]);
  });

  it('offers cables from 5 to 260 m in steps of about 12 %', () => {
    const [{ catalogue }] = roomsFromFile(put('rooms.json', { rooms: ROOMS }));
    expect(catalogue[0].length).toBe(5000);
    expect(catalogue[catalogue.length - 1].length).toBe(260_000);
    // Lengths are rounded to half a metre.
    for (const [k, { length }] of catalogue.entries())
      if (k > 0) expect(Math.abs(length - catalogue[k - 1].length * 1.12)).toBeLessThanOrEqual(550);
  });

  it('names the source and licence that the file states', () => {
    const meta = { source: 'A. Nobody, Plans of nowhere', licence: 'CC0', changes: 'none' };
    expect(attributionOf(put('named.json', { meta, rooms: [] }))).toBe(
      'Rooms from a file, CC0: A. Nobody, Plans of nowhere. Changes: none',
    );
    expect(attributionOf(put('unnamed.json', { rooms: [] }))).toBe('Rooms from a file.');
  });

  it('refuses a file of another form', () => {
    const rooms = [{ id: 'x', unit: 'ft', polygon: [] }];
    expect(() => roomsFromFile(put('bad.json', { rooms }))).toThrow();
  });
});
