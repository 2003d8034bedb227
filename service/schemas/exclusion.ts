import { z } from 'zod';
import { DEFAULTS } from './defaults.js';
import { idSchema, quantity } from './fields.js';
import { pointSchema, ringSchema } from './point.js';

/** A no-heat area: exactly one shape, at most one clearance. */
export const exclusionSchema = z
  .strictObject({
    id: idSchema,
    outline: ringSchema.optional(),
    center: pointSchema.optional(),
    radius: quantity('radius', 'Radius of a round no-heat area').optional(),
    clearance: quantity('clearance', 'The cable centre line keeps this from the shape').optional(),
    clearanceStuds: quantity('clearanceStuds', 'The same in studs').optional(),
  })
  .superRefine((value, context) => {
    const polygon = value.outline !== undefined;
    const round = value.center !== undefined || value.radius !== undefined;
    if (polygon && round) {
      context.addIssue({
        code: 'custom',
        path: [],
        message: 'has two shapes; give either outline, or center and radius',
      });
    } else if (!polygon && !round) {
      context.addIssue({
        code: 'custom',
        path: [],
        message: 'has no shape; give either outline, or center and radius',
      });
    } else if (round && value.center === undefined) {
      context.addIssue({ code: 'custom', path: ['center'], message: 'is missing beside radius; add it' });
    } else if (round && value.radius === undefined) {
      context.addIssue({ code: 'custom', path: ['radius'], message: 'is missing beside center; add it' });
    }
    if (value.clearance !== undefined && value.clearanceStuds !== undefined) {
      context.addIssue({
        code: 'custom',
        path: ['clearanceStuds'],
        message: 'stands beside clearance; give only one of the two',
      });
    }
  })
  .meta({
    id: 'Exclusion',
    description: `No-heat area: a polygon (outline) or a circle (center, radius); may overlap or cross the zone's outline. Clearance in mm or in studs, ${DEFAULTS.clearance} mm when neither is given.`,
    override: {
      oneOf: [{ required: ['outline'] }, { required: ['center', 'radius'] }],
      not: { required: ['clearance', 'clearanceStuds'] },
    },
  });
