import { assumedBuffer } from '../../solver/job/assumed-buffer.js';
import { furnishedZones } from '../../solver/job/prepare.js';
import type { PlanRequest } from '../../solver/plan-types.js';
import type { Point, Ring } from '../../solver/problem.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import type { WireZone } from '../schemas/zone.js';
import { toJobZones } from './job.js';

const middleOf = (ring: Ring): Point => [
  ring.reduce((sum, [x]) => sum + x, 0) / ring.length,
  ring.reduce((sum, [, y]) => sum + y, 0) / ring.length,
];

/** Where the cable comes into a zone, as far as the request tells. */
const inletOf = (wire: WireZone, request: LayoutRequest): Point => {
  if (wire.entry !== undefined) return wire.entry;
  const dry = request.zones.find(({ id }) => id === wire.dryZone);
  return middleOf(wire.curb?.outline ?? dry?.outline ?? wire.outline);
};

/** Buffers of the zones that name none, by zone id; a zone where no strip can be found has no entry. */
export const assumedBuffers = (request: LayoutRequest, drawn: PlanRequest): ReadonlyMap<string, Ring> => {
  const assumed = new Map<string, Ring>();
  if (request.zones.every(({ buffer }) => buffer !== undefined)) return assumed;
  const { pitch } = drawn.lattice;
  for (const [k, zone] of furnishedZones(toJobZones(request, drawn), pitch).entries()) {
    const wire = request.zones[k];
    if (wire === undefined || wire.buffer !== undefined) continue;
    const strip = assumedBuffer(zone, drawn.spacing, pitch, inletOf(wire, request));
    if (strip !== null) assumed.set(zone.id, strip);
  }
  return assumed;
};

export const withBuffers = (drawn: PlanRequest, assumed: ReadonlyMap<string, Ring>): PlanRequest =>
  assumed.size === 0
    ? drawn
    : {
        ...drawn,
        zones: drawn.zones.map((zone) => ({ ...zone, buffer: assumed.get(zone.id) ?? zone.buffer })),
      };
