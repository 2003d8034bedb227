import type { Cable } from '../problem.js';
import { edgePotential, potentialBound } from './frontier-potential.js';
import { sweepView } from './frontier-view.js';
import {
  type AxisLanes,
  axisLanes,
  crossingCount,
  expectedLength,
  type LaneChoice,
  leastGap,
} from './lane-choice.js';
import { LaneMenu } from './lane-menu.js';
import { flipped, ParityClasses } from './lane-parity.js';
import { LaneVariants, type Lengths } from './lane-variants.js';
import { mainWindow } from './length-window.js';
import { type CableWindow, FAR_OFF, missCost, missOf } from './miss-cost.js';
import type { Mouths } from './mouths.js';
import { gridOfChoice } from './route-lanes.js';
import { neededTail } from './tight-buffer.js';
import type { ZoneSpace } from './zone-space.js';

/** Turns a lane costs at least, until a bound on the turns of as many lanes is known. */
const TURNS_A_LANE = 1.4;

/** A route runs across its lanes when its length differs by this share from theirs, and far less from the others'. */
const MISLED = 0.02;
const MISLED_BETTER = 0.25;

/** Rounds of the ascent behind such a bound. */
const BOUND_ROUNDS = 20;

/** A choice of lanes, with the name of its family. */
interface Offer {
  readonly choice: LaneChoice;
  readonly family: string;
}

/** A choice to route, and the score (mm2) it should have. */
export interface Promising {
  readonly choice: LaneChoice;
  readonly promise: number;
}

/** Lane sets whose lanes lie equally far apart at least. */
interface Side {
  readonly minGap: number;
  readonly lanes: { readonly rows: AxisLanes; readonly columns: AxisLanes };
  readonly menu: LaneMenu;
  readonly classes: ParityClasses;
  /** Classes that may be offered, with their choices. */
  readonly open: Map<string, readonly Offer[]>;
  /** Open classes whose neighbours are open too. */
  readonly expanded: Set<string>;
  readonly variants: LaneVariants;
}

/**
 * Knows all lane choices of a zone and says which to route next: by cold floor, by a bound on what a route over as many
 * lanes costs, by the parity of the lanes and by how far the length misses a cable. Parities are explored from the
 * plainest lanes on, one flip at a time around the class that promises most; routed choices teach what their class
 * costs and how long the main stretch and the tail really get.
 */
export class LaneScout {
  private readonly sides: Side[];
  /** By the states they were routed with. */
  private readonly tried = new Map<number, Set<LaneChoice>>();
  /** Bound on the cost of a route, by family: choices with as many lanes along the same axis. */
  private readonly bounds = new Map<string, number>();
  /** Routed minus expected main length seen last, by axis, and by axis and parity. */
  private readonly bias = new Map<string, number>();
  /** Axes and parities whose routes turned out to run along the cross lanes, so that their main lanes say nothing. */
  private readonly misled = new Set<string>();
  /** Least turns that routes along an axis took beyond two a lane. */
  private readonly moreTurns = new Map<string, number>();
  private longestTail = 0;
  /** Nodes of the grids that a bound was sought for. */
  boundedNodes = 0;

  constructor(
    private readonly space: ZoneSpace,
    private readonly mouths: Mouths,
    private readonly turnWeight: number,
    cables: readonly Cable[],
    /** Longest stretch known to fit in the buffer, mm; null where it was not sought. */
    private readonly stretch: number | null = null,
  ) {
    const gaps = new Set(cables.map((cable) => leastGap(space, cable.minBendRadius)));
    this.sides = [...gaps].map((minGap): Side => {
      const needed = neededTail(space, cables, minGap);
      const lanes = {
        rows: axisLanes(space, 'rows', minGap, needed),
        columns: axisLanes(space, 'columns', minGap, needed),
      };
      const menu = new LaneMenu(lanes, turnWeight);
      const classes = new ParityClasses(space, mouths, turnWeight, {
        rows: lanes.rows.breaks,
        columns: lanes.columns.breaks,
      });
      const variants = new LaneVariants(space, turnWeight, lanes);
      return { minGap, lanes, menu, classes, open: new Map(), expanded: new Set(), variants };
    });
    for (const side of this.sides) for (const name of side.menu.plainest()) this.openClass(side, name);
  }

  /** Grid nodes times states spent on looking into parities. */
  get work(): number {
    return this.sides.reduce((sum, { classes }) => sum + classes.work, 0);
  }

