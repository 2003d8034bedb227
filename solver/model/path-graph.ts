import type { GridTask } from './grid-task.js';
import { onSimplePaths } from './simple-paths.js';

/** Slots of `slots`: the edge at a node's west, east, south and north side. */
export const WEST = 0;
export const EAST = 1;
export const SOUTH = 2;
export const NORTH = 3;

/**
 * What is left of a grid task once nodes and edges that no route can use are gone. Every route of the task uses
 * kept edges only, all forced edges, and leaves at least the dropped nodes unvisited.
 */
export interface PathGraph {
  readonly task: GridTask;
  /** Kept edges: end nodes (low < high), direction, cost; 1 where every route uses the edge. */
  readonly low: Int32Array;
  readonly high: Int32Array;
  readonly horizontal: Uint8Array;
  readonly cost: Float64Array;
  readonly forced: Uint8Array;
  /** Edge at side d of node v at slots[4 * v + d], -1 where there is none. */
  readonly slots: Int32Array;
  /** 1 for nodes that some route might visit. */
  readonly kept: Uint8Array;
  /** 1 for kept nodes every route visits. */
  readonly must: Uint8Array;
  /** 1 for kept nodes where the path might end. */
  readonly canEnd: Uint8Array;
  /** 1 for kept nodes that can only be visited as the end. */
  readonly lastOnly: Uint8Array;
  /** Skip cost of the dropped nodes. */
  readonly dropCost: number;
}

/** Mutable state of the reduction; edges are numbered as in the full grid: east of v is 2v, north of v is 2v + 1. */
interface Work {
  readonly task: GridTask;
  readonly edge: Uint8Array;
  readonly forced: Uint8Array;
  readonly kept: Uint8Array;
  readonly must: Uint8Array;
  readonly canEnd: Uint8Array;
  readonly lastOnly: Uint8Array;
  dropCost: number;
  changed: boolean;
}

/** Graph of a task with more than one node, or null when no route exists. */
export function reduceTask(task: GridTask): PathGraph | null {
  const work = begin(task);
  do {
    work.changed = false;
    for (let v = 0; v < work.kept.length; v++) {
      if (work.kept[v] === 1 && !settleNode(work, v)) return null;
    }
    if (!settleEnds(work) || !dropOffPath(work)) return null;
  } while (work.changed);
  return collect(work);
}

function begin(task: GridTask): Work {
  const n = task.present.length;
  const work: Work = {
    task,
    edge: new Uint8Array(2 * n),
    forced: new Uint8Array(2 * n),
    kept: task.present.slice(),
    must: new Uint8Array(n),
    canEnd: new Uint8Array(n),
    lastOnly: new Uint8Array(n),
    dropCost: 0,
    changed: false,
  };
  for (let v = 0; v < n; v++) {
    if (task.present[v] === 0) continue;
    work.edge[2 * v] = task.east[v];
    work.edge[2 * v + 1] = task.north[v];
    const isStart = v === task.start;
    work.must[v] = isStart || task.skipCost[v] === Infinity ? 1 : 0;
    work.canEnd[v] = !isStart && task.endCost[v] < Infinity ? 1 : 0;
    work.lastOnly[v] = !isStart ? task.endOnly[v] : 0;
  }
  return work;
}

/** Edge number at side d of v, or -1. */
function edgeAt(work: Work, v: number, d: number): number {
  const { nx } = work.task;
  if (d === WEST) return v % nx > 0 && work.edge[2 * (v - 1)] === 1 ? 2 * (v - 1) : -1;
  if (d === EAST) return v % nx < nx - 1 && work.edge[2 * v] === 1 ? 2 * v : -1;
  if (d === SOUTH) return v >= nx && work.edge[2 * (v - nx) + 1] === 1 ? 2 * (v - nx) + 1 : -1;
  return v + nx < work.kept.length && work.edge[2 * v + 1] === 1 ? 2 * v + 1 : -1;
}

function dropNode(work: Work, v: number): boolean {
  if (work.must[v] === 1) return false;
  work.kept[v] = 0;
  work.canEnd[v] = 0;
  work.dropCost += work.task.skipCost[v];
  work.changed = true;
  for (let d = 0; d < 4; d++) {
    const e = edgeAt(work, v, d);
    if (e >= 0) work.edge[e] = 0;
  }
  return true;
}

