import { depthInRing, signedArea } from '../geometry/measure.js';
import { areaOf, intersect, regionOf } from '../geometry/region.js';
import { routingArea } from '../geometry/zone-area.js';
import { nodePoint, type StudLattice, studLattice } from '../lattice/stud-lattice.js';
import type { Exclusion, Lattice, Point, Region, Ring, Zone } from '../problem.js';

/** 0: cuts cross the x axis (strips stand upright); 1: they cross the y axis. */
export type CutAxis = 0 | 1;

/** A strip between two cuts, mm along the axis; null where the strip ends at the walls. */
export interface Span {
  readonly axis: CutAxis;
  readonly from: number | null;
  readonly to: number | null;
  /** Distance that cable lines keep from a cut. */
  readonly clearance: number;
}

export interface Part {
  readonly zone: Zone;
  /** The buffer is not a piece of the zone's own but a strip set aside at the far wall. */
  readonly ownBuffer: boolean;
  /** mm from the zone's entry to the part's. */
  readonly entryAway: number;
  /** Floor (mm2) of the strip that its cable cannot get to. */
  readonly cutOff: number;
}

export interface PartNeeds {
  /** Length of path (mm) that the buffer must hold. */
  readonly bufferRun: number;
  /** Mean spacing that the path in the buffer may be taken for, mm. */
  readonly bufferSpacing: number;
}

/** Depths of a strip set aside as buffer, mm: the first that holds enough is taken. Common practice, no source. */
const BUFFER_DEPTHS = [150, 200, 250, 300, 400, 500, 600];

/** A node this near to where the wall's clearance ends lies along the wall, in pitches. */
const ALONG_WALL = 1.5;

/** One strip of a zone as a zone of its own; null when no cable can lie in it or no buffer is deep enough. */
export function partZone(
  whole: Zone,
  lattice: Lattice,
  span: Span,
  id: string,
  needs: PartNeeds,
): Part | null {
  const box = boxOf(whole.outline);
  const seams = [seam(span, box, -1), seam(span, box, 1)].filter((x) => x !== null);
  const cut: Zone = { ...whole, id, exclusions: [...whole.exclusions, ...seams] };
  const routing = routingArea(cut);
  const s = studLattice(lattice, routing);
  const body = largestBody(s);
  if (body.count === 0) return null;
  const holds = (buffer: Ring): boolean =>
    areaOf(intersect(routing, regionOf(buffer))) >= needs.bufferRun * needs.bufferSpacing &&
    nodesIn(s, body.nodes, buffer) > 0;
  const own = largestRing(intersect(regionOf(whole.buffer), [stripRing(span, box)]));
  const ownHolds = own !== null && holds(own);
  const buffer = ownHolds ? own : farBuffers(whole, s, body.nodes, span, box).find(holds);
  if (buffer === undefined) return null;
  const holdsEntry = inSpan(span, whole.entry);
  const entry = holdsEntry ? whole.entry : entryNear(whole, s, body.nodes, buffer);
  return {
    zone: { ...cut, entry, buffer, leadIn: holdsEntry ? whole.leadIn : 0 },
    ownBuffer: ownHolds,
    entryAway: Math.hypot(entry[0] - whole.entry[0], entry[1] - whole.entry[1]),
    cutOff: areaOf(routing) * (1 - body.count / Math.max(1, body.all)),
  };
}

type Box = readonly [x0: number, y0: number, x1: number, y1: number];

