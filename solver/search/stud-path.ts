import type { FloorRaster } from '../lattice/floor-raster.js';
import type { StudLattice } from '../lattice/stud-lattice.js';

/**
 * A legal path on the stud lattice that can be changed locally. Keeps, at every moment, the position of each node on
 * the path and how many path pieces heat each pixel, so that a change costs only what it touches.
 */
export class StudPath {
  /** Lattice nodes in order; consecutive ones are one stud apart. */
  nodes: Int32Array;
  length: number;
  /** Weighted target area not heated by the counted part of the path, mm2. */
  cold: number;
  private readonly position: Int32Array;
  private readonly heat: Uint16Array;
  private readonly near: Neighbourhood;
  private readonly fresh: Int32Array;
  private scratch = new Int32Array(64);
  private stamp = 0;
  private readonly freshStamp: Int32Array;
  private readonly stampEast: Int32Array;
  private readonly stampNorth: Int32Array;

  /** `heatedTo`: pieces from this position on are laid but not counted as heat. */
  constructor(
    readonly s: StudLattice,
    readonly floor: FloorRaster,
    nodes: ArrayLike<number>,
    readonly minGap: number,
    heatRadius: number,
    private heatedTo: number,
  ) {
    this.nodes = Int32Array.from(nodes);
    this.length = nodes.length;
    this.position = new Int32Array(s.nx * s.ny).fill(-1);
    this.heat = new Uint16Array(floor.weight.length);
    this.fresh = new Int32Array(s.nx * s.ny);
    this.freshStamp = new Int32Array(s.nx * s.ny);
    this.near = neighbourhood(s, minGap);
    this.stampEast = heatStamp(floor, s.lattice.pitch, heatRadius, 1, 0);
    this.stampNorth = heatStamp(floor, s.lattice.pitch, heatRadius, 0, 1);
    this.cold = floor.total;
    for (let k = 0; k < this.length; k++) this.position[this.nodes[k]] = k;
    for (let k = 0; k + 1 < heatedTo; k++) this.warm(this.nodes[k], this.nodes[k + 1]);
  }

  at(k: number): number {
    return this.nodes[k];
  }

  positionOf(v: number): number {
    return this.position[v];
  }

  /** Pixels that one channel piece heats: what weighing a change costs a stud. */
  pixelsPerPiece(): number {
    return Math.max(this.stampEast.length, this.stampNorth.length);
  }

  heatedUpTo(): number {
    return this.heatedTo;
  }

  isCorner(k: number): boolean {
    return (
      k > 0 && k < this.length - 1 && this.nodes[k] - this.nodes[k - 1] !== this.nodes[k + 1] - this.nodes[k]
    );
  }

  turns(from = 0, to = this.length - 1): number {
    let n = 0;
    for (let k = Math.max(1, from); k < Math.min(this.length - 1, to + 1); k++) if (this.isCorner(k)) n++;
    return n;
  }

  /** Cold weight in the pixels that touch node v, mm2: what a run through it would heat at least. */
  coldBeside(v: number): number {
    const { per, width, weight } = this.floor;
    const base = this.pixelOf(v);
    let sum = 0;
    for (let y = -per; y < per; y++)
      for (let x = -per; x < per; x++) {
        const p = base + y * width + x;
        if (this.heat[p] === 0) sum += weight[p];
      }
    return sum / 2;
  }

  /** Target weight that a piece would newly heat is taken off `cold`; call before counting it elsewhere. */
  private warm(a: number, b: number): void {
    const { heat } = this;
    const { weight } = this.floor;
    const base = this.pixelOf(Math.min(a, b));
    const offsets = Math.abs(a - b) === 1 ? this.stampEast : this.stampNorth;
    for (let k = 0; k < offsets.length; k++) {
      const p = base + offsets[k];
      if (heat[p]++ === 0) this.cold -= weight[p];
    }
  }

  private cool(a: number, b: number): void {
    const { heat } = this;
    const { weight } = this.floor;
    const base = this.pixelOf(Math.min(a, b));
    const offsets = Math.abs(a - b) === 1 ? this.stampEast : this.stampNorth;
    for (let k = 0; k < offsets.length; k++) {
      const p = base + offsets[k];
      if (--heat[p] === 0) this.cold += weight[p];
    }
  }

  private pixelOf(v: number): number {
    const { per, pad, width } = this.floor;
    const j = Math.floor(v / this.s.nx);
    return (j * per + pad) * width + (v - j * this.s.nx) * per + pad;
  }

