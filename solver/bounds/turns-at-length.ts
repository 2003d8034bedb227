import type { GridTask } from '../model/grid-task.js';
import { edgePotential, potentialBound } from '../search/frontier-potential.js';
import { sweepView } from '../search/frontier-view.js';
import { ROUNDING } from './turns.js';

/** What a route's length is made of, and how long it may be. */
export interface LengthCondition {
  /** Length of the edge from node v to its eastern and its northern neighbour, mm, corners sharp. */
  readonly east: Float64Array;
  readonly north: Float64Array;
  /** By how much a rounded corner is shorter than a sharp one, mm. */
  readonly cornerSaving: number;
  /** Laid length from the first node to the last, mm. */
  readonly least: number;
  readonly most: number;
}

/** First price of length tried, turns a mm, and how often it is doubled; the interval that is left is then cut so often. */
const FIRST_PRICE = 0.0005;
const DOUBLINGS = 6;
const CUTS = 3;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/**
 * Bound on the turns of every path of such a length from the task's start to one of its ends that visits all present
 * nodes once, along the task's edges; never below 0. `rounds` of ascent are spent on each price tried.
 *
 * Proof: let a path have t turns and length l in [least, most], and let p be a price a mm. For p >= 0,
 * t >= t + p (l - most), and for p < 0, t >= t + p (l - least). As l is a sum over edges less the saving at each
 * corner, t + p l is the cost of the path when a corner costs 1 - p saving and an edge p times its length. The potentials
 * bound that cost from below for all covering paths (see `fewestTurns`). All of these have equally many edges, so the
 * same amount may be added to each edge, which keeps costs above 0, and taken off in the end. Concave in p: the best
 * price is found by doubling and cutting.
 */
export function fewestTurnsAtLength(task: GridTask, length: LengthCondition, rounds: number): number {
  const edges = task.present.reduce((sum, there) => sum + there, 0) - 1;
  if (edges < 1) return 0;
  const longest = Math.max(...length.east, ...length.north);
  const mandatory = {
    ...task,
    endCost: task.endCost.map((cost) => (cost === Number.POSITIVE_INFINITY ? cost : 0)),
    skipCost: task.skipCost.map(() => Number.POSITIVE_INFINITY),
  };
  const at = (price: number): number => {
    const shift = Math.max(0, -price * longest);
    const view = sweepView(
      {
        ...mandatory,
        eastCost: length.east.map((mm) => price * mm + shift),
        northCost: length.north.map((mm) => price * mm + shift),
        turnCost: task.turnCost.map(() => 1 - price * length.cornerSaving),
      },
      'auto',
      false,
    );
    if (view.unreachable === Number.POSITIVE_INFINITY) return Number.POSITIVE_INFINITY;
    const cost = potentialBound(edgePotential(view, rounds)) - shift * edges;
    return cost - price * (price >= 0 ? length.most : length.least);
  };
  const bound = climb(at);
  return bound === Number.POSITIVE_INFINITY ? bound : Math.max(0, Math.ceil(bound - ROUNDING));
}

/** Highest value found of a concave function of the price, from 0 on to the side where it rises. */
function climb(at: (price: number) => number): number {
  let best = at(0);
  if (!Number.isFinite(best)) return best;
  for (const side of [1, -1]) {
    let [low, middle] = [0, side * FIRST_PRICE];
    let value = at(middle);
    if (value <= best) continue;
    let high = 2 * middle;
    for (let k = 0; k < DOUBLINGS; k++, high *= 2) {
      const further = at(high);
      if (further <= value) break;
      [low, middle, value] = [middle, high, further];
    }
    for (let k = 0; k < CUTS; k++) {
      const wider = Math.abs(high - middle) > Math.abs(middle - low) ? high : low;
      const between = wider + (middle - wider) * GOLDEN;
      const there = at(between);
      if (there > value) {
        if (wider === high) low = middle;
        else high = middle;
        [middle, value] = [between, there];
      } else if (wider === high) high = between;
      else low = between;
    }
    best = Math.max(best, value);
    break;
  }
  return best;
}
