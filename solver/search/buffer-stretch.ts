import type { Cable } from '../problem.js';
import { leastGap } from './lane-choice.js';
import { mouthsOf } from './mouths.js';
import { spine } from './spine.js';
import { buildTail } from './tail.js';
import type { ZoneSpace } from './zone-space.js';

/** Beam of the search for the stretch. */
const STATES = 200;

/** Longest stretch (mm) found in the buffer behind the shortest way to it, `wanted` mm being enough; 0 where there is none. */
export function bufferStretch(space: ZoneSpace, cable: Cable, wanted: number): number {
  const maxOutside = space.setting.spacing.max + 1;
  const way = spine(space, mouthsOf(space, maxOutside));
  if (!way) return 0;
  const tail = buildTail(space.s, way, {
    buffer: space.buffer,
    minGap: leastGap(space, cable.minBendRadius),
    wanted,
    maxOutside,
    maxStates: STATES,
  });
  return tail?.length ?? 0;
}
