import { z } from 'zod';
import { buildSchema, NO_BUILD } from './electrical.js';
import { idSchema, quantity } from './fields.js';
import { alloySchema, overridesSchema, regionSchema } from './trade.js';

/** Enough to reckon the electrical side of a layout; more than one circuit goes to /v1/electrical. */
export const supplySchema = z
  .strictObject({
    region: regionSchema,
    circuit: idSchema.default('heating circuit'),
    voltage: quantity('voltage', 'Supply voltage'),
    device: quantity('ratedCurrent', 'Rated current of the overcurrent device, where one is chosen')
      .nullable()
      .default(null),
    groundFaultTrip: quantity('trip', 'Tripping current of the ground-fault protection, where it is fitted')
      .nullable()
      .default(null),
    thermostatRating: quantity('ratedCurrent', 'Rated switching current of the thermostat')
      .nullable()
      .default(null),
    alloy: alloySchema,
    braid: z.boolean().meta({ description: 'The cables have a braid or screen to earth.' }),
    floor: buildSchema.default(NO_BUILD),
    overrides: overridesSchema,
  })
  .meta({
    id: 'Supply',
    description:
      'One circuit and one thermostat for all cables of the layout. With it the answer and the papers carry the electrical figures.',
  });

export type Supply = z.output<typeof supplySchema>;
