import { describe, expect, it } from 'vitest';
import { layoutRequestSchema } from '../../../service/schemas/layout-request.js';
import { toPlanRequest } from '../../../service/translate/plan-request.js';
import { preconditionProblem } from '../../../service/validate/precondition.js';
import { showerRequest } from '../../helpers/requests.js';

const problem = (zone: object, pitch = 30) => {
  const request = showerRequest();
  const parsed = layoutRequestSchema.parse({
    ...request,
    lattice: { pitch },
    zones: [{ ...request.zones[0], ...zone }],
  });
  return preconditionProblem(toPlanRequest(parsed));
};

const square = (x: number, y: number, side: number): number[][] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
];

describe('preconditionProblem', () => {
  it('lets the shower through', () => {
    expect(problem({})).toBeNull();
  });

  it.each([
    ['an entry outside', { entry: [2000, 450] }, '/zones/0/entry', 'entry-outside'],
    [
      'an entry inside a no-heat area',
      { entry: [450, 480], exclusions: [{ id: 'x', center: [450, 480], radius: 150, clearance: 10 }] },
      '/zones/0/entry',
      'entry-outside',
    ],
    [
      'a buffer outside',
      { buffer: { outline: square(2000, 0, 300) } },
      '/zones/0/buffer/outline',
      'buffer-unreachable',
    ],
    ['a clearance that eats the zone', { clearance: 500 }, '/zones/0/outline', 'no-route'],
    [
      'a no-heat area that covers the zone',
      { exclusions: [{ id: 'x', outline: square(-100, -100, 1200) }] },
      '/zones/0/outline',
      'no-route',
    ],
  ])('%s', (_name, zone, pointer, reason) => {
    const found = problem(zone);
    expect(found?.slug).toBe('impossible-layout');
    expect(found?.errors?.map((fault) => fault.pointer)).toEqual([pointer]);
    expect(found?.members?.cables).toMatchObject([
      { zone: 'shower', cable: 'S5', fits: false, reason },
      { zone: 'shower', cable: 'S7', fits: false, reason },
    ]);
  });

  it('measures the distance of the entry: routing area ends at 870, entry at 2000', () => {
    expect(problem({ entry: [2000, 450] })?.errors?.[0]?.detail).toContain('1130.0 mm');
  });

  it('takes an entry at the wall, within three pitches of where cable may run', () => {
    expect(problem({ entry: [0, 900] })).toBeNull();
    expect(problem({ entry: [870 + 90, 450] })).toBeNull();
    expect(problem({ entry: [870 + 91, 450] })).not.toBeNull();
  });

  it('takes an entry in a corner of the walls, however fine the lattice', () => {
    const fine = { clearance: 100, entry: [0, 0] as [number, number] };
    expect(problem(fine, 10)).toBeNull();
    expect(problem({ ...fine, entry: [-60, -60] }, 10)).not.toBeNull();
  });
});
