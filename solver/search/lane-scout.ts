import type { Cable } from '../problem.js';
import { edgePotential, potentialBound } from './frontier-potential.js';
import { sweepView } from './frontier-view.js';
import { type Band, type BufferEnd, bandFor, bufferEnd, withBand } from './lane-band.js';
import {
  type AxisLanes,
  axisLanes,
  crossingCount,
  expectedLength,
  type LaneChoice,
  leastGap,
  type RunAxis,
} from './lane-choice.js';
import { LaneMenu } from './lane-menu.js';
import { flipped, ParityClasses } from './lane-parity.js';
import { endPlay, mainWindow } from './length-window.js';
import type { Mouths } from './mouths.js';
import { gridOfChoice } from './route-lanes.js';
import type { ZoneSpace } from './zone-space.js';

/** Cold area (mm2) that a mm outside a cable's length window counts while lanes are chosen. */
const MISS_WEIGHT = 90;
/** The same for the first mm, up to this share of the cable: shaping makes them up. */
const SMALL_MISS_WEIGHT = 25;
const SMALL_MISS = 0.02;

/** A choice is not tried for a cable it misses by more than this share of the cable's length. */
const FAR_OFF = 0.25;

/** Turns a lane costs at least, until a bound on the turns of as many lanes is known. */
const TURNS_A_LANE = 1.4;

/** A route runs across its lanes when its length differs by this share from theirs, and far less from the others'. */
const MISLED = 0.02;
const MISLED_BETTER = 0.25;

/** Turns that each lane of a band adds. */
const TURNS_A_BAND_LANE = 2;

/** Rounds of the ascent behind such a bound. */
const BOUND_ROUNDS = 40;

/** What missing a cable's length window is expected to cost, mm2. */
export function missCost(miss: number, cable: Cable): number {
  const small = Math.min(miss, SMALL_MISS * cable.length);
  return small * SMALL_MISS_WEIGHT + (miss - small) * MISS_WEIGHT;
}

/** Main lengths (mm) with which a cable's end stays in the buffer. */
interface Window {
  readonly cable: Cable;
  readonly low: number;
  readonly high: number;
}

/** Lane sets whose lanes lie equally far apart at least. */
interface Side {
  readonly minGap: number;
  readonly lanes: { readonly rows: AxisLanes; readonly columns: AxisLanes };
  readonly menu: LaneMenu;
  readonly classes: ParityClasses;
  /** Classes that may be offered, with their choices. */
  readonly open: Map<string, readonly LaneChoice[]>;
  /** Open classes whose neighbours are open too. */
  readonly expanded: Set<string>;
  /** Where the buffer lies across the lanes of an axis, and the choices with a band made for that. */
  readonly ends: Readonly<Record<RunAxis, BufferEnd>>;
  readonly bands: Map<LaneChoice, Map<string, LaneChoice | null>>;
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
  /** What routes over choices with a band cost beyond what was promised, mm2, by axis. */
  private readonly bandLosses = new Map<RunAxis, number[]>();
  private longestTail = 0;