  /**
   * The most promising choice for any of the cables that was not yet routed with this many states, and the score (mm2)
   * it should have. Parities are looked into until `work` is spent. It counts as routed from now on.
   */
  next(cables: readonly Cable[], states: number, work: number): Promising | null {
    const tried = this.tried.get(states) ?? new Set();
    this.tried.set(states, tried);
    const best = this.best(cables, tried, work);
    if (best) tried.add(best.choice);
    return best;
  }

  /** The score (mm2) that the next choice should have; Infinity where there is none. */
  promise(cables: readonly Cable[], states: number, work: number): number {
    return this.best(cables, this.tried.get(states) ?? new Set(), work)?.promise ?? Infinity;
  }

  private best(cables: readonly Cable[], tried: ReadonlySet<LaneChoice>, work: number): Promising | null {
    const windows = new Map<string, CableWindow[]>();
    for (;;) {
      let best: { side: Side; choice: LaneChoice; variant: LaneChoice | null } | null = null;
      let least = Infinity;
      const spent = this.work >= work;
      for (const side of this.sides) {
        const unknown = spent ? side.classes.meanExcess() : 0;
        for (const [name, offers] of side.open) {
          const excess = side.classes.excess(name) ?? unknown;
          const misled = {
            rows: this.misled.has(`rows ${name}`),
            columns: this.misled.has(`columns ${name}`),
          };
          for (const { choice, family } of offers) {
            if (misled[choice.axis]) continue;
            const fixed =
              choice.main.cold +
              choice.cross.cold +
              (this.bounds.get(family) ?? choice.main.lanes.length * TURNS_A_LANE * this.turnWeight) +
              excess;
            if (fixed >= least) continue;
            let within = windows.get(family);
            if (!within) {
              within = this.windows(cables, side.minGap, this.turnsOf(choice));
              windows.set(family, within);
            }
            const plain = tried.has(choice) ? Infinity : fixed + this.leastMissCost(choice, within);
            if (plain < least) {
              least = plain;
              best = { side, choice, variant: null };
            }
            const variant = side.variants.best(choice, within, this.lengths, tried, least - fixed);
            if (variant) {
              least = fixed + variant.cost;
              best = { side, choice, variant: variant.choice };
            }
          }
        }
      }
      if (!best) return null;
      const { side, choice, variant } = best;
      if (!this.lookInto(side, choice, work)) return { choice: variant ?? choice, promise: least };
    }
  }

  /** What the lanes of a choice were taken from. */
  lanesOf({ minGap }: LaneChoice): Side['lanes'] | null {
    return this.sides.find((side) => side.minGap === minGap)?.lanes ?? null;
  }

  /** mm by which a main stretch of that length misses the cable's window; Infinity when cable and lanes do not agree. */
  miss(choice: LaneChoice, cable: Cable, length: number, turns: number, tail: number): number {
    if (leastGap(this.space, cable.minBendRadius) !== choice.minGap) return Infinity;
    const [low, high] = mainWindow(this.space, cable, turns, tail);
    return low > high ? Infinity : missOf({ low, high }, length);
  }

  /** What a route over the choice turned out to be: lengths in mm, all its turns, cost and its bound in mm2. */
  learn(
    choice: LaneChoice,
    routed: {
      readonly main: number;
      readonly tail: number;
      readonly turns: number;
      readonly cost: number;
      readonly bound: number;
    },
  ): void {
    const more = Math.max(0, routed.turns - 2 * choice.main.lanes.length);
    this.moreTurns.set(choice.axis, Math.min(more, this.moreTurns.get(choice.axis) ?? Infinity));
    const bias = routed.main - choice.expected;
    const across = expectedLength(this.space, choice.cross);
    const misled =
      Math.abs(bias) > MISLED * choice.expected &&
      Math.abs(routed.main - across) < MISLED_BETTER * Math.abs(bias);
    const plain = !choice.band && !choice.thinning;
    if (misled && plain) this.misled.add(`${choice.axis} ${choice.parity}`);
    if (!misled && plain) this.bias.set(choice.axis, bias);
    this.bias.set(`${choice.axis} ${choice.parity}`, bias);
    this.longestTail = Math.max(this.longestTail, routed.tail);
    const bound = this.bounds.get(familyOf(choice));
    const excess = routed.cost - (bound ?? (plain ? routed.bound : 0));
    for (const { minGap, classes, variants } of this.sides) {
      if (minGap !== choice.minGap) continue;
      if (plain) classes.learn(choice.parity, Math.max(0, excess));
      else variants.learn(choice, excess, bias);
    }
  }

