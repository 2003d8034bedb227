import { reachable } from '../lattice/stud-lattice.js';
import type { Cable } from '../problem.js';
import { leastGap } from './lane-choice.js';
import { endPlay } from './length-window.js';
import { type Mouths, mouthsOf, SIDES, stepsOf } from './mouths.js';
import { neighbourhood } from './stud-spacing.js';
import { stretchInside } from './tail.js';
import type { ZoneSpace } from './zone-space.js';

/**
 * A buffer is tight when it holds less than so many times what the cables' play asks for, as soon as runs lie as near to
 * it as they may.
 */
const TIGHT = 1.5;

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
  const disturbed = (undisturbed(space, gap) * pitch) / gap;
  if (disturbed >= TIGHT * needed)
    return { space, mouths: mouthsOf(space, maxOutside), maxOutside, stretch: null };
  const clear = disturbed < needed + MARGIN_EASE ? withoutMargin(space, gap) : space;
  const mouths = mouthsOf(clear, maxOutside);
  const stretches = new Map<number, number>();
  const behind = (v: number, step: number, steps: number): number => {
    const entry = v + step * steps;
    const known = stretches.get(entry);
    if (known !== undefined) return known;
    const length = stretchInside(space.s, entry, gap, {
      buffer: space.buffer,
      wanted: needed + EASE,
      maxStates: STATES,
    });
    stretches.set(entry, length);
    return length;
  };
  const step = stepsOf(space.s);
  const lengths = SIDES.map((side) =>
    Float64Array.from(mouths[side], (steps, v) => (steps > 0 ? behind(v, step[side], steps) : 0)),
  );
  const stretch = Math.max(0, ...stretches.values());
  const dear = (length: number) => Math.max(0, 1 - length / (needed + EASE)) * NO_STRETCH * space.floor.total;
  const least = dear(stretch);
  const [east, west, north, south] = lengths.map((side) => side.map((length) => dear(length) - least));
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

/** Nodes of the buffer no nearer than the gap to any node outside it. */
function undisturbed(space: ZoneSpace, gap: number): number {
  const left = space.buffer.slice();
  clearAround(space, space.usable, gap, left);
  return left.reduce((sum, there) => sum + there, 0);
}

/** Takes nodes nearer than the gap to any of `these` out of `from`. */
function clearAround({ s }: ZoneSpace, these: Uint8Array, gap: number, from: Uint8Array): void {
  const near = neighbourhood(s, gap);
  for (let v = 0; v < these.length; v++) {
    if (!these[v]) continue;
    for (let n = 0; n < near.count; n++) {
      const x = (v % s.nx) + near.dx[n];
      const w = v + near.offset[n];
      if (x >= 0 && x < s.nx && w >= 0 && w < from.length) from[w] = 0;
    }
  }
}

/** The space without nodes nearer to the buffer than the gap, unless that cuts off much of the floor. */
function withoutMargin(space: ZoneSpace, gap: number): ZoneSpace {
  const usable = space.usable.slice();
  clearAround(space, space.buffer, gap, usable);
  usable[space.start] = 1;
  const clear = { ...space, usable };
  return reached(clear) >= STILL_REACHED * reached(space) ? clear : space;
}

/** Nodes that channels between usable nodes join with the entry. */
function reached({ s, usable, start }: ZoneSpace): number {
  const open = (pieces: Uint8Array, step: number) =>
    pieces.map((piece, v) => piece & usable[v] & (usable[v + step] ?? 0));
  const within = { ...s, east: open(s.east, 1), north: open(s.north, s.nx) };
  return reachable(within, start).reduce((sum, there) => sum + there, 0);
}
