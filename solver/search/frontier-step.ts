import {
  COLOUR_UNIT,
  type FrontierLayer,
  LOOSE_UNIT,
  looseIn,
  OPEN_UNIT,
  openIn,
  originOf,
  PLUGS_PER_WORD,
} from './frontier-layer.js';
import type { Potential } from './frontier-potential.js';
import type { SweepView } from './frontier-view.js';

/** Plug symbols: pieces of path are balanced brackets; a loose plug leads to the start or to the chosen end. */
const OPEN = 1;
const CLOSE = 2;
const LOOSE = 3;

/** What a choice in a cell costs, by place in `FrontierStep.prices`: handed on as numbers they would be put on the heap. */
const FREE = 0;
const CORNER = 1;
const SKIP = 2;
const END = 3;

/** A finished path met in a step. */
export interface Finish {
  cost: number;
  parent: number;
}

export const wordsFor = (width: number): number => Math.ceil((width + 1) / PLUGS_PER_WORD);

/** Symbol of the plug at `position`. */
function plugAt(key: Int32Array, position: number): number {
  return (key[position >> 4] >>> ((position & 15) << 1)) & 3;
}

/** What leading into a cell adds to the census for its colour. */
const colourUnit = (cell: number, width: number): number =>
  ((Math.floor(cell / width) + (cell % width)) & 1) === 0 ? COLOUR_UNIT : -COLOUR_UNIT;

const looseness = (symbol: number): number => (symbol === LOOSE ? LOOSE_UNIT : 0);

/**
 * Processes one cell for every state of `layer` and fills `next`. Before the step, position column holds the plug on
 * the cell's left edge and column + 1 the one on its upper edge; afterwards they hold the lower and the right edge.
 * Paths that become complete are offered to `finish` with the cost of leaving out everything later.
 */
export class FrontierStep {
  private readonly key: Int32Array;
  /** The key without the cell's plugs; the key of what comes out while that is offered. */
  private readonly base: Int32Array;
  private column = 0;
  private cell = 0;
  private parent = 0;
  /** Cost of the state at hand and potentials of its plugs, those of the cell not counted. */
  private readonly sums = new Float64Array(2);
  private readonly prices = new Float64Array(4);
  private census = 0;
  private endPlaced = false;
  /** What a plug leaving the cell adds to the census. */
  private leaving = 0;

  constructor(
    private readonly view: SweepView,
    private readonly potential: Potential,
    private readonly finish: Finish,
    private next: FrontierLayer,
  ) {
    const words = wordsFor(view.width);
    this.key = new Int32Array(words);
    this.base = new Int32Array(words);
  }

  /** `newRow`: the states come from an earlier row, so their plugs move up by one position. */
  run(layer: FrontierLayer, next: FrontierLayer, traceBase: number, cell: number, newRow: boolean): void {
    const { key, base, potential, view, sums, prices } = this;
    const { width } = view;
    const { words, keys } = layer;
    this.next = next;
    this.cell = cell;
    const column = cell % width;
    this.column = column;
    const colour = colourUnit(cell, width);
    this.leaving = OPEN_UNIT - colour;
    const entering = OPEN_UNIT + colour;
    const alwaysLoose = cell > view.start ? 1 : 0;
    const pullLeft = column > 0 ? potential.right[cell - 1] : 0;
    const pullUp = cell >= width ? potential.down[cell - width] : 0;
    const [leftWord, leftMask] = [column >> 4, ~(3 << ((column & 15) << 1))];
    const [upWord, upMask] = [(column + 1) >> 4, ~(3 << (((column + 1) & 15) << 1))];
    prices[CORNER] = view.turnCost[cell];
    prices[SKIP] = view.skipCost[cell];
    prices[END] = view.endCost[cell];
    for (let i = 0; i < layer.count; i++) {
      const from = i * words;
      if (newRow) {
        for (let w = words - 1; w > 0; w--) key[w] = (keys[from + w] << 2) | (keys[from + w - 1] >>> 30);
        key[0] = keys[from] << 2;
      } else for (let w = 0; w < words; w++) key[w] = keys[from + w];
      for (let w = 0; w < words; w++) base[w] = key[w];
      base[leftWord] &= leftMask;
      base[upWord] &= upMask;
      const left = plugAt(key, column);
      const up = plugAt(key, column + 1);
      let pull = layer.pulls[i];
      let census = layer.censuses[i];
      this.endPlaced = looseIn(census) > alwaysLoose;
      if (left !== 0) {
        pull -= pullLeft;
        census -= entering + looseness(left);
      }
      if (up !== 0) {
        pull -= pullUp;
        census -= entering + looseness(up);
      }
      this.parent = traceBase + i;
      sums[0] = layer.costs[i];
      sums[1] = pull;
      this.census = census;
      if (cell === view.start) this.atStart(left, up);
      else this.atCell(left, up);
    }
  }

