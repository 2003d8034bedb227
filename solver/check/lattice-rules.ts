import { distance } from '../geometry/measure.js';
import type { Lattice, Point, Ring, Trace, Zone } from '../problem.js';
import { AREA_TOLERANCE, marginAt } from './area-rule.js';
import { isUsable } from './line.js';
import type { RuleVerdict, Violation } from './report.js';
import { mm, verdictOf, type Worst } from './verdict.js';

/** A vertex or segment may be this far off (mm): coordinates on the wire are rounded. */
const ON_LATTICE = 0.01;

/** A node nearer than this (mm) to the boundary may be taken for out: regions polygonise their arcs. */
const SURELY_IN = 0.05;

const nearest = (lattice: Lattice, axis: 0 | 1, value: number): number =>
  lattice.origin[axis] + Math.round((value - lattice.origin[axis]) / lattice.pitch) * lattice.pitch;

const nearestNode = (lattice: Lattice, p: Point): Point => [
  nearest(lattice, 0, p[0]),
  nearest(lattice, 1, p[1]),
];

/** How far a segment is from lying along one channel. */
const offChannel = (lattice: Lattice, a: Point, b: Point): number => {
  const along = (axis: 0 | 1): number => {
    const channel = nearest(lattice, axis, a[axis]);
    return Math.max(Math.abs(a[axis] - channel), Math.abs(b[axis] - channel));
  };
  return Math.min(along(0), along(1));
};

/** Every vertex but the first and last of `line` on a node (the first too if `firstOnNode`), segments on channels. */
const judge = (
  lattice: Lattice,
  line: Ring,
  name: string,
  firstOnNode: boolean,
  found: Violation[],
): Worst => {
  let worst: Worst = { value: 0, at: null };
  const note = (at: Point, size: number, message: string): void => {
    if (size > worst.value) worst = { value: size, at };
    if (size > ON_LATTICE) found.push({ at, size, message });
  };
  line.forEach((p, k) => {
    if (!isUsable(p)) {
      found.push({ at: [0, 0], size: 0, message: `Vertex ${k} of the ${name} is not a point.` });
      return;
    }
    if ((k > 0 || firstOnNode) && k < line.length - 1) {
      const off = distance(p, nearestNode(lattice, p));
      note(p, off, `Vertex ${k} of the ${name} is ${mm(off)} off the nearest lattice node.`);
    }
    const before = line[k - 1];
    if (before !== undefined && isUsable(before)) {
      const off = offChannel(lattice, before, p);
      note(before, off, `Segment ${k} of the ${name} leaves its channel by ${mm(off)}.`);
    }
  });
  return worst;
};

/** Every vertex but the last on a lattice node, every segment along a channel; the same for the reserve. */
export const latticeRule = (lattice: Lattice, trace: Trace): RuleVerdict => {
  const found: Violation[] = [];
  if (trace.path.length < 2) {
    const at = trace.path.find(isUsable) ?? [0, 0];
    found.push({ at, size: 0, message: 'The path has fewer than two vertices.' });
  }
  const path = judge(lattice, trace.path, 'path', true, found);
  const reserve = judge(lattice, trace.reserve, 'reserve', false, found);
  return verdictOf('lattice', ON_LATTICE, path.value >= reserve.value ? path : reserve, found);
};

/**
 * The nodes where a path may begin: the node of the routing area that is nearest to `zone.entry`. Nodes within the
 * area's tolerance outside it may be taken but need not, and equally near nodes are equally good, so there can be
 * several; none when the routing area holds no node.
 */
export const entryNodes = (zone: Zone, lattice: Lattice): readonly Point[] => {
  const { pitch, origin } = lattice;
  const index = (axis: 0 | 1): number => Math.round((zone.entry[axis] - origin[axis]) / pitch);
  const [i0, j0] = [index(0), index(1)];
  const span = zone.outline.reduce(
    (most, p) => Math.max(most, Math.abs(p[0] - zone.entry[0]), Math.abs(p[1] - zone.entry[1])),
    0,
  );
  const rings = Math.ceil(span / pitch) + 1;
  const close: { readonly node: Point; readonly far: number }[] = [];
  let sure = Number.POSITIVE_INFINITY;
  for (let ring = 0; ring <= rings && (ring - 1) * pitch <= sure; ring += 1) {
    for (let di = -ring; di <= ring; di += 1) {
      const step = Math.abs(di) === ring ? 1 : Math.max(1, 2 * ring);
      for (let dj = -ring; dj <= ring; dj += step) {
        const node: Point = [origin[0] + (i0 + di) * pitch, origin[1] + (j0 + dj) * pitch];
        const far = distance(node, zone.entry);
        if (far > sure + ON_LATTICE) continue;
        const margin = marginAt(zone, node);
        if (margin < -AREA_TOLERANCE) continue;
        close.push({ node, far });
        if (margin >= SURELY_IN) sure = Math.min(sure, far);
      }
    }
  }
  // A node beyond the sure one by rounding only is as near as it.
  return close.filter(({ far }) => far <= sure + ON_LATTICE).map(({ node }) => node);
};

/** The first vertex is the lattice node nearest to the entry that lies in the routing area. */
export const entryRule = (zone: Zone, lattice: Lattice, path: Ring): RuleVerdict => {
  const nodes = entryNodes(zone, lattice);
  const first = path[0];
  const target = nodes[0];
  if (target === undefined) {
    const message = 'No lattice node lies in the routing area, so nothing can begin there.';
    return verdictOf('entry', ON_LATTICE, { value: 0, at: null }, [{ at: zone.entry, size: 0, message }]);
  }
  if (first === undefined || !isUsable(first)) {
    const message = 'The path has no first vertex.';
    return verdictOf('entry', ON_LATTICE, { value: 0, at: null }, [{ at: target, size: 0, message }]);
  }
  let node = target;
  for (const other of nodes) if (distance(first, other) < distance(first, node)) node = other;
  const off = distance(first, node);
  const violations: Violation[] =
    off <= ON_LATTICE
      ? []
      : [
          {
            at: first,
            size: off,
            message: `The path begins ${mm(off)} from (${node[0]}, ${node[1]}), the node nearest to the entry.`,
          },
        ];
  return verdictOf('entry', ON_LATTICE, { value: off, at: first }, violations);
};
