/** Reads back the uncompressed PDFs of these tests: pages, texts with their boxes, path points. Not a general reader. */

export interface PdfText {
  readonly text: string;
  readonly size: number;
  /** Corners of the box from baseline to cap height, page points, y up. */
  readonly box: {
    readonly minX: number;
    readonly minY: number;
    readonly maxX: number;
    readonly maxY: number;
  };
}

export interface PdfPage {
  readonly width: number;
  readonly height: number;
  readonly texts: readonly PdfText[];
  /** End points of path pieces, page points. */
  readonly points: readonly (readonly [number, number])[];
}

type Matrix = readonly [number, number, number, number, number, number];

const times = (m: Matrix, n: Matrix): Matrix => [
  m[0] * n[0] + m[1] * n[2],
  m[0] * n[1] + m[1] * n[3],
  m[2] * n[0] + m[3] * n[2],
  m[2] * n[1] + m[3] * n[3],
  m[4] * n[0] + m[5] * n[2] + n[4],
  m[4] * n[1] + m[5] * n[3] + n[5],
];

const apply = (m: Matrix, x: number, y: number): [number, number] => [
  m[0] * x + m[2] * y + m[4],
  m[1] * x + m[3] * y + m[5],
];

const decode = (hex: string): string => new TextDecoder('windows-1252').decode(Buffer.from(hex, 'hex'));

const readContent = (
  content: string,
  width: number,
  height: number,
  measure: (text: string, size: number) => number,
): PdfPage => {
  const texts: PdfText[] = [];
  const points: [number, number][] = [];
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  const stack: Matrix[] = [];
  let line: Matrix = matrix;
  let size = 0;
  for (const row of content.split('\n')) {
    const words = row.trim().split(/\s+/);
    const operator = words.at(-1);
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = words.slice(0, -1).map(Number);
    if (operator === 'q') stack.push(matrix);
    else if (operator === 'Q') matrix = stack.pop() ?? matrix;
    else if (operator === 'cm') matrix = times([a, b, c, d, e, f], matrix);
    else if (operator === 'Tm') line = times([a, b, c, d, e, f], matrix);
    else if (operator === 'Tf') size = Number(words[1]);
    else if (operator === 'm' || operator === 'l') points.push(apply(matrix, a, b));
    else if (operator === 'c') points.push(apply(matrix, e, f));
    else if (operator === 'TJ') {
      const text = [...row.matchAll(/<([0-9a-f]*)>/g)].map((part) => decode(part[1] ?? '')).join('');
      if (text.trim() === '') continue;
      const long = measure(text, size);
      const corners = [
        apply(line, 0, 0),
        apply(line, long, 0),
        apply(line, 0, size * 0.7),
        apply(line, long, size * 0.7),
      ];
      const xs = corners.map((corner) => corner[0]);
      const ys = corners.map((corner) => corner[1]);
      texts.push({
        text,
        size: size * Math.hypot(line[0], line[1]),
        box: { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) },
      });
    }
  }
  return { width, height, texts, points };
};

export const readPdf = (bytes: Uint8Array, measure: (text: string, size: number) => number): PdfPage[] => {
  const file = Buffer.from(bytes).toString('latin1');
  const objects = new Map(
    [...file.matchAll(/(\d+) 0 obj\n([\s\S]*?)\nendobj/g)].map((m) => [Number(m[1]), m[2] ?? '']),
  );
  const tree = [...objects.values()].find((body) => body.includes('/Type /Pages')) ?? '';
  const kids = [...(/\/Kids \[([^\]]*)\]/.exec(tree)?.[1] ?? '').matchAll(/(\d+) 0 R/g)].map((m) =>
    Number(m[1]),
  );
  return kids.map((kid) => {
    const page = objects.get(kid) ?? '';
    const [, width = '0', height = '0'] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(page) ?? [];
    const contents = objects.get(Number(/\/Contents (\d+) 0 R/.exec(page)?.[1])) ?? '';
    const stream = /stream\n([\s\S]*)\nendstream/.exec(contents)?.[1] ?? '';
    return readContent(stream, Number(width), Number(height), measure);
  });
};
