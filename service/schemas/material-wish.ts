import { z } from 'zod';
import { membraneSchema } from './material.js';
import { overridesSchema, regionSchema } from './trade.js';

export const materialWishSchema = z
  .strictObject({
    membrane: membraneSchema,
    region: regionSchema
      .optional()
      .meta({ description: 'Whose rules apply; those of supply when left out, IEC without one.' }),
    overrides: overridesSchema,
  })
  .meta({
    id: 'MaterialWish',
    description:
      'Asks for the quantities of material of all zones, reckoned over their whole outlines. POST /v1/materials takes parts without membrane off.',
  });

export type MaterialWish = z.output<typeof materialWishSchema>;
