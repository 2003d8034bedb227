import { describe, expect, it } from 'vitest';
import { RANGES, SIZES } from '../../../service/limits.js';
import { checkRequestSchema } from '../../../service/schemas/check-request.js';
import { layoutRequestSchema } from '../../../service/schemas/layout-request.js';
import { parseBody } from '../../../service/validate/parse.js';
import { showerRequest } from '../../helpers/requests.js';

const faultsOf = (body: unknown) => {
  const parsed = parseBody(layoutRequestSchema, body);
  return parsed.ok ? [] : parsed.faults;
};

/** The shower with one place changed; `pointer` is a JSON Pointer. */
const changed = (pointer: string, value: unknown): unknown => {
  const body: unknown = structuredClone(showerRequest());
  const parts = pointer.split('/').slice(1);
  const last = parts.pop() ?? '';
  let at = body as Record<string, unknown>;
  for (const part of parts) at = at[part] as Record<string, unknown>;
  if (value === undefined) delete at[last];
  else at[last] = value;
  return body;
};

const ring = (n: number) =>
  Array.from({ length: n }, (_, k) => [
    1000 * Math.cos((2 * Math.PI * k) / n),
    1000 * Math.sin((2 * Math.PI * k) / n),
  ]);

describe('parseBody', () => {
  it('takes the shower and fills in the documented defaults', () => {
    const parsed = parseBody(layoutRequestSchema, showerRequest());
    expect(parsed).toMatchObject({
      ok: true,
      value: {
        placementSlopPerTurn: 2,
        turnWeight: 1000,
        display: 'metric',
        zones: [{ leadIn: 0, priority: [] }],
        catalogue: [{ tolerance: 0.01, diameter: 5, coldLead: 3000 }, {}],
      },
    });
  });

  it.each([
    ['/lattice/pitch', RANGES.pitch],
    ['/zones/0/clearance', RANGES.clearance],
    ['/zones/0/leadIn', RANGES.leadIn],
    ['/zones/0/entry/0', RANGES.coordinate],
    ['/zones/0/outline/2/1', RANGES.coordinate],
    ['/zones/0/exclusions/0/radius', RANGES.radius],
    ['/zones/0/exclusions/0/clearanceStuds', RANGES.clearanceStuds],
    ['/catalogue/0/length', RANGES.cableLength],
    ['/catalogue/0/power', RANGES.power],
    ['/catalogue/0/voltage', RANGES.voltage],
    ['/catalogue/0/tolerance', RANGES.tolerance],
    ['/catalogue/0/diameter', RANGES.diameter],
    ['/catalogue/0/minBendRadius', RANGES.bendRadius],
    ['/catalogue/1/coldLead', RANGES.coldLead],
    ['/placementSlopPerTurn', RANGES.slopPerTurn],
    ['/turnWeight', RANGES.turnWeight],
    ['/spacing/max', RANGES.spacing],
  ])('%s: both limits are named with the number that breaks them', (pointer, { min, max }) => {
    for (const [value, limit] of [
      [min - 1, min],
      [max + 1, max],
    ]) {
      const faults = faultsOf(changed(pointer, value));
      expect(faults.map((fault) => fault.pointer)).toEqual([pointer]);
      expect(faults[0]?.detail).toContain(String(value));
      expect(faults[0]?.detail).toContain(String(limit));
    }
    expect(faultsOf(changed(pointer, min))).toEqual([]);
    expect(faultsOf(changed(pointer, max))).toEqual([]);
  });

  it.each([
    ['/zones', SIZES.zones, showerRequest().zones[0]],
    ['/catalogue', SIZES.catalogue, showerRequest().catalogue[0]],
    ['/zones/0/exclusions', SIZES.exclusions, showerRequest().zones[0]?.exclusions[0]],
  ])('%s: a list that is too long is one fault with the limit and the count', (pointer, most, entry) => {
    const faults = faultsOf(changed(pointer, Array(most + 1).fill(entry)));
    expect(faults).toHaveLength(1);
    expect(faults[0]?.pointer).toBe(pointer);
    expect(faults[0]?.detail).toContain(`${most + 1}`);
    expect(faults[0]?.detail).toContain(`${most}`);
  });

  it('limits the vertices of a ring', () => {
    expect(faultsOf(changed('/zones/0/outline', ring(SIZES.verticesPerRing)))).toEqual([]);
    const faults = faultsOf(changed('/zones/0/outline', ring(SIZES.verticesPerRing + 1)));
    expect(faults.map(({ pointer }) => pointer)).toEqual(['/zones/0/outline']);
  });

  it.each(['/lattice', '/spacing/target', '/zones', '/zones/0/id', '/zones/0/entry', '/catalogue/0/length'])(
    '%s: says that it is missing',
    (pointer) => {
      const faults = faultsOf(changed(pointer, undefined));
      expect(faults.map((fault) => fault.pointer)).toEqual([pointer]);
      expect(faults[0]?.detail).toContain('missing');
    },
  );

  it('rejects numbers that overflow to infinity', () => {
    const body = JSON.stringify(changed('/lattice/pitch', 'HERE')).replace('"HERE"', '1e999');
    expect(faultsOf(JSON.parse(body)).map(({ pointer }) => pointer)).toEqual(['/lattice/pitch']);
  });

  it.each([
    '/colour',
    '/zones/0/colour',
    '/zones/0/exclusions/0/colour',
    '/catalogue/1/colour',
    '/lattice/a~1b',
    '/spacing/__proto__',
  ])('%s: an unknown field is a fault', (pointer) => {
    const name = pointer.slice(pointer.lastIndexOf('/') + 1).replace('~1', '/');
    const holder = pointer.slice(0, pointer.lastIndexOf('/'));
    let text = JSON.stringify(changed(`${holder}/HERE`, 1));
    text = text.replace('"HERE"', JSON.stringify(name));
    expect(faultsOf(JSON.parse(text)).map((fault) => fault.pointer)).toEqual([pointer]);
  });

  it('wants exactly one shape and at most one clearance for an exclusion', () => {
    const outline = ring(4);
    const center = [0, 0];
    const shapes: readonly [object, number][] = [
      [{ id: 'x', outline }, 0],
      [{ id: 'x', center, radius: 50 }, 0],
      [{ id: 'x' }, 1],
      [{ id: 'x', outline, center, radius: 50 }, 1],
      [{ id: 'x', center }, 1],
      [{ id: 'x', radius: 50 }, 1],
      [{ id: 'x', outline, clearance: 10, clearanceStuds: 1 }, 1],
    ];
    for (const [shape, faults] of shapes) {
      expect(faultsOf(changed('/zones/0/exclusions', [shape]))).toHaveLength(faults);
    }
  });

  it('wants whole studs', () => {
    expect(faultsOf(changed('/spacing/target', 2.5)).map(({ pointer }) => pointer)).toEqual([
      '/spacing/target',
    ]);
  });

  it('takes names in any script and no control characters', () => {
    expect(faultsOf(changed('/zones/0/id', 'Küche 2.OG'))).toEqual([]);
    for (const name of ['', 'a\u0000b', '<b>', 'x'.repeat(SIZES.idLength + 1)]) {
      expect(faultsOf(changed('/zones/0/id', name))).not.toEqual([]);
    }
  });

  it('stays quick and short on bodies made to be slow', () => {
    const deep = `${'['.repeat(100_000)}${']'.repeat(100_000)}`;
    expect(faultsOf({ lattice: JSON.parse(deep) })).toHaveLength(1);
    const wide = Object.fromEntries(Array.from({ length: 50_000 }, (_, k) => [`field${k}`, k]));
    expect(faultsOf(wide).length).toBeLessThanOrEqual(50);
  });

  it('wants an origin, a path and no insisted cable in a check', () => {
    const parsed = parseBody(checkRequestSchema, { lattice: { pitch: 30 }, zone: { cable: 'x' } });
    const pointers = parsed.ok ? [] : parsed.faults.map(({ pointer }) => pointer);
    expect(pointers).toEqual(
      expect.arrayContaining(['/lattice/origin', '/path', '/cable', '/zone/cable', '/spacing']),
    );
  });
});
