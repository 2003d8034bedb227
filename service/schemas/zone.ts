import { z } from 'zod';
import { SIZES } from '../limits.js';
import { DEFAULTS } from './defaults.js';
import { exclusionSchema } from './exclusion.js';
import { idSchema, quantity } from './fields.js';
import { pointSchema, ringSchema } from './point.js';

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

export const zoneSchema = z
  .strictObject({
    id: idSchema,
    wet: z.boolean().default(false).meta({ description: 'A shower or other wet area.' }),
    outline: ringSchema,
    clearance: quantity('clearance', 'The cable centre line keeps this from the outline').default(
      DEFAULTS.clearance,
    ),
    exclusions: z.array(exclusionSchema).max(SIZES.exclusions).default([]),
    buffer: bufferSchema,
    entry: pointSchema.meta({
      description: 'Where the heating cable enters; the nearest routable stud channel crossing is used.',
    }),
    leadIn: quantity('leadIn', 'Heating cable used up before the entry').default(DEFAULTS.leadIn),
    cable: idSchema.optional().meta({ description: 'Insist on this entry of the catalogue.' }),
    priority: z.array(prioritySchema).max(SIZES.priorities).default([]),
  })
  .meta({ id: 'Zone', description: 'One area heated by one cable.' });

export type WireZone = z.output<typeof zoneSchema>;
