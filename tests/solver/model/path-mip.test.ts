import { beforeAll, describe, expect, it } from 'vitest';
import { createGlpkEngine } from '../../../solver/engines/glpk.js';
import { rowActivity, validateModel, verifySolution } from '../../../solver/engines/guard.js';
import type { MipEngine } from '../../../solver/engines/port.js';
import { measureRoute, verifyRoute } from '../../../solver/model/grid-cost.js';
import type { GridTask } from '../../../solver/model/grid-task.js';
import { type PathGraph, reduceTask } from '../../../solver/model/path-graph.js';
import { cheapestWindow, type PathLength, routeLength } from '../../../solver/model/path-length.js';
import { buildPathModel, cutRow, type PathModel, visitLevel } from '../../../solver/model/path-mip.js';
import { mergePieces, readPieces, strayCycles } from '../../../solver/model/path-pieces.js';
import { everyRoute } from '../../helpers/every-route.js';
import { gridTask, randomGridTask, seeded } from '../../helpers/grid-tasks.js';

let glpk: MipEngine;
beforeAll(async () => {
  glpk = await createGlpkEngine();
});

interface Sample {
  readonly task: GridTask;
  readonly graph: PathGraph;
  readonly routes: number[][];
}

/** Random tasks with more than one node and at least one route, with all their routes. */
function samples(seed: number, count: number): Sample[] {
  const random = seeded(seed);
  const found: Sample[] = [];
  while (found.length < count) {
    const task = randomGridTask(random, 4, 14);
    const routes = everyRoute(task);
    if (routes.length === 0 || task.present.reduce((sum, p) => sum + p, 0) < 2) continue;
    const graph = reduceTask(task);
    if (graph === null) throw new Error('the reduction lost every route');
    found.push({ task, graph, routes });
  }
  return found;
}

const edgeBetween = (graph: PathGraph, u: number, v: number): number =>
  graph.low.findIndex((low, e) => low === Math.min(u, v) && graph.high[e] === Math.max(u, v));

/** The route as values of the model's columns. */
function embed(path: PathModel, route: readonly number[], window: number): Float64Array {
  const { graph } = path;
  const { nx } = graph.task;
  const values = new Float64Array(path.model.variables.length);
  for (const column of path.skipColumn) if (column >= 0) values[column] = 1;
  for (const [k, v] of route.entries()) {
    if (path.skipColumn[v] >= 0) values[path.skipColumn[v]] = 0;
    if (k === 0) continue;
    values[edgeBetween(graph, route[k - 1], v)] = 1;
    const isLast = k === route.length - 1;
    if (isLast) values[path.endColumn[v]] = 1;
    else if (nx > 1 && (Math.abs(v - route[k - 1]) === 1) !== (Math.abs(route[k + 1] - v) === 1)) {
      if (path.turnColumn[v] >= 0) values[path.turnColumn[v]] = 1;
    }
  }
  if (window >= 0) values[path.windowColumn + window] = 1;
  return values;
}

describe('reduceTask', () => {
  it('drops nothing that a route uses and forces only what every route uses', () => {
    const seen = { dropped: 0, forced: 0, certain: 0 };
    for (const { task, graph, routes } of samples(31, 500)) {
      for (const route of routes) {
        for (const [k, v] of route.entries()) {
          expect(graph.kept[v]).toBe(1);
          if (k > 0) expect(edgeBetween(graph, route[k - 1], v)).toBeGreaterThanOrEqual(0);
        }
        expect(graph.canEnd[route[route.length - 1]]).toBe(1);
        for (let v = 0; v < task.present.length; v++) {
          if (graph.must[v] === 1) expect(route).toContain(v);
          if (graph.lastOnly[v] === 1) expect(route.slice(0, -1)).not.toContain(v);
        }
        for (const [e, forced] of graph.forced.entries()) {
          if (forced === 0) continue;
          expect(Math.abs(route.indexOf(graph.low[e]) - route.indexOf(graph.high[e]))).toBe(1);
        }
      }
      seen.dropped += task.present.reduce((sum, p, v) => sum + p - graph.kept[v], 0);
      seen.forced += graph.forced.reduce((sum, f) => sum + f, 0);
      seen.certain += graph.must.reduce((sum, m) => sum + m, 0);
    }
    expect(Math.min(seen.dropped, seen.forced, seen.certain)).toBeGreaterThan(300);
  });

  it('drops a pocket behind a single node when nothing can end in it', () => {
    // Room 3 x 3 with a 2 x 2 pocket joined through node 5 only; the end is in the room.
    const task = gridTask(6, 3, { absent: [3, 15, 4, 5], ends: [12], skip: 1 });
    const graph = reduceTask(task);
    if (graph === null) throw new Error('no route');
    for (const v of [9, 10, 11, 16, 17]) expect(graph.kept[v]).toBe(0);
    expect(graph.dropCost).toBe(5);
  });

  it('sees that a task has no route', () => {
    expect(reduceTask(gridTask(3, 3, { ends: [] }))).toBeNull();
    expect(reduceTask(gridTask(4, 1, { start: 1, ends: [3] }))).toBeNull();
  });
});

