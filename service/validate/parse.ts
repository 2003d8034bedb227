import type { z } from 'zod';
import type { Fault } from '../problems.js';
import { listFaults } from './list-lengths.js';
import { fieldName, jsonPointer, type PathPart } from './pointer.js';

/** Most faults listed in one answer. */
const MOST_FAULTS = 50;

export type Parsed<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Number of entries or characters, for messages about sizes. */
const sizeOf = (input: unknown): number | string =>
  typeof input === 'string' || Array.isArray(input) ? input.length : String(input);

const KIND: Readonly<Record<string, string>> = {
  number: 'a finite number',
  int: 'a whole number',
  string: 'a string',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a point [x, y]',
  object: 'an object',
};

/** What is wrong with one field, as the end of a sentence that begins with the field's name. */
const describe = (issue: z.core.$ZodRawIssue): string => {
  const { input } = issue;
  if (issue.code === 'invalid_type') {
    if (input === undefined) return 'is missing; add it';
    return `must be ${KIND[issue.expected] ?? issue.expected}`;
  }
  if (issue.code === 'too_big') {
    if (issue.origin === 'array') {
      return issue.exact || issue.maximum === 2
        ? `must have exactly ${issue.maximum} entries, not ${sizeOf(input)}`
        : `holds ${sizeOf(input)} entries; at most ${issue.maximum} are allowed`;
    }
    if (issue.origin === 'string') {
      return `has ${sizeOf(input)} characters; at most ${issue.maximum} are allowed`;
    }
    return `is ${sizeOf(input)}; it may be at most ${issue.maximum}`;
  }
  if (issue.code === 'too_small') {
    if (issue.origin === 'array') {
      return `holds ${sizeOf(input)} entries; at least ${issue.minimum} are needed`;
    }
    if (issue.origin === 'string') {
      return `has ${sizeOf(input)} characters; at least ${issue.minimum} are needed`;
    }
    return `is ${sizeOf(input)}; it must be at least ${issue.minimum}`;
  }
  if (issue.code === 'invalid_value') return `must be one of: ${issue.values.join(', ')}`;
  return 'does not have the right form';
};

const pathOf = (path: readonly PropertyKey[]): PathPart[] =>
  path.map((part) => (typeof part === 'number' ? part : String(part)));

const faultsOf = (issue: z.core.$ZodIssue): readonly Fault[] => {
  const path = pathOf(issue.path);
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.slice(0, MOST_FAULTS).map((key) => ({
      pointer: jsonPointer([...path, key]),
      detail: `${fieldName([...path, key])} is not a field of this interface; remove it or correct its name.`,
    }));
  }
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    // The alternative that fits best says what is wrong.
    const best = issue.errors.reduce((least, branch) => (branch.length < least.length ? branch : least));
    return best.flatMap((inner) => faultsOf({ ...inner, path: [...issue.path, ...inner.path] }));
  }
  return [{ pointer: jsonPointer(path), detail: `${fieldName(path)} ${issue.message}.` }];
};

/** Reads a body by its schema; every fault names its field, the limit and the value that breaks it. */
export const parseBody = <S extends z.ZodType>(schema: S, body: unknown): Parsed<z.output<S>> => {
  const tooLong = listFaults(body);
  if (tooLong.length > 0) return { ok: false, faults: tooLong.slice(0, MOST_FAULTS) };
  const result = schema.safeParse(body, { error: describe });
  if (result.success) return { ok: true, value: result.data };
  return { ok: false, faults: result.error.issues.flatMap(faultsOf).slice(0, MOST_FAULTS) };
};
