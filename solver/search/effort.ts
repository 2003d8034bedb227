import type { Effort } from '../problem.js';

/** Counted work per zone. Each level does all that the one below does, then more. */
export interface EffortBudget {
  /** States of the beam that screens lane choices. */
  readonly screenStates: number;
  /** Grid nodes times states that screening may spend. */
  readonly screenWork: number;
  /** Most lane choices screened. */
  readonly screens: number;
  /** How many screened choices are worked out. */
  readonly refine: number;
  readonly refineStates: number;
  readonly polishTrials: number;
  readonly annealTrials: number;
  /** Parts of a route solved anew after the beam, and the states each may take. */
  readonly maxWindows: number;
  readonly windowStates: number;
  /** Grid nodes times states that solving a narrow grid to the end may take. */
  readonly exactWork: number;
  /** Largest grid handed to the integer programme, nodes; its guard in seconds. */
  readonly mipNodes: number;
  readonly mipSeconds: number;
}

export const EFFORTS: Readonly<Record<Effort, readonly EffortBudget[]>> = (() => {
  const quick: EffortBudget = {
    screenStates: 60,
    screenWork: 240_000,
    screens: 14,
    refine: 2,
    refineStates: 200,
    polishTrials: 6000,
    annealTrials: 10_000,
    maxWindows: 60,
    windowStates: 200,
    exactWork: 1_200_000,
    mipNodes: 150,
    mipSeconds: 1.5,
  };
  const normal: EffortBudget = {
    screenStates: 100,
    screenWork: 4_000_000,
    screens: 60,
    refine: 8,
    refineStates: 1000,
    polishTrials: 30_000,
    annealTrials: 60_000,
    maxWindows: 300,
    windowStates: 400,
    exactWork: 15_000_000,
    mipNodes: 600,
    mipSeconds: 3,
  };
  const thorough: EffortBudget = {
    screenStates: 200,
    screenWork: 30_000_000,
    screens: 200,
    refine: 20,
    refineStates: 4000,
    polishTrials: 100_000,
    annealTrials: 600_000,
    maxWindows: 1000,
    windowStates: 1000,
    exactWork: 100_000_000,
    mipNodes: 1200,
    mipSeconds: 12,
  };
  return { quick: [quick], normal: [quick, normal], thorough: [quick, normal, thorough] };
})();
