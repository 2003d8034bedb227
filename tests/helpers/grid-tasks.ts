import type { GridTask } from '../../solver/model/grid-task.js';

export interface GridCosts {
  readonly start?: number;
  /** Nodes where the path may end; default every node. */
  readonly ends?: readonly number[];
  readonly skip?: number;
  readonly turn?: number;
  readonly absent?: readonly number[];
}

/** Full nx x ny grid (less `absent`) with uniform costs; by default every node must be visited and turns cost 1. */
export function gridTask(nx: number, ny: number, costs: GridCosts = {}): GridTask {
  const size = nx * ny;
  const present = new Uint8Array(size).fill(1);
  for (const v of costs.absent ?? []) present[v] = 0;
  const east = new Uint8Array(size);
  const north = new Uint8Array(size);
  for (let v = 0; v < size; v++) {
    if (present[v] === 0) continue;
    if (v % nx < nx - 1 && present[v + 1] === 1) east[v] = 1;
    if (v + nx < size && present[v + nx] === 1) north[v] = 1;
  }
  const endCost = new Float64Array(size).fill(costs.ends === undefined ? 0 : Number.POSITIVE_INFINITY);
  for (const v of costs.ends ?? []) endCost[v] = 0;
  return {
    nx,
    ny,
    present,
    east,
    north,
    eastCost: new Float64Array(size),
    northCost: new Float64Array(size),
    start: costs.start ?? 0,
    endCost,
    endOnly: new Uint8Array(size),
    skipCost: new Float64Array(size).fill(costs.skip ?? Number.POSITIVE_INFINITY),
    turnCost: new Float64Array(size).fill(costs.turn ?? 1),
  };
}

/** Small seeded generator (mulberry32): numbers in [0, 1). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let x = Math.imul(state ^ (state >>> 15), state | 1);
    x ^= x + Math.imul(x ^ (x >>> 7), x | 61);
    return ((x ^ (x >>> 14)) >>> 0) / 4294967296;
  };
}

/** Grid of up to maxSide x maxSide nodes with holes, missing edges, random costs, forced nodes and few ends. */
export function randomGridTask(random: () => number, maxSide: number, maxNodes: number): GridTask {
  const pick = (n: number): number => Math.floor(random() * n);
  const nx = 1 + pick(maxSide);
  const ny = Math.max(1, Math.min(1 + pick(maxSide), Math.floor(maxNodes / nx)));
  const size = nx * ny;
  const holes = random() < 0.5 ? 0 : random() * 0.3;
  const cuts = random() < 0.5 ? 0 : random() * 0.25;
  const start = pick(size);
  const absent = Array.from({ length: size }, (_, v) => v).filter((v) => v !== start && random() < holes);
  const task = gridTask(nx, ny, { start, absent });
  const endShare = random();
  const forcedShare = random() < 0.5 ? 0 : random();
  // Whole numbers make ties frequent; eighths stay exact in binary.
  const unit = random() < 0.5 ? 1 : 0.125;
  const cost = (limit: number): number => Math.floor((random() * limit) / unit) * unit;
  for (let v = 0; v < size; v++) {
    if (random() < cuts) task.east[v] = 0;
    if (random() < cuts) task.north[v] = 0;
    task.eastCost[v] = cost(2);
    task.northCost[v] = cost(2);
    task.turnCost[v] = cost(4);
    task.skipCost[v] = random() < forcedShare ? Number.POSITIVE_INFINITY : cost(8);
    task.endCost[v] = random() < endShare ? cost(5) : Number.POSITIVE_INFINITY;
    task.endOnly[v] = random() < 0.1 ? 1 : 0;
  }
  return task;
}