  /** Longest stretch the buffer seems to hold, mm: a generous guess from its area until one was laid. */
  tailGuess(minGap: number): number {
    if (this.stretch !== null) return Math.max(this.stretch, this.longestTail);
    if (this.longestTail > 0) return this.longestTail * 1.1;
    const { bufferArea, setting } = this.space;
    return bufferArea / (minGap * setting.lattice.pitch * 0.75);
  }

  /** Main lengths to be expected. */
  private readonly lengths: Lengths = {
    of: ({ axis, parity, expected }) =>
      expected + (this.bias.get(`${axis} ${parity}`) ?? this.bias.get(axis) ?? 0),
    bias: ({ axis, parity }) => this.bias.get(`${axis} ${parity}`),
  };

  /** Cost of missing the cable that suits the choice best; Infinity when all are too far off. */
  private leastMissCost(choice: LaneChoice, windows: readonly CableWindow[]): number {
    const length = this.lengths.of(choice);
    let least = Infinity;
    for (const { cable, low, high } of windows) {
      const miss = missOf({ low, high }, length);
      if (miss <= FAR_OFF * cable.length) least = Math.min(least, missCost(miss, cable));
    }
    return least;
  }

  /** Turns that a route over a choice is likely to take at least; those of a tight buffer decide which cables end in it. */
  private turnsOf({ axis, main }: LaneChoice): number {
    return 2 * main.lanes.length + (this.stretch === null ? 0 : (this.moreTurns.get(axis) ?? 0));
  }

  /** Length windows of the cables that go with lanes so far apart, for routes with that many turns. */
  private windows(cables: readonly Cable[], minGap: number, turns: number): CableWindow[] {
    const tail = this.tailGuess(minGap);
    return cables
      .filter((cable) => leastGap(this.space, cable.minBendRadius) === minGap)
      .map((cable) => {
        const [low, high] = mainWindow(this.space, cable, turns, tail);
        return { cable, low, high };
      })
      .filter(({ low, high }) => low <= high);
  }

  /** Whether something was found out about a choice that promises most, so that another may promise more now. */
  private lookInto(side: Side, choice: LaneChoice, work: number): boolean {
    const family = familyOf(choice);
    const gridOf = () => gridOfChoice(this.space, choice, this.mouths, this.turnWeight);
    const bound = this.bounds.get(family);
    if (bound === undefined) {
      const grid = gridOf();
      this.boundedNodes += choice.nodes;
      const view = grid && sweepView(grid.task, 'auto', false);
      this.bounds.set(family, view ? potentialBound(edgePotential(view, BOUND_ROUNDS)) : Infinity);
      return true;
    }
    const { classes, expanded } = side;
    const name = choice.parity;
    if (this.work >= work) return false;
    if (classes.excess(name) === undefined) {
      const [rows, columns] =
        choice.axis === 'rows' ? [choice.main, choice.cross] : [choice.cross, choice.main];
      const grid = gridOf();
      if (grid) classes.look(name, rows, columns, grid, bound);
      return grid !== null;
    }
    if (expanded.has(name)) return false;
    expanded.add(name);
    const [rows, columns] = name.split(' ');
    for (const other of flipped(rows)) this.openClass(side, `${other} ${columns}`);
    for (const other of flipped(columns)) this.openClass(side, `${rows} ${other}`);
    return true;
  }

  private openClass({ minGap, menu, open }: Side, name: string): void {
    if (open.has(name)) return;
    const offers = menu.choices(name).map(({ axis, main, cross }): Offer => {
      const [rows, columns] = axis === 'rows' ? [main, cross] : [cross, main];
      const nodes = crossingCount(this.space, rows, columns);
      const expected = expectedLength(this.space, main);
      const choice: LaneChoice = { axis, main, cross, minGap, nodes, expected, parity: name };
      return { choice, family: familyOf(choice) };
    });
    open.set(name, offers);
  }
}

const familyOf = ({ axis, main, minGap }: Pick<LaneChoice, 'axis' | 'main' | 'minGap'>): string =>
  `${axis} ${minGap} ${main.lanes.length}`;
