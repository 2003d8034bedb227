import { solveFrontier } from './frontier.js';
import { Potentials, potentialBound } from './frontier-potential.js';
import { laneGrid } from './lane-grid.js';
import type { LaneSet } from './lanes.js';
import type { Mouths } from './mouths.js';
import type { ZoneSpace } from './zone-space.js';

/** Lanes that a small copy of a grid keeps between two breaks, or one less where the parity asks for it. */
const KEPT = 5;

/** Beam on a small copy, and rounds of its ascent. */
const STATES = 30;
const ROUNDS = 40;

/** Channels at which walls begin or end, and the entry's, by axis; ascending. */
export interface Breaks {
  readonly rows: readonly number[];
  readonly columns: readonly number[];
}

/**
 * What the parity of lanes costs. Whether a route can run straight through most of a floor hangs on how many lanes,
 * odd or even, lie between one break of the walls and the next: a serpentine has to leave each part of the floor where
 * the next begins. All pairs of lane sets that agree in these parities are one class and fare alike, so what a class
 * costs beyond the bound is found out once, on a copy of the grid with few lanes between the breaks, and corrected by
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

  /** Looks at the class of two lane sets on a small copy of their grid. */
  look(name: string, rows: LaneSet, columns: LaneSet): void {
    const { space, mouths, turnWeight, breaks } = this;
    const few = { rows: thinned(rows.lanes, breaks.rows), columns: thinned(columns.lanes, breaks.columns) };
    const { s, floor, usable, start, heatRadius, sums } = space;
    const grid = laneGrid(s, floor, { ...few, usable, mouths, start, turnWeight, heatRadius, sums });
    this.known.set(name, 0);
    if (!grid) return;
    const sweep = few.columns.length <= few.rows.length ? 'rows' : 'columns';
    const potentials = new Potentials(grid.task);
    const found = solveFrontier(grid.task, { maxStates: STATES, rounds: ROUNDS, sweep, potentials });
    this.work += few.rows.length * few.columns.length * STATES;
    if (found.kind !== 'route') return;
    const bound = potentialBound(potentials.get(sweep, ROUNDS));
    const larger = (rows.lanes.length + columns.lanes.length) / (few.rows.length + few.columns.length);
    this.known.set(name, Math.max(0, found.cost - bound) * larger);
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

/** The first and the last lanes between neighbouring breaks, as many as keep the parity. */
function thinned(lanes: Int32Array, breaks: readonly number[]): Int32Array {
  const kept: number[] = [];
  let from = 0;
  for (const at of [...breaks, Number.POSITIVE_INFINITY]) {
    let to = from;
    while (to < lanes.length && lanes[to] < at) to++;
    const count = to - from;
    const few = count <= KEPT ? count : KEPT - ((KEPT - count) & 1);
    const first = Math.ceil(few / 2);
    for (let k = from; k < from + first; k++) kept.push(lanes[k]);
    for (let k = to - (few - first); k < to; k++) kept.push(lanes[k]);
    from = to;
  }
  return Int32Array.from(kept);
}
