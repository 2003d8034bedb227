import { subtract, tube } from '../geometry/region.js';
import { floorRaster, summedArea } from '../lattice/floor-raster.js';
import { nodePoint, reachable, type StudLattice } from '../lattice/stud-lattice.js';
import { neighbourhood } from '../search/stud-spacing.js';
import { PIXELS_PER_PITCH, withdrawFrom, type ZoneSpace } from '../search/zone-space.js';

/**
 * What is left of a zone once `studs` lie: the search begins at the last of them, keeps `minGap` studs from the rest,
 * and gains nothing from floor that they heat. `used` mm of cable are gone. Where the node reached lies in the
 * buffer, the nearer half of what is left of it serves as ordinary floor.
 */
export function restSpace(
  whole: ZoneSpace,
  studs: readonly number[],
  used: number,
  minGap: number,
): ZoneSpace {
  const start = studs[studs.length - 1];
  const s = withoutLaid(whole.s, studs, minGap);
  const reach = reachable(s, start);
  const buffer = new Uint8Array(reach.length);
  for (let v = 0; v < buffer.length; v++) if (reach[v] && whole.buffer[v]) buffer[v] = 1;
  if (buffer[start]) withdrawFrom(s, start, buffer);
  const usable = new Uint8Array(reach.length);
  for (let v = 0; v < usable.length; v++) if (reach[v] && !buffer[v]) usable[v] = 1;
  usable[start] = 1;
  const laid = studs.map((v) => nodePoint(s, v));
  const target = subtract(whole.target, tube(laid, whole.heatRadius));
  const floor = floorRaster(s, target, whole.zone.priorities, PIXELS_PER_PITCH, whole.heatRadius);
  const bufferShare = sumOf(buffer) / Math.max(1, sumOf(whole.buffer));
  return {
    ...whole,
    zone: { ...whole.zone, leadIn: used },
    target,
    s,
    floor,
    sums: summedArea(floor),
    start,
    reach,
    buffer,
    usable,
    bufferArea: whole.bufferArea * bufferShare,
  };
}

/**
 * The lattice without the nodes that no path from the last stud can pass legally: nearer than `minGap` to a laid stud
 * although even the shortest way between the two along the cable is longer than one corner's.
 */
function withoutLaid(s: StudLattice, studs: readonly number[], minGap: number): StudLattice {
  const start = studs[studs.length - 1];
  const near = neighbourhood(s, minGap);
  const free = s.free.slice();
  const column = start % s.nx;
  const row = Math.floor(start / s.nx);
  for (let k = 0; k + 1 < studs.length; k++) {
    const v = studs[k];
    const behind = studs.length - 1 - k;
    free[v] = 0;
    for (let n = 0; n < near.count; n++) {
      const x = (v % s.nx) + near.dx[n];
      const w = v + near.offset[n];
      if (x < 0 || x >= s.nx || w < 0 || w >= free.length) continue;
      const ahead = Math.abs(x - column) + Math.abs(Math.floor(w / s.nx) - row);
      if (ahead + behind > near.most[n]) free[w] = 0;
    }
  }
  free[start] = 1;
  const east = s.east.slice();
  const north = s.north.slice();
  for (let v = 0; v < free.length; v++) {
    if (!free[v] || !free[v + 1]) east[v] = 0;
    if (!free[v] || !free[v + s.nx]) north[v] = 0;
  }
  return { ...s, free, east, north };
}

const sumOf = (flags: Uint8Array): number => flags.reduce((sum, flag) => sum + flag, 0);
