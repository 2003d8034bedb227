import type { GridTask } from '../model/grid-task.js';

/** 'rows': the frontier is a row and moves along y; 'columns': a column moving along x; 'auto': the shorter of both. */
export type Sweep = 'rows' | 'columns' | 'auto';

/**
 * The task as the sweep sees it: cell t = r * width + c is processed at step t; `right` leads to t + 1 and `down` to
 * t + width. Nodes that no path from the start can reach are left out of `present`.
 */
export interface SweepView {
  readonly width: number;
  readonly height: number;
  /** Task node of each cell. */
  readonly node: Int32Array;
  readonly present: Uint8Array;
  readonly right: Uint8Array;
  readonly down: Uint8Array;
  readonly rightCost: Float64Array;
  readonly downCost: Float64Array;
  readonly endCost: Float64Array;
  readonly endOnly: Uint8Array;
  readonly skipCost: Float64Array;
  readonly turnCost: Float64Array;
  /** Cell of the start. */
  readonly start: number;
  /** Cost of the present nodes that no path from the start can reach (Infinity when one of them must be visited). */
  readonly unreachable: number;
  /** Cost of skipping all cells of step t and later. */
  readonly skipFrom: Float64Array;
}

/** `backward` runs the sweep from the far row (or column) to the near one. */
export function sweepView(task: GridTask, sweep: Sweep, backward: boolean): SweepView {
  const { nx, ny } = task;
  const rows = sweep === 'rows' || (sweep === 'auto' && nx <= ny);
  const width = rows ? nx : ny;
  const height = rows ? ny : nx;
  const size = nx * ny;
  const view = {
    width,
    height,
    node: new Int32Array(size),
    present: new Uint8Array(size),
    right: new Uint8Array(size),
    down: new Uint8Array(size),
    rightCost: new Float64Array(size),
    downCost: new Float64Array(size),
    endCost: new Float64Array(size),
    endOnly: new Uint8Array(size),
    skipCost: new Float64Array(size),
    turnCost: new Float64Array(size),
    start: 0,
    unreachable: 0,
    skipFrom: new Float64Array(size + 1),
  };
  const reachable = reachableNodes(task);
  const along = rows ? task.east : task.north;
  const alongCost = rows ? task.eastCost : task.northCost;
  const across = rows ? task.north : task.east;
  const acrossCost = rows ? task.northCost : task.eastCost;
  // Nodes from one cell of a row to the next, and from one row to the next.
  const [right, down] = rows ? [1, backward ? -nx : nx] : [nx, backward ? -1 : 1];
  const { node, present, endCost, endOnly, skipCost, turnCost } = view;
  for (let row = 0, t = 0; row < height; row++) {
    let v = backward ? (height - 1 - row) * Math.abs(down) : row * down;
    for (let column = 0; column < width; column++, t++, v += right) {
      node[t] = v;
      endCost[t] = task.endCost[v];
      endOnly[t] = task.endOnly[v];
      skipCost[t] = task.skipCost[v];
      turnCost[t] = task.turnCost[v];
      if (v === task.start) view.start = t;
      if (task.present[v] !== 1) continue;
      if (reachable[v] === 0) {
        view.unreachable += task.skipCost[v];
        continue;
      }
      present[t] = 1;
      if (column + 1 < width) {
        view.right[t] = along[v] & reachable[v + right];
        view.rightCost[t] = alongCost[v];
      }
      if (row + 1 < height) {
        const lower = backward ? v + down : v;
        view.down[t] = across[lower] & reachable[v + down];
        view.downCost[t] = acrossCost[lower];
      }
    }
  }
  for (let t = size - 1; t >= 0; t--) {
    view.skipFrom[t] = view.skipFrom[t + 1] + (view.present[t] === 1 ? view.skipCost[t] : 0);
  }
  return view;
}

function reachableNodes({ nx, east, north, present, endOnly, start }: GridTask): Uint8Array {
  const seen = new Uint8Array(present.length);
  const stack = new Int32Array(present.length);
  let open = 0;
  const visit = (v: number): void => {
    if (seen[v] === 1) return;
    seen[v] = 1;
    if (endOnly[v] !== 1) stack[open++] = v;
  };
  seen[start] = 1;
  stack[open++] = start;
  while (open > 0) {
    const v = stack[--open];
    if (east[v] === 1) visit(v + 1);
    if (v % nx > 0 && east[v - 1] === 1) visit(v - 1);
    if (north[v] === 1) visit(v + nx);
    if (v >= nx && north[v - nx] === 1) visit(v - nx);
  }
  return seen;
}
