import { colourIn, type FrontierLayer, looseIn, openIn } from './frontier-layer.js';
import type { Potential } from './frontier-potential.js';
import type { RestTable } from './frontier-rest.js';
import { skipAtLeast } from './frontier-rest.js';
import type { SweepView } from './frontier-view.js';

/** Admissible estimate of what a state still has to pay. */
export interface Estimate {
  /** Prepares for states reached after processing `cell`. */
  enter(cell: number): void;
  /** Estimate for state i of a layer. */
  of(layer: FrontierLayer, i: number): number;
}

/** The edge potentials' bound alone: quick to prepare. */
export class PlainRemainder implements Estimate {
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

  of({ censuses, pulls }: FrontierLayer, i: number): number {
    return pulls[i] + (looseIn(censuses[i]) > this.passed ? this.placed : this.ending);
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
  private passed = 0;
  private placed = 0;
  /** The piece that all the rest is, -1 where it is none or several. */
  private lone = -1;
  /** What a lone piece adds, by the colour of the plugs and whether the end is placed; NaN where not worked out yet. */
  private readonly known: Float64Array;
  private readonly mostColour: number;
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
    this.mostColour = view.width + 1;
    this.known = new Float64Array(2 * (2 * this.mostColour + 1));
  }

  enter(cell: number): void {
    const { rest, view } = this;
    this.cell = cell;
    this.passed = view.start <= cell ? 1 : 0;
    this.placed = this.potential.restFrom[cell + 1];
    const begin = rest.from[cell + 1];
    const stop = begin + rest.count[cell + 1];
    this.lone = stop - begin === 1 ? rest.list[begin] : -1;
    if (this.lone >= 0) this.known.fill(Number.NaN);
    else for (let k = begin; k < stop; k++) this.rank[rest.list[k]] = k - begin;
  }

  of(layer: FrontierLayer, i: number): number {
    const census = layer.censuses[i];
    const endPlaced = looseIn(census) > this.passed;
    const linear = layer.pulls[i] + this.placed;
    if (this.lone < 0) return linear + this.manyPieces(layer, i, endPlaced);
    const terminals = 1 - this.passed + (endPlaced ? 0 : 1);
    if (((openIn(census) + terminals) & 1) !== 0) return Number.POSITIVE_INFINITY;
    const colour = colourIn(census);
    const place = 2 * (colour + this.mostColour) + (endPlaced ? 1 : 0);
    let rest = this.known[place];
    if (Number.isNaN(rest)) {
      rest = this.pieceCost(this.lone, colour, !endPlaced);
      this.known[place] = rest;
    }
    return linear + rest;
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

  private manyPieces({ keys, words }: FrontierLayer, i: number, endPlaced: boolean): number {
    const { rest, view, cell, plugs, colour } = this;
    const begin = rest.from[cell + 1];
    const count = rest.count[cell + 1];
    plugs.fill(0, 0, count);
    colour.fill(0, 0, count);
    const { width } = view;
    const column = cell % width;
    const row = (cell - column) / width;
    const unprocessed = (cell + 1) * width;
    for (let w = 0; w < words; w++) {
      const word = keys[i * words + w];
      for (let open = (word | (word >>> 1)) & 0x55555555; open !== 0; open &= open - 1) {
        const p = 16 * w + ((31 - Math.clz32(open & -open)) >> 1);
        // Plugs up to the cell's column lead into the next row, those beyond into the cell's own.
        const rank = this.rank[rest.at[unprocessed + (p <= column + 1 ? p : p - 1)]];
        plugs[rank]++;
        const onward = p <= column ? row + 1 + p : row + p - (p === column + 1 ? 0 : 1);
        colour[rank] += (onward & 1) === 0 ? 1 : -1;
      }
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
