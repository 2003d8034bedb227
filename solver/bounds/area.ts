/** Bounds on coverage that hold for every legal layout on the lattice, whatever lays it. */
import { areaOf } from '../geometry/region.js';
import { routingArea, targetArea } from '../geometry/zone-area.js';
import { type Cable, cornerSaving, heatRadius, type Setting, type Zone } from '../problem.js';
import { beyondReach, reachOf } from './reach.js';

export interface CoverageBound {
  /** No legal layout heats a larger share of the target. */
  readonly fraction: number;
  /** Which argument gave the figure, in words. */
  readonly basis: string;
}

export const coverageBound = (zone: Zone, setting: Setting, cables: readonly Cable[]): CoverageBound => {
  const target = targetArea(zone, routingArea(zone));
  const total = areaOf(target);
  if (total <= 0) return { fraction: 1, basis: 'there is no target area' };
  if (cables.length === 0) return { fraction: 0, basis: 'there is no cable' };
  const radius = heatRadius(setting);
  const reach = reachOf(zone, setting.lattice);
  const reached = total - areaOf(beyondReach(reach, target, radius));
  const longest = Math.max(...cables.map(({ length }) => length)) - zone.leadIn;
  const pitch = setting.lattice.pitch;
  const rate = Math.max(2 * radius, cornerGain(radius, pitch) / (pitch - cornerSaving(setting.lattice)));
  const swept =
    longest < -1 ? 0 : Math.PI * radius ** 2 + rate * (longest + 1 + cornerSaving(setting.lattice));
  return swept < reached
    ? { fraction: swept / total, basis: 'the longest cable sweeps no more floor than this' }
    : { fraction: Math.min(1, reached / total), basis: 'the rest is out of reach of every channel' };
};

export const sweptArea = (setting: Setting, length: number): number => {
  const radius = heatRadius(setting);
  const pitch = setting.lattice.pitch;
  const saving = cornerSaving(setting.lattice);
  const rate = Math.max(2 * radius, cornerGain(radius, pitch) / (pitch - saving));
  return length < -1 ? 0 : Math.PI * radius ** 2 + rate * (length + 1 + saving);
};

/**
 * Area within R of a unit edge that lies behind a right-angled corner but not within R of the edge before it.
 * With the edges [-p,0] x 0 and 0 x [0,p]: nothing below y = 0, pR right of x = 0, and left of it
 * pR + pi R^2/4 less the part that both cover, which is R^2 for R <= p and else
 * p^2 + 2 p (R - p) + the lens { (a+p)^2 + b^2 <= R^2, a^2 + (b+p)^2 <= R^2, a, b >= 0 }.
 */
export const cornerGain = (radius: number, pitch: number): number => {
  const [R, p] = [radius, pitch];
  const alone = 2 * p * R + (Math.PI * R * R) / 4;
  if (R <= p) return alone - R * R;
  const b = (Math.sqrt(2 * R * R - p * p) - p) / 2;
  const lens = b * Math.sqrt(R * R - b * b) + R * R * Math.asin(b / R) - 2 * p * b - b * b;
  return alone - p * p - 2 * p * (R - p) - lens;
};
