import type { Potential } from './frontier-potential.js';
import type { RestTable } from './frontier-rest.js';
import { skipAtLeast } from './frontier-rest.js';
import type { SweepView } from './frontier-view.js';

const EVEN = 0x11111111;
const ODD = 0x44444444;

/** Admissible estimate of what a state still has to pay. */
export interface Estimate {
  /** Pieces of path with two open plugs each in the key last estimated. */
  readonly pairs: number;
  /** Prepares for states reached after processing `cell`. */
  enter(cell: number): void;
  /** Estimate for the key at keys[base ...] whose open plugs have potentials of `pull` in all. */
  of(keys: Int32Array, base: number, words: number, pull: number): number;
}

/** The edge potentials' bound alone: quick to prepare. */
export class PlainRemainder implements Estimate {
  pairs = 0;
  private passed = 0;
  private placed = 0;
  private ending = 0;
  private readonly endFrom: Float64Array;

  constructor(
    private readonly view: SweepView,
    private readonly potential: Potential,
  ) {
    const { endExtra } = potential;
    this.endFrom = new Float64Array(endExtra.length + 1).fill(Number.POSITIVE_INFINITY);
    for (let t = endExtra.length - 1; t >= 0; t--) {
      this.endFrom[t] = Math.min(this.endFrom[t + 1], endExtra[t]);
    }
  }

  enter(cell: number): void {
    this.passed = this.view.start <= cell ? 1 : 0;
    this.placed = this.potential.restFrom[cell + 1];
    this.ending = this.placed + this.endFrom[cell + 1];
  }

  of(keys: Int32Array, base: number, words: number, pull: number): number {
    let open = 0;
    let loose = 0;
    for (let w = 0; w < words; w++) {
      const word = keys[base + w];
      open += bitCount((word | (word >>> 1)) & 0x55555555);
      loose += bitCount(word & (word >>> 1) & 0x55555555);
    }
    this.pairs = (open - loose) >> 1;
    return pull + (loose > this.passed ? this.placed : this.ending);
  }
}

/**
 * The edge potentials' bound sharpened by two arguments.
 * - Colour: a stretch of path between two cells covers (colour a + colour b) / 2 more cells of one colour than of the
 *   other (colours +1, -1), so the open plugs fix the imbalance of the covered rest of each unprocessed piece; the
 *   difference to the piece's own imbalance must be skipped. A piece without plugs is skipped altogether.
 * - Parity: the plugs of a piece pair up, but for the start and the end; Infinity where they cannot.
 */
export class Remainder implements Estimate {
  private cell = 0;
  private column = 0;
  private sign = 1;
  private single = -1;
  private lone = false;
  pairs = 0;
  /** Per piece, by its rank in the list of the step. */
  private readonly rank: Int32Array;
  private readonly plugs: Int32Array;
  private readonly colour: Int32Array;

  constructor(
    private readonly view: SweepView,
    private readonly rest: RestTable,
    private readonly potential: Potential,
  ) {
    this.rank = new Int32Array(view.width * view.height);
    this.plugs = new Int32Array(view.width + 1);
    this.colour = new Int32Array(view.width + 1);
  }

  enter(cell: number): void {
    const { rest, view } = this;
    this.cell = cell;
    this.column = cell % view.width;
    this.sign = ((Math.floor(cell / view.width) + 1) & 1) === 0 ? 1 : -1;
    const begin = rest.from[cell + 1];
    const stop = begin + rest.count[cell + 1];
    this.lone = stop - begin === 1;
    this.single = this.lone ? rest.list[begin] : -1;
    for (let k = begin; k < stop; k++) this.rank[rest.list[k]] = k - begin;
  }

