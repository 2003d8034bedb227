import type { CheckReport } from './check/report.js';
import { nodePoint } from './lattice/stud-lattice.js';
import type { CableVerdict, RefusalReason } from './plan-types.js';
import type { Cable } from './problem.js';
import type { Found, SearchResult } from './search/search-zone.js';
import type { ZoneSpace } from './search/zone-space.js';

/** What can be said against a cable before any routing; null when nothing can. */
export function refusalBeforeSearch(space: ZoneSpace, cable: Cable): CableVerdict | null {
  const { zone, setting } = space;
  const { pitch } = setting.lattice;
  const refuse = (reason: RefusalReason, by: number | null, detail: string): CableVerdict => ({
    zone: zone.id,
    cable: cable.id,
    fits: false,
    chosen: false,
    reason,
    by: by === null ? null : Math.round(by),
    coverage: null,
    turns: null,
    detail,
  });
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
  const way = wayToBuffer(space);
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
  const longest = longestLaid(space) + zone.leadIn;
  if (cable.length + play > longest)
    return refuse(
      'too-long',
      cable.length + play - longest,
      `at most ${mm(longest)} can lie here with runs ${setting.spacing.min} studs apart, the cable may have ${mm(cable.length + play)}`,
    );
  return null;
}

/** Verdicts on cables that were searched for. */
export function verdictsOf(
  space: ZoneSpace,
  cables: readonly Cable[],
  searched: SearchResult,
  chosen: { found: Found; check: CheckReport } | null,
): CableVerdict[] {
  return cables.map((cable): CableVerdict => {
    const base = { zone: space.zone.id, cable: cable.id };
    if (chosen && chosen.found.cable.id === cable.id)
      return {
        ...base,
        fits: true,
        chosen: true,
        reason: null,
        by: null,
        coverage: chosen.check.coverage.fraction,
        turns: chosen.check.length.turns,
        detail: 'fits, and leaves the least cold floor for its turns',
      };
    const found = searched.found.find((f) => f.cable.id === cable.id);
    if (found)
      return {
        ...base,
        fits: true,
        chosen: false,
        reason: null,
        by: null,
        coverage: null,
        turns: found.trace.path.length - 2,
        detail: 'fits',
      };
    const miss = searched.missed.get(cable.id) ?? null;
    const reason: RefusalReason = miss === null ? 'no-route' : miss > 0 ? 'too-short' : 'too-long';
    return {
      ...base,
      fits: false,
      chosen: false,
      reason,
      by: miss === null ? null : Math.round(Math.abs(miss)),
      coverage: null,
      turns: null,
      detail: 'no layout found',
    };
  });
}

const mm = (length: number): string => `${Math.round(length)} mm`;

/** Least length (mm) from the entry to a node in the buffer along free channels, -1 when there is none. */
function wayToBuffer({ s, start, buffer }: ZoneSpace): number {
  const steps = new Int32Array(s.free.length).fill(-1);
  const queue = [start];
  steps[start] = 0;
  for (let head = 0; head < queue.length; head++) {
    const v = queue[head];
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

/** No legal path is longer: every reachable node at most once, each step at most one pitch. */
function longestLaid({ s, reach }: ZoneSpace): number {
  let nodes = 0;
  for (const r of reach) nodes += r;
  void nodePoint;
  return nodes * s.lattice.pitch;
}
