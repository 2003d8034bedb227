import { z } from 'zod';
import { RANGES, SIZES } from '../limits.js';

const withUnit = (value: unknown, unit: string): string => (unit === '' ? `${value}` : `${value} ${unit}`);

/** A finite number within one of the ranges of the limits table; messages name the limit and the number sent. */
export const quantity = (name: keyof typeof RANGES, description: string) => {
  const { min, max, unit } = RANGES[name];
  return z
    .number()
    .min(min, {
      error: ({ input }) => `is ${withUnit(input, unit)}; it must be at least ${withUnit(min, unit)}`,
    })
    .max(max, {
      error: ({ input }) => `is ${withUnit(input, unit)}; it may be at most ${withUnit(max, unit)}`,
    })
    .meta({ description: unit === '' ? description : `${description} (${unit})` });
};

export const idSchema = z
  .string()
  .min(1)
  .max(SIZES.idLength)
  .regex(/^[\p{L}\p{N}][\p{L}\p{N} ._-]*$/u, {
    error:
      'must begin with a letter or digit and hold only letters, digits, space, dot, underscore and hyphen',
  })
  .meta({ description: 'A name of your own: letters, digits, space, dot, underscore, hyphen.' });
