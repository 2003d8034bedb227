import { type BufferEnd, bandFor, bufferEnd, withBand } from './lane-band.js';
import type { AxisLanes, End, LaneChoice, RunAxis } from './lane-choice.js';
import { type Change, changesOf, type ThinLanes, thinLanes, thinned } from './lane-thinning.js';
import type { LaneSet } from './lanes.js';
import { type CableWindow, driftCost, FAR_OFF, missCost, missOf } from './miss-cost.js';
import type { ZoneSpace } from './zone-space.js';

/** Turns that each lane of a band adds. */
const TURNS_A_BAND_LANE = 2;

/** A way of which nothing is known is expected to lose this share of what the best of its like lost. */
const UNKNOWN_SHARE = 0.5;

const ENDS = ['low', 'high'] as const;

/** A choice made to suit a cable, and what that adds to its cost, mm2. */
export interface Variant {
  readonly choice: LaneChoice;
  readonly cost: number;
}

/** Lanes thinned at one edge, and where on either side they may change. */
interface Thinnings {
  readonly edge: End;
  readonly lanes: ThinLanes;
  readonly changes: Readonly<Record<End, readonly Change[]>>;
}

/** Main length (mm) to be expected of a choice, by name of its lanes where that is known. */
export interface Lengths {
  of(choice: LaneChoice): number;
  /** Routed minus expected length of routes over such lanes; undefined where none was seen. */
  bias(choice: Pick<LaneChoice, 'axis' | 'parity'>): number | undefined;
}

/**
 * Ways to make the lanes of a choice suit a cable that they miss: a band of lanes across before the buffer, or two
 * lanes less on one side of a change. Remembers what was made, and learns from routes what each way really costs.
 */
export class LaneVariants {
  private readonly ends: Readonly<Record<RunAxis, BufferEnd>>;
  private readonly variants = new Map<LaneChoice, Map<string, LaneChoice | null>>();
  private readonly thinnings = new Map<LaneChoice, readonly Thinnings[]>();
  /** Thinned lanes of main lanes that several choices share, null where there are none. */
  private readonly thin: Readonly<Record<RunAxis, Readonly<Record<End, Map<LaneSet, ThinLanes | null>>>>> = {
    rows: { low: new Map(), high: new Map() },
    columns: { low: new Map(), high: new Map() },
  };
  private readonly made = new Map<LaneChoice, { readonly way: string; readonly turns: number }>();
  /** What routes over variants cost beyond what was promised, mm2, by axis and way. */
  private readonly losses = new Map<string, number[]>();

  constructor(
    private readonly space: ZoneSpace,
    private readonly turnWeight: number,
    private readonly lanes: { readonly rows: AxisLanes; readonly columns: AxisLanes },
  ) {
    this.ends = { rows: bufferEnd(space, 'rows'), columns: bufferEnd(space, 'columns') };
  }

  /** The cheapest variant for any of the windows that costs less than `below` and was not tried; null if none. */
  best(
    choice: LaneChoice,
    windows: readonly CableWindow[],
    lengths: Lengths,
    tried: ReadonlySet<LaneChoice>,
    below: number,
  ): Variant | null {
    let best: Variant | null = null;
    const length = lengths.of(choice);
    for (const window of windows) {
      const { cable, low, high } = window;
      const extra = length < low || length > high ? (low + high) / 2 - length : 0;
      if (extra === 0 || Math.abs(extra) > FAR_OFF * cable.length) continue;
      const least = () => best?.cost ?? below;
      best = this.banded(choice, extra, tried, least()) ?? best;
      if (extra < 0 && -extra < this.mostCut(choice))
        best = this.thinned(choice, window, lengths, tried, least()) ?? best;
    }
    return best;
  }

  /** What a route over a variant cost (mm2) beyond the bound on routes over as many lanes, and mm it was off the length expected. */
  learn(choice: LaneChoice, excess: number, drift: number): void {
    const made = this.made.get(choice);
    if (!made) return;
    const loss = Math.max(0, excess - made.turns * this.turnWeight) + driftCost(drift);
    this.losses.set(made.way, [...(this.losses.get(made.way) ?? []), loss]);
  }

  /** What a way is likely to cost beyond its turns, mm2. */
  private lossOf(way: string): number {
    const mean = (losses: readonly number[]) => losses.reduce((sum, loss) => sum + loss, 0) / losses.length;
    const own = this.losses.get(way);
    if (own) return mean(own);
    const [axis, kind] = way.split(' ');
    const alike = [...this.losses].filter(([name]) => name.startsWith(`${axis} ${kind}`));
    return alike.length === 0 ? 0 : UNKNOWN_SHARE * Math.min(...alike.map(([, losses]) => mean(losses)));
  }

