import type { MipModel, MipRow, MipVariable } from '../engines/port.js';
import type { GridTask } from './grid-task.js';
import { EAST, NORTH, type PathGraph, SOUTH, WEST } from './path-graph.js';
import type { PathLength } from './path-length.js';

/**
 * Integer model of a grid task. Columns: the edges in the graph's order (1 = used), then per node, where they
 * exist: unvisited, end, corner (continuous, 0..1), then one per length window (1 = this cable).
 * Objective of the task = objective of the model + `constant`.
 */
export interface PathModel {
  readonly graph: PathGraph;
  readonly model: MipModel;
  readonly constant: number;
  /** Column per node, -1 where the node has none. */
  readonly skipColumn: Int32Array;
  readonly endColumn: Int32Array;
  readonly turnColumn: Int32Array;
  /** First window column, -1 without a length. */
  readonly windowColumn: number;
}

/** One row under construction; zero coefficients are left out. */
class RowTerms {
  readonly columns: number[] = [];
  readonly coefficients: number[] = [];

  add(column: number, coefficient: number): this {
    if (column >= 0 && coefficient !== 0) {
      this.columns.push(column);
      this.coefficients.push(coefficient);
    }
    return this;
  }

  between(lower: number, upper: number): MipRow {
    return { columns: this.columns, coefficients: this.coefficients, lower, upper };
  }
}

/**
 * Degree rows: one edge at the start; x(delta(v)) + 2 skip + end = 2 elsewhere; x(delta(v)) = end where the node
 * can only be the end; one end in all. Corner rows: corner + end >= |west - east| and |south - north|.
 * Nothing keeps cycles out; those rows are added as cuts.
 */
export function buildPathModel(graph: PathGraph, length: PathLength | null): PathModel {
  const { task, slots } = graph;
  const n = graph.kept.length;
  const variables: MipVariable[] = [];
  const add = (cost: number, lower: number, integer: boolean): number =>
    variables.push({ cost, lower, upper: 1, integer }) - 1;
  for (let e = 0; e < graph.low.length; e++) add(graph.cost[e], graph.forced[e], true);

  const skipColumn = new Int32Array(n).fill(-1);
  const endColumn = new Int32Array(n).fill(-1);
  const turnColumn = new Int32Array(n).fill(-1);
  let constant = graph.dropCost;
  for (let v = 0; v < n; v++) {
    if (graph.kept[v] === 0) continue;
    const isFree = graph.must[v] === 0;
    const skipCost = isFree ? task.skipCost[v] : 0;
    if (graph.lastOnly[v] === 1) {
      constant += skipCost;
      endColumn[v] = add(task.endCost[v] - skipCost, isFree ? 0 : 1, true);
      continue;
    }
    if (isFree) skipColumn[v] = add(skipCost, 0, true);
    if (graph.canEnd[v] === 1) endColumn[v] = add(task.endCost[v], 0, true);
  }
  const cornerMatters = length !== null && length.cornerSaving !== 0;
  for (let v = 0; v < n; v++) {
    if (graph.kept[v] === 0 || v === task.start || graph.lastOnly[v] === 1) continue;
    const isFlat = slots[4 * v + WEST] < 0 && slots[4 * v + EAST] < 0;
    const isUpright = slots[4 * v + SOUTH] < 0 && slots[4 * v + NORTH] < 0;
    if (isFlat || isUpright) continue;
    if (task.turnCost[v] > 0 || cornerMatters) turnColumn[v] = add(task.turnCost[v], 0, false);
  }
  const rows: MipRow[] = [];
  const oneEnd = new RowTerms();
  for (let v = 0; v < n; v++) {
    if (graph.kept[v] === 0) continue;
    oneEnd.add(endColumn[v], 1);
    rows.push(degreeRow(graph, skipColumn, endColumn, v));
    if (turnColumn[v] >= 0) rows.push(...cornerRows(graph, endColumn[v], turnColumn[v], v));
  }
  rows.push(oneEnd.between(1, 1));

  let windowColumn = -1;
  if (length !== null) {
    windowColumn = variables.length;
    for (const window of length.windows) add(window.cost, 0, true);
    rows.push(...lengthRows(graph, turnColumn, length, windowColumn));
    if (cornerMatters) {
      for (let v = 0; v < n; v++) {
        if (turnColumn[v] >= 0)
          rows.push(...cornerCaps(graph, skipColumn[v], endColumn[v], turnColumn[v], v));
      }
    }
  }
  return { graph, model: { variables, rows }, constant, skipColumn, endColumn, turnColumn, windowColumn };
}

