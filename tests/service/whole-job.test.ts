import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LayoutResponse, layoutResponseSchema } from '../../service/schemas/layout-response.js';
import { bathroomRequest, showerRequest } from '../helpers/requests.js';
import { type RunningService, startService } from '../helpers/service.js';

let service: RunningService;

beforeAll(async () => {
  service = await startService();
});

afterAll(async () => {
  await service.close();
});

interface ProblemBody {
  readonly type: string;
  readonly detail: string;
  readonly errors: readonly { readonly pointer: string; readonly detail: string }[];
  readonly cables?: readonly { readonly cable: string; readonly reason: string }[];
  readonly obstacles?: readonly { readonly pointer: string; readonly by: number | null }[];
}

const refused = async (request: unknown): Promise<ProblemBody> => {
  const response = await service.post('/v1/layouts', request);
  expect(response.status).toBe(422);
  return (await response.json()) as ProblemBody;
};

const planned = async (request: unknown): Promise<LayoutResponse> => {
  const response = await service.post('/v1/layouts', request);
  const text = await response.text();
  expect(response.status, text.slice(0, 500)).toBe(200);
  return layoutResponseSchema.parse(JSON.parse(text));
};

const supply = {
  region: 'IEC',
  voltage: 230,
  alloy: { kind: 'nichrome' },
  braid: true,
  groundFaultTrip: 0.03,
};

describe('supply voltage', () => {
  it('refuses a catalogue made for another voltage, and says what the cables would give', async () => {
    const request = { ...showerRequest(), supply: { ...supply, voltage: 115 } };
    const { type, errors, cables } = await refused(request);
    expect(type).toBe('/problems/impossible-layout');
    expect(errors.map(({ pointer }) => pointer)).toEqual(['/supply/voltage']);
    expect(cables?.map(({ reason }) => reason)).toEqual(['voltage', 'voltage']);
    // Half the voltage gives a quarter of the power (physics): 60 W -> 15 W.
    expect(JSON.stringify(cables)).toContain('15 W instead of 60 W');
  });

  it('passes over the cables of another voltage and takes one that suits', async () => {
    const plain = showerRequest();
    const [first, second] = plain.catalogue;
    const request = { ...plain, catalogue: [{ ...first, id: 'other', voltage: 115 }, first, second], supply };
    const { zones, alternatives } = await planned(request);
    expect(zones[0]?.cable).not.toBe('other');
    expect(alternatives.find(({ cable }) => cable === 'other')).toMatchObject({
      fits: false,
      reason: 'voltage',
      by: null,
    });
  });

  it('lets an override of the tolerance through', async () => {
    const request = {
      ...showerRequest(),
      supply: { ...supply, voltage: 235, overrides: { 'voltage-match': { tolerance: 0.05 } } },
    };
    const { electrical } = await planned(request);
    // (235 / 230)^2 (physics).
    expect(electrical?.cables[0]?.supplyShare.value).toBeCloseTo(1.04395, 4);
  });
});

/** An invented passage, too narrow for a sensor 300 mm inside. */
const passage = (width: number) => ({
  lattice: { pitch: 30 },
  spacing: { min: 2, target: 3, max: 3 },
  zones: [
    {
      id: 'passage',
      outline: [
        [0, 0],
        [width, 0],
        [width, 1500],
        [0, 1500],
      ],
      clearance: 50,
      buffer: {
        outline: [
          [0, 1300],
          [width, 1300],
          [width, 1500],
          [0, 1500],
        ],
      },
      entry: [60, 60],
    },
  ],
  catalogue: [7, 8, 9, 10].map((metres) => ({
    id: `P${metres}`,
    length: metres * 1000,
    power: metres * 12,
    voltage: 230,
    minBendRadius: 15,
  })),
  thermostat: { at: [300, 0] },
  effort: 'quick',
});

describe('floor sensor', () => {
  it('without room for it is a finding with its reason, not a failed request', async () => {
    const { zones, id } = await planned(passage(600));
    // Routing area 500 mm wide: no place lies deeper than 250 mm (derived).
    expect(zones[0]?.sensor).toMatchObject({ placed: false, sensor: null, reason: 'no-place' });
    expect(zones[0]?.sensor?.by).toBeGreaterThanOrEqual(50);
    expect(zones[0]?.sensor?.detail).toContain('300 mm');
    const svg = await (await fetch(`${service.url}/v1/layouts/${id}/drawing.svg`)).text();
    expect(svg.includes('floor sensor')).toBe(false);
  });

  it('is left out where it is not wanted, or where no thermostat is named', async () => {
    const request = passage(600);
    const unwanted = { ...request, zones: [{ ...request.zones[0], sensor: { wanted: false } }] };
    expect((await planned(unwanted)).zones[0]?.sensor).toBeUndefined();
    const { thermostat: _, ...bare } = request;
    const { zones } = await planned(bare);
    expect(zones[0]?.sensor).toBeUndefined();
    expect(zones[0]?.coldLead).toBeUndefined();
  });
});

