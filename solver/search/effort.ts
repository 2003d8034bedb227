import type { Effort } from '../problem.js';

/** Counted work per zone. Each level does all that the one below does, then more. */
export interface EffortBudget {
  /** Most lane choices screened, the states of their beam, and the work (grid nodes times states) they may spend in all. */
  readonly screens: number;
  readonly screenStates: number;
  readonly screenWork: number;
  /** Most screened choices worked out, the states of their beam, and the nodes times states they may spend in all. */
  readonly refine: number;
  readonly refineStates: number;
  readonly refineWork: number;
  /** Parts of a route solved anew after the beam, and the states each may take. */
  readonly maxWindows: number;
  readonly windowStates: number;
  /** Grid nodes times states that solving a narrow grid to the end may take. */
  readonly exactWork: number;
  /** Routes handed to the integer programme, the largest grid (nodes), and the guard of one solve (s). */
  readonly mipTries: number;
  readonly mipNodes: number;
  readonly mipSeconds: number;
  /** Moves weighed by descent and by annealing on the stud lattice. */
  readonly polishTrials: number;
  readonly annealTrials: number;
}

export const EFFORTS: Readonly<Record<Effort, readonly EffortBudget[]>> = (() => {
  const quick: EffortBudget = {
    screens: 14,
    screenStates: 60,
    screenWork: 320_000,
    refine: 2,
    refineStates: 200,
    refineWork: 600_000,
    maxWindows: 60,
    windowStates: 200,
    exactWork: 300_000,
    mipTries: 1,
    mipNodes: 150,
    mipSeconds: 1,
    polishTrials: 6000,
    annealTrials: 10_000,
  };
  const normal: EffortBudget = {
    screens: 40,
    screenStates: 100,
    screenWork: 1_800_000,
    refine: 8,
    refineStates: 800,
    refineWork: 2_000_000,
    maxWindows: 200,
    windowStates: 400,
    exactWork: 3_000_000,
    mipTries: 1,
    mipNodes: 500,
    mipSeconds: 2,
    polishTrials: 20_000,
    annealTrials: 40_000,
  };
  const thorough: EffortBudget = {
    screens: 120,
    screenStates: 200,
    screenWork: 10_000_000,
    refine: 16,
    refineStates: 2000,
    refineWork: 12_000_000,
    maxWindows: 600,
    windowStates: 800,
    exactWork: 20_000_000,
    mipTries: 3,
    mipNodes: 900,
    mipSeconds: 5,
    polishTrials: 60_000,
    annealTrials: 250_000,
  };
  return { quick: [quick], normal: [quick, normal], thorough: [quick, normal, thorough] };
})();
