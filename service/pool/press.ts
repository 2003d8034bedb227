import { drawingDxf } from '../papers/drawing-dxf.js';
import { drawingSvg } from '../papers/drawing-svg.js';
import type { PlanSheet } from '../papers/model.js';
import { runsCsv } from '../papers/runs-csv.js';
import { sheetPdf } from '../papers/sheet-pdf.js';
import type { Paper, PressOutcome, PressTask } from './press-task.js';

const print = (paper: Paper, sheet: PlanSheet): Uint8Array | Promise<Uint8Array> => {
  switch (paper) {
    case 'drawing.svg':
      return Buffer.from(drawingSvg(sheet));
    case 'drawing.dxf':
      return Buffer.from(drawingDxf(sheet));
    case 'runs.csv':
      return Buffer.from(runsCsv(sheet));
    case 'sheet.pdf':
      return sheetPdf(sheet);
  }
};

/** Entry of a thread that prints papers. */
export default async function press(task: PressTask): Promise<PressOutcome> {
  const bytes = await print(task.paper, JSON.parse(task.sheet) as PlanSheet);
  return { kind: 'document', bytes: new Uint8Array(bytes) };
}
