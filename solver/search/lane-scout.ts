import type { Cable } from '../problem.js';
import {
  type AxisLanes,
  axisLanes,
  crossSets,
  expectedLength,
  type LaneChoice,
  leastGap,
  mainSets,
  type RunAxis,
} from './lane-choice.js';
import type { LaneSet } from './lanes.js';
import { mainWindow } from './length-window.js';
import type { ZoneSpace } from './zone-space.js';

/** Lane sets of one size, and cross sets, that are told apart. */
const MAX_SETS = 6;

/** Cold area (mm2) that a mm outside a cable's length window counts while lanes are chosen. */
export const MISS_WEIGHT = 90;

/** A choice is not tried for a cable it misses by more than this share of the cable's length. */
const FAR_OFF = 0.25;

/**
 * Knows all lane choices of a zone and says which to route next, learning from routed ones how long the main stretch
 * and the tail really get.
 */
export class LaneScout {
  private readonly choices: LaneChoice[] = [];
  private readonly tried = new Set<string>();
  /** Routed minus expected main length seen last, by axis. */
  private readonly bias = new Map<RunAxis, number>();
  private longestTail = 0;

  constructor(
    private readonly space: ZoneSpace,
    private readonly turnWeight: number,
    cables: readonly Cable[],
  ) {
    const gaps = new Set(cables.map((cable) => leastGap(space, cable.minBendRadius)));
    for (const minGap of gaps) {
      const lanes = { rows: axisLanes(space, 'rows', minGap), columns: axisLanes(space, 'columns', minGap) };
      this.add('rows', lanes.rows, lanes.columns, minGap);
      this.add('columns', lanes.columns, lanes.rows, minGap);
    }
    this.choices.sort((a, b) => a.estimate - b.estimate);
  }

  /**
   * The most promising choice for any of the cables that was not yet routed with this many states, and the score (mm2)
   * it would have if its lanes could all be run without a turn too many.
   */
  next(cables: readonly Cable[], states: number): { choice: LaneChoice; promise: number } | null {
    let best: LaneChoice | null = null;
    let least = Infinity;
    for (const choice of this.choices) {
      if (choice.estimate >= least) break;
      if (this.tried.has(keyOf(choice, states))) continue;
      const length = choice.expected + (this.bias.get(choice.axis) ?? 0);
      const turns = 2 * choice.main.lanes.length;
      for (const cable of cables) {
        const miss = this.miss(choice, cable, length, turns, this.tailGuess(choice.minGap));
        if (miss > FAR_OFF * cable.length) continue;
        const cost = choice.estimate + miss * MISS_WEIGHT;
        if (cost < least) {
          least = cost;
          best = choice;
        }
      }
    }
    if (!best) return null;
    this.tried.add(keyOf(best, states));
    return { choice: best, promise: least };
  }

  /** mm by which a main stretch of that length misses the cable's window; Infinity when cable and lanes do not agree. */
  miss(choice: LaneChoice, cable: Cable, length: number, turns: number, tail: number): number {
    if (leastGap(this.space, cable.minBendRadius) !== choice.minGap) return Infinity;
    const [low, high] = mainWindow(this.space, cable, turns, tail);
    return low > high ? Infinity : Math.max(0, low - length, length - high);
  }

  learn(choice: LaneChoice, mainLength: number, tailLength: number): void {
    this.bias.set(choice.axis, mainLength - choice.expected);
    this.longestTail = Math.max(this.longestTail, tailLength);
  }

  /** Longest stretch the buffer seems to hold, mm: a generous guess from its area until one was laid. */
  tailGuess(minGap: number): number {
    if (this.longestTail > 0) return this.longestTail * 1.3;
    const { bufferArea, setting } = this.space;
    return bufferArea / (minGap * setting.lattice.pitch * 0.75);
  }

  private add(axis: RunAxis, lanes: AxisLanes, across: AxisLanes, minGap: number): void {
    const crosses = crossSets(across, this.turnWeight).slice(0, MAX_SETS);
    const surplusCost = (2 * this.space.heatRadius) ** 2;
    for (let n = 2; n < lanes.plain.length; n++) {
      for (const [k, main] of mainSets(lanes, n).slice(0, MAX_SETS).entries()) {
        const expected = expectedLength(this.space, main);
        for (const [c, cross] of crosses.entries()) {
          const [rows, columns] = axis === 'rows' ? [main, cross] : [cross, main];
          const [even, odd] = crossings(this.space, rows, columns);
          const surplus = Math.max(0, Math.abs(even - odd) - 1);
          const estimate =
            main.cold +
            cross.cold / 4 +
            2 * n * this.turnWeight +
            surplus * surplusCost +
            (k + c) * ORDER_COST;
          this.choices.push({ axis, main, cross, minGap, nodes: even + odd, expected, estimate });
        }
      }
    }
  }
}

/** Keeps equal choices in the order of their lane costs, mm2. */
const ORDER_COST = 300;

const keyOf = (choice: LaneChoice, states: number): string =>
  `${states} ${choice.axis} ${choice.minGap} ${choice.main.lanes.join(',')} ${choice.cross.lanes.join(',')}`;

/** Usable crossings on even and on odd squares: a path visits both alike, so a surplus of either stays cold. */
function crossings({ s, usable }: ZoneSpace, rows: LaneSet, columns: LaneSet): [number, number] {
  const count: [number, number] = [0, 0];
  for (let j = 0; j < rows.lanes.length; j++)
    for (let i = 0; i < columns.lanes.length; i++)
      if (usable[rows.lanes[j] * s.nx + columns.lanes[i]]) count[(i + j) % 2]++;
  return count;
}