  of(keys: Int32Array, base: number, words: number, pull: number): number {
    const started = this.view.start <= this.cell;
    let even = 0;
    let odd = 0;
    let loose = 0;
    for (let w = 0; w < words; w++) {
      const word = keys[base + w];
      if (word === 0) continue;
      const some = (word | (word >>> 1)) & 0x55555555;
      even += bitCount(some & EVEN);
      odd += bitCount(some & ODD);
      loose += bitCount(word & (word >>> 1) & 0x55555555);
    }
    const endPlaced = loose > (started ? 1 : 0);
    const open = even + odd;
    this.pairs = (open - loose) >> 1;
    const terminals = (started ? 0 : 1) + (endPlaced ? 0 : 1);
    const p = this.column + 1;
    const horizontal = (keys[base + (p >> 4)] >>> ((p & 15) << 1)) & 3;
    const linear = pull + this.potential.restFrom[this.cell + 1];
    if (this.lone) {
      let colour = this.sign * (even - odd);
      if (horizontal !== 0) colour -= 2 * this.sign * ((p & 1) === 0 ? 1 : -1);
      if (((open + terminals) & 1) !== 0) return Number.POSITIVE_INFINITY;
      return linear + this.pieceCost(this.single, colour, !endPlaced);
    }
    return linear + this.manyPieces(keys, base, endPlaced);
  }

  /** `colour`: sum over the plugs entering the piece; `end`: the end lies in it. */
  private pieceCost(piece: number, colour: number, end: boolean): number {
    const { rest } = this;
    let sum = colour;
    if (rest.startPiece[this.cell + 1] === piece) sum += this.colourOf(this.view.start);
    if (!end) return this.skips(piece, sum);
    const zero = rest.endMin[2 * piece];
    const one = rest.endMin[2 * piece + 1];
    let best = Number.POSITIVE_INFINITY;
    if (zero !== best) best = zero + this.skips(piece, sum + 1);
    if (one !== Number.POSITIVE_INFINITY) best = Math.min(best, one + this.skips(piece, sum - 1));
    return best;
  }

  private skips(piece: number, sum: number): number {
    const surplus = this.rest.imbalance[piece] - sum / 2;
    return surplus >= 0
      ? skipAtLeast(this.rest, piece, 0, surplus)
      : skipAtLeast(this.rest, piece, 1, -surplus);
  }

  private manyPieces(keys: Int32Array, base: number, endPlaced: boolean): number {
    const { rest, view, cell, column, plugs, colour } = this;
    const begin = rest.from[cell + 1];
    const count = rest.count[cell + 1];
    plugs.fill(0, 0, count);
    colour.fill(0, 0, count);
    const { width } = view;
    for (let p = 0; p <= width; p++) {
      if (((keys[base + (p >> 4)] >>> ((p & 15) << 1)) & 3) === 0) continue;
      const entry = p <= column + 1 ? p : p - 1;
      const rank = this.rank[rest.at[(cell + 1) * width + entry]];
      plugs[rank]++;
      const flip = p === column + 1 ? -1 : 1;
      colour[rank] += this.sign * flip * ((p & 1) === 0 ? 1 : -1);
    }
    let total = 0;
    let ends = 0;
    for (let k = 0; k < count; k++) {
      const piece = rest.list[begin + k];
      const terminals = plugs[k] + (rest.startPiece[cell + 1] === piece ? 1 : 0);
      if (terminals === 0) {
        total += rest.skipAll[piece];
        continue;
      }
      const end = (terminals & 1) !== 0;
      if (end) ends++;
      total += this.pieceCost(piece, colour[k], end);
    }
    return ends === (endPlaced ? 0 : 1) ? total : Number.POSITIVE_INFINITY;
  }

  private colourOf(cell: number): number {
    return ((Math.floor(cell / this.view.width) + (cell % this.view.width)) & 1) === 0 ? 1 : -1;
  }
}

function bitCount(value: number): number {
  let v = value - ((value >>> 1) & 0x55555555);
  v = (v & 0x33333333) + ((v >>> 2) & 0x33333333);
  return Math.imul((v + (v >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
