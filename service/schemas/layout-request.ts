import { z } from 'zod';
import { SIZES } from '../limits.js';
import { cableSchema } from './cable.js';
import { DEFAULTS } from './defaults.js';
import { idSchema, quantity } from './fields.js';
import { latticeSchema, spacingSchema } from './lattice.js';
import { materialWishSchema } from './material-wish.js';
import { jobRequestFields } from './room-job.js';
import { supplySchema } from './supply.js';
import { zoneSchema } from './zone.js';

export const slopSchema = quantity('slopPerTurn', 'What hand-laying adds or loses at each corner').default(
  DEFAULTS.slopPerTurn,
);

export const effortSchema = z
  .enum(['quick', 'normal', 'thorough'])
  .meta({ description: 'How much work the search may do; counted work, so results stay the same.' });

export const displaySchema = z
  .enum(['metric', 'imperial'])
  .meta({ description: 'Units of what people read (drawings, sheets). Never changes the JSON.' });

export const layoutRequestSchema = z
  .strictObject({
    lattice: latticeSchema,
    spacing: spacingSchema,
    zones: z.array(zoneSchema).min(1).max(SIZES.zones),
    catalogue: z.array(cableSchema).min(1).max(SIZES.catalogue),
    placementSlopPerTurn: slopSchema,
    turnWeight: quantity(
      'turnWeight',
      "Unheated area that one turn fewer is worth; counts at most 0.08 % of the zone's target area",
    ).default(DEFAULTS.turnWeight),
    effort: effortSchema.default(DEFAULTS.effort),
    display: displaySchema.default(DEFAULTS.display),
    split: z.boolean().optional().meta({
      description:
        'Whether a zone larger than the longest cable is laid in parts, each with its own cable. Left out: where no cable can heat 90 % of it. true: wherever no cable can heat all of it. Zones that insist on a cable or share a curb stay whole.',
    }),
    maxLoad: quantity(
      'power',
      'Most power one cable may draw, such as what its thermostat switches',
    ).optional(),
    ...jobRequestFields,
    supply: supplySchema.optional(),
    materials: materialWishSchema.optional(),
    title: idSchema.optional().meta({ description: 'Heading of the papers.' }),
  })
  .meta({
    id: 'LayoutRequest',
    description: 'A room and a catalogue of cables. Lengths and coordinates in mm.',
  });

export type LayoutRequest = z.output<typeof layoutRequestSchema>;