describe('buildPathModel', () => {
  it('holds every route at its cost', () => {
    for (const { task, graph, routes } of samples(32, 300)) {
      const path = buildPathModel(graph, null);
      expect(validateModel(path.model)).toBeNull();
      for (const route of routes) {
        const checked = verifySolution(path.model, embed(path, route, -1));
        if (!checked.ok) throw new Error(checked.reason);
        expect(checked.objective + path.constant).toBeCloseTo(measureRoute(task, route).cost, 9);
      }
    }
  });

  it('holds exactly the routes that meet a window, when coupled to lengths', () => {
    const random = seeded(33);
    const seen = { fits: 0, not: 0 };
    for (const { task, graph, routes } of samples(34, 150)) {
      const length: PathLength = {
        eastLength: Float64Array.from(task.present, () => 60 + 30 * Math.floor(3 * random())),
        northLength: Float64Array.from(task.present, () => 90),
        cornerSaving: 6.4,
        windows: [0, 300, 600].map((lower) => ({
          lower: lower + 1,
          upper: lower + 150.5,
          cost: lower / 100,
        })),
      };
      const path = buildPathModel(graph, length);
      for (const route of routes) {
        const mm = routeLength(task, length, route);
        for (const [k, { lower, upper, cost }] of length.windows.entries()) {
          const checked = verifySolution(path.model, embed(path, route, k));
          expect(checked.ok).toBe(mm >= lower && mm <= upper);
          if (!checked.ok) {
            seen.not++;
            continue;
          }
          seen.fits++;
          expect(checked.objective + path.constant).toBeCloseTo(measureRoute(task, route).cost + cost, 9);
        }
      }
    }
    expect(Math.min(seen.fits, seen.not)).toBeGreaterThan(300);
  });

  it('does not let a corner count that is none, so that no length is made up', () => {
    // A straight strip beside a second row: 5 nodes, 4 x 100 mm, no corner needed; the window only fits with corners.
    const size = 10;
    const task = gridTask(5, 2, { ends: [4], skip: 0, turn: 0 });
    const hundred = new Float64Array(size).fill(100);
    const windows = [{ lower: 350, upper: 395, cost: 0 }];
    const length = { eastLength: hundred, northLength: hundred, cornerSaving: 10, windows };
    expect(
      everyRoute(task).some((route) => cheapestWindow(length, routeLength(task, length, route)) >= 0),
    ).toBe(false);
    const graph = reduceTask(task);
    if (graph === null) throw new Error('no route');
    expect(glpk.solve(buildPathModel(graph, length).model, { seconds: 30 }).kind).toBe('infeasible');
  });
});

describe('cutRow', () => {
  it('holds for every route, whatever the node set and node', () => {
    const random = seeded(35);
    let tight = 0;
    for (const { task, graph, routes } of samples(36, 300)) {
      const path = buildPathModel(graph, null);
      for (let trial = 0; trial < 5; trial++) {
        const inside = Uint8Array.from(graph.kept, (k, v) =>
          k === 1 && v !== task.start && random() < 0.5 ? 1 : 0,
        );
        const members = [...inside.keys()].filter((v) => inside[v] === 1);
        if (members.length === 0) continue;
        const cut = cutRow(path, inside, members[Math.floor(random() * members.length)]);
        for (const route of routes) {
          const activity = rowActivity(cut, embed(path, route, -1));
          expect(activity).toBeGreaterThanOrEqual(cut.lower);
          if (activity === cut.lower) tight++;
        }
      }
    }
    expect(tight).toBeGreaterThan(1000);
  });
});

describe('stray cycles', () => {
  /** First-round solutions of grids that give cycles. */
  function* solved(): Generator<{ task: GridTask; path: PathModel; values: Float64Array }> {
    const random = seeded(37);
    for (let k = 0; k < 400; k++) {
      const task = randomGridTask(random, 7, 40);
      const graph = task.present.reduce((sum, p) => sum + p, 0) < 2 ? null : reduceTask(task);
      if (graph === null) continue;
      const path = buildPathModel(graph, null);
      const result = glpk.solve(path.model, { seconds: 30 });
      if (result.kind === 'optimal') yield { task, path, values: result.values };
    }
  }

  it('are cut off by their cuts', () => {
    let cycles = 0;
    for (const { path, values } of solved()) {
      for (const inside of strayCycles(readPieces(path, values))) {
        cycles++;
        const v = inside.indexOf(1);
        expect(visitLevel(path, values, v)).toBe(1);
        const cut = cutRow(path, inside, v);
        expect(rowActivity(cut, values)).toBeLessThan(cut.lower - 0.5);
      }
    }
    expect(cycles).toBeGreaterThan(30);
  });

  it('merge into a legal route that costs no less than the bound', () => {
    let merged = 0;
    for (const { task, path, values } of solved()) {
      const pieces = readPieces(path, values);
      const route = mergePieces(pieces);
      if (route === null || pieces.count === 1) continue;
      merged++;
      expect(verifyRoute(task, route)).toBeNull();
      const bound = path.constant + path.model.variables.reduce((sum, v, j) => sum + v.cost * values[j], 0);
      expect(measureRoute(task, route).cost).toBeGreaterThanOrEqual(bound - 1e-6);
    }
    expect(merged).toBeGreaterThan(20);
  });

  it('join a path by a flip that leaves no node out', () => {
    // Path along the bottom row, a cycle round the two rows above it: one flip joins them.
    const task = gridTask(4, 3, { ends: [3] });
    const east = Uint8Array.of(1, 1, 1, 0, 1, 1, 1, 0, 1, 1, 1, 0);
    const north = Uint8Array.of(0, 0, 0, 0, 1, 0, 0, 1, 0, 0, 0, 0);
    const piece = Int32Array.of(0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1);
    const route = mergePieces({ task, east, north, piece, count: 2 });
    if (route === null) throw new Error('not merged');
    expect(verifyRoute(task, route)).toBeNull();
    expect(route.length).toBe(12);
  });
});
