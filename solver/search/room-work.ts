import type { EffortBudget } from './effort.js';

/** Grids of so few nodes have exact tries of their own, and more of their routes are worked out: shaping decides there. */
export const SMALL_GRID = 150;

/** In grids of more nodes what is promised rests on coarse copies, so that many choices are screened anyway. */
const LARGE_GRID = 1000;
const LEAST_SCREENS_IF_LARGE = 8;

/** Choices screened whatever they cost, but for a first round that begins with a good one. */
export const LEAST_SCREENS = 4;

export const leastScreens = (nodes: number, round: number): number =>
  nodes > LARGE_GRID ? LEAST_SCREENS_IF_LARGE : round === 1 ? 1 : LEAST_SCREENS;

/** Larger rooms may take longer: work added for every node beyond so many, up to a limit. */
const beyond = (nodes: number): number => Math.max(0, nodes - 900);

export const screenWork = (budget: EffortBudget, nodes: number): number =>
  budget.screenWork + Math.min(450_000, beyond(nodes) * 1800);

export const refineWork = (budget: EffortBudget, nodes: number): number =>
  budget.refineWork + Math.min(300_000, beyond(nodes) * 300);

/**
 * Units of work that each stage takes, about a microsecond each (regressions over 307 invented rooms, rounded): a node of
 * a grid routed, a flip weighed, a state expanded there, a node times a state of a look at parities, a node of a grid
 * whose cost is bounded. Moves on the stud lattice: see `shaper.ts`.
 */
export const NODE_WORK = 18;
export const FLIP_WORK = 3;
export const STATE_WORK = 0.3;
export const LOOK_WORK = 1;
export const BOUND_WORK = 2;

/** Rooms of everyday size, m2 of target, and how many times as much work as these a larger one may take at most. */
const EVERYDAY_AREA = 6;
const LARGE_TIMES = 5;

/** Work that a room with so much target (m2) may take in all. */
export const roomWork = ({ roomWork: own, roomWorkPerArea: more }: EffortBudget, target: number): number =>
  Math.min(LARGE_TIMES * own, own + more * Math.max(0, target - EVERYDAY_AREA));

/**
 * Shares of that up to which, with a layout at hand, more choices are screened, routes worked out and drafts shaped in
 * full, in the first round and in later ones; up to which routes are sought again, and other cables tried.
 */
const FIRST_SHARES = { screen: 1, refine: 0.6, finish: 0.8 } as const;
const LATER_SHARES = { screen: 0.8, refine: 0.95, finish: 1 } as const;
export const AGAIN_SHARE = 0.75;
export const OTHERS_SHARE = 1;

/** How many times as much work a room may take while its best layout leaves much floor cold. */
export const COLD_TIMES = 1.2;

/** Rooms with less target than this (m2) are small; they get a further round up to such a share of the room's work. */
const SMALL_AREA = 2.5;
export const FURTHER_SHARE = 0.6;

/** Budget of that further round; null where there is none. */
export const furtherBudget = (budget: EffortBudget, target: number, round: number): EffortBudget | null =>
  budget.smallRooms && target < SMALL_AREA ? { ...roundBudget(budget, round), ...budget.smallRooms } : null;

export const roundShares = (round: number): Readonly<Record<'screen' | 'refine' | 'finish', number>> =>
  round === 1 ? FIRST_SHARES : LATER_SHARES;

/** Rounds after the first work out and finish half as much: by then routes have taught which choices are worth it. */
export const roundBudget = (budget: EffortBudget, round: number): EffortBudget =>
  round === 1
    ? budget
    : { ...budget, refineWork: budget.refineWork / 2, finish: Math.ceil(budget.finish / 2) };

/** `first`: the most promising choice of a round; which of the four sweeps does best cannot be told beforehand. */
export const refineSweeps = (budget: EffortBudget, first: boolean): number =>
  first ? budget.firstSweeps : budget.refineSweeps;

/** Large grids are worked out with fewer states, but for the first: a narrow beam loses itself there. */
const LEAST_SHARE = 2 / 3;

export const refineStates = (budget: EffortBudget, nodes: number, first: boolean): number => {
  const { refineStates: states, refineWork: work } = budget;
  const usual = Math.max(LEAST_SHARE * states, Math.min(states, (1.5 * work) / nodes));
  return first && beyond(nodes) > 0 ? Math.max(usual, budget.firstStates) : usual;
};
