import type { StudLattice } from '../lattice/stud-lattice.js';
import type { GridTask } from '../model/grid-task.js';
import { cornerSaving } from '../problem.js';
import { solveFrontier } from './frontier.js';
import { bends } from './stud-bends.js';
import { markAround, type Neighbourhood, neighbourhood, tooClose } from './stud-spacing.js';

/** The last stretch: from the end of the main path into the buffer and as far as it goes there. */
export interface Tail {
  /** Nodes after the main path's last one. */
  readonly nodes: number[];
  /** How many of them lie before the buffer. */
  readonly outside: number;
  /** Laid length (mm) from the first node in the buffer to the end. */
  readonly length: number;
  readonly turns: number;
}

export interface TailOptions {
  readonly buffer: Uint8Array;
  readonly minGap: number;
  /** Length beyond which more is of no use, mm. */
  readonly wanted: number;
  /** Longest way from the main path to the buffer, studs. */
  readonly maxOutside: number;
  readonly maxStates: number;
  /** Straight pieces shorter than this between opposite corners are avoided, studs; none by default. */
  readonly jogStuds?: number;
}

/** Coarse nodes of the buffer that a tail is searched on. */
const MAX_NODES = 500;

/** Length that a turn is worth where a tail is chosen, mm. */
const TURN_PRICE = 20;
/** The same for a step or the leg of a stubby finger. */
const JOG_PRICE = 500;

/** Nodes of the main path among which such pieces begin. */
const LATELY = 60;

/** The stretch may turn off at one of the first nodes in the buffer, so many of them. */
export const TAIL_DEPTH = 3;

/** The best tail behind `main`, or null when the buffer cannot be entered from its end. */
export function buildTail(s: StudLattice, main: ArrayLike<number>, options: TailOptions): Tail | null {
  const { buffer, minGap } = options;
  const end = main[main.length - 1];
  const last = main.length > 1 ? end - main[main.length - 2] : 0;
  const fromMain = Array.from(main);
  const lately = fromMain.slice(-LATELY);
  const near = neighbourhood(s, minGap);
  const taken = keepAway(s, near, main, minGap);
  let best: Tail | null = null;
  let bestWorth = Number.NEGATIVE_INFINITY;
  const worth = ({ length, turns }: Pick<Tail, 'length' | 'turns'>): number =>
    Math.min(length, options.wanted) - turns * TURN_PRICE;
  for (const step of [1, -1, s.nx, -s.nx]) {
    if (step === -last) continue;
    const stub: number[] = [];
    const takenHere = taken.slice();
    let deep = 0;
    for (let v = end; stub.length < options.maxOutside + TAIL_DEPTH && deep < TAIL_DEPTH; ) {
      if (!open(s, v, step)) break;
      v += step;
      if (taken[v]) break;
      stub.push(v);
      const behind =
        stub.length > minGap
          ? stub[stub.length - 1 - minGap]
          : fromMain[fromMain.length - 1 - (minGap - stub.length)];
      if (behind !== undefined) markAround(s, near, behind, takenHere);
      if (!buffer[v]) {
        if (deep > 0) break;
        continue;
      }
      deep++;
      const begun = (deep - 1) * s.lattice.pitch;
      const better = (rest: (turns: number) => number): boolean => {
        for (let turns = 0; ; turns++) {
          const length = begun + rest(turns);
          if (worth({ length, turns }) > bestWorth + 1e-9) return true;
          if (length >= options.wanted || rest(turns + 2) === rest(turns)) return false;
        }
      };
      for (const gx of [minGap, minGap + 1])
        for (const gy of [minGap, minGap + 1]) {
          const rest = longestInside(s, v, gx, gy, takenHere, options, better);
          if (!rest) continue;
          const nodes = [...stub, ...rest];
          const outside = stub.findIndex((w) => buffer[w] === 1);
          const walk = [end, ...nodes];
          const turns = countTurns(walk);
          const length =
            (nodes.length - 1 - outside) * s.lattice.pitch -
            countTurns(walk.slice(outside + 1)) * cornerSaving(s.lattice);
          const tail = { nodes, outside, length, turns };
          const value = worth(tail) - jogsOf([...lately, ...nodes], options.jogStuds ?? 0) * JOG_PRICE;
          if (value <= bestWorth + 1e-9) continue;
          if (tooClose(s, [...fromMain, ...nodes], fromMain.length, minGap)) continue;
          best = tail;
          bestWorth = value;
        }
    }
  }
  return best;
}

const open = (s: StudLattice, v: number, step: number): boolean =>
  (step === 1 ? s.east[v] : step === -1 ? s.east[v - 1] : step > 0 ? s.north[v] : s.north[v - s.nx]) === 1;

const jogsOf = (walk: readonly number[], jogStuds: number): number =>
  bends(Int32Array.from(walk), 0, walk.length - 1, jogStuds, 0, 1).jogs;

export function countTurns(walk: ArrayLike<number>): number {
  let n = 0;
  for (let k = 1; k + 1 < walk.length; k++) if (walk[k] - walk[k - 1] !== walk[k + 1] - walk[k]) n++;
  return n;
}

