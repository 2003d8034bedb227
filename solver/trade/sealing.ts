import { type Figure, figure } from './figure.js';
import type { CurbCrossing, MaterialZone } from './material-input.js';
import { measureOutline } from './outline.js';
import type { RuleBook } from './rules.js';

export interface SealingQuantity {
  readonly zone: string;
  /** Foot of the walls. */
  readonly perimeter: Figure;
  /** Up every corner. */
  readonly corners: Figure;
  readonly seams: Figure;
  /** Both feet of the curb; zero without one. */
  readonly curb: Figure;
  readonly overlaps: Figure;
  readonly total: Figure;
  /** Least width of tape over a seam: an overlap to either side. */
  readonly width: Figure;
  readonly rolls: Figure;
  readonly insideCornerPieces: Figure;
  readonly outsideCornerPieces: Figure;
}

/** Tape of a wet zone whose membrane has `seams`, each in mm. Every straight piece overlaps at both of its ends. */
export function sealingQuantity(
  book: RuleBook,
  zone: MaterialZone,
  seams: readonly number[],
): SealingQuantity {
  const overlap = book.values['seam-overlap'].length;
  const { roll, upstand } = book.values['sealing-tape'];
  const outline = measureOutline(zone.outline);
  const cornerCount = outline.insideCorners + outline.outsideCorners;
  const curbRuns = zone.curb === null ? [] : [zone.curb.length, zone.curb.length];
  const cornerRuns = Array.from({ length: upstand > 0 ? cornerCount : 0 }, () => upstand);
  const runs = [...outline.walls, ...cornerRuns, ...seams, ...curbRuns];
  const sum = (lengths: readonly number[]): number => lengths.reduce((a, b) => a + b, 0);
  // A run longer than a roll is joined once more for every further roll.
  const overlaps = runs.reduce((all, run) => all + overlap * (1 + Math.ceil(run / roll)), 0);
  const total = sum(runs) + overlaps;
  return {
    zone: zone.id,
    perimeter: figure(sum(outline.walls), 'mm', 'derived-geometry'),
    corners: figure(sum(cornerRuns), 'mm', 'sealing-tape', 'derived-geometry'),
    seams: figure(sum(seams), 'mm', 'derived-geometry'),
    curb: figure(sum(curbRuns), 'mm', 'derived-geometry'),
    overlaps: figure(overlaps, 'mm', 'seam-overlap', 'sealing-tape'),
    total: figure(total, 'mm', 'seam-overlap', 'sealing-tape', 'derived-geometry'),
    width: figure(2 * overlap, 'mm', 'seam-overlap'),
    rolls: figure(Math.ceil(total / roll - 1e-9), 'pieces', 'sealing-tape', 'seam-overlap'),
    insideCornerPieces: figure(outline.insideCorners, 'pieces', 'derived-geometry'),
    outsideCornerPieces: figure(outline.outsideCorners, 'pieces', 'derived-geometry'),
  };
}

export interface GrooveQuantity {
  readonly zone: string;
  readonly width: Figure;
  readonly depth: Figure;
  /** Length of the groove up, across and down. */
  readonly length: Figure;
  /** Grout that closes it solid around the cable; never below zero. */
  readonly fill: Figure;
}

export function grooveQuantity(book: RuleBook, zone: string, curb: CurbCrossing): GrooveQuantity {
  const { width, depth, density } = book.values['curb-groove'];
  const section = Math.max(0, width * depth - (Math.PI / 4) * curb.diameter ** 2);
  const mass = section * curb.crossing * 1e-9 * density;
  return {
    zone,
    width: figure(width, 'mm', 'curb-groove'),
    depth: figure(depth, 'mm', 'curb-groove'),
    length: figure(curb.crossing, 'mm', 'as-given'),
    fill: figure(mass, 'kg', 'curb-groove', 'derived-geometry'),
  };
}
