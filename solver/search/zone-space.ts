import { passable } from '../bounds/one-way.js';
import { areaOf, grow, intersect, regionOf } from '../geometry/region.js';
import { routingArea, targetArea } from '../geometry/zone-area.js';
import { type FloorRaster, floorRaster, summedArea } from '../lattice/floor-raster.js';
import { crossings } from '../lattice/scanline.js';
import { nearestFree, reachable, type StudLattice, studLattice } from '../lattice/stud-lattice.js';
import { heatRadius, type Region, type Setting, type Zone } from '../problem.js';

/** Pixels a pitch in the search's floor raster; coverage that is reported is measured on true geometry instead. */
export const PIXELS_PER_PITCH = 2;

/** One zone made ready for the search: areas, lattice, raster, and which nodes the main stretch may use. */
export interface ZoneSpace {
  readonly zone: Zone;
  readonly setting: Setting;
  readonly routing: Region;
  readonly target: Region;
  readonly s: StudLattice;
  readonly floor: FloorRaster;
  readonly sums: Float64Array;
  /** First node of the path, -1 when no node lies in the routing area. */
  readonly start: number;
  /** Nodes a cable can reach from the start. */
  readonly reach: Uint8Array;
  /** Reachable nodes in the buffer, kept free for the last stretch. */
  readonly buffer: Uint8Array;
  /** Nodes outside the buffer (and the start) that a path into the buffer can visit. */
  readonly usable: Uint8Array;
  /** mm */
  readonly heatRadius: number;
  /** Buffer area inside the routing area, mm2. */
  readonly bufferArea: number;
}

export function zoneSpace(zone: Zone, setting: Setting): ZoneSpace {
  const routing = routingArea(zone);
  const target = targetArea(zone, routing);
  const s = studLattice(setting.lattice, routing);
  const radius = heatRadius(setting);
  const floor = floorRaster(s, target, zone.priorities, PIXELS_PER_PITCH, radius);
  const start = nearestFree(s, zone.entry);
  const reach = reachable(s, start);
  const inside = grow(regionOf(zone.buffer), 0.25);
  const buffer = new Uint8Array(reach.length);
  const { pitch, origin } = s.lattice;
  for (let j = 0; j < s.ny; j++) {
    const cuts = crossings(inside, 'y', origin[1] + (s.j0 + j) * pitch);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const first = Math.max(0, Math.ceil((cuts[k] - origin[0]) / pitch) - s.i0);
      const last = Math.min(s.nx - 1, Math.floor((cuts[k + 1] - origin[0]) / pitch) - s.i0);
      for (let i = first; i <= last; i++) if (reach[j * s.nx + i]) buffer[j * s.nx + i] = 1;
    }
  }
  if (start >= 0 && buffer[start]) withdrawFrom(s, start, buffer);
  const usable = new Uint8Array(reach.length);
  const way = passable(
    { nx: s.nx, reached: reach, east: s.east, north: s.north, starts: [start], ends: buffer },
    pitch,
    setting.spacing.min,
  );
  for (let v = 0; v < usable.length; v++) if (way[v] && !buffer[v]) usable[v] = 1;
  return {
    zone,
    setting,
    routing,
    target,
    s,
    floor,
    sums: summedArea(floor),
    start,
    reach,
    buffer,
    usable,
    heatRadius: radius,
    bufferArea: areaOf(intersect(routing, regionOf(zone.buffer))),
  };
}

/** Studs between an entry inside the buffer and what is left of the buffer. */
const ENTRY_MARGIN = 3;

/** An entry inside the buffer: the longer part to one side of it stays buffer, the rest serves as ordinary floor. */
export function withdrawFrom(s: StudLattice, start: number, buffer: Uint8Array): void {
  const inside: number[] = [];
  for (let v = 0; v < buffer.length; v++) if (buffer[v]) inside.push(v);
  const column = (v: number) => v % s.nx;
  const row = (v: number) => Math.floor(v / s.nx);
  const extent = (of: (v: number) => number) => {
    const all = inside.map(of);
    return all.reduce((a, b) => Math.max(a, b), -Infinity) - all.reduce((a, b) => Math.min(a, b), Infinity);
  };
  const along = extent(column) >= extent(row) ? column : row;
  const beyond = (side: 1 | -1) => inside.filter((v) => side * (along(v) - along(start)) >= ENTRY_MARGIN);
  const [above, below] = [beyond(1), beyond(-1)];
  const kept = new Set(above.length >= below.length ? above : below);
  for (const v of inside) if (!kept.has(v)) buffer[v] = 0;
}
