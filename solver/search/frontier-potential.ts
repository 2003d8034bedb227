import type { GridTask } from '../model/grid-task.js';
import { Ascent, cheapestEnd, cheapestPass, LEFT, UP } from './frontier-ascent.js';
import { type SweepView, sweepView } from './frontier-view.js';

/**
 * Edge potentials: multipliers of the condition that both cells of an edge agree on whether the path uses it.
 * Every cell then pays for itself: skip, corner or end, plus the potentials of its right and lower edge, minus those
 * of its left and upper edge, if used. Whatever the multipliers, the cheapest choices of all cells together are a
 * lower bound of any route; good multipliers come close to the linear relaxation of the whole problem. A state of the
 * sweep still has to pay at least `restFrom` of the next cell, plus the potentials of its open plugs, plus what the
 * cells surely skipped and the end add.
 */
export interface Potential {
  readonly right: Float64Array;
  readonly down: Float64Array;
  /** Sum over cell t and later of the cell's cheapest choice other than ending there. */
  readonly restFrom: Float64Array;
  /** What skipping the cell costs beyond its cheapest choice. */
  readonly skipExtra: Float64Array;
  /** What ending in the cell costs beyond its cheapest other choice; negative where ending is cheaper. */
  readonly endExtra: Float64Array;
}

/** Potentials are whole multiples of a power of two this much below the dearest cost: sums of them stay exact. */
const GRAIN = 2 ** -26;
/** Every so many rounds the ascent stops unless the bound has risen by this share of the dearest cost. */
const REVIEW = 20;
const STALLED = 1e-3;
/** The bound is worked out after every so many rounds. */
const ASSESS = 4;

/** Multipliers after at most `rounds` rounds of coordinate ascent, forwards and backwards by turns. Deterministic. */
export function edgePotential(view: SweepView, rounds: number): Potential {
  const ascent = new Ascent(view);
  let best = Number.NEGATIVE_INFINITY;
  const kept = ascent.pay.slice();
  let milestone = best;
  for (let round = 0; round <= rounds; round++) {
    if (round % ASSESS === 0 || round === rounds) {
      const bound = ascent.bound();
      if (bound > best) {
        best = bound;
        kept.set(ascent.pay);
      }
      if (bound === Number.POSITIVE_INFINITY) break;
    }
    if (round === rounds) break;
    if (round % REVIEW === 0) {
      if (best - milestone < STALLED * ascent.dearest) break;
      milestone = best;
    }
    ascent.round(round % 2 === 0);
  }
  return settle(view, rounded(ascent, kept));
}

/**
 * The potentials of one task, worked out once for all sweeps and windows that ask for them: whichever way a sweep goes,
 * the multipliers found along the rows hold for it.
 */
export class Potentials {
  private readonly known = new Map<string, Potential>();

  constructor(private readonly task: GridTask) {}

  get(sweep: 'rows' | 'columns', rounds: number, backward = false): Potential {
    const key = `${sweep} ${rounds} ${backward}`;
    let potential = this.known.get(key);
    if (!potential) {
      const view = sweepView(this.task, sweep, backward);
      potential =
        sweep === 'rows' && !backward
          ? edgePotential(view, rounds)
          : settle(view, turned(view, this.task, this.get('rows', rounds), backward));
      this.known.set(key, potential);
    }
    return potential;
  }
}

/** The multipliers of a forward sweep by rows, whose cells are the nodes themselves, for another view of the task. */
function turned(view: SweepView, { nx }: GridTask, rows: Multipliers, backward: boolean): Multipliers {
  const { width, node } = view;
  const size = node.length;
  const right = new Float64Array(size);
  const down = new Float64Array(size);
  /** Multiplier of the edge between two neighbouring nodes, as the first of them pays it. */
  const of = (v: number, w: number): number => {
    const low = Math.min(v, w);
    return Math.abs(v - w) === nx ? rows.down[low] : rows.right[low];
  };
  for (let t = 0; t < size; t++) {
    if (view.right[t] === 1) right[t] = of(node[t], node[t + 1]);
    if (view.down[t] !== 1) continue;
    const multiplier = of(node[t], node[t + width]);
    // Backwards the edge's later node comes first, and pays all but what it paid before.
    down[t] = backward ? -multiplier - view.downCost[t] : multiplier;
  }
  return { right, down };
}

type Multipliers = Pick<Potential, 'right' | 'down'>;

/**
 * Potential of a view that has the cells of the one `kept` was found for, but fewer choices: the same multipliers hold,
 * and the bound is at least as high.
 */
export const restrictedPotential = (view: SweepView, kept: Potential): Potential => settle(view, kept);

/** The multipliers in whole grains, edges as their later cell pays them. */
function rounded({ view, dearest, size }: Ascent, pay: Float64Array): Multipliers {
  const grain = 2 ** Math.ceil(Math.log2(dearest)) * GRAIN;
  const whole = (x: number) => Math.round(x / grain) * grain;
  const right = new Float64Array(size);
  const down = new Float64Array(size);
  for (let t = 0; t < size; t++) {
    if (view.right[t] === 1) right[t] = -whole(pay[4 * (t + 1) + LEFT]);
    if (view.down[t] === 1) down[t] = -whole(pay[4 * (t + view.width) + UP]);
  }
  return { right, down };
}

/** Adds up what all cells pay with the given multipliers. */
function settle(view: SweepView, { right, down }: Multipliers): Potential {
  const { width, rightCost, downCost } = view;
  const size = view.present.length;
  const restFrom = new Float64Array(size + 1);
  const skipExtra = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
  const endExtra = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
  for (let t = size - 1; t >= 0; t--) {
    restFrom[t] = restFrom[t + 1];
    if (view.present[t] === 0) continue;
    const l = t > 0 && view.right[t - 1] === 1 ? -right[t - 1] : Number.POSITIVE_INFINITY;
    const u = t >= width && view.down[t - width] === 1 ? -down[t - width] : Number.POSITIVE_INFINITY;
    const r = view.right[t] === 1 ? rightCost[t] + right[t] : Number.POSITIVE_INFINITY;
    const d = view.down[t] === 1 ? downCost[t] + down[t] : Number.POSITIVE_INFINITY;
    const pass = cheapestPass(view, t, l, u, r, d);
    restFrom[t] += pass;
    if (pass === Number.POSITIVE_INFINITY) continue;
    if (t !== view.start) skipExtra[t] = view.skipCost[t] - pass;
    endExtra[t] = cheapestEnd(view, t, l, u, r, d) - pass;
  }
  return { right, down, restFrom, skipExtra, endExtra };
}

/** Lower bound on the cost of any route, from the multipliers alone. */
export function potentialBound(potential: Potential): number {
  let end = Number.POSITIVE_INFINITY;
  for (const extra of potential.endExtra) if (extra < end) end = extra;
  return potential.restFrom[0] + end;
}
