import { z } from 'zod';
import { DEFAULTS } from './defaults.js';
import { idSchema, quantity } from './fields.js';

export const cableSchema = z
  .strictObject({
    id: idSchema,
    length: quantity('cableLength', 'Length of the heating part, which cannot be cut'),
    power: quantity('power', 'Power at its own voltage'),
    voltage: quantity('voltage', 'Voltage on its label'),
    tolerance: quantity(
      'tolerance',
      'Fraction of the length the real cable may be longer or shorter',
    ).default(DEFAULTS.tolerance),
    diameter: quantity('diameter', 'Outer diameter').default(DEFAULTS.diameter),
    minBendRadius: quantity(
      'bendRadius',
      `Smallest bend radius of the centre line; ${DEFAULTS.bendPerDiameter} x diameter when left out`,
    ).optional(),
    coldLead: quantity('coldLead', 'Length of the unheated supply lead').default(DEFAULTS.coldLead),
  })
  .meta({ id: 'Cable', description: 'One cable of the catalogue: a fixed length that cannot be cut.' });

export type WireCable = z.output<typeof cableSchema>;
