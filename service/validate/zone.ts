import type { Ring } from '../../solver/problem.js';
import type { Fault } from '../problems.js';
import type { CheckedZone, WireZone } from '../schemas/zone.js';
import { duplicateIds } from './duplicates.js';
import type { PathPart } from './pointer.js';
import { outlineFaults } from './rings.js';
import { zoneSizeFaults } from './zone-size.js';

/** Every outline of a zone with its place in the request. */
const outlinesOf = (
  zone: WireZone | CheckedZone,
  path: readonly PathPart[],
): readonly (readonly [Ring, readonly PathPart[]])[] => [
  [zone.outline, [...path, 'outline']],
  ...(zone.buffer === undefined ? [] : [[zone.buffer.outline, [...path, 'buffer', 'outline']] as const]),
  ...zone.exclusions.flatMap(({ outline }, k) =>
    outline === undefined ? [] : [[outline, [...path, 'exclusions', k, 'outline']] as const],
  ),
  ...('curb' in zone && zone.curb !== undefined
    ? [[zone.curb.outline, [...path, 'curb', 'outline']] as const]
    : []),
  ...('drain' in zone && zone.drain !== undefined && 'outline' in zone.drain
    ? [[zone.drain.outline, [...path, 'drain', 'outline']] as const]
    : []),
  ...zone.priority.map(({ outline }, k) => [outline, [...path, 'priority', k, 'outline']] as const),
];

/** Vertices of all outlines of a zone. */
export const verticesOf = (zone: WireZone | CheckedZone): number =>
  outlinesOf(zone, []).reduce((sum, [ring]) => sum + ring.length, 0);

/** Faults of a zone that are found without any polygon arithmetic. */
export const zoneFaults = (
  zone: WireZone | CheckedZone,
  pitch: number,
  path: readonly PathPart[],
): readonly Fault[] => {
  const rings = outlinesOf(zone, path).flatMap(([ring, where]) => outlineFaults(ring, where));
  return [
    ...duplicateIds(zone.exclusions, [...path, 'exclusions']),
    ...duplicateIds(zone.priority, [...path, 'priority']),
    ...rings,
    ...(rings.length > 0 ? [] : zoneSizeFaults(zone.outline, pitch, [...path, 'outline'])),
  ];
};
