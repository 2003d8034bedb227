/**
 * Routing task on a lane grid: a simple path on a grid graph from a fixed start to one of several ends that
 * minimises  sum(skipCost of unvisited nodes) + sum(turnCost of corners) + sum(edge costs used) + endCost(end).
 *
 * Node v = j * nx + i lies on column i (x) and row j (y). All costs are finite and >= 0 unless said otherwise.
 */
export interface GridTask {
  readonly nx: number;
  readonly ny: number;
  /** 1 where the node exists. */
  readonly present: Uint8Array;
  /** 1 where edge v -> v + 1 exists (only between present nodes; 0 in the last column). */
  readonly east: Uint8Array;
  /** 1 where edge v -> v + nx exists (only between present nodes; 0 in the last row). */
  readonly north: Uint8Array;
  readonly eastCost: Float64Array;
  readonly northCost: Float64Array;
  /** The path begins here; always visited, never an end unless it is the only node. */
  readonly start: number;
  /** Cost of ending at v; Infinity where the path may not end. */
  readonly endCost: Float64Array;
  /** 1 where the path may only end (never pass through). */
  readonly endOnly: Uint8Array;
  /** Cost of leaving v unvisited; Infinity where v must be visited. */
  readonly skipCost: Float64Array;
  /** Cost of a corner at v. */
  readonly turnCost: Float64Array;
}

export interface GridRoute {
  readonly kind: 'route';
  /** Node numbers from start to end. */
  readonly nodes: Int32Array;
  readonly cost: number;
  readonly turns: number;
  readonly skipped: number;
  /** Proven lower bound on the cost of any route of the task (-Infinity if none). */
  readonly bound: number;
  /** True when `cost` is proven minimal. */
  readonly proven: boolean;
  /** Counted work spent (states, or MIP rounds), for reports. */
  readonly work: number;
}

export type GridOutcome =
  | GridRoute
  /** Proven: no route exists. */
  | { readonly kind: 'infeasible'; readonly work: number }
  /** Nothing found within the budget. */
  | { readonly kind: 'exhausted'; readonly bound: number; readonly work: number };
