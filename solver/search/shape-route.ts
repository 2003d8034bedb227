import { type Cable, cornerSaving, type Trace } from '../problem.js';
import { anneal } from './anneal.js';
import { cutToLength } from './cut-to-length.js';
import { endPlay, lengthInZone, mainWindow } from './length-window.js';
import { polish } from './polish.js';
import { seeded } from './random.js';
import { relay } from './relay.js';
import { Shaper } from './shaper.js';
import { StudPath } from './stud-path.js';
import type { Tail } from './tail.js';
import type { ZoneSpace } from './zone-space.js';

export interface ShapeOptions {
  readonly turnWeight: number;
  readonly minGap: number;
  /** Moves weighed by descent and by annealing. */
  readonly polishTrials: number;
  readonly annealTrials: number;
  /** Steps and stubby fingers cost several times as much while shaping; the score is the usual one. */
  readonly firm?: boolean;
  /** Guard: once it fires, shaping goes on only as far as meeting the length asks for. */
  expired?(): boolean;
}

export type Shaped =
  | {
      readonly kind: 'fitted';
      readonly trace: Trace;
      /** Cold area + turns of the whole layout, mm2, on the search's raster and without heat from the tail. */
      readonly score: number;
      /** Cold area alone, weighted by priority, mm2. */
      readonly cold: number;
      /** Steps and legs of stubby fingers, slight ones several times. */
      readonly jogs: number;
      readonly work: number;
    }
  /** The length could not be met: mm by which the shortest form found is too long (+) or the longest too short (-). */
  | { readonly kind: 'missed'; readonly by: number; readonly work: number };

/** Cold area (mm2) that one mm outside the length window is worth: gently first, then as good as forbidden. */
const LENGTH_WEIGHT = 180;
const STRICT_LENGTH_WEIGHT = 40_000;

/**
 * Lengths missed by less (mm) are sought by annealing with a firmer weight: what a step or a turn more or less makes of
 * a length differs by a few mm only in sums of several moves, which descent does not find.
 */
const NEARLY = 30;
const FIRM_LENGTH_WEIGHT = 1000;

/** Turns that such a search may add. */
const FEW_TURNS = 2;

/** Turns that go with a step. */
const JOG_TURNS = 2;

/** Length laid beyond the latest end, for rounding, mm. */
const BEYOND_PLAY = 2;

/** What a step or the leg of a stubby finger costs beside its turns, in turns: in small rooms turns are cheap, looks less so. */
const jogTurns = (turnWeight: number): number => 2 * Math.min(2, Math.max(1, 700 / Math.max(1, turnWeight)));

/** How many times as much a jog costs where shaping is firm about them. */
const FIRM_JOGS = 3;

/** A step of one stud counts that many jogs in the end: few pay, but on the way they lead on to better forms. */
const SLIGHT_JOG = 12;

/** Turns that shaping may add, allowed for when the length window is set. */
const SPARE_TURNS = 6;

