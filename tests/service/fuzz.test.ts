import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PROBLEMS } from '../../service/problems.js';
import { showerRequest } from '../helpers/requests.js';
import { fakeWorker, type RunningService, startService } from '../helpers/service.js';

let quick: RunningService;
let real: RunningService;

beforeAll(async () => {
  quick = await startService({}, fakeWorker);
  real = await startService();
});

afterAll(async () => {
  await quick.close();
  await real.close();
});

const SEED = 20_240_601;

/** Every place of a JSON value, as paths. */
const places = (value: unknown, path: readonly (string | number)[] = []): (string | number)[][] => {
  if (typeof value !== 'object' || value === null) return [[...path]];
  const inner = Array.isArray(value) ? [...value.entries()] : Object.entries(value);
  return [[...path], ...inner.flatMap(([key, member]) => places(member, [...path, key]))];
};

const withPlace = (value: unknown, [key, ...rest]: readonly (string | number)[], put: unknown): unknown => {
  if (key === undefined) return put;
  const copy: unknown = Array.isArray(value) ? [...value] : { ...(value as object) };
  const holder = copy as Record<string | number, unknown>;
  holder[key] = withPlace(holder[key], rest, put);
  return copy;
};

const ALL = places(showerRequest());

const odd = fc.oneof(
  fc.constantFrom<unknown>(null, true, '', 'x', [], {}, [[]], -1, 0, 1e-300, 1e6, 1e15, 0.1, '__proto__', [
    [0, 0],
  ]),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.integer({ min: -2000, max: 2000 }),
  fc.jsonValue({ maxDepth: 3 }) as fc.Arbitrary<unknown>,
);

const mutated = fc
  .array(fc.tuple(fc.integer({ min: 0, max: ALL.length - 1 }), odd), { minLength: 1, maxLength: 4 })
  .map((changes) =>
    changes.reduce<unknown>((body, [k, put]) => {
      try {
        return withPlace(body, ALL[k] ?? [], put);
      } catch {
        return body;
      }
    }, showerRequest()),
  );

const expectSane = async (response: Response): Promise<void> => {
  const text = await response.text();
  expect(response.status, text).toBeLessThan(500);
  // A fault of the solver is contained, but it is still a fault.
  expect(text).not.toContain('/problems/not-solved');
  if (response.status === 200) return;
  expect(response.headers.get('content-type')).toMatch(/^application\/problem\+json/);
  const { type } = JSON.parse(text) as { type: string };
  expect(Object.keys(PROBLEMS)).toContain(type.replace('/problems/', ''));
};

describe('whatever is sent, the answer is no 5xx', () => {
  it('to layouts and checks changed in a few places', async () => {
    await fc.assert(
      fc.asyncProperty(mutated, fc.constantFrom('/v1/layouts', '/v1/checks'), async (body, path) => {
        await expectSane(await quick.post(path, body));
      }),
      { seed: SEED, numRuns: 250 },
    );
  });

  it('to bytes that are hardly JSON', async () => {
    const text = JSON.stringify(showerRequest());
    const cut = fc
      .tuple(fc.nat(text.length), fc.nat(text.length), fc.string({ maxLength: 10 }))
      .map(([a, b, put]) => text.slice(0, Math.min(a, b)) + put + text.slice(Math.max(a, b)));
    await fc.assert(
      fc.asyncProperty(cut, async (body) => {
        await expectSane(await quick.post('/v1/layouts', body));
      }),
      { seed: SEED, numRuns: 120 },
    );
  });

  it('to geometry that only the solver can judge', async () => {
    const coordinate = fc.integer({ min: -100, max: 1000 });
    const point = fc.tuple(coordinate, coordinate);
    const zone = fc.record({
      clearance: fc.integer({ min: 0, max: 300 }),
      entry: point,
      leadIn: fc.integer({ min: 0, max: 8000 }),
      exclusions: fc.array(
        fc.record({
          center: point,
          radius: fc.integer({ min: 1, max: 300 }),
          clearance: fc.integer({ min: 0, max: 100 }),
        }),
        { maxLength: 4 },
      ),
      buffer: fc
        .tuple(coordinate, coordinate, fc.integer({ min: 1, max: 600 }), fc.integer({ min: 1, max: 600 }))
        .map(([x, y, w, h]) => ({
          outline: [
            [x, y],
            [x + w, y],
            [x + w, y + h],
            [x, y + h],
          ],
        })),
      pitch: fc.constantFrom(15, 30, 41.5),
      length: fc.integer({ min: 500, max: 12_000 }),
    });
    await fc.assert(
      fc.asyncProperty(zone, async ({ pitch, length, exclusions, ...change }) => {
        const request = showerRequest();
        await expectSane(
          await real.post('/v1/layouts', {
            ...request,
            lattice: { pitch },
            catalogue: [{ ...request.catalogue[0], length }],
            zones: [
              {
                ...request.zones[0],
                ...change,
                exclusions: exclusions.map((exclusion, k) => ({ id: `x${k}`, ...exclusion })),
              },
            ],
          }),
        );
      }),
      { seed: SEED, numRuns: 8 },
    );
  });

  it('to paths of any shape that are to be judged', async () => {
    const request = showerRequest();
    const coordinate = fc.oneof(
      fc.integer({ min: -1, max: 31 }).map((k) => k * 30),
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
    );
    const path = fc.array(fc.tuple(coordinate, coordinate), { minLength: 2, maxLength: 30 });
    await fc.assert(
      fc.asyncProperty(path, path, async (laid, reserve) => {
        const response = await real.post('/v1/checks', {
          lattice: { pitch: 30, origin: [0, 0] },
          spacing: request.spacing,
          zone: request.zones[0],
          cable: request.catalogue[0],
          path: laid,
          reserve,
        });
        expect(response.status).toBe(200);
        await expectSane(response);
      }),
      { seed: SEED, numRuns: 30 },
    );
  });
});