describe('cold lead', () => {
  it('shorter than the way up to the thermostat is refused with the missing length', async () => {
    const request = bathroomRequest();
    const short = request.catalogue.map((cable) => ({ ...cable, coldLead: 1000 }));
    const { errors, obstacles } = await refused({ ...request, catalogue: short });
    expect(errors.map(({ pointer }) => pointer)).toContain('/zones/1/dryZone');
    const missing = obstacles?.find(({ pointer }) => pointer === '/zones/1/dryZone')?.by ?? 0;
    expect(missing).toBeGreaterThan(0);
    expect(errors.find(({ pointer }) => pointer === '/zones/1/dryZone')?.detail).toContain(
      `${missing.toFixed(0)} mm`,
    );
  });
});

describe('a zone without a buffer', () => {
  const { zones, ...rest } = showerRequest();
  const { buffer: _, ...zone } = { ...zones[0] };
  const request = { ...rest, zones: [zone] };

  it('gets a strip along a wall away from the entry, and the answer says so', async () => {
    const { zones: laid } = await planned(request);
    const assumed = laid[0]?.assumed;
    // Entry at the upper left corner: the right wall and the lower one lie away from it. 150 mm deep (common practice).
    expect(assumed?.buffer.outline).toEqual([
      [0, 0],
      [900, 0],
      [900, 150],
      [0, 150],
    ]);
    const end = laid[0]?.end.at ?? [0, 1000];
    expect(end[1]).toBeLessThanOrEqual(150);
    expect(assumed?.detail).toContain('buffer');
  });

  it('says nothing of it where one is named', async () => {
    expect((await planned(showerRequest())).zones[0]?.assumed).toBeUndefined();
  });
});

describe('materials', () => {
  const wish = { membrane: { kind: 'roll', width: 1000, length: 5000 } };

  it('come with the layout where they are asked for', async () => {
    const { materials, id } = await planned({ ...showerRequest(), materials: wish });
    // 0.9 x 0.9 m2 (derived); one strip of 900 mm and its trim from one roll.
    expect(materials?.membrane.area.value).toBeCloseTo(0.81, 6);
    expect(materials?.membrane.pieces.value).toBe(1);
    expect(materials?.membrane.strips).toHaveLength(1);
    expect(materials?.grooves).toEqual([]);
    expect((await fetch(`${service.url}/v1/layouts/${id}/sheet.pdf`)).status).toBe(200);
    expect((await planned(showerRequest())).materials).toBeUndefined();
  });

  it.each([
    [
      'an override of a rule that is not there',
      { ...wish, overrides: { luck: { more: 1 } } },
      '/materials/overrides/luck',
    ],
    ['a membrane of no size', { membrane: { ...wish.membrane, width: 1 } }, '/materials/membrane/width'],
  ])('%s', async (_name, materials, pointer) => {
    const { type, errors } = await refused({ ...showerRequest(), materials });
    expect(type).toBe('/problems/invalid-request');
    expect(errors.map((fault) => fault.pointer)).toEqual([pointer]);
  });
});

describe('papers in the other units', () => {
  it('write steps, places and leads in feet and inches as well', async () => {
    const { id } = await planned({ ...passage(600), title: 'Passage', display: 'imperial' });
    const csv = await (await fetch(`${service.url}/v1/layouts/${id}/runs.csv`)).text();
    expect(csv).toContain('length_ft_in');
    const metric = await (await fetch(`${service.url}/v1/layouts/${id}/runs.csv?display=metric`)).text();
    expect(metric).not.toContain('length_ft_in');
    const svg = await (await fetch(`${service.url}/v1/layouts/${id}/drawing.svg`)).text();
    // 600 mm = 1 ft 11 5/8 in to the nearest 1/8 (derived).
    expect(svg.includes('1&#39; 11 5/8')).toBe(true);
    expect(svg.includes('>Passage<')).toBe(true);
  });
});
