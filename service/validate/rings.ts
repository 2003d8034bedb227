import { type RingFault, ringFaults } from '../../solver/geometry/ring-faults.js';
import type { Ring } from '../../solver/problem.js';
import type { Fault } from '../problems.js';
import { fieldName, jsonPointer, type PathPart } from './pointer.js';

const place = (fault: RingFault): string =>
  fault.at === null ? '' : ` near [${fault.at.map((c) => Math.round(c * 10) / 10).join(', ')}]`;

const SAYS: Readonly<Record<RingFault['kind'], (where: string) => string>> = {
  'too-few-vertices': () => 'has fewer than three vertices; a polygon needs at least three',
  'repeated-vertex': (where) =>
    `gives the same vertex twice in a row${where}; leave one out (the first vertex is not repeated at the end)`,
  'zero-area': () => 'encloses no area; move its vertices apart',
  'self-crossing': (where) => `crosses itself${where}; put the vertices in order around the area`,
  'self-touching': (where) => `touches itself${where}; keep its sides apart there`,
};

/** Why an outline is not a simple polygon: one fault for each place, with a pointer to the vertex. */
export const outlineFaults = (ring: Ring, path: readonly PathPart[]): readonly Fault[] =>
  ringFaults(ring, 5).map((fault) => ({
    pointer: jsonPointer(fault.index < 0 ? path : [...path, fault.index]),
    detail: `${fieldName(path)} ${SAYS[fault.kind](place(fault))}.`,
  }));
