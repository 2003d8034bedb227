/** Legal paths to start from in a random room, and random sideways moves on them. */

import { mouthsOf } from '../../solver/search/mouths.js';
import { type ShapeGoal, type Shaper, sideways } from '../../solver/search/shaper.js';
import { spine } from '../../solver/search/spine.js';
import { StudPath } from '../../solver/search/stud-path.js';
import { type ZoneSpace, zoneSpace } from '../../solver/search/zone-space.js';
import { keepsSpacing, type LatticeRoom } from './lattice-room.js';

/** The shortest way to the buffer in a room, where there is a legal one of some length. */
export const spineIn = (room: LatticeRoom): { space: ZoneSpace; way: number[] } | null => {
  const space = zoneSpace(room.zone, room.setting);
  if (space.start < 0 || !space.usable[space.start]) return null;
  const way = spine(space, mouthsOf(space, room.setting.spacing.max + 1));
  return way && way.length > 4 && keepsSpacing(room.setting, space.s, way) ? { space, way } : null;
};

export const pathOn = (space: ZoneSpace, way: ArrayLike<number>, heated = way.length): StudPath =>
  new StudPath(space.s, space.floor, way, space.setting.spacing.min, space.heatRadius, heated);

export const goalIn = (space: ZoneSpace, goal: Partial<ShapeGoal> = {}): ShapeGoal => ({
  turnWeight: 600,
  jogStuds: 2 * space.setting.spacing.target,
  jogTurns: 2,
  slight: 1,
  shortest: 0,
  longest: 1e9,
  lengthWeight: 180,
  usable: space.usable,
  fixedEnd: 1,
  ...goal,
});

/** Tries `count` random moves, each accepted if legal and within `allowance` mm2; tells how many were. */
export const shake = (shaper: Shaper, random: () => number, count: number, allowance: number): number => {
  const { path } = shaper;
  let done = 0;
  for (let n = 0; n < count; n++) {
    const at = Math.floor(random() * shaper.last());
    let [k, end] = [at, at + 1];
    while (k > 0 && !path.isCorner(k)) k--;
    while (end < shaper.last() && !path.isCorner(end)) end++;
    const p = k + Math.floor(random() * (end - k));
    const q = Math.min(end, p + 1 + Math.floor(random() * 9));
    const normal = Math.abs(path.at(at + 1) - path.at(at)) === 1 ? path.s.nx : 1;
    const side = random() < 0.5 ? normal : -normal;
    if (shaper.attempt(sideways(path, p, q, side, 1 + Math.floor(random() * 6)), allowance)) done++;
  }
  return done;
};