  /**
   * May positions a..b be replaced by `walk` (from nodes[a] to nodes[b], one stud a step)? Checks that the walk is in
   * the routing area, keeps the spacing to everything else and to itself.
   */
  legal(a: number, b: number, walk: ArrayLike<number>): boolean {
    const { s, position, near, fresh, freshStamp } = this;
    const m = walk.length - 1;
    const stamp = ++this.stamp;
    for (let k = 0; k < m; k++) {
      const v = walk[k];
      const w = walk[k + 1];
      const open =
        w === v + 1 ? s.east[v] : w === v - 1 ? s.east[w] : w === v + s.nx ? s.north[v] : s.north[w];
      if (!open) return false;
    }
    for (let k = 0; k <= m; k++) {
      const v = walk[k];
      if (freshStamp[v] === stamp) return false;
      freshStamp[v] = stamp;
      fresh[v] = k;
    }
    const i0 = s.nx;
    for (let k = 0; k <= m; k++) {
      const v = walk[k];
      if (k > 0 && k < m) {
        const own = position[v];
        if (own >= 0 && (own <= a || own >= b)) return false;
      }
      const i = v % i0;
      for (let n = 0; n < near.count; n++) {
        const x = i + near.dx[n];
        if (x < 0 || x >= s.nx) continue;
        const w = v + near.offset[n];
        if (w < 0 || w >= position.length) continue;
        if (freshStamp[w] === stamp) {
          if (Math.abs(fresh[w] - k) > near.most[n]) return false;
          continue;
        }
        const q = position[w];
        if (q < 0 || (q > a && q < b)) continue;
        const apart = q <= a ? a - q + k : q - b + (m - k);
        if (apart > near.most[n]) return false;
      }
    }
    // Pairs of old nodes on either side of the change: their distance along the path changes with it.
    const span = near.longest;
    for (let p = Math.max(0, a - span); p < a; p++) {
      const v = this.nodes[p];
      const i = v % i0;
      for (let n = 0; n < near.count; n++) {
        const x = i + near.dx[n];
        if (x < 0 || x >= s.nx) continue;
        const w = v + near.offset[n];
        if (w < 0 || w >= position.length) continue;
        const q = position[w];
        if (q > b && a - p + m + (q - b) > near.most[n]) return false;
      }
    }
    return true;
  }

  private swapHeat(a: number, b: number, walk: ArrayLike<number>): void {
    for (let k = 0; k + 1 < walk.length; k++) this.warm(walk[k], walk[k + 1]);
    for (let k = a; k < b; k++) this.cool(this.nodes[k], this.nodes[k + 1]);
  }

  private swapHeatBack(a: number, b: number, walk: ArrayLike<number>): void {
    for (let k = a; k < b; k++) this.warm(this.nodes[k], this.nodes[k + 1]);
    for (let k = 0; k + 1 < walk.length; k++) this.cool(walk[k], walk[k + 1]);
  }

  /**
   * Turns and jogs gained if positions a..b became `walk`. A jog is a straight piece shorter than `jogStuds` whose two
   * corners turn opposite ways: a step, a stair, the leg of a stubby finger.
   */
  bendChange(
    a: number,
    b: number,
    walk: ArrayLike<number>,
    jogStuds: number,
  ): { turns: number; jogs: number } {
    const from = Math.max(0, a - jogStuds - 1);
    const to = Math.min(this.length - 1, b + jogStuds + 1);
    const before = bends(this.nodes, from, to, jogStuds);
    const lead = a - from;
    const m = walk.length - 1;
    const size = lead + m + (to - b) + 1;
    if (this.scratch.length < size) this.scratch = new Int32Array(2 * size);
    const { scratch, nodes } = this;
    for (let k = 0; k < lead; k++) scratch[k] = nodes[from + k];
    for (let k = 0; k <= m; k++) scratch[lead + k] = walk[k];
    for (let k = 1; k <= to - b; k++) scratch[lead + m + k] = nodes[b + k];
    const after = bends(scratch, 0, size - 1, jogStuds);
    return { turns: after.turns - before.turns, jogs: after.jogs - before.jogs };
  }

  bends(to: number, jogStuds: number): { turns: number; jogs: number } {
    return bends(this.nodes, 0, Math.min(this.length - 1, to), jogStuds);
  }

