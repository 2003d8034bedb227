import type { ThreadPool } from './thread-pool.js';

/** What can be printed of a layout. */
export type Paper = 'drawing.svg' | 'drawing.dxf' | 'runs.csv' | 'sheet.pdf';

export interface PressTask {
  readonly kind: 'paper';
  readonly paper: Paper;
  /** JSON of the sheet. */
  readonly sheet: string;
}

export interface PressOutcome {
  readonly kind: 'document';
  readonly bytes: Uint8Array;
}

export type Press = ThreadPool<PressTask, PressOutcome>;
