/** The unheated lead from the thermostat along the wall to the hot-to-cold joint. */
import {
  distance,
  meetingPoint,
  nearestOnSegment,
  pointSegmentDistance,
  polylineLength,
} from '../geometry/measure.js';
import { grow, regionOf, subtract, uniteAll } from '../geometry/region.js';
import type { Point, Ring, Zone } from '../problem.js';

export interface Thermostat {
  /** On a wall of the dry room (plan view). */
  readonly at: Point;
  /** Height of its box above the floor, mm: the lead runs up the wall by this much. */
  readonly height: number;
}

export interface ColdLead {
  /** Plan view, from the thermostat to the joint. */
  readonly path: Ring;
  /** Length of `path`. */
  readonly floor: number;
  /** Rise in the wall up to the thermostat. */
  readonly rise: number;
  /** floor + rise. */
  readonly needed: number;
}

/** A thermostat further than this from every wall is not on one, mm. */
const ON_WALL = 100;

/** Wall point of the thermostat, or how far it is from the nearest wall. */
export const wallPoint = (
  outline: Ring,
  at: Point,
):
  | { readonly kind: 'wall'; readonly at: Point; readonly edge: number }
  | { readonly kind: 'off-wall'; readonly by: number } => {
  let best = at;
  let edge = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < outline.length; k += 1) {
    const p = nearestOnSegment(at, outline[k], outline[(k + 1) % outline.length]);
    const d = distance(p, at);
    if (d < least - 1e-9) {
      least = d;
      best = p;
      edge = k;
    }
  }
  return least <= ON_WALL ? { kind: 'wall', at: best, edge } : { kind: 'off-wall', by: least };
};

/**
 * The way of every cold lead of a room: midway between walls (and built-ins) and the heating cable, which keeps its
 * clearance from them. So a lead beside the wall never meets the heating cable of the same floor.
 */
export interface WallWay {
  readonly ring: Ring;
  /** Length along the ring at each vertex, and in all. */
  readonly at: readonly number[];
  readonly length: number;
  /** Thermostat, then down to the ring. */
  readonly start: Ring;
  /** Position of the last point of `start` along the ring. */
  readonly foot: number;
  readonly rise: number;
  /** A node further than this from the ring is not beside the wall. */
  readonly reach: number;
}

export interface RingPlace {
  readonly position: number;
  readonly point: Point;
  readonly off: number;
}

const placeOn = (ring: Ring, at: readonly number[], p: Point): RingPlace => {
  let best: RingPlace = { position: 0, point: p, off: Number.POSITIVE_INFINITY };
  for (let k = 0; k < ring.length; k += 1) {
    const point = nearestOnSegment(p, ring[k], ring[(k + 1) % ring.length]);
    const off = distance(p, point);
    if (off < best.off - 1e-9) best = { position: at[k] + distance(ring[k], point), point, off };
  }
  return best;
};

const measured = (ring: Ring): { at: number[]; length: number } => {
  const at: number[] = [];
  let length = 0;
  for (let k = 0; k < ring.length; k += 1) {
    at.push(length);
    length += distance(ring[k], ring[(k + 1) % ring.length]);
  }
  return { at, length };
};

/** Vertices strictly between two places on a ring, in the order of travel. */
const between = (ring: Ring, from: number, sense: 1 | -1, total: number): Ring => {
  const { at, length } = measured(ring);
  return ring
    .map((p, k) => ({ p, d: (((sense * (at[k] - from)) % length) + length) % length }))
    .filter(({ d }) => d > 1e-6 && d < total - 1e-6)
    .sort((u, v) => u.d - v.d)
    .map(({ p }) => p);
};

/** The shorter way round a ring between two places on it, both ends included. */
function shorterArc(ring: Ring, from: RingPlace, to: RingPlace): Ring {
  const { length } = measured(ring);
  const forward = (to.position - from.position + length) % length;
  const sense = forward <= length - forward ? 1 : -1;
  const total = sense === 1 ? forward : length - forward;
  return [from.point, ...between(ring, from.position, sense, total), to.point];
}

/**
 * From the thermostat to the ring. Where a built-in stands below it, the lead first runs in the wall to the nearest
 * place where the floor before the wall is free.
 */