  /**
   * Replaces positions a..b by `walk` when the cold area grows by no more than `allowance` (mm2, may be negative).
   * The caller has asked `legal` first; a..b must lie in the heated part. Tells whether it was done.
   */
  replace(a: number, b: number, walk: ArrayLike<number>, allowance: number): boolean {
    const before = this.cold;
    this.swapHeat(a, b, walk);
    if (this.cold - before > allowance) {
      this.swapHeatBack(a, b, walk);
      this.cold = before;
      return false;
    }
    for (let k = a + 1; k < b; k++) this.position[this.nodes[k]] = -1;
    const grown = walk.length - 1 - (b - a);
    if (grown !== 0) {
      const nodes = new Int32Array(this.length + grown);
      nodes.set(this.nodes.subarray(0, a));
      nodes.set(this.nodes.subarray(b, this.length), b + grown);
      this.nodes = nodes;
      this.length += grown;
      this.heatedTo += grown;
    }
    for (let k = 0; k < walk.length; k++) this.nodes[a + k] = walk[k];
    for (let k = a; k < (grown === 0 ? a + walk.length : this.length); k++) this.position[this.nodes[k]] = k;
    return true;
  }
}

/** Corners of nodes[from..to], and short straight pieces between opposite corners. */
function bends(
  nodes: Int32Array,
  from: number,
  to: number,
  jogStuds: number,
): { turns: number; jogs: number } {
  let turns = 0;
  let jogs = 0;
  let lastCorner = -1;
  let lastSide = 0;
  for (let k = from + 1; k < to; k++) {
    const into = nodes[k] - nodes[k - 1];
    const out = nodes[k + 1] - nodes[k];
    if (into === out) continue;
    turns++;
    // Steps are +-1 and +-nx; quarter turns to the left keep this sign, to the right flip it.
    const side = Math.abs(into) === 1 ? Math.sign(into) * Math.sign(out) : -Math.sign(into) * Math.sign(out);
    if (lastCorner >= 0 && side !== lastSide && k - lastCorner < jogStuds) jogs++;
    lastCorner = k;
    lastSide = side;
  }
  return { turns, jogs };
}

/** True when two nodes of a walk, one of them at `from` or later, lie closer than the spacing allows. */
export function tooClose(s: StudLattice, walk: ArrayLike<number>, from: number, minGap: number): boolean {
  const near = neighbourhood(s, minGap);
  const position = new Int32Array(s.free.length).fill(-1);
  for (let k = 0; k < walk.length; k++) {
    if (position[walk[k]] >= 0) return true;
    position[walk[k]] = k;
  }
  for (let k = from; k < walk.length; k++)
    for (let n = 0; n < near.count; n++) {
      const x = (walk[k] % s.nx) + near.dx[n];
      const w = walk[k] + near.offset[n];
      if (x < 0 || x >= s.nx || w < 0 || w >= position.length || position[w] < 0) continue;
      if (Math.abs(position[w] - k) > near.most[n]) return true;
    }
  return false;
}

export interface Neighbourhood {
  readonly count: number;
  readonly dx: Int32Array;
  readonly offset: Int32Array;
  /** Longest stretch of path (studs) allowed between two nodes this far apart. */
  readonly most: Int32Array;
  readonly longest: number;
}

/** Lattice offsets closer than `minGap` studs, with the longest path between that still counts as one corner. */
export function neighbourhood(s: StudLattice, minGap: number): Neighbourhood {
  const dx: number[] = [];
  const offset: number[] = [];
  const most: number[] = [];
  for (let y = -minGap; y <= minGap; y++)
    for (let x = -minGap; x <= minGap; x++) {
      const d = Math.hypot(x, y);
      if (d === 0 || d >= minGap - 1e-9) continue;
      dx.push(x);
      offset.push(y * s.nx + x);
      most.push(Math.floor(Math.SQRT2 * d + 1 / s.lattice.pitch + 1e-9));
    }
  return {
    count: dx.length,
    dx: Int32Array.from(dx),
    offset: Int32Array.from(offset),
    most: Int32Array.from(most),
    longest: Math.max(1, ...most),
  };
}

/** Pixel offsets (from a node's own pixel) within heatRadius of the piece from that node to (ex, ey). */
function heatStamp(
  floor: FloorRaster,
  pitch: number,
  heatRadius: number,
  ex: number,
  ey: number,
): Int32Array {
  const { per, width } = floor;
  const size = pitch / per;
  const reach = Math.ceil(heatRadius / size);
  const offsets: number[] = [];
  for (let y = -reach; y < reach + ey * per; y++)
    for (let x = -reach; x < reach + ex * per; x++) {
      const px = (x + 0.5) * size;
      const py = (y + 0.5) * size;
      const qx = Math.max(0, Math.min(ex * pitch, px));
      const qy = Math.max(0, Math.min(ey * pitch, py));
      if (Math.hypot(px - qx, py - qy) <= heatRadius) offsets.push(y * width + x);
    }
  return Int32Array.from(offsets);
}
