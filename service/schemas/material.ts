import { z } from 'zod';
import { RANGES, SIZES } from '../limits.js';
import { idSchema, quantity } from './fields.js';
import { ringSchema } from './point.js';
import { figureSchema, overridesSchema, regionSchema, ruleNoteSchema } from './trade.js';

export const membraneSchema = z
  .strictObject({
    kind: z.enum(['sheet', 'roll']),
    width: quantity('membraneWidth', 'Width of a sheet or roll'),
    length: quantity('membraneLength', 'Length of a sheet or roll'),
  })
  .meta({ id: 'MembraneFormat', description: 'What the membrane is sold as.' });

const materialZoneSchema = z
  .strictObject({
    id: idSchema,
    wet: z.boolean(),
    outline: ringSchema,
    bare: z.array(ringSchema).max(SIZES.bareAreas).default([]).meta({
      description: 'Parts that get neither membrane nor tile: inside the outline, apart from one another.',
    }),
    cable: z
      .strictObject({
        length: quantity('cableLength', 'Cable laid in the membrane'),
        diameter: quantity('diameter', 'Outer diameter'),
      })
      .nullable()
      .default(null),
    curb: z
      .strictObject({
        length: quantity('curbLength', 'Length of the curb'),
        crossing: quantity('curbLength', 'Way of the cable up, across and down'),
        diameter: quantity('diameter', 'Outer diameter of the cable'),
      })
      .nullable()
      .default(null)
      .meta({ description: 'The curb that the cable crosses.' }),
  })
  .meta({ id: 'MaterialZone' });

export const materialRequestSchema = z
  .strictObject({
    region: regionSchema,
    overrides: overridesSchema,
    membrane: membraneSchema,
    zones: z.array(materialZoneSchema).min(1).max(SIZES.zones),
    sensors: z
      .int()
      .min(RANGES.sensors.min)
      .max(RANGES.sensors.max)
      .default(1)
      .meta({ description: 'Floor sensors in use.' }),
  })
  .meta({
    id: 'MaterialRequest',
    description: 'Zones to cover; overridable rates turn them into quantities.',
  });

const layerSchema = z.object({
  layer: z.enum(['under-membrane', 'fill', 'under-tile']),
  mass: figureSchema,
  bags: figureSchema.meta({ description: 'If the layer has bags of its own.' }),
});

const sealingSchema = z
  .object({
    zone: z.string(),
    perimeter: figureSchema,
    corners: figureSchema,
    seams: figureSchema,
    curb: figureSchema,
    overlaps: figureSchema,
    total: figureSchema,
    width: figureSchema.meta({ description: 'Least width of tape over a seam.' }),
    rolls: figureSchema,
    insideCornerPieces: figureSchema,
    outsideCornerPieces: figureSchema,
  })
  .meta({ id: 'SealingTape' });

export const materialResponseSchema = z
  .object({
    membrane: z.object({
      area: figureSchema,
      pieces: figureSchema,
      bought: figureSchema,
      offcut: figureSchema,
      seams: z.array(z.object({ zone: z.string(), lengths: z.array(z.number()), total: figureSchema })),
      strips: z
        .array(z.object({ zone: z.string(), length: z.number() }))
        .meta({ description: 'Lengths to cut from the roll (mm); empty for sheets.' }),
    }),
    mortar: z.object({
      layers: z.array(layerSchema),
      mass: figureSchema,
      bags: figureSchema.meta({ description: 'If one mortar serves all layers.' }),
      contact: z
        .array(z.object({ zone: z.string(), least: figureSchema }))
        .meta({ description: 'Least mortar contact under tile.' }),
    }),
    sealing: z.array(sealingSchema).meta({ description: 'One entry per wet zone.' }),
    grooves: z.array(
      z.object({
        zone: z.string(),
        width: figureSchema,
        depth: figureSchema,
        length: figureSchema,
        fill: figureSchema,
      }),
    ),
    sensors: z.object({ inUse: figureSchema, spare: figureSchema }),
    rules: z.array(ruleNoteSchema).meta({ description: 'The rules that the figures name.' }),
  })
  .meta({ id: 'MaterialResponse', description: 'Quantities, no prices.' });
