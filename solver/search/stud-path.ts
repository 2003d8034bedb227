import type { FloorRaster } from '../lattice/floor-raster.js';
import type { StudLattice } from '../lattice/stud-lattice.js';
import { PathHeat } from './path-heat.js';
import { bends, sideOf } from './stud-bends.js';
import { existsNear, type Neighbourhood, neighbourhood } from './stud-spacing.js';

/**
 * A legal path on the stud lattice that can be changed locally. Keeps, at every moment, the position of each node on
 * the path and how many path pieces heat each pixel, so that a change costs only what it touches.
 */
export class StudPath {
  /** Lattice nodes in order, one stud apart; only the first `length` count. */
  nodes: Int32Array;
  length: number;
  private readonly position: Int32Array;
  private readonly heat: PathHeat;
  private readonly near: Neighbourhood;
  /** 1 where the lattice has all nodes near a node. */
  private readonly whole: Uint8Array;
  private readonly fresh: Int32Array;
  private scratch = new Int32Array(64);
  private stamp = 0;
  private readonly freshStamp: Int32Array;
  /** What `coldBeside` said of a node, and the form of the path it said it about. */
  private readonly coldKnown: Float64Array;
  private readonly coldStamp: Int32Array;
  private form = 1;

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
    this.fresh = new Int32Array(s.nx * s.ny);
    this.freshStamp = new Int32Array(s.nx * s.ny);
    this.coldKnown = new Float64Array(s.nx * s.ny);
    this.coldStamp = new Int32Array(s.nx * s.ny);
    this.near = neighbourhood(s, minGap);
    this.whole = new Uint8Array(s.nx * s.ny);
    for (let j = minGap; j < s.ny - minGap; j++)
      this.whole.fill(1, j * s.nx + minGap, Math.max(j * s.nx + minGap, (j + 1) * s.nx - minGap));
    this.heat = new PathHeat(floor, s.nx, s.lattice.pitch, heatRadius);
    for (let k = 0; k < this.length; k++) this.position[this.nodes[k]] = k;
    for (let k = 0; k + 1 < heatedTo; k++) this.heat.warmPiece(this.nodes[k], this.nodes[k + 1]);
    for (let k = 0; k < heatedTo; k++) if (this.isKnot(k)) this.heat.warmKnot(this.nodes[k]);
  }

  /** Weighted target area not heated by the counted part of the path, mm2. */
  get cold(): number {
    return this.heat.cold;
  }

  at(k: number): number {
    return this.nodes[k];
  }

  positionOf(v: number): number {
    return this.position[v];
  }

  /** Pixels that one channel piece heats: what weighing a change costs a stud. */
  pixelsPerPiece(): number {
    return this.heat.stripSize;
  }

  heatedUpTo(): number {
    return this.heatedTo;
  }

  isCorner(k: number): boolean {
    return (
      k > 0 && k < this.length - 1 && this.nodes[k] - this.nodes[k - 1] !== this.nodes[k + 1] - this.nodes[k]
    );
  }

  /** 1 or -1 where the path turns one way or the other, 0 where it goes straight on. */
  sideAt(k: number): number {
    return this.isCorner(k) ? sideOf(this.nodes, k) : 0;
  }

  turns(from = 0, to = this.length - 1): number {
    let n = 0;
    for (let k = Math.max(1, from); k < Math.min(this.length - 1, to + 1); k++) if (this.isCorner(k)) n++;
    return n;
  }

  /** Cold weight in the pixels that touch node v, mm2: what a run through it would heat at least. */
  coldBeside(v: number): number {
    if (this.coldStamp[v] !== this.form) {
      this.coldStamp[v] = this.form;
      this.coldKnown[v] = this.heat.coldBeside(v);
    }
    return this.coldKnown[v];
  }

  /** Corner or end of the heated part. */
  private isKnot(k: number): boolean {
    return k === 0 || k === this.heatedTo - 1 || this.isCorner(k);
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
    const { count, offset, most } = near;
    for (let k = 0; k <= m; k++) {
      const v = walk[k];
      if (k > 0 && k < m) {
        const own = position[v];
        if (own >= 0 && (own <= a || own >= b)) return false;
      }
      const whole = this.whole[v] === 1;
      for (let n = 0; n < count; n++) {
        if (!whole && !existsNear(s, near, v, n)) continue;
        const w = v + offset[n];
        if (freshStamp[w] === stamp) {
          if (Math.abs(fresh[w] - k) > most[n]) return false;
          continue;
        }
        const q = position[w];
        if (q < 0 || (q > a && q < b)) continue;
        const apart = q <= a ? a - q + k : q - b + (m - k);
        if (apart > most[n]) return false;
      }
    }
    // Pairs of old nodes on either side of the change: their distance along the path changes with it.
    const span = near.longest;
    for (let p = Math.max(0, a - span); p < a; p++) {
      const v = this.nodes[p];
      const whole = this.whole[v] === 1;
      for (let n = 0; n < count; n++) {
        if (!whole && !existsNear(s, near, v, n)) continue;
        const q = position[v + offset[n]];
        if (q > b && a - p + m + (q - b) > most[n]) return false;
      }
    }
    return true;
  }

  /** Whether some of a walk's nodes, looked at by way of trial, come too near the path before a or behind b. */
  crowded(a: number, b: number, walk: ArrayLike<number>): boolean {
    const m = walk.length - 1;
    for (let k = m >> 2; k < m; k += Math.max(1, m >> 2)) {
      const v = walk[k];
      if (k > 0 && this.crowdedAt(v, k, m - k, a, b)) return true;
    }
    return false;
  }

  /** `before`, `after`: pieces of the walk from a to node v and from there to b. */
  private crowdedAt(v: number, before: number, after: number, a: number, b: number): boolean {
    const { s, near, position } = this;
    const { count, offset, most } = near;
    const whole = this.whole[v] === 1;
    for (let n = 0; n < count; n++) {
      if (!whole && !existsNear(s, near, v, n)) continue;
      const q = position[v + offset[n]];
      if (q < 0 || (q >= a && q <= b)) continue;
      if ((q < a ? a - q + before : q - b + after) > most[n]) return true;
    }
    return false;
  }

  /** Whether the channel piece from node v by one step (+-1, +-nx) is open. */
  joined(v: number, step: number): boolean {
    const { s } = this;
    const low = step > 0 ? v : v + step;
    if (low < 0) return false;
    return (step === 1 || step === -1 ? s.east[low] : s.north[low]) === 1;
  }

  /** Whether node v keeps its distance from everything but positions a..b and what they may come near. */
  clear(v: number, a: number, b: number): boolean {
    const own = this.position[v];
    return !(own >= 0 && (own <= a || own >= b)) && !this.crowdedAt(v, 0, 0, a, b);
  }

  /** Whether node k of a walk in place of positions a..b would be a knot. */
  private isWalkKnot(a: number, b: number, walk: ArrayLike<number>, k: number): boolean {
    const m = walk.length - 1;
    if ((k === 0 && a === 0) || (k === m && b === this.heatedTo - 1)) return true;
    const before = k > 0 ? walk[k - 1] : this.nodes[a - 1];
    const after = k < m ? walk[k + 1] : this.nodes[b + 1];
    return walk[k] - before !== after - walk[k];
  }

  /** Whether the piece of path from node v to node w lies between positions a and b. */
  private laidBetween(a: number, b: number, v: number, w: number): boolean {
    const p = this.position[v];
    const q = this.position[w];
    return p >= a && p <= b && q >= a && q <= b && (p - q === 1 || q - p === 1);
  }

  /** Notes the place of every node of a walk that visits none twice. */
  private mark(walk: ArrayLike<number>): void {
    const { fresh, freshStamp } = this;
    const stamp = ++this.stamp;
    for (let k = 0; k < walk.length; k++) {
      freshStamp[walk[k]] = stamp;
      fresh[walk[k]] = k;
    }
  }

  /** Whether the marked walk has a piece from node v to node w. */
  private walked(v: number, w: number): boolean {
    const { fresh, freshStamp, stamp } = this;
    if (freshStamp[v] !== stamp || freshStamp[w] !== stamp) return false;
    const apart = fresh[v] - fresh[w];
    return apart === 1 || apart === -1;
  }

  /**
   * Counts `walk` as heat in place of positions a..b; pieces that both have stay as they are. When the cold area would
   * grow by more than `allowance` mm2, everything is put back and the answer is false.
   */
  private swapHeat(a: number, b: number, walk: ArrayLike<number>, allowance: number): boolean {
    if (!this.mayWarm(a, b, walk, -allowance)) return false;
    const { heat, nodes } = this;
    const before = heat.cold;
    this.mark(walk);
    for (let k = 0; k + 1 < walk.length; k++)
      if (!this.laidBetween(a, b, walk[k], walk[k + 1])) heat.warmPiece(walk[k], walk[k + 1]);
    for (let k = 0; k < walk.length; k++) if (this.isWalkKnot(a, b, walk, k)) heat.warmKnot(walk[k]);
    const limit = before + allowance;
    let k = a;
    for (; k <= b && heat.cold <= limit; k++) {
      if (this.isKnot(k)) heat.coolKnot(nodes[k]);
      if (k < b && !this.walked(nodes[k], nodes[k + 1])) heat.coolPiece(nodes[k], nodes[k + 1]);
    }
    if (heat.cold <= limit) return true;
    this.swapBack(a, k - 1, b, walk, before);
    return false;
  }

  /** Whether `walk` in place of positions a..b could newly heat as much as `wanted` (mm2). */
  private mayWarm(a: number, b: number, walk: ArrayLike<number>, wanted: number): boolean {
    const { heat } = this;
    let gain = 0;
    for (let k = 0; gain < wanted && k < walk.length; k++) {
      if (k + 1 < walk.length && !this.laidBetween(a, b, walk[k], walk[k + 1]))
        gain += heat.coldAtPiece(walk[k], walk[k + 1]);
      if (this.isWalkKnot(a, b, walk, k)) gain += heat.coldAtKnot(walk[k]);
    }
    return gain >= wanted;
  }

  /** Undoes the last `swapHeat`, which has got as far as position `to`. */
  private swapBack(a: number, to: number, b: number, walk: ArrayLike<number>, before: number): void {
    const { heat, nodes } = this;
    for (let k = a; k <= to; k++) {
      if (this.isKnot(k)) heat.warmKnot(nodes[k]);
      if (k < b && !this.walked(nodes[k], nodes[k + 1])) heat.warmPiece(nodes[k], nodes[k + 1]);
    }
    for (let k = 0; k + 1 < walk.length; k++)
      if (!this.laidBetween(a, b, walk[k], walk[k + 1])) heat.coolPiece(walk[k], walk[k + 1]);
    for (let k = 0; k < walk.length; k++) if (this.isWalkKnot(a, b, walk, k)) heat.coolKnot(walk[k]);
    heat.cold = before;
  }

  /**
   * Turns and jogs gained if positions a..b became `walk`. A jog is a straight piece shorter than `jogStuds` whose two
   * corners turn opposite ways: a step, a stair, the leg of a stubby finger. One of a single stud, or shorter than the
   * least gap, counts `slight` times.
   */
  bendChange(
    a: number,
    b: number,
    walk: ArrayLike<number>,
    jogStuds: number,
    slight = 1,
  ): { turns: number; jogs: number } {
    const least = Math.max(2, this.minGap);
    const from = Math.max(0, a - jogStuds - 1);
    const to = Math.min(this.length - 1, b + jogStuds + 1);
    const before = bends(this.nodes, from, to, jogStuds, least, slight);
    const lead = a - from;
    const m = walk.length - 1;
    const size = lead + m + (to - b) + 1;
    if (this.scratch.length < size) this.scratch = new Int32Array(2 * size);
    const { scratch, nodes } = this;
    for (let k = 0; k < lead; k++) scratch[k] = nodes[from + k];
    for (let k = 0; k <= m; k++) scratch[lead + k] = walk[k];
    for (let k = 1; k <= to - b; k++) scratch[lead + m + k] = nodes[b + k];
    const after = bends(scratch, 0, size - 1, jogStuds, least, slight);
    return { turns: after.turns - before.turns, jogs: after.jogs - before.jogs };
  }

  bends(to: number, jogStuds: number, slight = 1): { turns: number; jogs: number } {
    return bends(this.nodes, 0, Math.min(this.length - 1, to), jogStuds, Math.max(2, this.minGap), slight);
  }

  /** By how much the cold area would grow if positions a..b became `walk`, mm2; Infinity beyond `dear`. */
  coldChange(a: number, b: number, walk: ArrayLike<number>, dear: number): number {
    const before = this.heat.cold;
    if (!this.swapHeat(a, b, walk, dear)) return Infinity;
    const change = this.heat.cold - before;
    this.swapBack(a, b, b, walk, before);
    return change;
  }

  /**
   * Replaces positions a..b by `walk` when the cold area grows by no more than `allowance` (mm2, may be negative).
   * The caller has asked `legal` first; a..b must lie in the heated part. Tells whether it was done.
   */
  replace(a: number, b: number, walk: ArrayLike<number>, allowance: number): boolean {
    if (!this.swapHeat(a, b, walk, allowance)) return false;
    this.form++;
    for (let k = a + 1; k < b; k++) this.position[this.nodes[k]] = -1;
    const grown = walk.length - 1 - (b - a);
    if (grown !== 0) {
      if (this.length + grown > this.nodes.length) {
        const roomier = new Int32Array(2 * (this.length + grown));
        roomier.set(this.nodes);
        this.nodes = roomier;
      }
      this.nodes.copyWithin(b + grown, b, this.length);
      this.length += grown;
      this.heatedTo += grown;
    }
    for (let k = 0; k < walk.length; k++) this.nodes[a + k] = walk[k];
    const { nodes, position } = this;
    const to = grown === 0 ? a + walk.length : this.length;
    for (let k = a; k < to; k++) position[nodes[k]] = k;
    return true;
  }
}
