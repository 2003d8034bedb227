import type { Potential } from './frontier-potential.js';
import type { SweepView } from './frontier-view.js';

/** How many of the cheapest cells of each colour a piece keeps. */
const KEPT = 6;

/**
 * What is still unprocessed after each step of a sweep. The unprocessed cells fall into connected pieces; a piece is
 * named by its first cell in sweep order, and since every step removes one cell, all pieces of all steps fit in
 * arrays over cells. Colours: 0 where row + column is even, 1 where odd.
 */
export interface RestTable {
  /** at[t * width + c]: piece of the first unprocessed cell of column c before step t, -1 where it is absent. */
  readonly at: Int32Array;
  /** Distinct pieces before step t: count[t] of them, from list[from[t]] on. */
  readonly from: Int32Array;
  readonly count: Int32Array;
  readonly list: Int32Array;
  /** Piece that holds the start before step t, -1 once the start has been processed. */
  readonly startPiece: Int32Array;
  /** Cells of colour 0 minus cells of colour 1. */
  readonly imbalance: Int32Array;
  /** Cost of skipping the whole piece (Infinity where a cell must be visited); like the costs below, this is what
   *  comes on top of the potentials' bound. */
  readonly skipAll: Float64Array;
  /** Cheapest end of colour k in piece p at [2 * p + k]. */
  readonly endMin: Float64Array;
  /** cheapest[(2 * p + k) * KEPT + i]: cost of skipping the i + 1 cheapest cells of colour k together. */
  readonly cheapest: Float64Array;
}

export function restTable(view: SweepView, potential: Potential): RestTable {
  const { width, height, present, right, down } = view;
  const size = width * height;
  const single = new Float64Array(2 * size * KEPT).fill(Number.POSITIVE_INFINITY);
  const table = {
    at: new Int32Array((size + 1) * width).fill(-1),
    from: new Int32Array(size + 1),
    count: new Int32Array(size + 1),
    list: new Int32Array(0),
    startPiece: new Int32Array(size + 1).fill(-1),
    imbalance: new Int32Array(size),
    skipAll: new Float64Array(size),
    endMin: new Float64Array(2 * size).fill(Number.POSITIVE_INFINITY),
    cheapest: single,
  };
  const merged = new Float64Array(KEPT);
  const { at } = table;
  /** Step that a piece was last listed before. */
  const listed = new Int32Array(size).fill(-1);
  const list: number[] = [];
  let startPiece = -1;
  for (let t = size - 1, column = width - 1; t >= 0; t--, column = column === 0 ? width - 1 : column - 1) {
    const [now, later] = [t * width, (t + 1) * width];
    const there = present[t] === 1;
    const a = there && right[t] === 1 ? at[later + column + 1] : -1;
    const b = there && down[t] === 1 ? at[later + column] : -1;
    if (there) absorb(t, -1);
    if (a >= 0) absorb(t, a);
    if (b >= 0 && b !== a) absorb(t, b);
    table.from[t] = list.length;
    for (let c = 0; c < width; c++) {
      let piece = at[later + c];
      if (c === column) piece = there ? t : -1;
      else if (piece >= 0 && (piece === a || piece === b)) piece = t;
      at[now + c] = piece;
      if (piece < 0 || listed[piece] === t) continue;
      listed[piece] = t;
      list.push(piece);
    }
    table.count[t] = list.length - table.from[t];
    if (view.start === t || (startPiece >= 0 && (startPiece === a || startPiece === b))) startPiece = t;
    table.startPiece[t] = startPiece;
  }
  table.list = Int32Array.from(list);
  for (let list = 0; list < 2 * size; list++) {
    for (let k = 1; k < KEPT; k++) single[list * KEPT + k] += single[list * KEPT + k - 1];
  }
  return table;

  /** Adds piece `other` (or, for -1, the cell itself) to piece t. */
  function absorb(t: number, other: number): void {
    if (other >= 0) {
      table.imbalance[t] += table.imbalance[other];
      table.skipAll[t] += table.skipAll[other];
      for (let k = 0; k < 2; k++) {
        table.endMin[2 * t + k] = Math.min(table.endMin[2 * t + k], table.endMin[2 * other + k]);
        merge(2 * t + k, 2 * other + k);
      }
      return;
    }
    const colour = (Math.floor(t / width) + (t % width)) & 1;
    table.imbalance[t] = colour === 0 ? 1 : -1;
    const skip = potential.skipExtra[t];
    table.skipAll[t] = skip;
    table.endMin[2 * t + colour] = potential.endExtra[t];
    single[(2 * t + colour) * KEPT] = skip;
  }

  /** Merges a sorted list of single costs into another, as far as it has room. */
  function merge(into: number, other: number): void {
    const base = into * KEPT;
    let a = 0;
    let b = other * KEPT;
    for (let k = 0; k < KEPT; k++) merged[k] = single[base + k];
    for (let k = 0; k < KEPT; k++) single[base + k] = merged[a] <= single[b] ? merged[a++] : single[b++];
  }
}

/** Least cost of skipping `count` cells of one colour (0 or 1) in a piece; Infinity when it has not so many. */
export function skipAtLeast(table: RestTable, piece: number, colour: number, count: number): number {
  if (count === 0) return 0;
  const base = (2 * piece + colour) * KEPT;
  if (count <= KEPT) return table.cheapest[base + count - 1];
  const all = table.cheapest[base + KEPT - 1];
  if (all === Number.POSITIVE_INFINITY) return all;
  return all + (count - KEPT) * (all - table.cheapest[base + KEPT - 2]);
}
