import type { Stroke } from './marks.js';

/**
 * Line types after ISO 128-2 (from memory): widths from the series 0.13 ... 1 mm, wide to narrow 2:1, dash and gap
 * lengths as multiples of the width d. Widths are mm on paper; `pen` turns them into mm of the room.
 */
export type LineType =
  | 'continuous'
  | 'dashed'
  | 'long-dashed-dotted'
  | 'long-dashed-double-dotted'
  | 'dotted';

const DASHES: Record<LineType, readonly number[]> = {
  continuous: [],
  dashed: [12, 3],
  'long-dashed-dotted': [24, 3, 0.5, 3],
  'long-dashed-double-dotted': [24, 3, 0.5, 3, 0.5, 3],
  dotted: [0.5, 3],
};

export interface Pen {
  readonly width: number;
  readonly color: string;
  readonly type: LineType;
}

export const INK = '#1a1a1a';
export const PAPER = '#ffffff';
const CABLE = '#8f2a12';
const SUPPLY = '#1f3f77';
const PROBE = '#14594a';

export const PENS = {
  wall: { width: 0.7, color: INK, type: 'continuous' },
  noHeat: { width: 0.35, color: INK, type: 'continuous' },
  hatch: { width: 0.13, color: '#4a4a4a', type: 'continuous' },
  buffer: { width: 0.25, color: INK, type: 'dashed' },
  cold: { width: 0.18, color: INK, type: 'dotted' },
  cable: { width: 0.5, color: CABLE, type: 'continuous' },
  reserve: { width: 0.5, color: CABLE, type: 'dashed' },
  endRange: { width: 0.35, color: CABLE, type: 'continuous' },
  coldLead: { width: 0.35, color: SUPPLY, type: 'long-dashed-dotted' },
  sensor: { width: 0.35, color: PROBE, type: 'dotted' },
  symbol: { width: 0.25, color: INK, type: 'continuous' },
  dimension: { width: 0.18, color: INK, type: 'continuous' },
  frame: { width: 0.35, color: INK, type: 'continuous' },
} as const satisfies Record<string, Pen>;

export const STUD_COLOR = '#9c9c9c';
export const BUFFER_DOT_COLOR = '#8a8a8a';
export const COLD_FILL = '#c9c9c9';
export const TARGET_FILL = '#f6f1ec';

/** A pen at `scale` mm of the room per mm of paper. */
export const pen = (kind: Pen, scale: number): Stroke => {
  const dash = DASHES[kind.type].map((k) => k * kind.width * scale);
  return {
    width: kind.width * scale,
    color: kind.color,
    ...(dash.length > 0 ? { dash } : {}),
    cap: 'butt',
  };
};
