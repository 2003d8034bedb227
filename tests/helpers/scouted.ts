/** Lane choices of a random room as the search would come upon them. */
import type { Cable } from '../../solver/problem.js';
import { type LaneChoice, leastGap } from '../../solver/search/lane-choice.js';
import { LaneScout } from '../../solver/search/lane-scout.js';
import { type Mouths, mouthsOf } from '../../solver/search/mouths.js';
import { type ZoneSpace, zoneSpace } from '../../solver/search/zone-space.js';
import type { LatticeRoom } from './lattice-room.js';
import { cableOf } from './routing-rooms.js';

export interface Scouted {
  readonly space: ZoneSpace;
  readonly mouths: Mouths;
  readonly scout: LaneScout;
  readonly cable: Cable;
  readonly choices: readonly LaneChoice[];
}

export const TURN_WEIGHT = 500;

/** The first `most` choices for a cable that suits the room; null where there are none. */
export function scouted({ zone, setting }: LatticeRoom, most: number): Scouted | null {
  const space = zoneSpace(zone, setting);
  if (space.start < 0 || !space.usable[space.start] || !space.buffer.includes(1)) return null;
  const area = space.usable.reduce((sum, there) => sum + there, 0) * setting.lattice.pitch ** 2;
  const cable = cableOf(Math.round(area / (setting.spacing.target * setting.lattice.pitch)) + 1000, {
    minBendRadius: setting.lattice.pitch / 2,
  });
  if (leastGap(space, cable.minBendRadius) > setting.spacing.max) return null;
  const mouths = mouthsOf(space, setting.spacing.max + 1);
  const scout = new LaneScout(space, mouths, TURN_WEIGHT, [cable]);
  const choices: LaneChoice[] = [];
  for (let n = 0; n < most; n++) {
    const next = scout.next([cable], 60, 5000);
    if (next) choices.push(next.choice);
  }
  return choices.length === 0 ? null : { space, mouths, scout, cable, choices };
}

/** Rows and columns of a choice. */
export const bothAxes = ({ axis, main, cross }: LaneChoice) =>
  axis === 'rows' ? { rows: main.lanes, columns: cross.lanes } : { rows: cross.lanes, columns: main.lanes };

/** Options of a route worked out with little work. */
export const lightly = (minGap: number) => ({
  minGap,
  turnWeight: TURN_WEIGHT,
  wantedTail: 2000,
  maxOutside: 4,
  maxStates: 60,
  coarseNodes: 100,
  sweeps: 4,
  windowStates: 100,
  maxWindows: 10,
  flips: 0,
  exactWork: 0,
  engine: null,
  mipNodes: 0,
  mipRounds: 0,
  mipSeconds: 0,
  expired: () => false,
});
