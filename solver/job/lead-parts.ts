/** Length of the heating cable between the joint and the first stud of the shower. */
import { distance, polylineLength } from '../geometry/measure.js';
import { cornerRadius, cornerSaving, type Point, type Ring, type Setting } from '../problem.js';
import { planBends, turnAt } from './bends.js';
import type { Curb } from './curb.js';

/** Heating cable before the shower's first lattice node, mm. leadIn = run + climb + top + descent + wrap - cornerSaving. */
export interface LeadParts {
  /** On the floors: from the joint to the curb, and from the curb to the entry; sharp. */
  readonly run: number;
  readonly climb: number;
  readonly top: number;
  readonly descent: number;
  /** Half a turn about the last stud before the climb, pi x r; 0 without a climb. */
  readonly wrap: number;
  /** Corners in plan, and four in elevation over a curb. */
  readonly turns: number;
  readonly cornerSaving: number;
}

/**
 * `lead` is the plan polyline from the joint to the entry, corners sharp; `over` the faces of the curb on it. Every
 * corner saves cable by the same rule as in a layout: those in plan, and over a curb the four in elevation (foot and
 * edge of either face, eased to the bend radius). A corner at the entry itself belongs to neither length (at most
 * (2 - pi/2) r). The groove's depth is not counted: it shortens the way by at most twice its depth.
 */
export function leadParts(
  lead: Ring,
  over: { enter: Point; leave: Point },
  curb: Curb | null,
  setting: Setting,
): LeadParts {
  const r = cornerRadius(setting.lattice);
  const top = distance(over.enter, over.leave);
  const bends = planBends(lead, r);
  const run = polylineLength(lead) - top;
  if (curb === null || curb.height === 0)
    return { run, climb: 0, top, descent: 0, wrap: 0, turns: bends.turns, cornerSaving: bends.saving };
  return {
    run,
    climb: curb.height,
    top,
    descent: curb.descent,
    wrap: Math.PI * r,
    turns: bends.turns + 4,
    cornerSaving: bends.saving + 4 * cornerSaving(setting.lattice),
  };
}

export const leadLength = (parts: LeadParts): number =>
  parts.run + parts.climb + parts.top + parts.descent + parts.wrap - parts.cornerSaving;

/** The stud beside the last dry node, behind it as seen in the direction of travel, on the side the cable comes from (left when it comes straight). */
export function lastStud(
  node: Point,
  heading: readonly [number, number],
  before: Point,
  pitch: number,
): Point {
  const size = Math.hypot(heading[0], heading[1]);
  const [ux, uy] = [heading[0] / size, heading[1] / size];
  const side = ux * (before[1] - node[1]) - uy * (before[0] - node[0]) >= 0 ? 1 : -1;
  const h = pitch / 2;
  return [node[0] + h * (-ux - side * uy), node[1] + h * (-uy + side * ux)];
}

/**
 * Whether the run obeys the rules of a path: where two of its nodes lie nearer than the smallest spacing, no more
 * than one corner's way lies between them; corners that turn the same way stand two bend radii apart.
 */
export function keepsOwnRules(nodes: Ring, lead: Ring, setting: Setting, minBendRadius: number): boolean {
  const { pitch } = setting.lattice;
  const keep = setting.spacing.min * pitch;
  for (let i = 0; i < nodes.length; i += 1)
    for (let j = i + 2; j < nodes.length; j += 1) {
      const d = distance(nodes[i], nodes[j]);
      if (d < keep - 0.25 && (j - i) * pitch > Math.SQRT2 * d + 1) return false;
    }
  for (let k = 1; k + 2 < lead.length; k += 1) {
    const [a, b] = [turnAt(lead[k - 1], lead[k], lead[k + 1]), turnAt(lead[k], lead[k + 1], lead[k + 2])];
    if (a * b > 0 && distance(lead[k], lead[k + 1]) < 2 * minBendRadius - 0.25) return false;
  }
  return true;
}
