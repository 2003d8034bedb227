import type { Cable, Trace } from '../problem.js';
import type { EffortBudget } from './effort.js';
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
import { endPlay, mainWindow } from './length-window.js';
import { type LaneRoute, mouthCosts, routeLanes } from './route-lanes.js';
import { shapeRoute } from './shape-route.js';
import { spine } from './spine.js';
import { buildTail, countTurns, type Tail } from './tail.js';
import type { ZoneSpace } from './zone-space.js';

export interface Found {
  readonly cable: Cable;
  readonly trace: Trace;
  /** Cold area + turns, mm2, as the search sees it (raster, tail not counted as heat). */
  readonly score: number;
  /** Null for a layout grown without lanes. */
  readonly route: LaneRoute | null;
}

export interface SearchOptions {
  readonly turnWeight: number;
  readonly budgets: readonly EffortBudget[];
  expired(): boolean;
}

export interface SearchResult {
  /** Best first. */
  readonly found: readonly Found[];
  /** Laid lengths (mm, without lead-in) the search could bring about, per cable that was tried. */
  readonly missed: ReadonlyMap<string, number>;
  readonly work: number;
}

/** Cold area (mm2) that a mm outside the length window counts while choices are screened. */
const MISS_WEIGHT = 90;

/** Lane sets of one size, and cross sets, that are told apart. */
const MAX_SETS = 6;

interface Screened {
  readonly route: LaneRoute;
  readonly score: number;
}

/** Searches one zone for the given cables: lanes by dynamic programming, route by beam, shape by local search. */
export function searchZone(space: ZoneSpace, cables: readonly Cable[], options: SearchOptions): SearchResult {
  const search = new ZoneSearch(space, options);
  for (const budget of options.budgets) {
    if (options.expired()) break;
    search.run(cables, budget);
  }
  return search.result();
}

class ZoneSearch {
  private readonly lanes = new Map<string, AxisLanes>();
  private readonly found: Found[] = [];
  private readonly missed = new Map<string, number>();
  private readonly done = new Set<string>();
  private readonly imbalances = new Map<string, number>();
  private readonly maxOutside: number;
  private readonly endCost: Float64Array;
  private readonly tailSeen = new Map<number, number>();
  /** Actual minus expected main length seen so far, by axis. */
  private readonly bias = new Map<RunAxis, number>();
  private work = 0;

  constructor(
    private readonly space: ZoneSpace,
    private readonly options: SearchOptions,
  ) {
    this.maxOutside = space.setting.spacing.max + 1;
    this.endCost = mouthCosts(space, this.maxOutside);
  }

  result(): SearchResult {
    return {
      found: [...this.found].sort((a, b) => a.score - b.score),
      missed: this.missed,
      work: this.work,
    };
  }

  run(cables: readonly Cable[], budget: EffortBudget): void {
    this.byLanes(cables, budget);
    for (const cable of [...cables].sort((a, b) => b.length - a.length)) {
      if (this.found.length > 0 || this.options.expired()) return;
      this.byLanes([cable], budget);
      if (this.found.length === 0) this.grow(cable, budget);
    }
  }

  private byLanes(cables: readonly Cable[], budget: EffortBudget): void {
    const choices = this.choices(cables);
    const screened: Screened[] = [];
    let spent = 0;
    for (let n = 0; n < budget.screens && spent < budget.screenWork && !this.options.expired(); n++) {
      const choice = this.next(choices, budget.screenStates);
      if (!choice) break;
      const nodes = choice.main.lanes.length * choice.cross.lanes.length;
      spent += nodes * budget.screenStates;
      const route = this.route(choice, budget.screenStates);
      if (route) screened.push({ route, score: this.screenScore(route) });
    }
    this.work += spent;
    screened.sort((a, b) => a.score - b.score);
    for (const { route } of screened.slice(0, budget.refine)) {
      if (this.options.expired() && this.found.length > 0) break;
      this.refine(route, budget);
    }
  }

