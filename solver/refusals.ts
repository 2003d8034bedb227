/** What can be said against a cable before any routing. */
import { sweptArea } from './bounds/area.js';
import { type ZoneLimits, zoneLimits } from './bounds/fit.js';
import { areaOf } from './geometry/region.js';
import type { CableVerdict, RefusalReason } from './plan-types.js';
import type { Cable } from './problem.js';
import { beyondLimits, densityOf } from './search/density.js';
import type { ZoneSpace } from './search/zone-space.js';
import { mm, wattsPerArea } from './words.js';

/** Tells of each cable of a zone why it cannot be laid there, as far as that can be proven; null when it cannot. */
export function refuser(
  space: ZoneSpace,
  { longest, inBuffer }: ZoneLimits = zoneLimits(space.zone, space.setting),
): (cable: Cable) => CableVerdict | null {
  const { zone, setting } = space;
  const { pitch } = setting.lattice;
  const way = space.start < 0 ? -1 : wayToBuffer(space);
  const target = areaOf(space.target);
  return (cable) => {
    const refuse = (reason: RefusalReason, by: number | null, detail: string): CableVerdict =>
      refusal(space, cable, reason, by, detail);
    const bend = 2 * cable.minBendRadius;
    const widest = setting.spacing.max * pitch;
    if (bend > widest)
      return refuse(
        'bend-radius',
        bend - widest,
        `a U-turn needs ${mm(bend)} between runs (twice the bend radius), the widest spacing allowed is ${mm(widest)}`,
      );
    if (space.start < 0)
      return refuse(
        'entry-outside',
        null,
        'no stud of the lattice lies in the routing area: nothing can be laid here',
      );
    if (way < 0)
      return refuse(
        'buffer-unreachable',
        null,
        'no channel leads from the entry to a stud in the buffer; move the buffer or the entry',
      );
    const play = cable.tolerance * cable.length;
    const needed = zone.leadIn + way + play;
    if (cable.length < needed)
      return refuse(
        'too-short',
        needed - cable.length,
        `the shortest way from the entry into the buffer takes ${mm(needed)} with lead-in and tolerance, the cable has ${mm(cable.length)}`,
      );
    const atMost = Math.min(target, sweptArea(setting, cable.length - zone.leadIn));
    if (zone.heatDensity && atMost > 0) {
      const density = densityOf(cable, atMost);
      const beyond = beyondLimits({ ...zone.heatDensity, least: null }, density);
      if (beyond > 0)
        return refuse(
          'heat-density',
          beyond,
          `it gives at least ${wattsPerArea(density)} over the floor it can heat, ${wattsPerArea(zone.heatDensity.most ?? 0)} is the most allowed`,
        );
    }
    // Neither bound can speak where even the target spacing leaves room; both cost some time.
    const most = cable.length + play;
    if ((most - zone.leadIn) * setting.spacing.target * pitch > target && most > longest())
      return refuse(
        'too-long',
        most - longest(),
        `with runs ${setting.spacing.min} studs apart no more than ${mm(longest())} can lie here, the cable may have ${mm(most)}`,
      );
    if (4 * play * setting.spacing.min * pitch > space.bufferArea && 2 * play > inBuffer())
      return refuse(
        'buffer-too-small',
        2 * play - inBuffer(),
        `no more than ${mm(inBuffer())} can lie in the buffer, the cable's tolerance alone needs ${mm(2 * play)}`,
      );
    return null;
  };
}

/** What can be said against one cable before any routing; null when nothing can. */
export const refusalBeforeSearch = (space: ZoneSpace, cable: Cable): CableVerdict | null =>
  refuser(space)(cable);

/** The verdict on a cable that cannot be laid. `by` is rounded up: a change by so much is enough. */
export const refusal = (
  space: ZoneSpace,
  cable: Cable,
  reason: RefusalReason,
  by: number | null,
  detail: string,
): CableVerdict => ({
  zone: space.zone.id,
  cable: cable.id,
  fits: false,
  chosen: false,
  reason,
  by: by === null ? null : reason === 'heat-density' ? Math.ceil(by * 10) / 10 : Math.ceil(by),
  coverage: null,
  turns: null,
  detail,
});

/** Least length (mm) from the entry to a node in the buffer along free channels, -1 when there is none. */
function wayToBuffer({ s, start, buffer }: ZoneSpace): number {
  const steps = new Int32Array(s.free.length).fill(-1);
  const queue = [start];
  steps[start] = 0;
  for (let head = 0; head < queue.length; head++) {
    const v = queue[head];
    // A path that turns at every node is the shortest as cable lies: a quarter circle for each pitch.
    if (buffer[v]) return steps[v] * s.lattice.pitch * (Math.PI / 4);
    const next = [
      s.east[v] ? v + 1 : -1,
      s.east[v - 1] ? v - 1 : -1,
      s.north[v] ? v + s.nx : -1,
      s.north[v - s.nx] ? v - s.nx : -1,
    ];
    for (const w of next)
      if (w >= 0 && steps[w] < 0) {
        steps[w] = steps[v] + 1;
        queue.push(w);
      }
  }
  return -1;
}
