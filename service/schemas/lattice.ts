import { z } from 'zod';
import { RANGES } from '../limits.js';
import { quantity } from './fields.js';
import { pointSchema } from './point.js';

const pitch = quantity('pitch', 'Distance between neighbouring stud channels, both axes');

export const latticeSchema = z.strictObject({ pitch, origin: pointSchema.optional() }).meta({
  id: 'LatticeWish',
  description:
    'Stud channels run at origin + k * pitch on both axes. Without an origin the service chooses one and returns it.',
});

export const fixedLatticeSchema = z
  .strictObject({ pitch, origin: pointSchema })
  .meta({ id: 'Lattice', description: 'Stud channels run at origin + k * pitch on both axes.' });

const gap = (description: string) =>
  z
    .int()
    .min(RANGES.spacing.min)
    .max(RANGES.spacing.max)
    .meta({ description: `${description} (studs)` });

export const spacingSchema = z
  .strictObject({
    min: gap('Smallest centre-to-centre distance of neighbouring parallel runs'),
    target: gap('Distance wished for; half of it is how far a run heats'),
    max: gap('Largest distance'),
  })
  .meta({ id: 'Spacing', description: 'Distance between neighbouring parallel runs, min <= target <= max.' });
