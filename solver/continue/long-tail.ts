import type { Cable } from '../problem.js';
import type { EffortBudget } from '../search/effort.js';
import { endPlay, lengthInZone } from '../search/length-window.js';
import { type Mouths, mouthsOf, SIDES } from '../search/mouths.js';
import { shapeRoute } from '../search/shape-route.js';
import { spine } from '../search/spine.js';
import { tooClose } from '../search/stud-spacing.js';
import { buildTail, type Tail } from '../search/tail.js';
import type { ZoneSpace } from '../search/zone-space.js';
import { nodesPassed } from './join.js';

/** Beam of the search for the stretch in the buffer. */
const TAIL_STATES = 400;

/** Turns that a way on is allowed for when its tolerance is reckoned. */
const TURNS = 40;

/** Shares of the cable left that the buffer is asked to hold. */
const SHARES = [1, 0.6, 0.3];

/** Places along each side of the buffer where a way on may enter it. */
const GATES = 5;

/** What the ways through the buffer came to: the legal ones as lattice nodes, best first, or the least miss (mm too long +, too short -). */
export interface LongTails {
  readonly ways: readonly (readonly number[])[];
  readonly missed: number | null;
}

/**
 * Ways on for a cable whose rest has hardly anywhere to go but the buffer: the shortest ways into the buffer at
 * places all along its sides, a stretch in it as long as the cable asks for, and what is left over grown into fingers before it.
 */
export function longTails(
  space: ZoneSpace,
  cable: Cable,
  minGap: number,
  turnWeight: number,
  budget: EffortBudget,
): LongTails {
  const fitted: { way: readonly number[]; score: number }[] = [];
  let missed: number | null = null;
  const left = lengthInZone(space, cable);
  const play = endPlay(space, cable, TURNS);
  const maxOutside = space.setting.spacing.max + 1;
  const tried = new Set<string>();
  const tryWay = (way: readonly number[]): void => {
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
      if (shaped.kind === 'fitted')
        fitted.push({ way: withRest(nodesPassed(space.s, shaped.trace), tail), score: shaped.score });
      else if (missed === null || Math.abs(shaped.by) < Math.abs(missed)) missed = shaped.by;
    }
  };
  const doors = gates(mouthsOf(space, maxOutside), space.s.nx);
  for (const door of doors) {
    const way = spine(space, door);
    if (way) tryWay(way);
  }
  for (const door of fitted.length > 0 ? [] : doors)
    for (const way of alongBuffer(space, door, minGap)) tryWay(way);
  fitted.sort((a, b) => a.score - b.score);
  return { ways: fitted.map(({ way }) => way), missed };
}

/** A trace is cut behind its reserve; the stretch in the buffer goes on as it was built. */
const withRest = (nodes: readonly number[], tail: Tail): number[] => {
  const at = tail.nodes.lastIndexOf(nodes[nodes.length - 1]);
  return at < 0 ? [...nodes] : [...nodes, ...tail.nodes.slice(at + 1)];
};

const nameOf = (way: readonly number[], tail: Tail): string => `${way.join(' ')} ${tail.nodes.join(' ')}`;

/**
 * Ways that come to their place from along the buffer: its last corner cannot be moved, so a way grows on that side
 * only if it is bent there already.
 */
function alongBuffer(space: ZoneSpace, door: Mouths, minGap: number): number[][] {
  const { s, usable } = space;
  const none = new Uint8Array(door.east.length);
  const upright = door.east.some((steps) => steps > 0) || door.west.some((steps) => steps > 0);
  const [step, pieces] = upright ? [s.nx, s.north] : [1, s.east];
  const mouths = Uint8Array.from(none, (_, v) =>
    door.east[v] || door.west[v] || door.north[v] || door.south[v] ? 1 : 0,
  );
  return [step, -step].flatMap((on) => {
    const stretch = (from: number): number[] =>
      Array.from({ length: minGap + 1 }, (_, k) => from + (k + 1) * on);
    const leads = (from: number): boolean =>
      usable[from] === 1 &&
      mouths[from + (minGap + 1) * on] === 1 &&
      stretch(from).every((v) => usable[v] === 1 && pieces[on > 0 ? v - step : v] === 1);
    const before = Uint8Array.from(none, (_, v) => (leads(v) ? 1 : 0));
    const way = spine(space, { east: before, west: none, north: none, south: none });
    const last = way?.[way.length - 1];
    if (!way || last === undefined) return [];
    const whole = [...way, ...stretch(last)];
    return tooClose(s, whole, 0, minGap) ? [] : [whole];
  });
}

/** The mouths of each side, a stretch of it at a time. */
function gates(mouths: Mouths, nx: number): Mouths[] {
  const none = new Uint8Array(mouths.east.length);
  const closed: Mouths = { east: none, west: none, north: none, south: none };
  return SIDES.flatMap((side) => {
    const along = (v: number) => (side === 'east' || side === 'west' ? Math.floor(v / nx) : v % nx);
    const open: number[] = [];
    mouths[side].forEach((steps, v) => {
      if (steps > 0) open.push(v);
    });
    const places = [...new Set(open.map(along))].sort((a, b) => a - b);
    const count = Math.min(GATES, places.length);
    return Array.from({ length: count }, (_, k) => {
      const within = new Set(
        places.slice(Math.round((k * places.length) / count), Math.round(((k + 1) * places.length) / count)),
      );
      const some = new Uint8Array(none.length);
      for (const v of open) if (within.has(along(v))) some[v] = mouths[side][v];
      return { ...closed, [side]: some };
    });
  });
}
