import { z } from 'zod';
import { SIZES } from '../limits.js';
import { quantity } from './fields.js';

export const pointSchema = z
  .tuple([quantity('coordinate', 'x, to the right'), quantity('coordinate', 'y, upwards in plan view')])
  .meta({ id: 'Point', description: 'A point in plan view: [x, y] in mm.' });

export const ringSchema = z.array(pointSchema).min(3).max(SIZES.verticesPerRing).meta({
  id: 'Ring',
  description: 'A simple polygon, either winding, first vertex not repeated at the end, mm.',
});
