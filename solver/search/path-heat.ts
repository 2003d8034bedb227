import type { FloorRaster } from '../lattice/floor-raster.js';

/**
 * How many parts of a path heat each pixel. A path's heat is a strip beside each channel piece and a disc at each knot
 * (corner or end): the discs of straight nodes lie in those.
 */
export class PathHeat {
  /** Weighted target area not heated, mm2. */
  cold: number;
  /** Pixels of a strip and of a disc. */
  readonly stripSize: number;
  readonly discSize: number;
  private readonly counts: Uint16Array;
  private readonly strips: readonly [east: Int32Array, north: Int32Array];
  private readonly disc: Int32Array;

  constructor(
    private readonly floor: FloorRaster,
    private readonly nx: number,
    pitch: number,
    heatRadius: number,
  ) {
    this.counts = new Uint16Array(floor.weight.length);
    this.cold = floor.total;
    const size = pitch / floor.per;
    this.strips = [
      offsets(floor, size, heatRadius, (x, y) => x > 0 && x < pitch && Math.abs(y) <= heatRadius),
      offsets(floor, size, heatRadius, (x, y) => y > 0 && y < pitch && Math.abs(x) <= heatRadius),
    ];
    this.disc = offsets(floor, size, heatRadius, (x, y) => Math.hypot(x, y) <= heatRadius);
    this.stripSize = this.strips[0].length;
    this.discSize = this.disc.length;
  }

  /** Counts the strip of the piece between two neighbouring nodes; what it newly heats is taken off `cold`. */
  warmPiece(v: number, w: number): void {
    this.warm(Math.min(v, w), this.strips[Math.abs(v - w) === 1 ? 0 : 1]);
  }

  coolPiece(v: number, w: number): void {
    this.cool(Math.min(v, w), this.strips[Math.abs(v - w) === 1 ? 0 : 1]);
  }

  warmKnot(v: number): void {
    this.warm(v, this.disc);
  }

  coolKnot(v: number): void {
    this.cool(v, this.disc);
  }

  /** Cold weight (mm2) in the strip of the piece between two neighbouring nodes. */
  coldAtPiece(v: number, w: number): number {
    return this.coldAt(Math.min(v, w), this.strips[Math.abs(v - w) === 1 ? 0 : 1]);
  }

  coldAtKnot(v: number): number {
    return this.coldAt(v, this.disc);
  }

  /** Cold weight in the pixels that touch node v, mm2: what a run through it would heat at least. */
  coldBeside(v: number): number {
    const { per, width, weight } = this.floor;
    const base = this.pixelOf(v);
    let sum = 0;
    for (let y = -per; y < per; y++)
      for (let x = -per; x < per; x++) {
        const p = base + y * width + x;
        if (this.counts[p] === 0) sum += weight[p];
      }
    return sum / 2;
  }

  private coldAt(v: number, stamp: Int32Array): number {
    const { counts } = this;
    const { weight } = this.floor;
    const base = this.pixelOf(v);
    let cold = 0;
    for (let k = 0; k < stamp.length; k++) {
      const p = base + stamp[k];
      if (counts[p] === 0) cold += weight[p];
    }
    return cold;
  }

  private warm(v: number, stamp: Int32Array): void {
    const { counts } = this;
    const { weight } = this.floor;
    const base = this.pixelOf(v);
    let cold = this.cold;
    for (let k = 0; k < stamp.length; k++) {
      const p = base + stamp[k];
      if (counts[p]++ === 0) cold -= weight[p];
    }
    this.cold = cold;
  }

  private cool(v: number, stamp: Int32Array): void {
    const { counts } = this;
    const { weight } = this.floor;
    const base = this.pixelOf(v);
    let cold = this.cold;
    for (let k = 0; k < stamp.length; k++) {
      const p = base + stamp[k];
      if (--counts[p] === 0) cold += weight[p];
    }
    this.cold = cold;
  }

  private pixelOf(v: number): number {
    const { per, pad, width } = this.floor;
    const j = Math.floor(v / this.nx);
    return (j * per + pad) * width + (v - j * this.nx) * per + pad;
  }
}

/** Pixels, seen from a node's own pixel, whose middle (mm from the node) passes. */
function offsets(
  { per, width }: FloorRaster,
  size: number,
  heatRadius: number,
  passes: (x: number, y: number) => boolean,
): Int32Array {
  const reach = Math.max(per, Math.ceil(heatRadius / size));
  const found: number[] = [];
  for (let y = -reach; y < reach; y++)
    for (let x = -reach; x < reach; x++)
      if (passes((x + 0.5) * size, (y + 0.5) * size)) found.push(y * width + x);
  return Int32Array.from(found);
}
