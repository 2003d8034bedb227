import { SIZES } from '../limits.js';
import type { Fault } from '../problems.js';
import { fieldName, jsonPointer, type PathPart } from './pointer.js';

/** Most entries of a list, by the name of the field that holds it; a point has few and falls under `other`. */
const MOST: Readonly<Record<string, number>> = {
  zones: SIZES.zones,
  catalogue: SIZES.catalogue,
  exclusions: SIZES.exclusions,
  priority: SIZES.priorities,
  outline: SIZES.verticesPerRing,
  path: SIZES.pathVertices,
  reserve: SIZES.pathVertices,
};
const OTHER = SIZES.verticesPerRing;

/** Deepest nesting of lists and objects that any request of the interface can have. */
const DEEPEST = 12;

/**
 * Lists that are too long, found before anything looks at their entries: the work of reading a request stays
 * within the limits whatever is sent. Lists inside a list that is too long are not looked at.
 */
export const listFaults = (body: unknown): readonly Fault[] => {
  const faults: Fault[] = [];
  const visit = (value: unknown, path: readonly PathPart[], field: string): void => {
    if (typeof value !== 'object' || value === null) return;
    if (path.length > DEEPEST) {
      if (faults.length === 0) {
        faults.push({
          pointer: jsonPointer(path.slice(0, 1)),
          detail: `${fieldName(path.slice(0, 1))} is nested deeper than ${DEEPEST} levels; no field of the interface is.`,
        });
      }
      return;
    }
    if (!Array.isArray(value)) {
      for (const [key, inner] of Object.entries(value)) visit(inner, [...path, key], key);
      return;
    }
    const most = MOST[field] ?? OTHER;
    if (value.length > most) {
      faults.push({
        pointer: jsonPointer(path),
        detail: `${fieldName(path)} holds ${value.length} entries; at most ${most} are allowed.`,
      });
      return;
    }
    value.forEach((inner, k) => {
      visit(inner, [...path, k], field === 'outline' ? '' : field);
    });
  };
  visit(body, [], '');
  return faults;
};
