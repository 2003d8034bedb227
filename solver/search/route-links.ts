import type { GridTask } from '../model/grid-task.js';

const EAST = 1;
const NORTH = 2;
const WEST = 4;
const SOUTH = 8;

/** The sides of a square at its corners: low (south-west), south-east, north-west, north-east. */
const LOW_SIDES = EAST | NORTH;
const EAST_SIDES = WEST | NORTH;
const NORTH_SIDES = EAST | SOUTH;
const FAR_SIDES = WEST | SOUTH;

/** Steps that a flip may save at most: the pieces around a square. */
const STEPS_AT_MOST = 12;

/** 1 where links make a corner: one along a row, one along a column. */
const CORNER = Uint8Array.from(
  { length: 16 },
  (_, links) => +[EAST | NORTH, EAST | SOUTH, WEST | NORTH, WEST | SOUTH].includes(links),
);

/**
 * A route over a lane grid as links: its nodes in order, the place of each, and which neighbours it is linked to. All
 * changes are flips of squares: of the four edges around a square those that the route used are left, the others used.
 * Squares are named by their corner of least number.
 */
export class RouteLinks {
  /** Nodes from start to end; only the first `length` count. */
  readonly nodes: Int32Array;
  length: number;
  /** Place of each node in `nodes`, -1 where the route leaves it out. */
  readonly place: Int32Array;
  private readonly links: Uint8Array;

  /** `stepCost` (mm2): of a piece of one lane gap between opposite corners, beside those corners. */
  constructor(
    readonly task: GridTask,
    route: ArrayLike<number>,
    private readonly stepCost: number,
  ) {
    const size = task.present.length;
    this.nodes = new Int32Array(size);
    this.nodes.set(route);
    this.length = route.length;
    this.place = new Int32Array(size).fill(-1);
    this.links = new Uint8Array(size);
    this.renumber(0, this.length);
    for (let k = 0; k + 1 < this.length; k++) {
      const [v, w] = [route[k], route[k + 1]];
      this.links[v] |= this.towards(v, w);
      this.links[w] |= this.towards(w, v);
    }
  }

  isCorner(k: number): boolean {
    return CORNER[this.links[this.nodes[k]]] === 1;
  }

  /** Whether all four edges around a square exist. */
  isSquare(low: number): boolean {
    const { east, north, nx } = this.task;
    return (east[low] & north[low] & east[low + nx] & north[low + 1]) === 1;
  }

  /** Whether one of a square's corners is a corner of the route. */
  touchesCorner(low: number): boolean {
    const { links } = this;
    const high = low + this.task.nx;
    return (
      (CORNER[links[low]] | CORNER[links[low + 1]] | CORNER[links[high]] | CORNER[links[high + 1]]) === 1
    );
  }

  /** By how much a flip would change the cost of task and steps, mm2; Infinity where that is clearly above `most`. */
  flipCost(low: number, most = Infinity): number {
    const { stepCost } = this;
    const change = this.plainFlipCost(low);
    if (stepCost === 0) return change;
    if (change - STEPS_AT_MOST * stepCost > most) return Infinity;
    const before = this.stepsAround(low);
    this.flip(low);
    const after = this.stepsAround(low);
    this.flip(low);
    return change + stepCost * (after - before);
  }

  /** Changes the links, and back again when called twice; the caller puts the nodes in order. */
  flip(low: number): void {
    const { links } = this;
    const high = low + this.task.nx;
    links[low] ^= LOW_SIDES;
    links[low + 1] ^= EAST_SIDES;
    links[high] ^= NORTH_SIDES;
    links[high + 1] ^= FAR_SIDES;
  }

  /** Notes the places of nodes from..to-1. */
  renumber(from: number, to: number): void {
    const { nodes, place } = this;
    for (let k = from; k < to; k++) place[nodes[k]] = k;
  }

  private plainFlipCost(low: number): number {
    const { links, task } = this;
    const { nx, eastCost, northCost } = task;
    const high = low + nx;
    const own = links[low];
    const far = links[high + 1];
    return (
      this.change(low, LOW_SIDES) +
      this.change(low + 1, EAST_SIDES) +
      this.change(high, NORTH_SIDES) +
      this.change(high + 1, FAR_SIDES) +
      (own & EAST ? -eastCost[low] : eastCost[low]) +
      (own & NORTH ? -northCost[low] : northCost[low]) +
      (far & WEST ? -eastCost[high] : eastCost[high]) +
      (far & SOUTH ? -northCost[low + 1] : northCost[low + 1])
    );
  }

  private change(v: number, sides: number): number {
    const links = this.links[v];
    return this.cost(v, links ^ sides) - this.cost(v, links);
  }

  private cost(v: number, links: number): number {
    if (links === 0) return this.task.skipCost[v];
    return CORNER[links] === 1 ? this.task.turnCost[v] : 0;
  }

  /** Steps on the twelve pieces that touch a square. */
  private stepsAround(low: number): number {
    const { links } = this;
    const high = low + this.task.nx;
    const [a, b, c, d] = [links[low], links[low + 1], links[high], links[high + 1]];
    let count = 0;
    if (CORNER[a] === 1) {
      count += a & EAST ? this.stepAt(low, EAST) : this.stepAt(low, WEST);
      count += a & NORTH ? this.stepAt(low, NORTH) : this.stepAt(low, SOUTH);
    }
    if (CORNER[d] === 1) {
      count += d & WEST ? this.stepAt(high + 1, WEST) : this.stepAt(high + 1, EAST);
      count += d & SOUTH ? this.stepAt(high + 1, SOUTH) : this.stepAt(high + 1, NORTH);
    }
    // The other two corners' pieces along the square were counted above.
    if (CORNER[b] === 1) {
      if (b & EAST) count += this.stepAt(low + 1, EAST);
      if (b & SOUTH) count += this.stepAt(low + 1, SOUTH);
    }
    if (CORNER[c] === 1) {
      if (c & WEST) count += this.stepAt(high, WEST);
      if (c & NORTH) count += this.stepAt(high, NORTH);
    }
    return count;
  }

  /** 1 where the piece from a corner v along `link` is a step. */
  private stepAt(v: number, link: number): number {
    const { links, task } = this;
    const w = link === EAST ? v + 1 : link === WEST ? v - 1 : link === NORTH ? v + task.nx : v - task.nx;
    const there = links[w];
    if (CORNER[there] === 0) return 0;
    const back = link === EAST ? WEST : link === WEST ? EAST : link === NORTH ? SOUTH : NORTH;
    return (links[v] ^ link) === (there ^ back) ? 0 : 1;
  }

  private towards(v: number, w: number): number {
    const step = w - v;
    if (step === 1) return EAST;
    if (step === -1) return WEST;
    return step > 0 ? NORTH : SOUTH;
  }
}
