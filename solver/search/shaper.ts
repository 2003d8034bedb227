import { cornerSaving } from '../problem.js';
import type { StudPath } from './stud-path.js';

/** What shaping a path on the stud lattice strives for. */
export interface ShapeGoal {
  /** Cold area one turn is worth, mm2. */
  readonly turnWeight: number;
  /** Straight pieces shorter than this (studs) between opposite corners cost `jogTurns` turns beside their own two. */
  readonly jogStuds: number;
  readonly jogTurns: number;
  /** As many such pieces count when one is of a single stud or shorter than the least gap. */
  readonly slight: number;
  /** Laid length (mm, rounded corners) wanted from the entry to the last heated position; outside it costs. */
  readonly shortest: number;
  readonly longest: number;
  /** Cold area one mm of missing or surplus length is worth, mm2. */
  readonly lengthWeight: number;
  /** 1 where changed runs may lie. */
  readonly usable: Uint8Array;
  /** Positions at the end of the heated part that must not move. */
  readonly fixedEnd: number;
}

/** A stretch moved sideways: positions a..b of the path become `walk`. */
export interface Move {
  readonly a: number;
  readonly b: number;
  readonly walk: number[];
}

/** Pixels that a move in an everyday room touches at most: runs of 7 m at pitch 30 and three studs. */
const EVERYDAY_PIXELS = 5500;

/**
 * Microseconds that a move takes, about, and more when its ground is looked at, by the pieces it takes away and lays
 * (regression over 307 invented rooms, r2 0.97, rounded).
 */
const WEIGHED = 0.9;
const JUDGED = 0.5;
const JUDGED_PIECE = 0.13;
/** Pixels of such a piece there, at pitch 30 and three studs. */
const EVERYDAY_STRIP = 12;

/** Weighs and makes moves on one path; keeps its laid length. */
export class Shaper {
  laid: number;
  /** Turns, and jogs as turns. */
  bends: number;
  /** Moves weighed; one that touches more pixels than in everyday rooms counts that many times more. */
  trials = 0;
  /** What weighing them took, in units of `room-work.ts`. */
  spent = 0;
  private readonly saving: number;
  private readonly pitch: number;

  constructor(
    readonly path: StudPath,
    readonly goal: ShapeGoal,
  ) {
    this.saving = cornerSaving(path.s.lattice);
    this.pitch = path.s.lattice.pitch;
    const { turns, jogs } = path.bends(path.heatedUpTo(), goal.jogStuds, goal.slight);
    this.bends = turns + goal.jogTurns * jogs;
    this.laid = laidLength(path, path.heatedUpTo() - 1);
  }

  /** Last position that may move. */
  last(): number {
    return this.path.heatedUpTo() - 1 - this.goal.fixedEnd;
  }

  score(): number {
    return this.path.cold + this.bends * this.goal.turnWeight + this.miss(this.laid);
  }

  /** Cost of a laid length outside the window, mm2. */
  miss(length: number): number {
    const { shortest, longest, lengthWeight } = this.goal;
    return Math.max(0, shortest - length, length - longest) * lengthWeight;
  }

  /** Makes the move when it is legal and costs no more than `allowance` mm2 (negative: must gain). */
  attempt(move: Move | null, allowance: number): boolean {
    const { path } = this;
    const change = move && this.legalChange(move, allowance);
    if (!change) return false;
    const { a, b, walk } = move;
    if (!path.replace(a, b, walk, allowance - change.fixed)) return false;
    this.laid = change.length;
    this.bends += change.bends;
    return true;
  }

  /**
   * What the move would cost, mm2, and its value: the same with a share `forgiven` of what missing or surplus length
   * it brings; null when it is illegal or its value is above `dear`.
   */
  weigh(
    move: Move,
    dear: number,
    forgiven: number,
  ): { readonly cost: number; readonly value: number } | null {
    const change = this.legalChange(move, dear, forgiven);
    if (!change) return null;
    const fixed = change.fixed - change.forgiven;
    const cold = this.path.coldChange(move.a, move.b, move.walk, dear - fixed);
    return cold === Infinity ? null : { cost: change.fixed + cold, value: fixed + cold };
  }

