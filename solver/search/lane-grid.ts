import { boxSum, type FloorRaster } from '../lattice/floor-raster.js';
import type { StudLattice } from '../lattice/stud-lattice.js';
import type { GridTask } from '../model/grid-task.js';
import { endCostAt, type Mouths } from './mouths.js';

/** The grid graph that chosen columns and rows make on the stud lattice, as a routing task in mm2 of cold floor. */
export interface LaneGrid {
  readonly columns: Int32Array;
  readonly rows: Int32Array;
  readonly task: GridTask;
  /** Lattice node of each grid node. */
  readonly node: Int32Array;
}

export interface LaneGridOptions {
  readonly columns: Int32Array;
  readonly rows: Int32Array;
  /** Nodes the main stretch may use. */
  readonly usable: Uint8Array;
  /** Ways into the buffer, at which a route may end unless another lane lies across them. */
  readonly mouths: Mouths;
  readonly start: number;
  readonly turnWeight: number;
  /** Cost of each piece between neighbouring columns, and between neighbouring rows, mm2; 0 when left out. */
  readonly eastCost?: number;
  readonly northCost?: number;
  readonly heatRadius: number;
  /** Summed-area table of the floor raster. */
  readonly sums: Float64Array;
}

/** Null when the start is not on the grid. */
export function laneGrid(s: StudLattice, floor: FloorRaster, options: LaneGridOptions): LaneGrid | null {
  const { columns, rows, usable } = options;
  const nx = columns.length;
  const ny = rows.length;
  const size = nx * ny;
  const node = new Int32Array(size);
  const present = new Uint8Array(size);
  const east = new Uint8Array(size);
  const north = new Uint8Array(size);
  const skipCost = new Float64Array(size);
  const endCost = new Float64Array(size).fill(Infinity);
  let start = -1;
  for (let j = 0; j < ny; j++)
    for (let i = 0; i < nx; i++) {
      const v = j * nx + i;
      const at = rows[j] * s.nx + columns[i];
      node[v] = at;
      if (!usable[at]) continue;
      present[v] = 1;
      if (at === options.start) start = v;
      const across = (free: boolean, distance: number) => (free ? distance : Infinity);
      endCost[v] = endCostAt(options.mouths, at, {
        east: across(usable[rows[j] * s.nx + columns[i + 1]] === 1, columns[i + 1] - columns[i]),
        west: across(usable[rows[j] * s.nx + columns[i - 1]] === 1, columns[i] - columns[i - 1]),
        north: across(usable[rows[j + 1] * s.nx + columns[i]] === 1, rows[j + 1] - rows[j]),
        south: across(usable[rows[j - 1] * s.nx + columns[i]] === 1, rows[j] - rows[j - 1]),
      });
      skipCost[v] = cellWeight(s, floor, options, i, j);
      if (i + 1 < nx) east[v] = clear(s.east, usable, at, 1, columns[i + 1] - columns[i]);
      if (j + 1 < ny) north[v] = clear(s.north, usable, at, s.nx, rows[j + 1] - rows[j]);
    }
  if (start < 0) return null;
  return {
    columns,
    rows,
    node,
    task: {
      nx,
      ny,
      present,
      east,
      north,
      eastCost: new Float64Array(size).fill(options.eastCost ?? 0),
      northCost: new Float64Array(size).fill(options.northCost ?? 0),
      start,
      endCost,
      endOnly: new Uint8Array(size),
      skipCost,
      turnCost: new Float64Array(size).fill(options.turnWeight),
    },
  };
}

/** 1 when all `steps` channel pieces from `at` are open and every node on the way is usable. */
function clear(pieces: Uint8Array, usable: Uint8Array, at: number, stride: number, steps: number): 0 | 1 {
  for (let k = 0, v = at; k < steps; k++, v += stride) if (!pieces[v] || !usable[v + stride]) return 0;
  return 1;
}

/** Target weight that goes cold, roughly, when grid node (i, j) is left out: its box halfway to its neighbours. */
function cellWeight(
  s: StudLattice,
  floor: FloorRaster,
  { columns, rows, heatRadius, sums }: LaneGridOptions,
  i: number,
  j: number,
): number {
  const { per, pad } = floor;
  const size = s.lattice.pitch / per;
  const reach = Math.round(heatRadius / size);
  const half = (lanes: Int32Array, k: number, step: 1 | -1) => {
    const next = lanes[k + step];
    return next === undefined ? reach : Math.min(reach, (Math.abs(next - lanes[k]) * per) / 2);
  };
  const x = pad + columns[i] * per;
  const y = pad + rows[j] * per;
  return boxSum(
    floor,
    sums,
    Math.round(x - half(columns, i, -1)),
    Math.round(y - half(rows, j, -1)),
    Math.round(x + half(columns, i, 1)),
    Math.round(y + half(rows, j, 1)),
  );
}

/** The lattice nodes a grid route passes, every stud counted. */
export function studsOfRoute(grid: LaneGrid, s: StudLattice, route: Int32Array): number[] {
  const studs = [grid.node[route[0]]];
  for (let k = 1; k < route.length; k++) {
    const from = grid.node[route[k - 1]];
    const to = grid.node[route[k]];
    const gap = Math.abs(to - from);
    const step = gap % s.nx === 0 && gap > 0 && Math.floor(from / s.nx) !== Math.floor(to / s.nx) ? s.nx : 1;
    for (let v = from; v !== to; ) {
      v += to > from ? step : -step;
      studs.push(v);
    }
  }
  return studs;
}
