import type { GridTask } from '../model/grid-task.js';
import { seeded } from './random.js';
import { RouteLinks } from './route-links.js';

export interface FlipBudget {
  /** Changes weighed. */
  readonly trials: number;
  /** Cost of a corner, mm2, by which the temperature is set. */
  readonly turnWeight: number;
  /** What a piece of one lane gap between opposite corners costs beside them, in turns. */
  readonly stepTurns: number;
}

/** First and last temperature, in turns. */
const HOT = 0.7;
const COOL = 0.1;

/** Share of the trials that begin at a corner of the route: few others lead anywhere. */
const AT_CORNERS = 0.9;

/** Longest stretch that is cut out and put back elsewhere, nodes. */
const LONGEST = 400;

/** A route is better when it costs less by at least so much, mm2. */
const LEAST_GAIN = 1e-6;

/**
 * Improves a legal route by flipping squares of the grid, with simulated annealing: nodes are taken in or left out, a
 * stretch between neighbouring runs is reversed, or it is cut out as a cycle and merged into the route wherever that
 * costs least. Other than windows of the grid, this moves what is wrong with a route from one place to a far one, and it
 * can count what a frontier cannot, such as steps. Nodes of the best route met; the very same where none was better.
 * Moves of Hamiltonian paths on grids as in polymer models (from memory).
 */
export function flipRoute(task: GridTask, route: Int32Array, budget: FlipBudget): Int32Array {
  const least = Math.min(task.nx, task.ny);
  if (least < 2 || route.length < 3) return route;
  const { trials, turnWeight, stepTurns } = budget;
  const flipper = new Flipper(new RouteLinks(task, route, stepTurns * turnWeight), seeded(route.length));
  const cooling = (COOL / HOT) ** (1 / trials);
  let temperature = HOT * turnWeight;
  let best = -LEAST_GAIN;
  let kept = route;
  for (let n = 0; n < trials; n++, temperature *= cooling) {
    flipper.attempt(temperature);
    if (flipper.change >= best) continue;
    best = flipper.change - LEAST_GAIN;
    kept = flipper.route();
  }
  return kept;
}

class Flipper {
  /** mm2 by which the route costs more than at first. */
  change = 0;
  private readonly spare: Int32Array;

  constructor(
    private readonly links: RouteLinks,
    private readonly random: () => number,
  ) {
    this.spare = new Int32Array(links.nodes.length);
  }

  route(): Int32Array {
    return this.links.nodes.slice(0, this.links.length);
  }

  /** Tries one change, and makes it when it costs no more than chance allows at that temperature (mm2). */
  attempt(temperature: number): void {
    const { links, random } = this;
    const { nodes, task } = links;
    let k = Math.floor(random() * (links.length - 1));
    if (random() < AT_CORNERS) {
      while (k < links.length - 1 && !links.isCorner(k)) k++;
      if (random() < 0.5) k--;
      if (k >= links.length - 1) return;
    }
    const v = nodes[k];
    const w = nodes[k + 1];
    const along = w - v;
    const side = (along === 1 || along === -1 ? task.nx : 1) * (random() < 0.5 ? 1 : -1);
    const low = Math.min(v, w, v + side, w + side);
    if (low < 0 || low + task.nx + 1 >= nodes.length || !links.isSquare(low)) return;
    const p = links.place[v + side];
    const q = links.place[w + side];
    const allowed = -temperature * Math.log(Math.max(1e-12, random()));
    if (p < 0 && q < 0) this.takeIn(k, side, low, allowed);
    else if (p >= 0 && q >= 0) {
      if (p === k - 1 && q === k + 2) this.leaveOut(k, low, allowed);
      else if (p - q === 1) this.cutOut(Math.min(k, q), Math.max(k, q), low, allowed);
      else if (q - p === 1) this.reverse(Math.min(k, p), Math.max(k, p), low, allowed);
    } else if (q < 0 && p === k - 1) this.swap(k, w + side, low, allowed);
    else if (p < 0 && q === k + 2) this.swap(k + 1, v + side, low, allowed);
  }

  private makes(low: number, allowed: number): boolean {
    const cost = this.links.flipCost(low, allowed);
    if (!(cost <= allowed)) return false;
    this.links.flip(low);
    this.change += cost;
    return true;
  }

  /** Whether the route may pass through a node that it leaves out. */
  private isOpen(v: number): boolean {
    return this.links.task.endOnly[v] === 0;
  }

  /** Whether the route may leave out the node at place k. */
  private mayGo(k: number): boolean {
    const { nodes, length, task } = this.links;
    return k > 0 && k < length - 1 && task.skipCost[nodes[k]] < Infinity;
  }

