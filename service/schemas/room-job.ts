/** Request fields beyond one bare layout: thermostat, metre marks, curb, drain, joint, sensor. */
import { z } from 'zod';
import { idSchema, quantity } from './fields.js';
import { pointSchema, ringSchema } from './point.js';

/** Defaults of these fields; common practice, no source, unless said otherwise. */
export const JOB_DEFAULTS = {
  /** mm above the floor. */
  thermostatHeight: 1200,
  /** 3/4 x 1/4 in. */
  grooveWidth: 19,
  grooveDepth: 6,
  drainStuds: 3,
} as const;

export const thermostatSchema = z
  .strictObject({
    at: pointSchema.meta({
      description: 'Where the thermostat is, on a wall of a dry zone; snapped to it within 100 mm.',
    }),
    height: quantity(
      'thermostatHeight',
      'Height of its box above the floor; cold leads and the sensor lead run up to it',
    ).default(JOB_DEFAULTS.thermostatHeight),
  })
  .meta({ id: 'Thermostat', description: 'Where cold leads and the sensor lead go.' });

export const marksSchema = z
  .strictObject({
    start: quantity('markStart', 'Mark at the hot-to-cold joint, where the heating part begins'),
    direction: z
      .enum(['up', 'down'])
      .meta({ description: 'Whether the marks grow or shrink from the joint to the end.' }),
  })
  .meta({ id: 'MetreMarks', description: 'Metre marks printed on the cable; they may start anywhere.' });

export const grooveSchema = z
  .strictObject({
    width: quantity('groove', 'Width').default(JOB_DEFAULTS.grooveWidth),
    depth: quantity('groove', 'Depth').default(JOB_DEFAULTS.grooveDepth),
  })
  .meta({
    id: 'Groove',
    description: 'Channel over the curb that takes the cable and is grouted solid afterwards.',
  });

export const curbSchema = z
  .strictObject({
    outline: ringSchema.meta({ description: 'Plan of the strip between the dry and the wet zone.' }),
    height: quantity('curbHeight', 'Top of the curb above the dry floor'),
    descent: quantity(
      'curbDescent',
      'Top of the curb above the shower floor beside it; like height when left out',
    ).optional(),
    groove: grooveSchema.prefault({}),
  })
  .meta({
    id: 'Curb',
    description:
      "Sill between a dry floor and a shower. The shower's heating cable crosses it once, over the top, square to it; nothing else does. Leave it out for a level threshold.",
  });

const clearanceStuds = quantity('clearanceStuds', 'The cable keeps this from the edge of the flange').default(
  JOB_DEFAULTS.drainStuds,
);

export const pointDrainSchema = z
  .strictObject({ center: pointSchema, radius: quantity('radius', 'Radius of the flange'), clearanceStuds })
  .meta({ id: 'PointDrain', description: 'Round drain.' });

export const linearDrainSchema = z
  .strictObject({ outline: ringSchema, clearanceStuds })
  .meta({ id: 'LinearDrain', description: 'Channel drain.' });

export const drainSchema = z
  .union([pointDrainSchema, linearDrainSchema])
  .meta({ id: 'Drain', description: 'Drain of a wet zone: center and radius, or outline.' });

export const sensorSchema = z
  .strictObject({
    wanted: z.boolean().default(true).meta({ description: 'Find a place for the floor sensor.' }),
    spare: z.boolean().default(false).meta({ description: 'And one for a spare, in another gap.' }),
  })
  .meta({ id: 'SensorWish', description: 'Floor sensor of a dry zone.' });

/** Fields to spread into the request as a whole. */
export const jobRequestFields = {
  thermostat: thermostatSchema.optional(),
  /** For every zone that states none of its own. */
  marks: marksSchema.optional(),
};

/** Fields to spread into a zone. */
export const jobZoneFields = {
  curb: curbSchema.optional(),
  drain: drainSchema.optional(),
  dryZone: idSchema.optional().meta({
    description: 'Dry zone from which this wet zone is supplied; its entry and lead-in are then computed.',
  }),
  crossing: pointSchema
    .optional()
    .meta({ description: 'Where you would like the crossing; the nearest legal place is taken.' }),
  joint: pointSchema
    .optional()
    .meta({ description: 'Where you would like the hot-to-cold joint on the dry floor.' }),
  sensor: sensorSchema.optional(),
  marks: marksSchema.optional(),
};

export type WireThermostat = z.output<typeof thermostatSchema>;
export type WireMarks = z.output<typeof marksSchema>;
export type WireCurb = z.output<typeof curbSchema>;
export type WireDrain = z.output<typeof drainSchema>;
export type WireSensorWish = z.output<typeof sensorSchema>;
