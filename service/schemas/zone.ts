import { z } from 'zod';
import { SIZES } from '../limits.js';
import { DEFAULTS } from './defaults.js';
import { exclusionSchema } from './exclusion.js';
import { idSchema, quantity } from './fields.js';
import { pointSchema, ringSchema } from './point.js';
import { jobZoneFields } from './room-job.js';

export const bufferSchema = z
  .strictObject({ outline: ringSchema })
  .meta({ id: 'Buffer', description: 'Strip that stays free until last; the cable must end in here.' });

export const prioritySchema = z
  .strictObject({
    id: idSchema.optional(),
    outline: ringSchema,
    weight: quantity('priorityWeight', 'How often its heat counts (1 = ordinary floor)'),
  })
  .meta({ id: 'Priority', description: 'Area whose heat counts more, or less, than ordinary floor.' });

export const heatDensitySchema = z
  .strictObject({
    target: quantity(
      'heatDensity',
      'Wished; steers the choice of cable: 1 % of deviation counts as 0.1 % of the target area unheated',
    ).optional(),
    least: quantity('heatDensity', 'A cable that gives less is refused').optional(),
    most: quantity('heatDensity', 'A cable that gives more is refused').optional(),
  })
  .superRefine(({ target, least, most }, context) => {
    const fault = (path: string, message: string) =>
      context.addIssue({ code: 'custom', path: [path], message });
    if (least !== undefined && most !== undefined && least > most)
      fault('least', `is ${least} W/m2, above most (${most} W/m2); no cable could be used`);
    else if (target !== undefined && least !== undefined && target < least)
      fault('target', `is ${target} W/m2, below least (${least} W/m2)`);
    else if (target !== undefined && most !== undefined && target > most)
      fault('target', `is ${target} W/m2, above most (${most} W/m2)`);
  })
  .meta({
    id: 'HeatDensityWish',
    description: 'Power of the cable over the target area that it heats (W/m2): wish and limits.',
  });

const entrySchema = pointSchema.meta({
  description: 'Where the heating cable enters; the nearest routable stud channel crossing is used.',
});

const zoneFields = {
  id: idSchema,
  wet: z.boolean().default(false).meta({ description: 'A shower or other wet area.' }),
  outline: ringSchema,
  clearance: quantity('clearance', 'The cable centre line keeps this from the outline').default(
    DEFAULTS.clearance,
  ),
  exclusions: z.array(exclusionSchema).max(SIZES.exclusions).default([]),
  leadIn: quantity('leadIn', 'Heating cable used up before the entry').default(DEFAULTS.leadIn),
  priority: z.array(prioritySchema).max(SIZES.priorities).default([]),
};

export const zoneSchema = z
  .strictObject({
    ...zoneFields,
    buffer: bufferSchema.optional().meta({
      description:
        'Strip that stays free until last; the cable must end in here. Left out, a strip along the longest free wall away from the entry is assumed and given in the answer.',
    }),
    entry: entrySchema.optional().meta({
      description: 'Where the heating cable enters; left out in a wet zone that a dry zone supplies.',
    }),
    cable: idSchema.optional().meta({ description: 'Insist on this entry of the catalogue.' }),
    heatDensity: heatDensitySchema.optional(),
    ...jobZoneFields,
  })
  .superRefine((zone, context) => {
    if (zone.entry === undefined && zone.dryZone === undefined) {
      context.addIssue({ code: 'custom', path: ['entry'], message: 'is missing; add it' });
    }
  })
  .meta({
    id: 'Zone',
    description:
      'One area heated by one cable. Its entry is needed unless dryZone says where its supply comes from: then entry and lead-in are computed.',
  });

/** A zone as a path is judged in it: nothing left to choose. */
export const checkedZoneSchema = z
  .strictObject({ ...zoneFields, buffer: bufferSchema, entry: entrySchema })
  .meta({ id: 'CheckedZone', description: 'One area heated by one cable.' });

export type WireZone = z.output<typeof zoneSchema>;
export type CheckedZone = z.output<typeof checkedZoneSchema>;