  private axis(axis: RunAxis, minGap: number): AxisLanes {
    const key = `${axis} ${minGap}`;
    const known = this.lanes.get(key) ?? axisLanes(this.space, axis, minGap);
    this.lanes.set(key, known);
    return known;
  }

  /** Every cable with every number of lanes on either axis, most promising first. */
  private choices(cables: readonly Cable[]): LaneChoice[] {
    const choices: LaneChoice[] = [];
    const surplusCost = (2 * this.space.heatRadius) ** 2;
    for (const cable of cables) {
      const minGap = leastGap(this.space, cable.minBendRadius);
      const tail = this.tailGuess(minGap);
      for (const axis of ['rows', 'columns'] as const) {
        const lanes = this.axis(axis, minGap);
        const crosses = crossSets(
          this.axis(axis === 'rows' ? 'columns' : 'rows', minGap),
          this.options.turnWeight,
        );
        for (let n = 2; n < lanes.plain.length; n++) {
          const plain = lanes.plain[n];
          if (!plain || crosses.length === 0) continue;
          const expected = expectedLength(this.space, plain);
          const [low, high] = mainWindow(this.space, cable, 2 * n, tail);
          if (low > high) continue;
          const miss = Math.max(0, low - expected, expected - high);
          if (miss > 0.25 * cable.length) continue;
          for (const [k, main] of mainSets(lanes, n).slice(0, MAX_SETS).entries())
            for (const [c, cross] of crosses.slice(0, MAX_SETS).entries()) {
              const unlike = Math.max(0, this.imbalance(axis, main, cross) - 1) * surplusCost;
              choices.push({
                axis,
                main,
                cross,
                cable,
                expected,
                estimate:
                  main.cold +
                  cross.cold / 4 +
                  2 * n * this.options.turnWeight +
                  unlike +
                  (k + c) * 300 +
                  miss * 30,
              });
            }
        }
      }
    }
    return choices.sort((a, b) => a.estimate - b.estimate);
  }

  private imbalance(axis: RunAxis, main: LaneSet, cross: LaneSet): number {
    const key = `${axis} ${main.lanes.join(',')} ${cross.lanes.join(',')}`;
    let known = this.imbalances.get(key);
    if (known === undefined) {
      const [rows, columns] = axis === 'rows' ? [main, cross] : [cross, main];
      known = Math.abs(colourImbalance(this.space, rows.lanes, columns.lanes));
      this.imbalances.set(key, known);
    }
    return known;
  }

  /** The best choice not yet screened with this many states, its expected length corrected by what was seen. */
  private next(choices: LaneChoice[], states: number): LaneChoice | null {
    let best: LaneChoice | null = null;
    let least = Infinity;
    for (const choice of choices) {
      if (choice.estimate >= least) break;
      if (this.done.has(keyOf(choice, states))) continue;
      const minGap = leastGap(this.space, choice.cable.minBendRadius);
      const [low, high] = mainWindow(
        this.space,
        choice.cable,
        2 * choice.main.lanes.length,
        this.tailGuess(minGap),
      );
      if (low > high) continue;
      const length = choice.expected + (this.bias.get(choice.axis) ?? 0);
      const miss = Math.max(0, low - length, length - high);
      const cost = choice.estimate + miss * 60;
      if (cost < least) {
        least = cost;
        best = choice;
      }
    }
    if (best) this.done.add(keyOf(best, states));
    return best;
  }

  private route(choice: LaneChoice, states: number): LaneRoute | null {
    const minGap = leastGap(this.space, choice.cable.minBendRadius);
    const route = routeLanes(this.space, choice, this.endCost, {
      minGap,
      turnWeight: this.options.turnWeight,
      wantedTail: this.wantedTail(choice),
      maxOutside: this.maxOutside,
      maxStates: states,
    });
    if (route) {
      this.tailSeen.set(minGap, Math.max(this.tailSeen.get(minGap) ?? 0, route.tail.length));
      const bias = this.mainLength(route) - choice.expected;
      this.bias.set(choice.axis, bias);
    }
    return route;
  }