  /**
   * Processes a cell at which all states do alike, on `layer` itself: each has a plug on the same edge that leads in, if
   * any, and each follows the same edges out. So no state is lost, and none comes to equal another.
   */
  force(layer: FrontierLayer, cell: number, newRow: boolean): void {
    const { view, potential } = this;
    const { width } = view;
    const { words, keys, costs, pulls, censuses } = layer;
    const column = cell % width;
    const colour = colourUnit(cell, width);
    const left = column > 0 && view.right[cell - 1] === 1;
    const up = cell >= width && view.down[cell - width] === 1;
    const right = view.right[cell] === 1;
    const down = view.down[cell] === 1;
    const from = left ? column : column + 1;
    const to = down ? column : column + 1;
    const [fromWord, fromShift] = [from >> 4, (from & 15) << 1];
    const [toWord, toShift] = [to >> 4, (to & 15) << 1];
    const pass = left || up;
    let cost = 0;
    let pull = 0;
    let census = 0;
    if (!pass && !down) cost = view.skipCost[cell];
    else if (pass ? left !== right : true) cost = view.turnCost[cell];
    if (left) pull -= potential.right[cell - 1];
    if (up) pull -= potential.down[cell - width];
    if (left || up) census -= OPEN_UNIT + colour;
    if (right) {
      cost += view.rightCost[cell];
      pull += potential.right[cell];
      census += OPEN_UNIT - colour;
    }
    if (down) {
      cost += view.downCost[cell];
      pull += potential.down[cell];
      census += OPEN_UNIT - colour;
    }
    for (let i = 0; i < layer.count; i++) {
      const base = i * words;
      if (newRow) {
        for (let w = words - 1; w > 0; w--)
          keys[base + w] = (keys[base + w] << 2) | (keys[base + w - 1] >>> 30);
        keys[base] <<= 2;
      }
      if (pass) {
        const symbol = (keys[base + fromWord] >>> fromShift) & 3;
        keys[base + fromWord] &= ~(3 << fromShift);
        keys[base + toWord] |= symbol << toShift;
      } else if (down) {
        keys[base + toWord] |= OPEN << toShift;
        keys[base + ((column + 1) >> 4)] |= CLOSE << (((column + 1) & 15) << 1);
      }
      costs[i] += cost;
      pulls[i] += pull;
      censuses[i] += census;
    }
  }

  private atStart(left: number, up: number): void {
    if (left === 0 && up === 0) this.leave(LOOSE, FREE);
    else if (left === 0 || up === 0) this.loosen(left === 0 ? up : left, left === 0, FREE);
  }

  private atCell(left: number, up: number): void {
    const { view, cell, prices } = this;
    const pass = view.endOnly[cell] !== 1;
    if (left !== 0 && up !== 0) {
      if (pass) this.join(left, up);
      return;
    }
    const mayEnd = prices[END] !== Number.POSITIVE_INFINITY && !this.endPlaced;
    if (left !== 0 || up !== 0) {
      const symbol = left | up;
      if (pass) {
        this.put(left !== 0 ? 0 : symbol, left !== 0 ? symbol : 0, FREE);
        this.put(left !== 0 ? symbol : 0, left !== 0 ? 0 : symbol, CORNER);
      }
      if (mayEnd) this.loosen(symbol, left === 0, END);
      return;
    }
    if (prices[SKIP] !== Number.POSITIVE_INFINITY) this.put(0, 0, SKIP);
    if (pass) this.put(OPEN, CLOSE, CORNER);
    if (mayEnd) this.leave(LOOSE, END);
  }

