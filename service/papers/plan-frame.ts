import { boxOf } from './clip.js';
import { type Dimensions, dimensionMarks } from './dimensions.js';
import type { PlanSheet } from './model.js';
import { planExtent } from './plan-scene.js';
import { type Scale, standardScale } from './scale.js';

/** The plan with its dimensions: extent in sheet coordinates (mm of the room, y down). */
export interface PlanFrame {
  readonly dimensions: Dimensions;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Least paper mm kept around the walls where no dimension stands. */
const LEAST = 3;

/** Extent of the plan with its dimensions at `ratio` mm of the room per mm of paper. */
export const planFrame = (sheet: PlanSheet, ratio: number): PlanFrame => {
  const outlines = sheet.zones.map((zone) => zone.outline);
  const walls = boxOf(outlines.flat());
  const dimensions = dimensionMarks(outlines, sheet.display, ratio, boxOf(planExtent(sheet)));
  const reach = (depth: number): number => Math.max(depth, LEAST) * ratio;
  const left = walls.minX - reach(dimensions.depth.left);
  const right = walls.maxX + reach(dimensions.depth.right);
  const top = -walls.maxY - reach(dimensions.depth.top);
  const bottom = -walls.minY + reach(dimensions.depth.bottom);
  return { dimensions, left, right, top, bottom };
};

/** The largest standard scale at which the plan with its dimensions takes at most `width` x `height` mm of paper. */
export const scaleToFit = (sheet: PlanSheet, width: number, height: number): Scale =>
  standardScale(sheet.display, ({ ratio }) => {
    const frame = planFrame(sheet, ratio);
    return frame.right - frame.left <= width * ratio && frame.bottom - frame.top <= height * ratio;
  });

/** Scale of the separate drawings: the plan fits an A4 or Letter page lying on its side. */
export const drawingScale = (sheet: PlanSheet): Scale => scaleToFit(sheet, 250, 190);