function degreeRow(graph: PathGraph, skip: Int32Array, end: Int32Array, v: number): MipRow {
  const terms = new RowTerms();
  for (let d = 0; d < 4; d++) terms.add(graph.slots[4 * v + d], 1);
  if (v === graph.task.start) return terms.between(1, 1);
  if (graph.lastOnly[v] === 1) return terms.add(end[v], -1).between(0, 0);
  return terms.add(skip[v], 2).add(end[v], 1).between(2, 2);
}

function cornerRows(graph: PathGraph, end: number, turn: number, v: number): MipRow[] {
  const rows: MipRow[] = [];
  const side = (d: number): number => graph.slots[4 * v + d];
  for (const [a, b] of [
    [WEST, EAST],
    [EAST, WEST],
    [SOUTH, NORTH],
    [NORTH, SOUTH],
  ]) {
    if (side(a) < 0) continue;
    rows.push(new RowTerms().add(turn, 1).add(end, 1).add(side(a), -1).add(side(b), 1).between(0, Infinity));
  }
  return rows;
}

/** Keep the corner variable from exceeding the true corner: it needs an edge on both axes and two edges in all. */
function cornerCaps(graph: PathGraph, skip: number, end: number, turn: number, v: number): MipRow[] {
  const side = (d: number): number => graph.slots[4 * v + d];
  const within = (a: number, b: number): MipRow =>
    new RowTerms().add(turn, 1).add(side(a), -1).add(side(b), -1).between(-Infinity, 0);
  const rows = [within(WEST, EAST), within(SOUTH, NORTH)];
  if (end >= 0) rows.push(new RowTerms().add(turn, 1).add(skip, 1).add(end, 1).between(-Infinity, 1));
  return rows;
}

/** Length between the chosen window's ends; in units of the longest edge, to keep coefficients near 1. */
function lengthRows(graph: PathGraph, turn: Int32Array, length: PathLength, firstWindow: number): MipRow[] {
  const { low, horizontal } = graph;
  const mm = (e: number): number =>
    horizontal[e] === 1 ? length.eastLength[low[e]] : length.northLength[low[e]];
  let unit = 1;
  for (let e = 0; e < low.length; e++) unit = Math.max(unit, mm(e));
  const atLeast = new RowTerms();
  const atMost = new RowTerms();
  for (const row of [atLeast, atMost]) {
    for (let e = 0; e < low.length; e++) row.add(e, mm(e) / unit);
    for (const column of turn) row.add(column, -length.cornerSaving / unit);
  }
  const one = new RowTerms();
  for (const [k, window] of length.windows.entries()) {
    atLeast.add(firstWindow + k, -window.lower / unit);
    atMost.add(firstWindow + k, -window.upper / unit);
    one.add(firstWindow + k, 1);
  }
  return [atLeast.between(0, Infinity), atMost.between(-Infinity, 0), one.between(1, 1)];
}

/** Degree of visiting at v, 0..1, at a solution of the model. */
export function visitLevel(path: PathModel, values: Float64Array, v: number): number {
  const { graph } = path;
  if (graph.kept[v] === 0) return 0;
  if (graph.lastOnly[v] === 1) return values[path.endColumn[v]];
  return path.skipColumn[v] >= 0 ? 1 - values[path.skipColumn[v]] : 1;
}

/**
 * The cut  x(delta(S)) + end(S) >= 2 visit(v)  for a node set S without the start and a node v in S.
 *
 * Valid for every route, also with nodes left out: if v is unvisited the right side is 0. If v is visited, the path
 * comes from the start outside S and enters S. Should it end in S, it crosses the rim of S at least once and
 * end(S) = 1; should it end outside, it crosses the rim at least twice. Either way the left side is at least 2.
 * A cycle that stays inside S has left side 0, so the cut removes it for good wherever v is visited.
 */
export function cutRow(path: PathModel, inside: Uint8Array, v: number): MipRow {
  const { graph } = path;
  const terms = new RowTerms();
  for (let e = 0; e < graph.low.length; e++) {
    if (inside[graph.low[e]] !== inside[graph.high[e]]) terms.add(e, 1);
  }
  const isLast = graph.lastOnly[v] === 1;
  for (let w = 0; w < inside.length; w++) {
    if (inside[w] === 1) terms.add(path.endColumn[w], isLast && w === v ? -1 : 1);
  }
  if (isLast) return terms.between(0, Infinity);
  return terms.add(path.skipColumn[v], 2).between(2, Infinity);
}

/** True when the task holds no node but its start. */
export function isSingleNode(task: GridTask): boolean {
  return task.present.every((p, v) => p === 0 || v === task.start);
}
