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
