import type { Effort } from '../problem.js';

/** Counted work per zone. Each level does all that the one below does, then more. */
export interface EffortBudget {
  /**
   * Work on a room of everyday size, in units of `room-work.ts`, and added for every m2 of target beyond: once a layout
   * is found, nothing new is begun beyond it, or beyond `COLD_TIMES` as much while that leaves much floor cold.
   */
  readonly roomWork: number;
  readonly roomWorkPerArea: number;
  /** How often routes are sought at most; less often where layouts come near what lanes promise. */
  readonly rounds: number;
  /** Most lane choices screened, the states of their beam, and the work (grid nodes times states) they may spend in all. */
  readonly screens: number;
  readonly screenStates: number;
  readonly screenWork: number;
  /** Nodes of coarse copies of a grid, roughly; sweeps over the full grid beside them when screened and worked out. */
  readonly coarseNodes: number;
  readonly screenSweeps: number;
  readonly refineSweeps: number;
  /** Grid nodes times states spent on finding out about the parity of lanes, all levels so far together. */
  readonly parityWork: number;
  /** What a further round may spend on screening and parities in small rooms, which are done soon; null for none. */
  readonly smallRooms: { readonly parityWork: number; readonly screenWork: number } | null;
  /** Most screened choices worked out, the states of their beam, and the nodes times states they may spend in all. */
  readonly refine: number;
  readonly refineStates: number;
  readonly refineWork: number;
  /** Sweeps for the most promising of those in each round, and its least states where the grid is large. */
  readonly firstSweeps: number;
  readonly firstStates: number;
  /** How many of those, after a rough shaping of all, are shaped in full. */
  readonly finish: number;
  /** Layouts with steps or stubby fingers that are shaped once more, firm about them. */
  readonly smoothed: number;
  /**
   * Most cables, longest first, that get lanes of their own when no cable was fitted; if more than none, layouts are
   * grown without lanes where that fails too.
   */
  readonly fits: number;
  /** Flips of squares weighed for each node of a grid, when screened and worked out. */
  readonly screenFlips: number;
  readonly refineFlips: number;
  /** Parts of a route solved anew after the beam, and the states each may take. */
  readonly maxWindows: number;
  readonly windowStates: number;
  /** Larger grids that go through the exact stages, and the grid nodes times states that the frontier may take there. */
  readonly exactTries: number;
  readonly exactWork: number;
  /** Largest grid handed to the integer programme (nodes), solves a route, and the guard of one solve (s). */
  readonly mipNodes: number;
  readonly mipRounds: number;
  readonly mipSeconds: number;
  /** Moves weighed by descent and by annealing on the stud lattice. */
  readonly polishTrials: number;
  readonly annealTrials: number;
  /** Grid nodes times rounds of ascent behind each bound on turns. */
  readonly boundWork: number;
}

export const EFFORTS: Readonly<Record<Effort, readonly EffortBudget[]>> = (() => {
  const quick: EffortBudget = {
    roomWork: 520_000,
    roomWorkPerArea: 700_000,
    rounds: 2,
    screens: 20,
    screenStates: 60,
    coarseNodes: 100,
    screenSweeps: 0,
    refineSweeps: 0,
    screenWork: 90_000,
    parityWork: 90_000,
    smallRooms: { parityWork: 200_000, screenWork: 170_000 },
    refine: 6,
    refineStates: 150,
    refineWork: 200_000,
    firstSweeps: 2,
    firstStates: 600,
    finish: 2,
    smoothed: 2,
    fits: 8,
    screenFlips: 4,
    refineFlips: 8,
    maxWindows: 6,
    windowStates: 100,
    exactTries: 1,
    exactWork: 300_000,
    mipNodes: 110,
    mipRounds: 6,
    mipSeconds: 1,
    polishTrials: 6000,
    annealTrials: 7000,
    boundWork: 300_000,
  };
  const normal: EffortBudget = {
    roomWork: 3_250_000,
    roomWorkPerArea: 0,
    rounds: 3,
    screens: 40,
    screenStates: 100,
    coarseNodes: 150,
    screenSweeps: 2,
    refineSweeps: 4,
    screenWork: 450_000,
    parityWork: 500_000,
    smallRooms: null,
    refine: 8,
    refineStates: 800,
    refineWork: 1_300_000,
    firstSweeps: 4,
    firstStates: 600,
    finish: 4,
    smoothed: 2,
    fits: 12,
    screenFlips: 8,
    refineFlips: 30,
    maxWindows: 120,
    windowStates: 300,
    exactTries: 2,
    exactWork: 1_000_000,
    mipNodes: 500,
    mipRounds: 6,
    mipSeconds: 2,
    polishTrials: 20_000,
    annealTrials: 30_000,
    boundWork: 1_500_000,
  };
  const thorough: EffortBudget = {
    roomWork: 30_000_000,
    roomWorkPerArea: 0,
    rounds: 4,
    screens: 120,
    screenStates: 200,
    coarseNodes: 250,
    screenSweeps: 4,
    refineSweeps: 4,
    screenWork: 3_000_000,
    parityWork: 1_500_000,
    smallRooms: null,
    refine: 16,
    refineStates: 2000,
    refineWork: 9_000_000,
    firstSweeps: 4,
    firstStates: 600,
    finish: 8,
    smoothed: 2,
    fits: 60,
    screenFlips: 20,
    refineFlips: 100,
    maxWindows: 400,
    windowStates: 600,
    exactTries: 2,
    exactWork: 20_000_000,
    mipNodes: 600,
    mipRounds: 12,
    mipSeconds: 4,
    polishTrials: 60_000,
    annealTrials: 250_000,
    boundWork: 6_000_000,
  };
  return { quick: [quick], normal: [quick, normal], thorough: [quick, normal, thorough] };
})();
