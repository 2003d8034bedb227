import { measureRoute } from '../model/grid-cost.js';
import { coarseRoute, kept } from './coarse-route.js';
import { solveFrontier } from './frontier.js';
import { Potentials, potentialBound } from './frontier-potential.js';
import { type LaneGrid, laneGrid } from './lane-grid.js';
import type { LaneSet } from './lanes.js';
import type { Mouths } from './mouths.js';
import type { ZoneSpace } from './zone-space.js';

/** Nodes of a small copy, roughly: the share of lanes kept is the same along both axes, so that what is long stays long. */
const COPY_NODES = 100;

/** Beam of each sweep over a small copy, and rounds of the ascent. */
const STATES = 15;
const ROUNDS = 40;
const SWEEPS = 2;

/** Channels at which walls begin or end, and the entry's, by axis; ascending. */
export interface Breaks {
  readonly rows: readonly number[];
  readonly columns: readonly number[];
}

/**
 * What the parity of lanes costs. Whether a route can run straight through most of a floor hangs on how many lanes,
 * odd or even, lie between one break of the walls and the next: a serpentine has to leave each part of the floor where
 * the next begins. All pairs of lane sets that agree in these parities are one class and fare alike, so what a class
 * costs beyond the bound is found out once, from a route over a coarse copy of a grid of the class, and corrected by
 * what routed choices turn out to cost.
 */
export class ParityClasses {
  /** Grid nodes times states spent. */
  work = 0;
  private readonly known = new Map<string, number>();

  constructor(
    private readonly space: ZoneSpace,
    private readonly mouths: Mouths,
    private readonly turnWeight: number,
    private readonly breaks: Breaks,
  ) {}

  /** Cost (mm2) beyond the bound to be expected of a class, from all that is known; undefined where nothing is. */
  excess(name: string): number | undefined {
    return this.known.get(name);
  }

  /** What the classes cost on average that are known. */
  meanExcess(): number {
    let sum = 0;
    for (const excess of this.known.values()) sum += excess;
    return this.known.size === 0 ? 0 : sum / this.known.size;
  }

  learn(name: string, excess: number): void {
    this.known.set(name, excess);
  }

  /** Looks at the class of two lane sets; `bound` (mm2) holds for routes over their grid. */
  look(name: string, rows: LaneSet, columns: LaneSet, { task }: Pick<LaneGrid, 'task'>, bound: number): void {
    this.known.set(name, this.turnWeight * Math.min(rows.lanes.length, columns.lanes.length));
    const route = coarseRoute(task, { nodes: COPY_NODES, maxStates: STATES });
    this.work += COPY_NODES * STATES * SWEEPS;
    if (route) this.known.set(name, Math.max(0, measureRoute(task, route).cost - bound));
    else this.lookAtFewer(name, rows, columns);
  }

  /** The same where no lanes are alike: from a grid with a share of the lanes, as if what it costs grew with their number. */
  private lookAtFewer(name: string, rows: LaneSet, columns: LaneSet): void {
    const { space, mouths, turnWeight, breaks } = this;
    const share = Math.sqrt(COPY_NODES / (rows.lanes.length * columns.lanes.length));
    const few = {
      rows: fewOf(rows, breaks.rows, share),
      columns: fewOf(columns, breaks.columns, share),
    };
    const { s, floor, usable, start, heatRadius, sums } = space;
    const grid = laneGrid(s, floor, { ...few, usable, mouths, start, turnWeight, heatRadius, sums });
    if (!grid) return;
    const [sweep, other] =
      few.columns.length <= few.rows.length ? (['rows', 'columns'] as const) : (['columns', 'rows'] as const);
    const potentials = new Potentials(grid.task);
    let cost = Infinity;
    for (const along of [sweep, other]) {
      const found = solveFrontier(grid.task, { maxStates: STATES, rounds: ROUNDS, sweep: along, potentials });
      if (found.kind === 'route') cost = Math.min(cost, found.cost);
    }
    if (cost === Infinity) return;
    const bound = potentialBound(potentials.get(sweep, ROUNDS));
    const larger = (rows.lanes.length + columns.lanes.length) / (few.rows.length + few.columns.length);
    this.known.set(name, Math.max(0, cost - bound) * larger);
  }
}

/** Parities of the lanes of a set between neighbouring breaks, a digit each. */
export function parities({ lanes }: LaneSet, breaks: readonly number[]): string {
  let name = '';
  let k = 0;
  for (const at of [...breaks, Number.POSITIVE_INFINITY]) {
    const from = k;
    while (k < lanes.length && lanes[k] < at) k++;
    name += (k - from) % 2;
  }
  return name;
}

/** Parities that differ in one place. */
export const flipped = (parity: string): string[] =>
  Array.from(parity, (digit, k) => `${parity.slice(0, k)}${digit === '0' ? 1 : 0}${parity.slice(k + 1)}`);

/** Such a share of the lanes between neighbouring breaks, as many as keep the parity. */
function fewOf({ lanes }: LaneSet, breaks: readonly number[], share: number): Int32Array {
  const below = breaks.map((at) => lanes.filter((lane) => lane < at).length);
  return Int32Array.from(kept([0, ...below, lanes.length], share), (k) => lanes[k]);
}