function boxOf(ring: Ring): Box {
  const xs = ring.map(([x]) => x);
  const ys = ring.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

const rectangle = (x0: number, y0: number, x1: number, y1: number): Ring => [
  [x0, y0],
  [x1, y0],
  [x1, y1],
  [x0, y1],
];

/** Rectangle over the strip `from`..`to` on the axis, and `low`..`high` across it. */
const band = (axis: CutAxis, from: number, to: number, low: number, high: number): Ring =>
  axis === 0 ? rectangle(from, low, to, high) : rectangle(low, from, high, to);

/** What lies beyond the cut on one side, as the floor of other cables. */
function seam({ axis, from, to, clearance }: Span, box: Box, side: -1 | 1): Exclusion | null {
  const cut = side === -1 ? from : to;
  if (cut === null) return null;
  const far = 2 * clearance + 100;
  const [low, high] = [box[1 - axis] - far, box[3 - axis] + far];
  const outline =
    side === -1
      ? band(axis, box[axis] - far, cut, low, high)
      : band(axis, cut, box[axis + 2] + far, low, high);
  return {
    id: side === -1 ? 'part before' : 'part behind',
    shape: { kind: 'polygon', outline },
    clearance,
    seam: true,
  };
}

const stripRing = ({ axis, from, to }: Span, box: Box): Ring =>
  band(axis, from ?? box[axis] - 1, to ?? box[axis + 2] + 1, box[1 - axis] - 1, box[3 - axis] + 1);

const inSpan = ({ axis, from, to }: Span, p: Point): boolean =>
  (from === null || p[axis] > from) && (to === null || p[axis] <= to);

function largestRing(region: Region): Ring | null {
  let best: Ring | null = null;
  for (const ring of region) if (!best || signedArea(ring) > signedArea(best)) best = ring;
  return best && signedArea(best) > 0 ? best : null;
}

/** The largest set of nodes joined by channels. */
function largestBody(s: StudLattice): { nodes: Uint8Array; count: number; all: number } {
  const body = new Int32Array(s.free.length);
  const sizes = [0];
  let all = 0;
  for (let v = 0; v < body.length; v++) {
    if (!s.free[v] || body[v]) continue;
    const name = sizes.length;
    const queue = [v];
    body[v] = name;
    for (let head = 0; head < queue.length; head++) {
      const w = queue[head];
      for (const next of [
        s.east[w] ? w + 1 : -1,
        s.east[w - 1] ? w - 1 : -1,
        s.north[w] ? w + s.nx : -1,
        s.north[w - s.nx] ? w - s.nx : -1,
      ])
        if (next >= 0 && !body[next]) {
          body[next] = name;
          queue.push(next);
        }
    }
    sizes.push(queue.length);
    all += queue.length;
  }
  const largest = sizes.indexOf(Math.max(...sizes));
  const nodes = body.map((name) => (largest > 0 && name === largest ? 1 : 0));
  return { nodes: Uint8Array.from(nodes), count: sizes[largest], all };
}

const nodesIn = (s: StudLattice, nodes: Uint8Array, ring: Ring): number => {
  let count = 0;
  for (let v = 0; v < nodes.length; v++) if (nodes[v] && depthInRing(nodePoint(s, v), ring) >= 0) count++;
  return count;
};

/** Strips along the end of the part that is further from the entry, shallow ones first. */
function farBuffers(whole: Zone, s: StudLattice, nodes: Uint8Array, span: Span, box: Box): Ring[] {
  const across = (1 - span.axis) as CutAxis;
  let [low, high] = [Infinity, -Infinity];
  for (let v = 0; v < nodes.length; v++) {
    if (!nodes[v]) continue;
    const at = nodePoint(s, v)[across];
    low = Math.min(low, at);
    high = Math.max(high, at);
  }
  const from = span.from ?? box[span.axis] - 1;
  const to = span.to ?? box[span.axis + 2] + 1;
  const upper = high - whole.entry[across] >= whole.entry[across] - low;
  // Measured from the wall, as buffers are.
  return BUFFER_DEPTHS.map((depth) => {
    const inner = depth - whole.clearance;
    return upper
      ? band(span.axis, from, to, high - inner, high + whole.clearance)
      : band(span.axis, from, to, low - whole.clearance, low + inner);
  });
}

/** The node along a wall, outside the buffer, nearest to the zone's entry. */
function entryNear(whole: Zone, s: StudLattice, nodes: Uint8Array, buffer: Ring): Point {
  let best: Point = whole.entry;
  let least = Infinity;
  for (let v = 0; v < nodes.length; v++) {
    if (!nodes[v]) continue;
    const p = nodePoint(s, v);
    const fromWall = depthInRing(p, whole.outline) - whole.clearance;
    const amiss =
      (fromWall > ALONG_WALL * s.lattice.pitch ? 1e6 : 0) + (depthInRing(p, buffer) >= 0 ? 1e7 : 0);
    const cost = amiss + Math.hypot(p[0] - whole.entry[0], p[1] - whole.entry[1]);
    if (cost < least - 1e-9) {
      least = cost;
      best = p;
    }
  }
  return best;
}
