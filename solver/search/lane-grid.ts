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
  /** Lanes that lie in place of the rows (columns) from so many columns (rows) on; -1 where one is missing. */
  readonly beyond?: { readonly axis: 'rows' | 'columns'; readonly at: number; readonly lanes: Int32Array };
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
  const { rowsAt, columnsAt } = lanesAt(options);
  let start = -1;
  for (let j = 0; j < ny; j++)
    for (let i = 0; i < nx; i++) {
      const v = j * nx + i;
      const across = columnsAt(j);
      const along = rowsAt(i);
      const x = across[i];
      const y = along[j];
      node[v] = x < 0 || y < 0 ? -1 : y * s.nx + x;
      if (node[v] < 0 || !usable[node[v]]) continue;
      const at = node[v];
      present[v] = 1;
      if (at === options.start) start = v;
      const column = (k: number) =>
        across[k] >= 0 && usable[y * s.nx + across[k]] ? Math.abs(across[k] - x) : Infinity;
      const row = (k: number) =>
        along[k] >= 0 && usable[along[k] * s.nx + x] ? Math.abs(along[k] - y) : Infinity;
      endCost[v] = endCostAt(options.mouths, at, {
        east: column(i + 1),
        west: column(i - 1),
        north: row(j + 1),
        south: row(j - 1),
      });
      skipCost[v] = cellWeight(
        s,
        floor,
        options,
        x,
        y,
        [across[i - 1], across[i + 1]],
        [along[j - 1], along[j + 1]],
      );
      if (i + 1 < nx && rowsAt(i + 1)[j] === y && across[i + 1] >= 0)
        east[v] = clear(s.east, usable, at, 1, across[i + 1] - x);
      if (j + 1 < ny && columnsAt(j + 1)[i] === x && along[j + 1] >= 0)
        north[v] = clear(s.north, usable, at, s.nx, along[j + 1] - y);
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

/** The rows that column i crosses, and the columns that row j crosses. */
function lanesAt({ rows, columns, beyond }: LaneGridOptions) {
  const change = (axis: 'rows' | 'columns', lanes: Int32Array) => (k: number) =>
    beyond?.axis === axis && k >= beyond.at ? beyond.lanes : lanes;
  return { rowsAt: change('rows', rows), columnsAt: change('columns', columns) };
}

/** Lanes before and behind one; undefined or below 0 where there is none. */
type Beside = readonly [number | undefined, number | undefined];

/** Target weight that goes cold, roughly, when the node at channels x, y is left out: its box halfway to its neighbours. */
function cellWeight(
  s: StudLattice,
  floor: FloorRaster,
  { heatRadius, sums }: LaneGridOptions,
  x: number,
  y: number,
  columns: Beside,
  rows: Beside,
): number {
  const { per, pad } = floor;
  const size = s.lattice.pitch / per;
  const reach = Math.round(heatRadius / size);
  const half = (lane: number, next: number | undefined) =>
    next === undefined || next < 0 ? reach : Math.min(reach, (Math.abs(next - lane) * per) / 2);
  const px = pad + x * per;
  const py = pad + y * per;
  return boxSum(
    floor,
    sums,
    Math.round(px - half(x, columns[0])),
    Math.round(py - half(y, rows[0])),
    Math.round(px + half(x, columns[1])),
    Math.round(py + half(y, rows[1])),
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

/** Length (mm) of the edge from each node to its eastern and its northern neighbour, 0 where there is none. */
export function edgeLengths(
  { task, node }: LaneGrid,
  s: StudLattice,
): { readonly east: Float64Array; readonly north: Float64Array } {
  const { pitch } = s.lattice;
  return {
    east: Float64Array.from(task.east, (there, v) => (there ? (node[v + 1] - node[v]) * pitch : 0)),
    north: Float64Array.from(task.north, (there, v) =>
      there ? ((node[v + task.nx] - node[v]) / s.nx) * pitch : 0,
    ),
  };
}
