import type { Cable, Trace } from '../problem.js';
import type { EffortBudget } from '../search/effort.js';
import { endPlay, lengthInZone } from '../search/length-window.js';
import { type Mouths, mouthsOf } from '../search/mouths.js';
import { shapeRoute } from '../search/shape-route.js';
import { spine } from '../search/spine.js';
import { buildTail, type Tail } from '../search/tail.js';
import type { ZoneSpace } from '../search/zone-space.js';

/** Beam of the search for the stretch in the buffer. */
const TAIL_STATES = 400;

/** Turns that a way on is allowed for when its tolerance is reckoned. */
const TURNS = 40;

/** Shares of the cable left that the buffer is asked to hold. */
const SHARES = [1, 0.6, 0.3];

/** What the ways through the buffer came to: the legal ones, or the least miss (mm too long +, too short -). */
export interface LongTails {
  readonly traces: readonly Trace[];
  readonly missed: number | null;
}

/**
 * Ways on for a cable whose rest has hardly anywhere to go but the buffer: the shortest way to the buffer by each of
 * its sides, a stretch in it as long as the cable asks for, and what is left over grown into fingers before it.
 */
export function longTails(
  space: ZoneSpace,
  cable: Cable,
  minGap: number,
  turnWeight: number,
  budget: EffortBudget,
): LongTails {
  const traces: Trace[] = [];
  let missed: number | null = null;
  const left = lengthInZone(space, cable);
  const play = endPlay(space, cable, TURNS);
  const maxOutside = space.setting.spacing.max + 1;
  const tried = new Set<string>();
  for (const mouths of bySide(mouthsOf(space, maxOutside))) {
    const way = spine(space, mouths);
    if (!way) continue;
    for (const share of SHARES) {
      const tail = buildTail(space.s, way, {
        buffer: space.buffer,
        minGap,
        wanted: 2 * play + share * left,
        maxOutside,
        maxStates: TAIL_STATES,
      });
      if (!tail || tried.has(nameOf(way, tail))) continue;
      tried.add(nameOf(way, tail));
      const shaped = shapeRoute(space, cable, [...way, ...tail.nodes], tail, {
        turnWeight,
        minGap,
        polishTrials: budget.polishTrials,
        annealTrials: budget.annealTrials,
      });
      if (shaped.kind === 'fitted') traces.push(shaped.trace);
      else if (missed === null || Math.abs(shaped.by) < Math.abs(missed)) missed = shaped.by;
    }
  }
  return { traces, missed };
}

const nameOf = (way: readonly number[], tail: Tail): string => `${way.join(' ')} ${tail.nodes.join(' ')}`;

/** The mouths of each side alone. */
function bySide(mouths: Mouths): Mouths[] {
  const none = new Uint8Array(mouths.east.length);
  const closed: Mouths = { east: none, west: none, north: none, south: none };
  return (['east', 'west', 'north', 'south'] as const).map((side) => ({ ...closed, [side]: mouths[side] }));
}