  constructor(
    private readonly space: ZoneSpace,
    private readonly mouths: Mouths,
    private readonly turnWeight: number,
    cables: readonly Cable[],
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
      const ends = { rows: bufferEnd(space, 'rows'), columns: bufferEnd(space, 'columns') };
      return { minGap, lanes, menu, classes, open: new Map(), expanded: new Set(), ends, bands: new Map() };
    });
    for (const side of this.sides) for (const name of side.menu.plainest()) this.openClass(side, name);
  }

  /** Grid nodes times states spent on looking into parities. */
  get work(): number {
    return this.sides.reduce((sum, { classes }) => sum + classes.work, 0);
  }

  /**
   * The most promising choice for any of the cables that was not yet routed with this many states, and the score (mm2)
   * it should have. Parities are looked into until `work` is spent.
   */
  next(
    cables: readonly Cable[],
    states: number,
    work: number,
  ): { choice: LaneChoice; promise: number } | null {
    const tried = this.tried.get(states) ?? new Set();
    this.tried.set(states, tried);
    const windows = new Map<string, Window[]>();
    for (;;) {
      let best: { side: Side; choice: LaneChoice; banded: LaneChoice | null } | null = null;
      let least = Infinity;
      const spent = this.work >= work;
      for (const side of this.sides) {
        const unknown = spent ? side.classes.meanExcess() : 0;
        for (const [name, choices] of side.open) {
          const excess = side.classes.excess(name) ?? unknown;
          for (const choice of choices) {
            const family = familyOf(choice);
            let within = windows.get(family);
            if (!within) {
              within = this.windows(cables, side.minGap, 2 * choice.main.lanes.length);
              windows.set(family, within);
            }
            const fixed =
              choice.main.cold +
              choice.cross.cold +
              (this.bounds.get(family) ?? choice.main.lanes.length * TURNS_A_LANE * this.turnWeight) +
              excess;
            if (fixed >= least) continue;
            if (this.misled.has(`${choice.axis} ${name}`)) continue;
            const plain = tried.has(choice) ? Infinity : fixed + this.leastMissCost(choice, within);
            if (plain < least) {
              least = plain;
              best = { side, choice, banded: null };
            }
            const banded = this.bandFor(side, choice, within, tried);
            if (banded && fixed + banded.cost < least) {
              least = fixed + banded.cost;
              best = { side, choice, banded: banded.choice };
            }
          }
        }
      }
      if (!best) return null;
      const { side, choice, banded } = best;
      if (this.lookInto(side, choice, work)) continue;
      tried.add(banded ?? choice);
      return { choice: banded ?? choice, promise: least };
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
    return low > high ? Infinity : Math.max(0, low - length, length - high);
  }

  /** What a route over the choice turned out to be: lengths in mm, cost and its bound in mm2. */
  learn(
    choice: LaneChoice,
    routed: { readonly main: number; readonly tail: number; readonly cost: number; readonly bound: number },
  ): void {
    const bias = routed.main - choice.expected;
    const across = expectedLength(this.space, choice.cross);
    const misled =
      Math.abs(bias) > MISLED * choice.expected &&
      Math.abs(routed.main - across) < MISLED_BETTER * Math.abs(bias);
    if (misled && !choice.band) this.misled.add(`${choice.axis} ${choice.parity}`);
    if (!misled && !choice.band) this.bias.set(choice.axis, bias);
    this.bias.set(`${choice.axis} ${choice.parity}`, bias);
    this.longestTail = Math.max(this.longestTail, routed.tail);
    if (choice.band) {
      this.learnBand(choice, choice.band, routed.cost, Math.abs(bias));
      return;
    }
    const bound = this.bounds.get(familyOf(choice)) ?? routed.bound;
    for (const { minGap, classes } of this.sides)
      if (minGap === choice.minGap) classes.learn(choice.parity, Math.max(0, routed.cost - bound));
  }

  private learnBand(choice: LaneChoice, band: Band, cost: number, bias: number): void {
    const lanes = choice.cross.lanes.filter((c) => c > band.from && c <= band.to).length;
    const promised = (this.bounds.get(familyOf(choice)) ?? 0) + TURNS_A_BAND_LANE * lanes * this.turnWeight;
    const loss = Math.max(0, cost - promised) + bias * SMALL_MISS_WEIGHT;
    this.bandLosses.set(choice.axis, [...(this.bandLosses.get(choice.axis) ?? []), loss]);
  }

  /** What a band on the lanes of an axis is likely to cost beyond its turns, mm2. */
  private bandLoss(axis: RunAxis): number {
    const losses = this.bandLosses.get(axis) ?? [];
    return losses.reduce((sum, loss) => sum + loss, 0) / Math.max(1, losses.length);
  }

  /** Longest stretch the buffer seems to hold, mm: a generous guess from its area until one was laid. */
  tailGuess(minGap: number): number {
    if (this.longestTail > 0) return this.longestTail * 1.3;
    const { bufferArea, setting } = this.space;
    return bufferArea / (minGap * setting.lattice.pitch * 0.75);
  }

  /** Main length to be expected, mm. */
  private lengthOf({ axis, parity, expected }: LaneChoice): number {
    return expected + (this.bias.get(`${axis} ${parity}`) ?? this.bias.get(axis) ?? 0);
  }

  /** Cost of missing the cable that suits the choice best; Infinity when all are too far off. */
  private leastMissCost(choice: LaneChoice, windows: readonly Window[]): number {
    const length = this.lengthOf(choice);
    let least = Infinity;
    for (const { cable, low, high } of windows) {
      const miss = Math.max(0, low - length, length - high);
      if (miss <= FAR_OFF * cable.length) least = Math.min(least, missCost(miss, cable));
    }
    return least;
  }

  /** The cheapest way to meet a cable by a band of lanes across before the buffer, and what it adds, mm2. */
  private bandFor(
    side: Side,
    choice: LaneChoice,
    windows: readonly Window[],
    tried: ReadonlySet<LaneChoice>,
  ): { choice: LaneChoice; cost: number } | null {
    const end = side.ends[choice.axis];
    if (!end) return null;
    const length = this.lengthOf(choice);
    const loss = this.bandLoss(choice.axis);
    let best: { choice: LaneChoice; cost: number } | null = null;
    for (const { cable, low, high } of windows) {
      const extra = length < low || length > high ? (low + high) / 2 - length : 0;
      if (extra === 0 || Math.abs(extra) > FAR_OFF * cable.length) continue;
      const band = bandFor(choice, this.space, extra);
      if (!band) continue;
      const cost = TURNS_A_BAND_LANE * band.count * this.turnWeight + loss;
      if (best && cost >= best.cost) continue;
      const banded = this.banded(side, choice, end, band);
      if (banded && !tried.has(banded)) best = { choice: banded, cost };
    }
    return best;
  }

  private banded(
    side: Side,
    choice: LaneChoice,
    end: Exclude<BufferEnd, null>,
    band: { readonly count: number; readonly gap: number },
  ): LaneChoice | null {
    const known = side.bands.get(choice) ?? new Map<string, LaneChoice | null>();
    side.bands.set(choice, known);
    const key = `${band.count} ${band.gap}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const cross = side.lanes[choice.axis === 'rows' ? 'columns' : 'rows'];
    const made = withBand(choice, this.space, cross, end, band);
    const banded = made && { ...made, parity: `${choice.parity} band ${band.gap}` };
    known.set(key, banded);
    return banded;
  }

  /** Length windows of the cables that go with lanes so far apart, for routes with that many turns. */
  private windows(cables: readonly Cable[], minGap: number, turns: number): Window[] {
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
    if (!this.bounds.has(family)) {
      const grid = gridOfChoice(this.space, choice, this.mouths, this.turnWeight);
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
      classes.look(name, rows, columns);
      return true;
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
    const choices = menu.choices(name).map(({ axis, main, cross }): LaneChoice => {
      const [rows, columns] = axis === 'rows' ? [main, cross] : [cross, main];
      const nodes = crossingCount(this.space, rows, columns);
      return { axis, main, cross, minGap, nodes, expected: expectedLength(this.space, main), parity: name };
    });
    open.set(name, choices);
  }
}

const familyOf = ({ axis, main, minGap }: Pick<LaneChoice, 'axis' | 'main' | 'minGap'>): string =>
  `${axis} ${minGap} ${main.lanes.length}`;

/** Length of cable (mm) that a buffer must hold at least, for a cable about as long as the floor asks for. */
function neededTail(space: ZoneSpace, cables: readonly Cable[], minGap: number): number {
  const spacing = 2 * space.heatRadius;
  const length = space.floor.total / spacing;
  const turns = (2 * Math.sqrt(space.floor.total)) / spacing;
  const plays = cables
    .filter(({ minBendRadius }) => leastGap(space, minBendRadius) === minGap)
    .map((cable) => endPlay(space, { ...cable, length }, turns));
  return 2 * Math.min(...plays);
}