  /** One plug leaves the cell, to the right or down. */
  private leave(symbol: number, price: number): void {
    this.put(0, symbol, price);
    this.put(symbol, 0, price);
  }

  /** The piece of path at the cell's only plug stops here: its far plug becomes loose. */
  private loosen(symbol: number, fromUp: boolean, price: number): void {
    if (symbol === LOOSE) this.complete(price);
    else this.relabel(this.column + (fromUp ? 1 : 0), symbol, LOOSE, price);
  }

  private join(left: number, up: number): void {
    const { column } = this;
    if (left === LOOSE) {
      if (up === LOOSE) this.complete(CORNER);
      else this.relabel(column + 1, up, LOOSE, CORNER);
    } else if (up === LOOSE) this.relabel(column, left, LOOSE, CORNER);
    else if (left === OPEN && up === OPEN) this.relabel(column + 1, OPEN, OPEN, CORNER);
    else if (left === CLOSE && up === CLOSE) this.relabel(column, CLOSE, CLOSE, CORNER);
    else if (left === CLOSE) this.put(0, 0, CORNER);
  }

  /** Gives the mate of the plug at `position` another symbol; both plugs of the cell are gone. */
  private relabel(position: number, symbol: number, replacement: number, price: number): void {
    const { base } = this;
    const mate = mateOf(this.key, position, symbol);
    const word = mate >> 4;
    const before = base[word];
    const census = this.census;
    const shift = (mate & 15) << 1;
    base[word] = (before & ~(3 << shift)) | (replacement << shift);
    this.census += looseness(replacement);
    this.put(0, 0, price);
    base[word] = before;
    this.census = census;
  }

  private complete(price: number): void {
    if (openIn(this.census) !== 0) return;
    const total = this.sums[0] + this.prices[price] + this.view.skipFrom[this.cell + 1];
    if (total < this.finish.cost) {
      this.finish.cost = total;
      this.finish.parent = this.parent;
    }
  }

  private put(down: number, right: number, price: number): void {
    const { view, cell, column, base } = this;
    if (down !== 0 && view.down[cell] !== 1) return;
    if (right !== 0 && view.right[cell] !== 1) return;
    let total = this.sums[0] + this.prices[price];
    let pull = this.sums[1];
    let census = this.census;
    let choice = 0;
    const [downWord, rightWord] = [column >> 4, (column + 1) >> 4];
    let downBits = 0;
    let rightBits = 0;
    if (down !== 0) {
      total += view.downCost[cell];
      pull += this.potential.down[cell];
      census += this.leaving + looseness(down);
      downBits = down << ((column & 15) << 1);
      base[downWord] |= downBits;
      choice = 2;
    }
    if (right !== 0) {
      total += view.rightCost[cell];
      pull += this.potential.right[cell];
      census += this.leaving + looseness(right);
      rightBits = right << (((column + 1) & 15) << 1);
      base[rightWord] |= rightBits;
      choice |= 1;
    }
    this.next.offer(base, total, pull, census, originOf(this.parent, choice));
    base[downWord] &= ~downBits;
    base[rightWord] &= ~rightBits;
  }
}

/** Position of the other end of the piece of path whose plug at `position` is `symbol` (OPEN or CLOSE). */
function mateOf(key: Int32Array, position: number, symbol: number): number {
  const step = symbol === OPEN ? 1 : -1;
  let depth = 1;
  let p = position;
  while (depth > 0) {
    p += step;
    const other = plugAt(key, p);
    if (other === symbol) depth++;
    else if (other !== 0 && other !== LOOSE) depth--;
  }
  return p;
}
