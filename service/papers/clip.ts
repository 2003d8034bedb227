import type { Point, Ring, Shape } from '../../solver/problem.js';

export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

export const boxOf = (points: Iterable<Point>): Box => {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return minX <= maxX ? { minX, minY, maxX, maxY } : { minX: 0, minY: 0, maxX: 0, maxY: 0 };
};

/** Polygon of a shape; a circle becomes 72 corners. */
export const shapeRing = (shape: Shape): Ring =>
  shape.kind === 'polygon'
    ? shape.outline
    : Array.from({ length: 72 }, (_, i): Point => {
        const angle = (i * Math.PI) / 36;
        return [
          shape.center[0] + shape.radius * Math.cos(angle),
          shape.center[1] + shape.radius * Math.sin(angle),
        ];
      });

export const insideRing = (ring: Ring, [x, y]: Point): boolean => {
  let inside = false;
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i];
    const b = ring[(i + 1) % ring.length];
    if (a === undefined || b === undefined) continue;
    if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) inside = !inside;
  }
  return inside;
};

/** The parts of segment ab inside every ring, as pairs of points. */
export const clipSegment = (a: Point, b: Point, rings: readonly Ring[]): [Point, Point][] => {
  const cuts = [0, 1];
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i++) {
      const p = ring[i];
      const q = ring[(i + 1) % ring.length];
      if (p === undefined || q === undefined) continue;
      const ex = q[0] - p[0];
      const ey = q[1] - p[1];
      const det = dx * ey - dy * ex;
      if (Math.abs(det) < 1e-12) continue;
      const t = ((p[0] - a[0]) * ey - (p[1] - a[1]) * ex) / det;
      const u = ((p[0] - a[0]) * dy - (p[1] - a[1]) * dx) / det;
      if (t > 0 && t < 1 && u >= 0 && u <= 1) cuts.push(t);
    }
  }
  cuts.sort((s, t) => s - t);
  const at = (t: number): Point => [a[0] + t * dx, a[1] + t * dy];
  const parts: [Point, Point][] = [];
  let open: number | null = null;
  for (let i = 0; i + 1 < cuts.length; i++) {
    const from = cuts[i] ?? 0;
    const to = cuts[i + 1] ?? 1;
    const inside = to - from > 1e-9 && rings.every((ring) => insideRing(ring, at((from + to) / 2)));
    if (inside && open === null) open = from;
    if (!inside && open !== null && to - from > 1e-9) {
      parts.push([at(open), at(from)]);
      open = null;
    }
  }
  if (open !== null) parts.push([at(open), b]);
  return parts;
};

/** 45 degree hatching, lines `gap` apart on one common raster, inside every ring. */
export const hatchLines = (rings: readonly Ring[], gap: number): [Point, Point][] => {
  const first = rings[0];
  if (first === undefined) return [];
  const box = boxOf(first);
  const step = gap * Math.SQRT2;
  const lines: [Point, Point][] = [];
  const low = Math.ceil((box.minY - box.maxX) / step);
  const high = Math.floor((box.maxY - box.minX) / step);
  for (let k = low; k <= high; k++) {
    const c = k * step;
    lines.push(...clipSegment([box.minX - 1, box.minX - 1 + c], [box.maxX + 1, box.maxX + 1 + c], rings));
  }
  return lines;
};

/** Nodes of a square raster inside the ring, row by row as [first, last] with a whole number of steps between. */
export const rasterRows = (ring: Ring, step: number, origin: Point): [Point, Point][] => {
  const box = boxOf(ring);
  const rows: [Point, Point][] = [];
  const snap = (v: number): number => Math.ceil((v - origin[0]) / step - 1e-9) * step + origin[0];
  for (let k = Math.ceil((box.minY - origin[1]) / step); k * step + origin[1] <= box.maxY; k++) {
    const y = k * step + origin[1];
    for (const [a, b] of clipSegment([box.minX - 1, y], [box.maxX + 1, y], [ring])) {
      const from = snap(Math.min(a[0], b[0]));
      const steps = Math.floor((Math.max(a[0], b[0]) - from) / step + 1e-9);
      if (steps >= 0)
        rows.push([
          [from, y],
          [from + steps * step, y],
        ]);
    }
  }
  return rows;
};