/** Shapes a route on the stud lattice and fits it to a cable. `studs` = main path, then the tail's nodes. */
export function shapeRoute(
  space: ZoneSpace,
  cable: Cable,
  studs: readonly number[],
  tail: Tail,
  options: ShapeOptions,
): Shaped {
  const heated = studs.length - tail.nodes.length + tail.outside + 1;
  const lay = (nodes: ArrayLike<number>, count: number) =>
    new StudPath(space.s, space.floor, nodes, options.minGap, space.heatRadius, count);
  let path = lay(studs, heated);
  const [least, most] = mainWindow(space, cable, path.turns() + SPARE_TURNS, tail.length);
  const usualJogTurns = jogTurns(options.turnWeight);
  const goal = {
    turnWeight: options.turnWeight,
    jogStuds: 2 * space.setting.spacing.target,
    jogTurns: (options.firm ? FIRM_JOGS : 1) * usualJogTurns,
    slight: 1,
    shortest: Math.min(least, most),
    longest: most,
    lengthWeight: LENGTH_WEIGHT,
    usable: space.usable,
    fixedEnd: tail.outside + 1,
  };
  const heat = {
    hot: 2 * options.turnWeight + 200,
    cool: 0.1 * options.turnWeight + 10,
    ...(options.expired ? { expired: options.expired } : {}),
  };
  // The corner where the tail begins counts neither as the main stretch's nor as the tail's.
  const [before, first, after] = studs.slice(heated - 2, heated + 1);
  const tailLength =
    tail.length - (first - before === after - first ? 0 : cornerSaving(space.setting.lattice));
  let shaper = new Shaper(path, goal);
  let work = 0;
  const { max: widest } = space.setting.spacing;
  polish(shaper, options.polishTrials);
  if (options.annealTrials > 0 && options.expired?.() !== true) {
    relay(shaper, options.polishTrials, widest, options.expired);
    const polished = { nodes: path.nodes.slice(0, path.length), heated: path.heatedUpTo() };
    const kept = anneal(shaper, { trials: options.annealTrials, ...heat, random: seeded(studs.length) });
    work += shaper.spent;
    const best = kept ?? polished;
    path = lay(best.nodes, best.heated);
    shaper = new Shaper(path, goal);
    polish(shaper, options.polishTrials);
    work += shaper.spent;
    shaper = new Shaper(path, { ...goal, slight: SLIGHT_JOG });
    polish(shaper, options.polishTrials);
    if (hasSlightJogs(path, goal.jogStuds)) {
      relay(shaper, options.polishTrials, widest, options.expired);
      polish(shaper, options.polishTrials);
    }
  }
  work += shaper.spent;
  if (shaper.miss(shaper.laid) > 0) {
    shaper = new Shaper(path, { ...goal, lengthWeight: STRICT_LENGTH_WEIGHT });
    polish(shaper, options.polishTrials);
    work += shaper.spent;
  }
  let by = misfit(space, cable, path.turns(), shaper.laid, tailLength);
  if (by !== 0) {
    // The window was set for the turns that the route began with; a path grown from little has more by now.
    const [low, high] = mainWindow(space, cable, path.turns(), tailLength);
    const window = { shortest: Math.min(low, high), longest: high, lengthWeight: STRICT_LENGTH_WEIGHT };
    shaper = new Shaper(path, { ...goal, ...window });
    polish(shaper, options.polishTrials);
    work += shaper.spent;
    by = misfit(space, cable, path.turns(), shaper.laid, tailLength);
  }
  if (by !== 0 && Math.abs(by) < NEARLY && options.expired?.() !== true) {
    const [low, high] = mainWindow(space, cable, path.turns() + FEW_TURNS, tailLength);
    const firm = { ...goal, shortest: Math.min(low, high), longest: high, lengthWeight: FIRM_LENGTH_WEIGHT };
    shaper = new Shaper(path, firm);
    const kept = anneal(shaper, {
      trials: Math.max(options.annealTrials, options.polishTrials) / 2,
      ...heat,
      random: seeded(studs.length + 1),
    });
    work += shaper.spent;
    if (kept) path = lay(kept.nodes, kept.heated);
    shaper = new Shaper(path, { ...firm, lengthWeight: STRICT_LENGTH_WEIGHT });
    polish(shaper, options.polishTrials);
    work += shaper.spent;
    by = misfit(space, cable, path.turns(), shaper.laid, tailLength);
  }
  if (by !== 0) return { kind: 'missed', by, work };
  // The windows left room for turns that were not added: with the mm they would have taken up, steps may go.
  for (const fewer of [JOG_TURNS, 0]) {
    if (options.annealTrials === 0 && !hasSlightJogs(path, goal.jogStuds)) break;
    const [low, high] = mainWindow(space, cable, path.turns() - fewer, tailLength);
    const window = { shortest: Math.min(low, high), longest: high, lengthWeight: STRICT_LENGTH_WEIGHT };
    const last = new Shaper(path, { ...goal, ...window, slight: SLIGHT_JOG });
    const fitted = last.snapshot();
    polish(last, options.polishTrials);
    work += last.spent;
    if (misfit(space, cable, path.turns(), last.laid, tailLength) !== 0) last.restore(fitted);
    shaper = last;
  }
  const length = lengthInZone(space, cable);
  const play = endPlay(space, cable, path.turns());
  const trace = cutToLength(space.s, path.nodes.subarray(0, path.length), length, play + BEYOND_PLAY);
  if (!trace) return { kind: 'missed', by: -1, work };
  const { turns, jogs } = path.bends(path.heatedUpTo(), goal.jogStuds, shaper.goal.slight);
  return {
    kind: 'fitted',
    trace,
    cold: path.cold,
    jogs,
    score: path.cold + options.turnWeight * (turns + usualJogTurns * jogs),
    work,
  };
}

/** mm by which a main stretch is too long (+), or it and the tail too short (-), for the cable's end; 0 if neither. */
function misfit(space: ZoneSpace, cable: Cable, turns: number, main: number, tail: number): number {
  const play = endPlay(space, cable, turns);
  const length = lengthInZone(space, cable);
  if (main > length - play) return main - length + play;
  return Math.min(0, main + tail - length - play - BEYOND_PLAY);
}

function hasSlightJogs(path: StudPath, jogStuds: number): boolean {
  const to = path.heatedUpTo();
  return path.bends(to, jogStuds, 2).jogs > path.bends(to, jogStuds, 1).jogs;
}