/** 1 where a node would come too near to the main path, its last few studs excepted. */
function keepAway(s: StudLattice, near: Neighbourhood, main: ArrayLike<number>, minGap: number): Uint8Array {
  const taken = new Uint8Array(s.free.length);
  for (let k = 0; k < main.length; k++) {
    taken[main[k]] = 1;
    if (k < main.length - minGap) markAround(s, near, main[k], taken);
  }
  return taken;
}

/** Length (mm) of the longest stretch found in a buffer from one of its nodes on, with nothing else near it. */
export function stretchInside(
  s: StudLattice,
  from: number,
  gap: number,
  options: Pick<TailOptions, 'buffer' | 'wanted' | 'maxStates'>,
): number {
  const rest = longestInside(s, from, gap, gap, new Uint8Array(s.free.length), options) ?? [];
  return rest.length * s.lattice.pitch - countTurns([from, ...rest]) * cornerSaving(s.lattice);
}

/**
 * Longest path found inside the buffer from `from` on lines gx, gy studs apart; nodes after `from`. Null where `better`
 * says no to the most (mm) that a path with so many turns can have there.
 */
function longestInside(
  s: StudLattice,
  from: number,
  gx: number,
  gy: number,
  taken: Uint8Array,
  { buffer, maxStates, wanted }: Pick<TailOptions, 'buffer' | 'wanted' | 'maxStates'>,
  better?: (most: (turns: number) => number) => boolean,
): number[] | null {
  const i0 = from % s.nx;
  const j0 = Math.floor(from / s.nx);
  const good = (v: number): boolean => v === from || (buffer[v] === 1 && !taken[v]);
  const clear = (v: number, step: number, count: number): boolean => {
    for (let k = 0; k < count; k++, v += step) if (!open(s, v, step) || !good(v + step)) return false;
    return true;
  };
  // Coarse nodes reachable from `from`, nearest first.
  const index = new Map<number, number>([[from, 0]]);
  const queue = [from];
  const cap = Math.min(MAX_NODES, Math.ceil((2.5 * wanted) / (Math.min(gx, gy) * s.lattice.pitch)) + 12);
  for (let head = 0; head < queue.length && queue.length < cap; head++)
    for (const [step, count] of [
      [1, gx],
      [-1, gx],
      [s.nx, gy],
      [-s.nx, gy],
    ] as const) {
      const v = queue[head];
      const w = v + step * count;
      if (w < 0 || w >= s.free.length || index.has(w) || !clear(v, step, count)) continue;
      index.set(w, queue.push(w) - 1);
    }
  if (queue.length === 1) return [];
  const cols = queue.map((v) => ((v % s.nx) - i0) / gx);
  const rows = queue.map((v) => (Math.floor(v / s.nx) - j0) / gy);
  const c0 = Math.min(...cols);
  const r0 = Math.min(...rows);
  const nx = Math.max(...cols) - c0 + 1;
  const ny = Math.max(...rows) - r0 + 1;
  const spans = [(nx - 1) * gx, (ny - 1) * gy].sort((a, b) => a - b);
  const all = (queue.length - 1) * Math.max(gx, gy);
  const most = (turns: number): number =>
    s.lattice.pitch *
    Math.min(all, Math.ceil((turns + 1) / 2) * spans[1] + Math.floor((turns + 1) / 2) * spans[0]);
  if (better && !better(most)) return null;
  const size = nx * ny;
  const present = new Uint8Array(size);
  const east = new Uint8Array(size);
  const north = new Uint8Array(size);
  const lattice = new Int32Array(size).fill(-1);
  queue.forEach((v, k) => {
    const g = (rows[k] - r0) * nx + cols[k] - c0;
    present[g] = 1;
    lattice[g] = v;
  });
  for (let g = 0; g < size; g++) {
    if (!present[g]) continue;
    if ((g + 1) % nx !== 0 && present[g + 1] && clear(lattice[g], 1, gx)) east[g] = 1;
    if (g + nx < size && present[g + nx] && clear(lattice[g], s.nx, gy)) north[g] = 1;
  }
  const task: GridTask = {
    nx,
    ny,
    present,
    east,
    north,
    eastCost: new Float64Array(size),
    northCost: new Float64Array(size),
    start: -r0 * nx - c0,
    endCost: new Float64Array(size),
    endOnly: new Uint8Array(size),
    skipCost: new Float64Array(size).fill(1),
    turnCost: new Float64Array(size).fill(0.05),
  };
  const found = solveFrontier(task, { maxStates });
  if (found.kind !== 'route') return [];
  const studs: number[] = [];
  for (let k = 1; k < found.nodes.length; k++) {
    const a = lattice[found.nodes[k - 1]];
    const b = lattice[found.nodes[k]];
    const horizontal =
      Math.abs(found.nodes[k] - found.nodes[k - 1]) === 1 && Math.floor(a / s.nx) === Math.floor(b / s.nx);
    const step = (b > a ? 1 : -1) * (horizontal ? 1 : s.nx);
    for (let v = a; v !== b; ) {
      v += step;
      studs.push(v);
    }
  }
  return studs;
}