  private banded(
    choice: LaneChoice,
    extra: number,
    tried: ReadonlySet<LaneChoice>,
    below: number,
  ): Variant | null {
    const end = this.ends[choice.axis];
    const band = end && bandFor(choice, this.space, extra);
    if (!band) return null;
    const way = `${choice.axis} band`;
    const turns = TURNS_A_BAND_LANE * band.count;
    const cost = turns * this.turnWeight + this.lossOf(way);
    if (cost >= below) return null;
    const banded = this.keep(choice, `band ${band.count} ${band.gap}`, { way, turns }, () => {
      const cross = this.lanes[choice.axis === 'rows' ? 'columns' : 'rows'];
      const made = withBand(choice, this.space, cross, end, band);
      return made && { ...made, parity: `${choice.parity} band ${band.gap}` };
    });
    return banded && !tried.has(banded) ? { choice: banded, cost } : null;
  }

  private thinned(
    choice: LaneChoice,
    { cable, low, high }: CableWindow,
    lengths: Lengths,
    tried: ReadonlySet<LaneChoice>,
    below: number,
  ): Variant | null {
    let best: Variant | null = null;
    if (this.leastTurns(choice) * this.turnWeight >= below) return null;
    for (const { edge, lanes, changes } of this.thinningsOf(choice))
      for (const side of ENDS) {
        const way = `${choice.axis} thin ${edge} ${side}`;
        const cost = lanes.turns * this.turnWeight + this.lossOf(way) - choice.main.cold;
        if (cost >= (best?.cost ?? below)) continue;
        const parity = `${choice.parity} thin ${edge} ${side}`;
        const bias = lengths.bias({ axis: choice.axis, parity }) ?? lengths.of(choice) - choice.expected;
        const wanted = (low + high) / 2 - bias;
        const change = changes[side].reduce<Change | null>(
          (a, b) => (a && Math.abs(a.expected - wanted) <= Math.abs(b.expected - wanted) ? a : b),
          null,
        );
        if (!change) continue;
        const whole = cost + change.cold + missCost(missOf({ low, high }, change.expected + bias), cable);
        if (whole >= (best?.cost ?? below)) continue;
        const name = `thin ${edge} ${side} ${change.at}`;
        const made = this.keep(choice, name, { way, turns: lanes.turns }, () => ({
          ...thinned(this.space, choice, lanes, side, change),
          parity,
        }));
        if (made && !tried.has(made)) best = { choice: made, cost: whole };
      }
    return best;
  }

  /** By how much a change shortens a route at most, roughly, mm: two lanes as long as the cross lanes reach. */
  private mostCut({ cross: { lanes } }: LaneChoice): number {
    return 2 * (lanes[lanes.length - 1] - lanes[0]) * this.space.setting.lattice.pitch;
  }

  /** Turns that a change adds at least: lanes at the widest spacing in place of two more at the least. */
  private leastTurns({ minGap }: LaneChoice): number {
    const spare = this.space.setting.spacing.max - minGap;
    return spare > 0 ? 2 * Math.ceil((2 * minGap) / spare) : Infinity;
  }

  private thinningsOf(choice: LaneChoice): readonly Thinnings[] {
    const before = this.thinnings.get(choice);
    if (before) return before;
    const { space, turnWeight } = this;
    const widest = Math.max(choice.minGap, space.setting.spacing.max);
    const { axis, main } = choice;
    const made = ENDS.flatMap((edge): Thinnings[] => {
      const known = this.thin[axis][edge];
      let lanes = known.get(main);
      if (lanes === undefined) {
        lanes = thinLanes(this.lanes[axis], main, edge, widest, turnWeight);
        known.set(main, lanes);
      }
      return lanes ? [{ edge, lanes, changes: changesOf(space, choice, lanes) }] : [];
    });
    this.thinnings.set(choice, made);
    return made;
  }

  /** The variant of that name, made once so that it can be told whether it was tried. */
  private keep(
    choice: LaneChoice,
    name: string,
    promised: { readonly way: string; readonly turns: number },
    make: () => LaneChoice | null,
  ): LaneChoice | null {
    const known = this.variants.get(choice) ?? new Map<string, LaneChoice | null>();
    this.variants.set(choice, known);
    let variant = known.get(name);
    if (variant === undefined) {
      variant = make();
      known.set(name, variant);
      if (variant) this.made.set(variant, promised);
    }
    return variant;
  }
}
