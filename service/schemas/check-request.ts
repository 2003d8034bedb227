import { z } from 'zod';
import { SIZES } from '../limits.js';
import { cableSchema } from './cable.js';
import { fixedLatticeSchema, spacingSchema } from './lattice.js';
import { slopSchema } from './layout-request.js';
import { pointSchema } from './point.js';
import { checkedZoneSchema } from './zone.js';

export const checkRequestSchema = z
  .strictObject({
    lattice: fixedLatticeSchema,
    spacing: spacingSchema,
    placementSlopPerTurn: slopSchema,
    zone: checkedZoneSchema,
    cable: cableSchema,
    path: z.array(pointSchema).min(2).max(SIZES.pathVertices).meta({
      description: 'Vertices of the centre line, corners sharp, from the entry to the end.',
    }),
    reserve: z.array(pointSchema).max(SIZES.pathVertices).default([]).meta({
      description: 'Where the cable would go on if it is longer than nominal; begins at the end of path.',
    }),
  })
  .meta({ id: 'CheckRequest', description: 'A path from anywhere, to be judged by the rules of a layout.' });

export type CheckRequest = z.output<typeof checkRequestSchema>;
