import { z } from 'zod';
import { SIZES } from '../limits.js';
import { cableSchema } from './cable.js';
import { DEFAULTS } from './defaults.js';
import { idSchema, quantity } from './fields.js';
import { fixedLatticeSchema, spacingSchema } from './lattice.js';
import { effortSchema, slopSchema } from './layout-request.js';
import { pointSchema } from './point.js';
import { marksSchema } from './room-job.js';
import { checkedZoneSchema } from './zone.js';

const readingSchema = z
  .strictObject({
    mark: quantity('metreMark', 'Mark on the cable at the node reached'),
    ...marksSchema.shape,
  })
  .meta({
    id: 'MarkReading',
    description:
      'Metre mark read off the cable where the laid part ends. It overrides the length that the drawing gives; only the cable that is left then counts for the tolerance.',
  });

const laidSchema = z
  .strictObject({
    path: z.array(pointSchema).min(2).max(SIZES.pathVertices).meta({
      description:
        'Vertices of the centre line that lies, corners sharp, from the entry to the node reached; all on nodes of the lattice.',
    }),
    reading: readingSchema.optional(),
  })
  .meta({ id: 'LaidPart', description: 'The part of the cable that lies. It is not moved.' });

const plannedSchema = z
  .strictObject({
    path: z.array(pointSchema).min(2).max(SIZES.pathVertices),
    reserve: z.array(pointSchema).max(SIZES.pathVertices).default([]),
  })
  .meta({
    id: 'PlannedPath',
    description:
      'Path and reserve of the layout that is being laid. Where the laid part ends on it, going on along it is one of the ways weighed, so that the answer is no worse.',
  });

export const continuationRequestSchema = z
  .strictObject({
    lattice: fixedLatticeSchema,
    spacing: spacingSchema,
    placementSlopPerTurn: slopSchema,
    zone: checkedZoneSchema,
    cable: z
      .union([cableSchema, idSchema])
      .meta({ description: 'The cable being laid, or the id of an entry of `catalogue`.' }),
    catalogue: z.array(cableSchema).max(SIZES.catalogue).default([]),
    laid: laidSchema,
    planned: plannedSchema.optional(),
    turnWeight: quantity(
      'turnWeight',
      "Unheated area that one turn fewer is worth; counts at most 0.08 % of the zone's target area",
    ).default(DEFAULTS.turnWeight),
    effort: effortSchema.default(DEFAULTS.effort),
  })
  .meta({
    id: 'ContinuationRequest',
    description:
      'Part of a cable lies; the rest is to be planned anew with the cable that is left. Lengths and coordinates in mm.',
  });

export type ContinuationRequest = z.output<typeof continuationRequestSchema>;