  /** Bends, length and their cost after the move; null when it is illegal or its gain cannot make up for that cost. */
  private legalChange({ a, b, walk }: Move, allowance: number, forgiven = 0): Change | null {
    if (b > this.last() || a < 0) return null;
    this.trials++;
    this.spent += WEIGHED;
    const { path, goal, pitch } = this;
    if (path.crowded(a, b, walk)) return null;
    for (let k = 1; k < walk.length - 1; k++) if (!goal.usable[walk[k]]) return null;
    const { turns, jogs } = path.bendChange(a, b, walk, goal.jogStuds, goal.slight);
    const bends = turns + goal.jogTurns * jogs;
    const length = this.laid + (walk.length - 1 - (b - a)) * pitch - turns * this.saving;
    const miss = this.miss(length) - this.miss(this.laid);
    const fixed = bends * goal.turnWeight + miss;
    const written = forgiven * Math.max(0, miss);
    // The most that a changed stretch can newly heat bounds what the move can gain.
    const atMost = Math.min(path.cold, (walk.length + 6) * pitch * pitch * 3);
    if (fixed - written - atMost > allowance) return null;
    const pixels = (walk.length + b - a) * path.pixelsPerPiece();
    this.trials += Math.floor(pixels / EVERYDAY_PIXELS);
    this.spent += JUDGED + (JUDGED_PIECE * pixels) / EVERYDAY_STRIP;
    return path.legal(a, b, walk) ? { bends, length, fixed, forgiven: written } : null;
  }

  snapshot(): Snapshot {
    const { path, laid, bends } = this;
    return { nodes: path.nodes.slice(0, path.length), laid, bends };
  }

  /** Back to a form that the path had under this shaper. */
  restore({ nodes, laid, bends }: Snapshot): void {
    const { path } = this;
    let a = 0;
    while (a + 1 < Math.min(nodes.length, path.length) && nodes[a + 1] === path.at(a + 1)) a++;
    let [p, b] = [nodes.length - 1, path.length - 1];
    while (p > a && b > a && nodes[p - 1] === path.at(b - 1)) {
      p--;
      b--;
    }
    path.replace(a, b, nodes.subarray(a, p + 1), Infinity);
    this.laid = laid;
    this.bends = bends;
  }
}

interface Change {
  readonly bends: number;
  readonly length: number;
  readonly fixed: number;
  /** What of that cost is forgiven. */
  readonly forgiven: number;
}

/** A form of the path, with what a shaper knows about it. */
export interface Snapshot {
  readonly nodes: Int32Array;
  readonly laid: number;
  readonly bends: number;
}

/** Laid length of positions 0..to, a corner's saving counted once it is passed. */
export function laidLength(path: StudPath, to: number): number {
  return to * path.s.lattice.pitch - path.turns(1, to - 1) * cornerSaving(path.s.lattice);
}

/** Studs the path runs straight along `n` beside position k, going by `step` along the path. */
export function legLength(path: StudPath, k: number, step: 1 | -1, n: number): number {
  let r = 0;
  while (
    k + step * (r + 1) >= 0 &&
    k + step * (r + 1) < path.length &&
    path.at(k + step * (r + 1)) === path.at(k) + (r + 1) * n
  )
    r++;
  return r;
}

/** Positions p..q (on one straight stretch) pushed by d studs along n; legs that point that way are taken in. */
export function sideways(path: StudPath, p: number, q: number, n: number, d: number): Move | null {
  const back = Math.min(d, legLength(path, p, -1, n));
  const ahead = Math.min(d, legLength(path, q, 1, n));
  const from = path.at(p);
  const to = path.at(q);
  const along = from === to ? 0 : (to - from) / (q - p);
  const limit = path.s.free.length;
  if (from + d * n < 0 || from + d * n >= limit || to + d * n < 0 || to + d * n >= limit) return null;
  const walk = new Array<number>(d - back + q - p + 1 + d - ahead);
  let k = 0;
  for (let r = back; r < d; r++) walk[k++] = from + r * n;
  for (let r = 0; r <= q - p; r++) walk[k++] = from + d * n + r * along;
  for (let r = d - 1; r >= ahead; r--) walk[k++] = to + r * n;
  return { a: p - back, b: q + ahead, walk };
}
