import type { Fault } from '../problems.js';
import { fieldName, jsonPointer, type PathPart } from './pointer.js';

/** Entries of a list whose id an earlier entry already has. */
export const duplicateIds = (
  list: readonly { readonly id?: string | undefined }[],
  path: readonly PathPart[],
): readonly Fault[] => {
  const first = new Map<string, number>();
  const faults: Fault[] = [];
  list.forEach(({ id }, k) => {
    if (id === undefined) return;
    const earlier = first.get(id);
    if (earlier === undefined) {
      first.set(id, k);
      return;
    }
    faults.push({
      pointer: jsonPointer([...path, k, 'id']),
      detail: `${fieldName([...path, k, 'id'])} is "${id}", which ${fieldName([...path, earlier])} has already; give each its own id.`,
    });
  });
  return faults;
};
