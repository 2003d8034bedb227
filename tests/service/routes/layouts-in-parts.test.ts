import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkResponseSchema } from '../../../service/schemas/check-response.js';
import { type LayoutResponse, layoutResponseSchema } from '../../../service/schemas/layout-response.js';
import { type RunningService, startService } from '../../helpers/service.js';

let service: RunningService;
let layout: LayoutResponse;

const cable = (length: number) => ({
  id: `C${length}`,
  length,
  power: length / 80,
  voltage: 230,
  minBendRadius: 15,
});

/** An invented floor that takes about 20 m, and cables half as long. */
const floor = {
  lattice: { pitch: 30, origin: [0, 0] },
  spacing: { min: 2, target: 3, max: 3 },
  zones: [
    {
      id: 'floor',
      outline: [
        [0, 0],
        [1900, 0],
        [1900, 1300],
        [0, 1300],
      ],
      buffer: {
        outline: [
          [0, 1050],
          [1900, 1050],
          [1900, 1300],
          [0, 1300],
        ],
      },
      entry: [60, 60],
    },
  ],
  catalogue: [8000, 9500, 11_000, 13_000].map(cable),
  effort: 'quick',
};

const layoutOf = async (request: unknown): Promise<LayoutResponse> => {
  const response = await service.post('/v1/layouts', request);
  const text = await response.text();
  expect(response.status, text).toBe(200);
  return layoutResponseSchema.parse(JSON.parse(text));
};

beforeAll(async () => {
  service = await startService();
  layout = await layoutOf(floor);
});

afterAll(async () => {
  await service.close();
});

describe('POST /v1/layouts of a floor larger than the longest cable', () => {
  it('lays it in parts that name the zone they belong to', () => {
    expect(layout.zones.map(({ id, partOf }) => [id, partOf])).toEqual([
      ['floor/1', 'floor'],
      ['floor/2', 'floor'],
    ]);
    for (const { rules, laying } of layout.zones) {
      expect(rules.every(({ ok }) => ok)).toBe(true);
      expect(laying).toBeDefined();
    }
    const [split] = layout.splits ?? [];
    expect(split?.zone).toBe('floor');
    expect(split?.parts.map(({ id }) => id)).toEqual(['floor/1', 'floor/2']);
    expect(split?.cuts.length).toBe(1);
    expect(split?.seam).toBeLessThanOrEqual(90);
    expect(split?.nearest).toBeGreaterThanOrEqual(60);
    expect(split?.coverage.fraction).toBeGreaterThan(0.95);
    const zones = new Set(layout.alternatives.map(({ zone }) => zone));
    expect([...zones]).toEqual(['floor/1', 'floor/2']);
  });

  it('gives parts that /v1/checks finds legal in the zone as drawn', async () => {
    for (const part of layout.splits?.[0]?.parts ?? []) {
      const laid = layout.zones.find(({ id }) => id === part.id);
      const response = await service.post('/v1/checks', {
        lattice: layout.lattice,
        spacing: floor.spacing,
        zone: { ...floor.zones[0], entry: part.entry, buffer: { outline: part.buffer.outline } },
        cable: floor.catalogue.find(({ id }) => id === laid?.cable),
        path: laid?.path,
        reserve: laid?.reserve,
      });
      const report = checkResponseSchema.parse(await response.json());
      expect(report.rules.filter(({ ok }) => !ok)).toEqual([]);
    }
  });

  it.each(['drawing.svg', 'runs.csv'])('names the parts on %s', async (paper) => {
    const response = await fetch(`${service.url}/v1/layouts/${layout.id}/${paper}`);
    expect(response.status).toBe(200);
    expect(await response.text()).toContain('floor/2');
  });

  it('prints the sheet', async () => {
    const response = await fetch(`${service.url}/v1/layouts/${layout.id}/sheet.pdf`);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-type')).toContain('application/pdf');
  });

  it('leaves it to one cable when parts are not wished', async () => {
    const whole = await layoutOf({ ...floor, split: false });
    expect(whole.zones.map(({ id }) => id)).toEqual(['floor']);
    expect(whole.zones[0]).not.toHaveProperty('partOf');
    expect(whole).not.toHaveProperty('splits');
    expect(whole.zones[0]?.coverage.fraction).toBeLessThan(0.9);
  });

  it('holds every cable to the load allowed', async () => {
    const light = await layoutOf({ ...floor, maxLoad: 140 });
    expect(light.zones.every(({ cable: id }) => id !== 'C13000')).toBe(true);
    const heavy = light.alternatives.filter(({ reason }) => reason === 'too-much-load');
    expect(heavy.map(({ cable: id }) => id)).toEqual(['C13000']);
  });

  it('gives the part at the entry the cold lead and the sensor', async () => {
    const job = await layoutOf({ ...floor, thermostat: { at: [0, 500] } });
    const [first, second] = job.zones;
    expect(first?.coldLead).toBeDefined();
    expect(first?.sensor).toBeDefined();
    expect(second).not.toHaveProperty('coldLead');
    expect(second).not.toHaveProperty('sensor');
  });
});
