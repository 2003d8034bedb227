/** Cuts a zone that is too large for one cable into parts, each a zone of its own. */
import { areaOf } from '../geometry/region.js';
import type { Cable, Setting, Zone } from '../problem.js';
import { type ZoneSpace, zoneSpace } from '../search/zone-space.js';
import { cutStrips } from './cut-lines.js';
import { type CutAxis, type Part, type PartNeeds, partZone, type Span } from './part-zone.js';

export interface Split {
  readonly parts: readonly Part[];
  readonly axis: CutAxis;
  /** Places of the cuts on the axis, mm. */
  readonly cuts: readonly number[];
  /** Distance of the channels on either side of a cut, mm. */
  readonly seam: number;
}

/** Most parts of one zone. */
const MOST_PARTS = 12;

/** Part counts beyond the least that are offered too. */
const MORE_PARTS = 1;

/** Most that a strip may come to, as a share of what a cable heats at the target spacing. */
const FILL = 0.97;

/** Share that is offered however little the spacing may vary: the buffer takes up the rest. */
const LEAST_FILL = 0.88;

/** Share at which cables fit a floor easily, and how far from it they still do; measured on rooms of 10 to 17 m2. */
const EASY_FILL = 0.94;
const EASE = 0.03;

/** Turns that a metre of cable takes, for the length tolerance; measured on rooms of 1 to 9 m2. */
const TURNS_PER_METRE = 1.4;

/** Narrowest strip, in target spacings. */
const NARROWEST = 4;

/**
 * Ways to cut the zone so that each part suits one of the cables, best first: fewest parts, then parts that keep a
 * piece of the zone's buffer, least floor cut off, entries near one another. Empty when there is none.
 */
export function splitZone(zone: Zone, setting: Setting, cables: readonly Cable[]): Split[] {
  const space = zoneSpace(zone, setting);
  if (space.start < 0 || cables.length === 0) return [];
  const floor = areasByChannel(space, 0).reduce((sum, area) => sum + area, 0);
  const longest = Math.max(...cables.map(({ length }) => length));
  const least = Math.ceil(floor / (FILL * longest * setting.spacing.target * setting.lattice.pitch));
  const found: Split[] = [];
  let fewest = MOST_PARTS;
  for (let count = Math.max(2, least); count <= Math.min(MOST_PARTS, fewest + MORE_PARTS); count++)
    for (const axis of [0, 1] as const) {
      const split = splitAlong(space, cables, axis, count);
      if (!split) continue;
      fewest = Math.min(fewest, count);
      found.push(split);
    }
  const badness = ({ parts }: Split): number =>
    parts.length * 1e4 +
    parts.reduce((sum, part) => sum + (part.ownBuffer ? 0 : 2000) + part.entryAway + part.cutOff / 200, 0);
  return found.sort((a, b) => badness(a) - badness(b));
}

function splitAlong(space: ZoneSpace, cables: readonly Cable[], axis: CutAxis, count: number): Split | null {
  const { s, zone, setting } = space;
  const { pitch, origin } = setting.lattice;
  const gap = Math.max(setting.spacing.min, setting.spacing.target - 1);
  const first = axis === 0 ? s.i0 : s.j0;
  const channels = areasByChannel(space, axis);
  const strips = cutStrips(
    {
      areas: channels,
      pitch,
      gap,
      narrowest: NARROWEST * setting.spacing.target,
      entry: (zone.entry[axis] - origin[axis]) / pitch - first,
      misfit: (area) => Math.min(...cables.map((cable) => misfit(cable, area, setting))),
    },
    count,
  );
  if (!strips) return null;
  const cuts = strips.slice(0, -1).map(({ last }) => origin[axis] + (first + last + gap / 2) * pitch);
  const parts: Part[] = [];
  for (const [k, { area }] of strips.entries()) {
    const span: Span = {
      axis,
      from: k === 0 ? null : cuts[k - 1],
      to: k === cuts.length ? null : cuts[k],
      clearance: (gap / 2) * pitch,
    };
    const part = partZone(zone, setting.lattice, span, `${zone.id}/${k + 1}`, needs(space, cables, area));
    if (!part) return null;
    parts.push(part);
  }
  return { parts, axis, cuts, seam: gap * pitch };
}

/** Target area (mm2) along each channel across the axis. */
function areasByChannel({ s, reach, buffer, target }: ZoneSpace, axis: CutAxis): Float64Array {
  const areas = new Float64Array(axis === 0 ? s.nx : s.ny);
  let nodes = 0;
  for (let v = 0; v < reach.length; v++) {
    if (!s.free[v] || buffer[v]) continue;
    nodes++;
    if (reach[v]) areas[axis === 0 ? v % s.nx : Math.floor(v / s.nx)]++;
  }
  const share = areaOf(target) / Math.max(1, nodes);
  return areas.map((count) => count * share);
}

/** Target area (mm2) that a cable from the entry can get to. */
export const reachedFloor = (zone: Zone, setting: Setting): number =>
  areasByChannel(zoneSpace(zone, setting), 0).reduce((sum, area) => sum + area, 0);

const playOf = (cable: Cable, setting: Setting): number =>
  cable.tolerance * cable.length + (setting.placementSlopPerTurn * TURNS_PER_METRE * cable.length) / 1000;

function misfit(cable: Cable, area: number, { spacing, lattice }: Setting): number {
  const wide = cable.length * spacing.target * lattice.pitch;
  const dense = cable.length * spacing.min * lattice.pitch;
  if (area > FILL * wide || area < Math.min(dense, LEAST_FILL * wide)) return Infinity;
  return Math.max(0, Math.abs(area / wide - EASY_FILL) - EASE);
}

/** What the buffer of a part must hold, whichever cable the part takes. */
function needs({ setting }: ZoneSpace, cables: readonly Cable[], area: number): PartNeeds {
  const { spacing, lattice } = setting;
  const wanted = area / (spacing.target * lattice.pitch);
  const longest = cables.reduce((a, b) => (b.length > a.length ? b : a));
  const likely = Math.min(longest.length, 1.2 * wanted);
  const play = playOf({ ...longest, length: likely }, setting);
  return { bufferRun: 2 * play + 10 * lattice.pitch, bufferSpacing: (spacing.min + 0.5) * lattice.pitch };
}
