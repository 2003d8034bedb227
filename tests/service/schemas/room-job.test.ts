import { describe, expect, it } from 'vitest';
import {
  curbSchema,
  drainSchema,
  jobRequestFields,
  jobZoneFields,
  marksSchema,
  sensorSchema,
  thermostatSchema,
} from '../../../service/schemas/room-job.js';
import { GROOVE } from '../../../solver/job/curb.js';
import { DRAIN_STUDS } from '../../../solver/job/drain.js';

const SQUARE = [
  [0, 0],
  [100, 0],
  [100, 900],
  [0, 900],
];

describe('request fields of a job', () => {
  it('fills in the groove of a curb with the size the solver knows', () => {
    const curb = curbSchema.parse({ outline: SQUARE, height: 100 });
    expect(curb.groove).toEqual(GROOVE);
    expect(curb.descent).toBeUndefined();
  });

  it('takes a round and a linear drain, with the studs the solver knows', () => {
    expect(drainSchema.parse({ center: [0, 0], radius: 60 }).clearanceStuds).toBe(DRAIN_STUDS);
    expect(drainSchema.parse({ outline: SQUARE, clearanceStuds: 2 }).clearanceStuds).toBe(2);
  });

  it('refuses a drain that is both or neither', () => {
    expect(drainSchema.safeParse({ center: [0, 0], radius: 60, outline: SQUARE }).success).toBe(false);
    expect(drainSchema.safeParse({}).success).toBe(false);
  });

  it('hangs a thermostat at 1.2 m unless told otherwise', () => {
    expect(thermostatSchema.parse({ at: [0, 500] }).height).toBe(1200);
    expect(thermostatSchema.parse({ at: [0, 500], height: 0 }).height).toBe(0);
    expect(thermostatSchema.safeParse({ at: [0, 500], height: -1 }).success).toBe(false);
  });

  it('takes marks that start anywhere and run either way', () => {
    expect(marksSchema.parse({ start: -12.5, direction: 'down' })).toEqual({
      start: -12.5,
      direction: 'down',
    });
    expect(marksSchema.safeParse({ start: 0, direction: 'sideways' }).success).toBe(false);
    expect(marksSchema.safeParse({ start: Number.NaN, direction: 'up' }).success).toBe(false);
  });

  it('wants a sensor, without spare, where the field is there', () => {
    expect(sensorSchema.parse({})).toEqual({ wanted: true, spare: false });
  });

  it('refuses unknown fields', () => {
    expect(curbSchema.safeParse({ outline: SQUARE, height: 100, colour: 'grey' }).success).toBe(false);
    expect(thermostatSchema.safeParse({ at: [0, 0], brand: 'x' }).success).toBe(false);
  });

  it('makes every field of the request optional', () => {
    for (const field of [...Object.values(jobRequestFields), ...Object.values(jobZoneFields)])
      expect(field.safeParse(undefined).success).toBe(true);
  });
});
