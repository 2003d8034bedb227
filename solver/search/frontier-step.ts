import { FrontierLayer, PLUGS_PER_WORD } from './frontier-layer.js';
import type { Potential } from './frontier-potential.js';
import type { SweepView } from './frontier-view.js';

/** Plug symbols: pieces of path are balanced brackets; a loose plug leads to the start or to the chosen end. */
const OPEN = 1;
const CLOSE = 2;
const LOOSE = 3;

/** A finished path met in a step. */
export interface Finish {
  cost: number;
  parent: number;
  choice: number;
  cell: number;
}

export const wordsFor = (width: number): number => Math.ceil((width + 1) / PLUGS_PER_WORD);

/** Symbol of the plug at `position`. */
function plugAt(key: Int32Array, position: number): number {
  return (key[position >> 4] >>> ((position & 15) << 1)) & 3;
}

/**
 * Processes one cell for every state of `layer` and fills `next`. Before the step, position column holds the plug on
 * the cell's left edge and column + 1 the one on its upper edge; afterwards they hold the lower and the right edge.
 * Paths that become complete are offered to `finish` with the cost of leaving out everything later.
 */
export class FrontierStep {
  private readonly key: Int32Array;
  private readonly base: Int32Array;
  private readonly child: Int32Array;
  private next: FrontierLayer;
  private column = 0;
  private cell = 0;
  private parent = 0;
  private cost = 0;
  private pull = 0;

  constructor(
    private readonly view: SweepView,
    private readonly potential: Potential,
    private readonly finish: Finish,
  ) {
    const words = wordsFor(view.width);
    this.key = new Int32Array(words);
    this.base = new Int32Array(words);
    this.child = new Int32Array(words);
    this.next = new FrontierLayer(words);
  }

  /** `newRow`: the states come from an earlier row, so their plugs move up by one position. */
  run(layer: FrontierLayer, next: FrontierLayer, traceBase: number, cell: number, newRow: boolean): void {
    const { key, base, potential } = this;
    const { width } = this.view;
    const words = layer.words;
    this.next = next;
    this.cell = cell;
    this.column = cell % width;
    const column = this.column;
    for (let i = 0; i < layer.count; i++) {
      for (let w = 0; w < words; w++) key[w] = layer.keys[i * words + w];
      if (newRow) {
        for (let w = words - 1; w >= 0; w--) key[w] = (key[w] << 2) | (w > 0 ? key[w - 1] >>> 30 : 0);
      }
      this.parent = traceBase + i;
      this.cost = layer.costs[i];
      const left = plugAt(key, column);
      const up = plugAt(key, column + 1);
      let pull = layer.pulls[i];
      if (left !== 0) pull -= potential.right[cell - 1];
      if (up !== 0) pull -= potential.down[cell - width];
      this.pull = pull;
      for (let w = 0; w < words; w++) base[w] = key[w];
      base[column >> 4] &= ~(3 << ((column & 15) << 1));
      base[(column + 1) >> 4] &= ~(3 << (((column + 1) & 15) << 1));
      if (cell === this.view.start) this.atStart(left, up);
      else this.atCell(left, up);
    }
  }

  private atStart(left: number, up: number): void {
    if (left === 0 && up === 0) this.leave(LOOSE, 0);
    else if (left === 0 || up === 0) this.loosen(left === 0 ? up : left, left === 0, 0);
  }

  private atCell(left: number, up: number): void {
    const { view, cell } = this;
    const turn = view.turnCost[cell];
    const pass = view.endOnly[cell] !== 1;
    if (left !== 0 && up !== 0) {
      if (pass) this.join(left, up, turn);
      return;
    }
    const end = view.endCost[cell];
    const mayEnd = end !== Number.POSITIVE_INFINITY && !this.endPlaced();
    if (left !== 0 || up !== 0) {
      const symbol = left | up;
      if (pass) {
        this.put(left !== 0 ? 0 : symbol, left !== 0 ? symbol : 0, 0);
        this.put(left !== 0 ? symbol : 0, left !== 0 ? 0 : symbol, turn);
      }
      if (mayEnd) this.loosen(symbol, left === 0, end);
      return;
    }
    const skip = view.skipCost[cell];
    if (skip !== Number.POSITIVE_INFINITY) this.put(0, 0, skip);
    if (pass) this.put(OPEN, CLOSE, turn);
    if (mayEnd) this.leave(LOOSE, end);
  }

  /** One plug leaves the cell, to the right or down. */
  private leave(symbol: number, cost: number): void {
    this.put(0, symbol, cost);
    this.put(symbol, 0, cost);
  }

  private endPlaced(): boolean {
    let loose = 0;
    for (const word of this.key) {
      for (let bits = word & (word >>> 1) & 0x55555555; bits !== 0; bits &= bits - 1) loose++;
    }
    return loose > (this.cell > this.view.start ? 1 : 0);
  }

  /** The piece of path at the cell's only plug stops here: its far plug becomes loose. */
  private loosen(symbol: number, fromUp: boolean, cost: number): void {
    if (symbol === LOOSE) this.complete(cost);
    else this.relabel(this.column + (fromUp ? 1 : 0), symbol, LOOSE, cost);
  }

  private join(left: number, up: number, cost: number): void {
    const { column } = this;
    if (left === LOOSE) {
      if (up === LOOSE) this.complete(cost);
      else this.relabel(column + 1, up, LOOSE, cost);
    } else if (up === LOOSE) this.relabel(column, left, LOOSE, cost);
    else if (left === OPEN && up === OPEN) this.relabel(column + 1, OPEN, OPEN, cost);
    else if (left === CLOSE && up === CLOSE) this.relabel(column, CLOSE, CLOSE, cost);
    else if (left === CLOSE) this.put(0, 0, cost);
  }

  /** Gives the mate of the plug at `position` another symbol; both plugs of the cell are gone. */
  private relabel(position: number, symbol: number, replacement: number, cost: number): void {
    const { base } = this;
    const mate = mateOf(this.key, position, symbol);
    const word = mate >> 4;
    const before = base[word];
    const shift = (mate & 15) << 1;
    base[word] = (before & ~(3 << shift)) | (replacement << shift);
    this.put(0, 0, cost);
    base[word] = before;
  }

  private complete(cost: number): void {
    for (const word of this.base) if (word !== 0) return;
    const total = this.cost + cost + this.view.skipFrom[this.cell + 1];
    if (total < this.finish.cost) {
      this.finish.cost = total;
      this.finish.parent = this.parent;
      this.finish.choice = 0;
      this.finish.cell = this.cell;
    }
  }

  private put(down: number, right: number, cost: number): void {
    const { view, cell, column, child, base } = this;
    let total = this.cost + cost;
    let pull = this.pull;
    let choice = 0;
    for (let w = 0; w < base.length; w++) child[w] = base[w];
    if (down !== 0) {
      if (view.down[cell] !== 1) return;
      total += view.downCost[cell];
      pull += this.potential.down[cell];
      child[column >> 4] |= down << ((column & 15) << 1);
      choice = 2;
    }
    if (right !== 0) {
      if (view.right[cell] !== 1) return;
      total += view.rightCost[cell];
      pull += this.potential.right[cell];
      child[(column + 1) >> 4] |= right << (((column + 1) & 15) << 1);
      choice |= 1;
    }
    this.next.offer(child, total, pull, this.parent, choice);
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