/** Applies the degree rules to one kept node; false when no route exists. */
function settleNode(work: Work, v: number): boolean {
  let degree = 0;
  let forced = 0;
  for (let d = 0; d < 4; d++) {
    const e = edgeAt(work, v, d);
    if (e < 0) continue;
    degree++;
    forced += work.forced[e];
  }
  const isStart = v === work.task.start;
  if (!isStart && degree < 2 && work.lastOnly[v] === 0) {
    work.lastOnly[v] = 1;
    work.changed = true;
  }
  const isSingle = isStart || work.lastOnly[v] === 1;
  if (degree === 0 || (!isStart && isSingle && work.canEnd[v] === 0)) return dropNode(work, v);
  if (forced > 0 && work.must[v] === 0) {
    work.must[v] = 1;
    work.changed = true;
  }
  if (forced === 2 && work.canEnd[v] === 1) {
    work.canEnd[v] = 0;
    work.changed = true;
  }
  const needed = isSingle ? 1 : 2;
  if (forced > needed) return false;
  const isFull = forced === needed;
  const isTight = work.must[v] === 1 && degree === needed && (isSingle || work.canEnd[v] === 0);
  if (!isFull && !isTight) return true;
  for (let d = 0; d < 4; d++) {
    const e = edgeAt(work, v, d);
    if (e < 0 || work.forced[e] === 1) continue;
    if (isFull) work.edge[e] = 0;
    else work.forced[e] = 1;
    work.changed = true;
  }
  return true;
}

/** A single possible end is the end, and a node that must be the end leaves no other; false when no route exists. */
function settleEnds(work: Work): boolean {
  let count = 0;
  let only = -1;
  let certain = -1;
  for (let v = 0; v < work.kept.length; v++) {
    if (work.canEnd[v] === 0) continue;
    count++;
    only = v;
    if (work.lastOnly[v] === 0 || work.must[v] === 0) continue;
    if (certain >= 0) return false;
    certain = v;
  }
  if (count === 0) return false;
  if (count === 1 && certain < 0) {
    work.must[only] = 1;
    work.lastOnly[only] = 1;
    work.changed = true;
  }
  if (count > 1 && certain >= 0) {
    work.canEnd.fill(0);
    work.canEnd[certain] = 1;
    work.changed = true;
  }
  return true;
}

/** Drops nodes on no simple path from the start to a possible end. False when a node every route visits is among them. */
function dropOffPath(work: Work): boolean {
  const { start, nx } = work.task;
  const n = work.kept.length;
  const sides = [-1, 1, -nx, nx];
  const graph = {
    count: n,
    degree: () => sides.length,
    neighbour: (v: number, d: number) => (edgeAt(work, v, d) < 0 ? -1 : v + sides[d]),
  };
  const ends = [...work.canEnd.keys()].filter((v) => work.canEnd[v] === 1);
  const isOn = onSimplePaths(graph, [start], ends);
  for (let w = 0; w < n; w++) {
    if (work.kept[w] === 1 && isOn[w] === 0 && !dropNode(work, w)) return false;
  }
  return true;
}

function collect(work: Work): PathGraph {
  const { task } = work;
  const n = work.kept.length;
  const slots = new Int32Array(4 * n).fill(-1);
  const low: number[] = [];
  const high: number[] = [];
  const horizontal: number[] = [];
  const cost: number[] = [];
  const forced: number[] = [];
  for (let v = 0; v < n; v++) {
    for (const d of [EAST, NORTH]) {
      const e = edgeAt(work, v, d);
      if (e < 0) continue;
      const w = d === EAST ? v + 1 : v + task.nx;
      slots[4 * v + d] = low.length;
      slots[4 * w + (d === EAST ? WEST : SOUTH)] = low.length;
      low.push(v);
      high.push(w);
      horizontal.push(d === EAST ? 1 : 0);
      cost.push(d === EAST ? task.eastCost[v] : task.northCost[v]);
      forced.push(work.forced[e]);
    }
  }
  return {
    task,
    low: Int32Array.from(low),
    high: Int32Array.from(high),
    horizontal: Uint8Array.from(horizontal),
    cost: Float64Array.from(cost),
    forced: Uint8Array.from(forced),
    slots,
    kept: work.kept,
    must: work.must,
    canEnd: work.canEnd,
    lastOnly: work.lastOnly,
    dropCost: work.dropCost,
  };
}
