import type { AxisLanes, RunAxis } from './lane-choice.js';
import { parities } from './lane-parity.js';
import type { LaneSet } from './lanes.js';

/** Lanes that carry the runs, and those across. */
export interface LanePair {
  readonly axis: RunAxis;
  readonly main: LaneSet;
  readonly cross: LaneSet;
}

/** The sets of one axis that have certain parities. */
interface Shelf {
  /** The set that leaves least cold of every number of lanes, at its number. */
  readonly sized: (LaneSet | undefined)[];
  /** The set worth most as cross lanes: few lanes that leave little cold floor. */
  cross: LaneSet;
}

const AXES = ['rows', 'columns'] as const;

/** All lane sets of a zone by the parities of their lanes between the breaks. */
export class LaneMenu {
  private readonly shelves: Readonly<Record<RunAxis, Map<string, Shelf>>>;

  constructor(
    private readonly lanes: Readonly<Record<RunAxis, AxisLanes>>,
    turnWeight: number,
  ) {
    const worth = (set: LaneSet) => set.cold + set.lanes.length * turnWeight * 0.5;
    const fill = ({ breaks, plain, wished }: AxisLanes): Map<string, Shelf> => {
      const shelves = new Map<string, Shelf>();
      for (const family of [plain, ...wished])
        for (const set of family) {
          if (!set) continue;
          const name = parities(set, breaks);
          const shelf = shelves.get(name) ?? { sized: [], cross: set };
          shelves.set(name, shelf);
          const known = shelf.sized[set.lanes.length];
          if (!known || set.cold < known.cold) shelf.sized[set.lanes.length] = set;
          if (worth(set) < worth(shelf.cross) - 1e-6) shelf.cross = set;
        }
      return shelves;
    };
    this.shelves = { rows: fill(lanes.rows), columns: fill(lanes.columns) };
  }

  /** Every number of lanes along either axis, in lanes of the given parities ("rows columns"). */
  choices(name: string): LanePair[] {
    const [rows, columns] = name.split(' ');
    const shelves = { rows: this.shelves.rows.get(rows), columns: this.shelves.columns.get(columns) };
    return AXES.flatMap((axis) => {
      const cross = shelves[axis === 'rows' ? 'columns' : 'rows']?.cross;
      if (!cross) return [];
      return (shelves[axis]?.sized ?? []).flatMap((main) =>
        main && main.lanes.length > 1 ? [{ axis, main, cross }] : [],
      );
    });
  }

  /** Parities of the sets that leave least cold for their number of lanes, with cross lanes of either parity. */
  plainest(): string[] {
    const names = new Set<string>();
    for (const axis of AXES) {
      const across = axis === 'rows' ? 'columns' : 'rows';
      const crosses = [0, 1].flatMap((odd) => {
        const best = this.plainestCross(across, odd);
        return best === null ? [] : [best];
      });
      const { plain, breaks } = this.lanes[axis];
      for (const set of plain) {
        if (!set || set.lanes.length < 2) continue;
        const own = parities(set, breaks);
        for (const cross of crosses) names.add(axis === 'rows' ? `${own} ${cross}` : `${cross} ${own}`);
      }
    }
    return [...names];
  }

  private plainestCross(axis: RunAxis, odd: number): string | null {
    const { plain, breaks } = this.lanes[axis];
    const sets = plain.filter((set): set is LaneSet => set !== null && set.lanes.length % 2 === odd);
    if (sets.length === 0) return null;
    const least = Math.min(...sets.map(({ cold }) => cold));
    const best = sets.find(({ cold }) => cold <= least + 1);
    return best ? parities(best, breaks) : null;
  }
}