  /** The nodes beside the piece behind place k are taken in. */
  private takeIn(k: number, side: number, low: number, allowed: number): void {
    const { links } = this;
    const { nodes } = links;
    const v = nodes[k] + side;
    const w = nodes[k + 1] + side;
    if (!this.isOpen(v) || !this.isOpen(w) || !this.makes(low, allowed)) return;
    nodes.copyWithin(k + 3, k + 1, links.length);
    nodes[k + 1] = v;
    nodes[k + 2] = w;
    links.length += 2;
    links.renumber(k + 1, links.length);
  }

  /** The nodes at places k and k + 1 are left out. */
  private leaveOut(k: number, low: number, allowed: number): void {
    const { links } = this;
    const { nodes, place } = links;
    if (!this.mayGo(k) || !this.mayGo(k + 1) || !this.makes(low, allowed)) return;
    place[nodes[k]] = -1;
    place[nodes[k + 1]] = -1;
    nodes.copyWithin(k, k + 2, links.length);
    links.length -= 2;
    links.renumber(k, links.length);
  }

  /** The corner at place k moves across the square to node v. */
  private swap(k: number, v: number, low: number, allowed: number): void {
    const { nodes, place } = this.links;
    if (!this.mayGo(k) || !this.isOpen(v) || !this.makes(low, allowed)) return;
    place[nodes[k]] = -1;
    nodes[k] = v;
    place[v] = k;
  }

  /** The stretch behind place p up to place q is run the other way round. */
  private reverse(p: number, q: number, low: number, allowed: number): void {
    if (q - p < 2 || !this.makes(low, allowed)) return;
    this.links.nodes.subarray(p + 1, q + 1).reverse();
    this.links.renumber(p + 1, q + 1);
  }

  /** The stretch behind place p up to place q becomes a cycle, which is merged into the rest where that costs least. */
  private cutOut(p: number, q: number, low: number, allowed: number): void {
    if (q - p < 3 || q - p > LONGEST) return;
    const { links } = this;
    const cut = links.flipCost(low);
    links.flip(low);
    const merge = this.bestMerge(p, q, allowed - cut);
    if (!merge) {
      links.flip(low);
      return;
    }
    links.flip(merge.low);
    this.change += cut + merge.cost;
    this.putBack(p, q, merge.at, merge.beside);
  }

  /** The cheapest way to merge the cycle at places p + 1 .. q, by a square of which one side lies on either. */
  private bestMerge(p: number, q: number, allowed: number): Merge | null {
    const { links, random } = this;
    const { nodes, place, task } = links;
    let best: Merge | null = null;
    let least = allowed;
    for (let at = p + 1; at <= q; at++) {
      const x = nodes[at];
      const y = at === q ? nodes[p + 1] : nodes[at + 1];
      const across = x - y === 1 || y - x === 1 ? task.nx : 1;
      for (const side of [across, -across]) {
        const u = place[x + side];
        const v = place[y + side];
        // Beside it the route must run: outside the cycle, and from one of these nodes straight to the other.
        if (!(u >= 0 && v >= 0) || (u > p && u <= q) || (v > p && v <= q)) continue;
        const [first, second] = u < v ? [u, v] : [v, u];
        const joined = second - first === 1 || (at < q && first === p && second === q + 1);
        if (!joined) continue;
        const low = Math.min(x, y, x + side, y + side);
        if (!links.isSquare(low) || !links.touchesCorner(low)) continue;
        const cost = links.flipCost(low, least);
        if (cost > least || (cost === least && random() < 0.5)) continue;
        least = cost;
        best = { low, cost, at, beside: u };
      }
    }
    return best;
  }

  /** Puts the nodes in order: the cycle at places p + 1 .. q, opened behind place `at`, comes beside place `beside`. */
  private putBack(p: number, q: number, at: number, beside: number): void {
    const { links, spare } = this;
    const { nodes } = links;
    const count = q - p;
    for (let k = 0; k < count; k++) spare[k] = nodes[p + 1 + k];
    const x = at - p - 1;
    const other = links.place[nodes[at === q ? p + 1 : at + 1] + (nodes[beside] - nodes[at])];
    const first = Math.min(beside, other);
    let from = p + 1;
    if (first < p) {
      nodes.copyWithin(first + 1 + count, first + 1, p + 1);
      from = first + 1;
    } else if (first > q) {
      nodes.copyWithin(p + 1, q + 1, first + 1);
      from = first + 1 - count;
    }
    // From the node beside `first` all round to its neighbour on the cycle.
    for (let k = 0; k < count; k++)
      nodes[from + k] = spare[beside < other ? (x - k + count) % count : (x + 1 + k) % count];
    links.renumber(Math.min(p + 1, from), Math.max(q, first) + 1);
  }
}

interface Merge {
  readonly low: number;
  readonly cost: number;
  /** Place on the cycle behind which it is opened. */
  readonly at: number;
  /** Place in the rest of the route beside that node. */
  readonly beside: number;
}