  /** mm from the first node to the first node in the buffer. */
  private mainLength({ studs, tail }: LaneRoute): number {
    const upTo = studs.slice(0, studs.length - tail.nodes.length + tail.outside + 1);
    const { lattice } = this.space.setting;
    return (upTo.length - 1) * lattice.pitch - countTurns(upTo) * (2 - Math.PI / 2) * (lattice.pitch / 2);
  }

  /** Longest stretch the buffer seems to hold: what was seen, or a generous guess from its area. */
  private tailGuess(minGap: number): number {
    const seen = this.tailSeen.get(minGap);
    if (seen !== undefined) return seen * 1.05;
    const { bufferArea, setting } = this.space;
    return bufferArea / (minGap * setting.lattice.pitch * 0.75);
  }

  private wantedTail(choice: LaneChoice): number {
    const run = choice.main.runLength / choice.main.lanes.length;
    return 2 * endPlay(this.space, choice.cable, 2 * choice.main.lanes.length + 12) + 2 * run + 200;
  }

  private screenScore(route: LaneRoute): number {
    const turns = route.route.turns + route.tail.turns;
    const [low, high] = mainWindow(this.space, route.choice.cable, turns, route.tail.length);
    const main = this.mainLength(route);
    const hopeless = high < low ? (low - high) * 1000 : 0;
    const miss = Math.max(0, low - main, main - high);
    return route.route.cost + route.choice.main.cold + miss * MISS_WEIGHT + hopeless;
  }

  /** Shapes a route on the stud lattice, fits its length to the cable and keeps it when it is legal. */
  private refine(screened: LaneRoute, budget: EffortBudget): void {
    const { choice } = screened;
    let route = screened;
    if (budget.refineStates > budget.screenStates) {
      const better = this.route(choice, budget.refineStates);
      if (better && this.screenScore(better) < this.screenScore(screened)) route = better;
    }
    this.keep(choice.cable, route.studs, route.tail, budget, route);
  }

  private keep(
    cable: Cable,
    studs: readonly number[],
    tail: Tail,
    budget: EffortBudget,
    route: LaneRoute | null,
  ): void {
    const shaped = shapeRoute(this.space, cable, studs, tail, {
      turnWeight: this.options.turnWeight,
      minGap: leastGap(this.space, cable.minBendRadius),
      polishTrials: budget.polishTrials,
      annealTrials: budget.annealTrials,
    });
    this.work += shaped.work;
    if (shaped.kind === 'fitted') {
      this.found.push({ cable, trace: shaped.trace, score: shaped.score, route });
      return;
    }
    const known = this.missed.get(cable.id);
    if (known === undefined || Math.abs(shaped.by) < Math.abs(known)) this.missed.set(cable.id, shaped.by);
  }

  /** A cable that suits no lane set: the shortest way to the buffer, grown finger by finger. */
  private grow(cable: Cable, budget: EffortBudget): void {
    const way = spine(this.space, this.endCost);
    if (!way) return;
    const minGap = leastGap(this.space, cable.minBendRadius);
    const tail = buildTail(this.space.s, way, {
      buffer: this.space.buffer,
      minGap,
      wanted: 2 * endPlay(this.space, cable, 40) + 500,
      maxOutside: this.maxOutside,
      maxStates: budget.screenStates,
    });
    if (tail) this.keep(cable, [...way, ...tail.nodes], tail, budget, null);
  }
}

const keyOf = (choice: LaneChoice, states: number): string =>
  `${states} ${choice.cable.id} ${choice.axis} ${choice.main.lanes.join(',')} ${choice.cross.lanes.join(',')}`;

/** Usable crossings on even minus odd squares: a path visits both colours alike, so the surplus stays cold. */
function colourImbalance({ s, usable }: ZoneSpace, rows: Int32Array, columns: Int32Array): number {
  let balance = 0;
  for (let j = 0; j < rows.length; j++)
    for (let i = 0; i < columns.length; i++)
      if (usable[rows[j] * s.nx + columns[i]]) balance += (i + j) % 2 === 0 ? 1 : -1;
  return balance;
}
