import { readFileSync } from 'node:fs';
import { z } from 'zod';
import type { Point, Ring } from '../solver/problem.js';
import { type BenchRoom, catalogue, ringArea } from './room-set.js';

const RoomFile = z.object({
  meta: z.object({ source: z.string(), licence: z.string(), changes: z.string().optional() }).optional(),
  rooms: z.array(
    z.object({
      id: z.string(),
      unit: z.enum(['m', 'mm']),
      polygon: z.array(z.tuple([z.number(), z.number()])),
    }),
  ),
});

const BUFFER_DEPTH = 150;

/** From 5 m to 260 m in 35 equal ratios, each a little under 12 %. */
const CABLES = catalogue(5, 260, (260 / 5) ** (1 / 35));

/**
 * Outlines from a JSON file {rooms: [{id, unit, polygon}]}, each with a buffer 150 mm deep along its longest wall, the
 * entry at a corner of the wall opposite, and cables from 5 m to 260 m in steps of about 12 %.
 */
export function roomsFromFile(path: string): BenchRoom[] {
  const { rooms } = RoomFile.parse(JSON.parse(readFileSync(path, 'utf8')));
  return rooms.map(({ id, unit, polygon }) => {
    const scale = unit === 'm' ? 1000 : 1;
    const outline: Point[] = polygon.map(([x, y]) => [x * scale, y * scale]);
    const { buffer, entry } = bufferAndEntry(outline);
    return {
      name: id,
      area: ringArea(outline),
      catalogue: CABLES,
      zone: {
        id,
        wet: false,
        outline,
        clearance: 50,
        exclusions: [],
        buffer,
        entry,
        leadIn: 0,
        priorities: [],
      },
    };
  });
}

/** Who made the rooms of a file and under which licence, in one line; only a general name for a file that does not say. */
export function attributionOf(path: string): string {
  const { meta } = RoomFile.parse(JSON.parse(readFileSync(path, 'utf8')));
  if (meta === undefined) return 'Rooms from a file.';
  const changes = meta.changes === undefined ? '' : ` Changes: ${meta.changes}`;
  return `Rooms from a file, ${meta.licence}: ${meta.source}.${changes}`;
}

function bufferAndEntry(outline: Ring): { buffer: Ring; entry: Point } {
  const edges = outline.map((p, k) => {
    const q = outline[(k + 1) % outline.length];
    return { p, q, length: Math.hypot(q[0] - p[0], q[1] - p[1]) };
  });
  const wall = edges.reduce((a, b) => (b.length > a.length + 1e-9 ? b : a));
  const along = [(wall.q[0] - wall.p[0]) / wall.length, (wall.q[1] - wall.p[1]) / wall.length];
  const turn = signedArea(outline) > 0 ? 1 : -1;
  const inward = [-along[1] * turn, along[0] * turn];
  const depth = (p: Point) => (p[0] - wall.p[0]) * inward[0] + (p[1] - wall.p[1]) * inward[1];
  const at = (p: Point, d: number): Point => [p[0] + inward[0] * d, p[1] + inward[1] * d];
  const buffer: Ring = [wall.p, wall.q, at(wall.q, BUFFER_DEPTH), at(wall.p, BUFFER_DEPTH)];
  const opposite = edges
    .filter(({ p, q }) => Math.abs(depth(p) - depth(q)) < 1)
    .reduce((a, b) => (depth(b.p) > depth(a.p) + 1e-9 ? b : a));
  return { buffer, entry: opposite.p };
}

const signedArea = (ring: Ring): number =>
  ring.reduce((sum, [x, y], k) => {
    const [u, v] = ring[(k + 1) % ring.length];
    return sum + (x * v - u * y) / 2;
  }, 0);
