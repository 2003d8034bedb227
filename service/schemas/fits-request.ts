import { z } from 'zod';
import { layoutRequestSchema } from './layout-request.js';

export const fitsRequestSchema = layoutRequestSchema
  .omit({ display: true, split: true, materials: true, title: true })
  .extend({
    paths: z.boolean().default(false).meta({ description: 'Whether to return the path of every layout.' }),
  })
  .meta({
    id: 'FitsRequest',
    description:
      'One or several zones and a catalogue: which cable? Every entry is ranked for every zone, also where the zone insists on one.',
  });

export type FitsRequest = z.output<typeof fitsRequestSchema>;