function wayDown(outline: Ring, ring: Ring, thermostat: Point, margin: number): Ring {
  const straight = placeOn(ring, measured(ring).at, thermostat);
  if (straight.off <= margin) return [thermostat, straight.point];
  const walls = measured(outline).at;
  const from = placeOn(outline, walls, thermostat);
  let best: Ring = [thermostat, straight.point];
  let least = Number.POSITIVE_INFINITY;
  for (const p of ring) {
    const to = placeOn(outline, walls, p);
    if (to.off > margin) continue;
    const way = [...shorterArc(outline, from, to), p];
    const length = polylineLength(way);
    if (length < least - 1e-6) {
      least = length;
      best = way;
    }
  }
  return best;
}

/** Null where the zone leaves no room beside its walls. `thermostat.at` must be a wall point of the zone. */
export function wallWay(zone: Zone, thermostat: Thermostat, pitch: number): WallWay | null {
  const keepOff = zone.exclusions.map((x) => grow(regionOf(x.shape), x.clearance / 2));
  const strip = subtract(grow(regionOf(zone.outline), -zone.clearance / 2), uniteAll(keepOff));
  let found: WallWay | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const ring of strip) {
    const start = wayDown(zone.outline, ring, thermostat.at, zone.clearance / 2 + 1);
    const down = polylineLength(start);
    if (down >= least - 1e-6) continue;
    least = down;
    const { at, length } = measured(ring);
    const foot = placeOn(ring, at, start[start.length - 1]).position;
    const reach = zone.clearance / 2 + pitch;
    found = { ring, at, length, start, foot, rise: thermostat.height, reach };
  }
  return found;
}

export const placeOnWay = (way: WallWay, p: Point): RingPlace => placeOn(way.ring, way.at, p);

/** Positions where the ring is crossed by one of the polylines: the lead may not pass there. */
export function barriers(way: WallWay, polylines: readonly Ring[]): readonly number[] {
  const found: number[] = [];
  for (let k = 0; k < way.ring.length; k += 1) {
    const a = way.ring[k];
    const b = way.ring[(k + 1) % way.ring.length];
    for (const line of polylines)
      for (let m = 1; m < line.length; m += 1) {
        const p = meetingPoint(a, b, line[m - 1], line[m]);
        if (p !== null) found.push(way.at[k] + distance(a, p));
      }
  }
  return found.sort((u, v) => u - v);
}

export interface WayLength {
  /** Up to the joint, rise included; Infinity where both ways round are barred. */
  readonly needed: number;
  /** 1 along the ring, -1 against it. */
  readonly sense: 1 | -1;
}

/** Length of lead to a place on the ring (its distance `off` included), the shorter way that no barrier bars. */
export function wayLength(way: WallWay, place: RingPlace, bars: readonly number[]): WayLength {
  const mod = (x: number): number => ((x % way.length) + way.length) % way.length;
  const forward = mod(place.position - way.foot);
  const backward = mod(way.foot - place.position);
  const freeForward = bars.every((x) => mod(x - way.foot) > forward);
  const freeBackward = bars.every((x) => mod(way.foot - x) > backward);
  const base = polylineLength(way.start) + place.off + way.rise;
  const f = freeForward ? base + forward : Number.POSITIVE_INFINITY;
  const b = freeBackward ? base + backward : Number.POSITIVE_INFINITY;
  return f <= b ? { needed: f, sense: 1 } : { needed: b, sense: -1 };
}

/** Drops vertices whose loss moves the line by less than `within` mm (rounded corners of the ring). */
const simplified = (path: Ring, within: number): Ring => {
  if (path.length < 3) return path;
  const a = path[0];
  const b = path[path.length - 1];
  let far = 0;
  let most = -1;
  for (let k = 1; k + 1 < path.length; k += 1) {
    const d = pointSegmentDistance(path[k], a, b);
    if (d > most) {
      most = d;
      far = k;
    }
  }
  if (most <= within) return [a, b];
  return [...simplified(path.slice(0, far + 1), within), ...simplified(path.slice(far), within).slice(1)];
};

/** The lead itself; null where no way is free. */
export function coldLeadTo(way: WallWay, joint: Point, bars: readonly number[]): ColdLead | null {
  const place = placeOnWay(way, joint);
  const { needed, sense } = wayLength(way, place, bars);
  if (!Number.isFinite(needed)) return null;
  const total = (sense * (place.position - way.foot) + way.length) % way.length;
  const passed = between(way.ring, way.foot, sense, total);
  const foot = way.start[way.start.length - 1];
  const wall = simplified([foot, ...passed, place.point], 1);
  const path = [...way.start.slice(0, -1), ...wall, joint].filter(
    (p, k, all) => k === 0 || distance(p, all[k - 1]) > 1e-6,
  );
  const floor = polylineLength(path);
  return { path, floor, rise: way.rise, needed: floor + way.rise };
}
