import { reachable, type StudLattice } from '../lattice/stud-lattice.js';
import type { Cable } from '../problem.js';
import { leastGap } from './lane-choice.js';
import { endPlay } from './length-window.js';
import { type Mouths, mouthsOf, SIDES, stepsOf } from './mouths.js';
import { markAround, neighbourhood } from './stud-spacing.js';
import { stretchInside, TAIL_DEPTH } from './tail.js';
import type { ZoneSpace } from './zone-space.js';

/**
 * A buffer is tight when it holds less than so many times what the cables' play asks for, as soon as runs lie as near to
 * it as they may.
 */
const TIGHT = 2;

/** Length (mm) that the stretch should have beside the play, so that layouts need not meet a length to the mm. */
const EASE = 150;

/** Floor beside the buffer is given up where runs beside it leave less than so much beside the play, mm. */
const MARGIN_EASE = 2 * EASE;

/** Share of the floor that entering costs where nothing at all could be laid behind. */
const NO_STRETCH = 0.5;

/** Floor beside the buffer is given up only while so large a share of the floor is still reached. */
const STILL_REACHED = 0.9;

/** Beam of the search for the stretch behind each way in. */
const STATES = 30;

/** How the main stretch may come to the buffer. */
export interface Approach {
  /** The zone, without the floor that must stay free beside a tight buffer. */
  readonly space: ZoneSpace;
  /** Ways into the buffer, dearer where less can be laid behind them. */
  readonly mouths: Mouths;
  /** Longest way from the last lane to the buffer, studs. */
  readonly maxOutside: number;
  /** Longest stretch (mm) behind any of them; null where the buffer is not tight. */
  readonly stretch: number | null;
}

/**
 * A buffer that holds hardly more than the cables' play must be filled run by run: no other run may lie within the least
 * gap of it, and it must be entered where its runs begin.
 */
export function approach(space: ZoneSpace, cables: readonly Cable[]): Approach {
  const maxOutside = space.setting.spacing.max + 1;
  const gap = Math.min(...cables.map(({ minBendRadius }) => leastGap(space, minBendRadius)));
  const needed = neededTail(space, cables, gap);
  const { pitch } = space.setting.lattice;
  const undisturbed = withoutMargin(space.s, space.buffer, space.usable, gap);
  const least = (count(undisturbed) * pitch) / gap;
  if (least >= TIGHT * needed)
    return { space, mouths: mouthsOf(space, maxOutside), maxOutside, stretch: null };
  const kept = least < needed + MARGIN_EASE ? keptClear(space, gap) : null;
  const clear = kept ?? space;
  const mouths = mouthsOf(clear, maxOutside);
  const room = kept ? space.buffer : undisturbed;
  const stretches = new Map<number, number>();
  const inside = (entry: number): number => {
    const known = stretches.get(entry);
    if (known !== undefined) return known;
    const length = stretchInside(space.s, entry, gap, {
      buffer: room,
      wanted: needed + EASE,
      maxStates: STATES,
    });
    stretches.set(entry, length);
    return length;
  };
  /** The stretch turns off at the first node in the buffer that runs beside it leave free. */
  const behind = (entry: number, step: number): number => {
    let v = entry;
    while (space.buffer[v] && !room[v] && (v - entry) / step + 1 < TAIL_DEPTH) v += step;
    return room[v] ? ((v - entry) / step) * pitch + inside(v) : 0;
  };
  const step = stepsOf(space.s);
  const lengths = SIDES.map((side) =>
    Float64Array.from(mouths[side], (steps, v) =>
      steps > 0 ? behind(v + step[side] * steps, step[side]) : 0,
    ),
  );
  const stretch = lengths.reduce((most, side) => side.reduce((a, b) => Math.max(a, b), most), 0);
  const dear = (length: number) => Math.max(0, 1 - length / (needed + EASE)) * NO_STRETCH * space.floor.total;
  const cheapest = dear(stretch);
  const [east, west, north, south] = lengths.map((side) => side.map((length) => dear(length) - cheapest));
  return { space: clear, mouths: { ...mouths, price: { east, west, north, south } }, maxOutside, stretch };
}

/** Length of cable (mm) that a buffer must hold at least, for a cable about as long as the floor asks for. */
export function neededTail(space: ZoneSpace, cables: readonly Cable[], minGap: number): number {
  const spacing = 2 * space.heatRadius;
  const length = space.floor.total / spacing;
  const turns = (2 * Math.sqrt(space.floor.total)) / spacing;
  const plays = cables
    .filter(({ minBendRadius }) => leastGap(space, minBendRadius) === minGap)
    .map((cable) => endPlay(space, { ...cable, length }, turns));
  return 2 * Math.min(...plays);
}

/** Those of the nodes that lie no nearer than the gap to any of the others. */
function withoutMargin(s: StudLattice, nodes: Uint8Array, others: Uint8Array, gap: number): Uint8Array {
  const near = neighbourhood(s, gap);
  const taken = new Uint8Array(nodes.length);
  for (let v = 0; v < others.length; v++) if (others[v]) markAround(s, near, v, taken);
  return nodes.map((there, v) => there & (1 - taken[v]));
}

const count = (nodes: Uint8Array): number => nodes.reduce((sum, there) => sum + there, 0);

/** The space without floor nearer to the buffer than the gap; null where that cuts off much of it. */
function keptClear(space: ZoneSpace, gap: number): ZoneSpace | null {
  const usable = withoutMargin(space.s, space.usable, space.buffer, gap);
  usable[space.start] = 1;
  const clear = { ...space, usable };
  return reached(clear) >= STILL_REACHED * reached(space) ? clear : null;
}

/** Nodes that channels between usable nodes join with the entry. */
function reached({ s, usable, start }: ZoneSpace): number {
  const open = (pieces: Uint8Array, step: number) =>
    pieces.map((piece, v) => piece & usable[v] & (usable[v + step] ?? 0));
  const within = { ...s, east: open(s.east, 1), north: open(s.north, s.nx) };
  return count(reachable(within, start));
}
