import type { Point } from '../../solver/problem.js';

/**
 * The small part of the DXF R12 (AC1009) text format that a plan needs, written from the published group codes.
 * R12 itself knows no unit variable; $INSUNITS 4 and $MEASUREMENT 1 (millimetres) are added for the readers that
 * look for them, and a comment says the same.
 */
export interface R12Layer {
  /** Capitals, digits and _ only; at most 31 characters. */
  readonly name: string;
  /** AutoCAD colour index, 1..255. */
  readonly color: number;
  readonly lineType: R12LineType;
}

export type R12LineType = 'CONTINUOUS' | 'DASHED' | 'DASHDOT' | 'DOT';

export interface R12Vertex {
  readonly at: Point;
  /** Tangent of a quarter of the arc's angle to the next vertex, positive counter-clockwise; 0 for a straight piece. */
  readonly bulge: number;
}

export interface R12Drawing {
  polyline(layer: string, vertices: readonly R12Vertex[], closed: boolean): void;
  line(layer: string, from: Point, to: Point): void;
  circle(layer: string, center: Point, radius: number): void;
  text(layer: string, at: Point, height: number, degrees: number, text: string): void;
  toString(): string;
}

type Group = readonly [code: number, value: string | number];

const real = (value: number): string => {
  const text = value.toFixed(6).replace(/0+$/, '');
  return text === '-0.' ? '0.0' : text.endsWith('.') ? `${text}0` : text;
};

const groupText = ([code, value]: Group): string =>
  `${String(code).padStart(3)}\r\n${typeof value === 'string' ? value : Number.isInteger(value) && code >= 60 && code < 80 ? value : real(value)}\r\n`;

/** One line of plain ASCII: control codes defused, other characters as \U+XXXX. */
export const r12Text = (text: string): string =>
  [...text.replace(/\s+/g, ' ')]
    .map((char) => {
      const code = char.codePointAt(0) ?? 0;
      if (char === '^') return '^ ';
      if (code < 32 || code === 127) return '';
      if (code < 127) return char;
      return code > 0xffff ? '?' : `\\U+${code.toString(16).toUpperCase().padStart(4, '0')}`;
    })
    .join('')
    .replaceAll('%%', '% %');

/** Patterns in mm of the room: [positive dash, negative gap, 0 dot ...]. */
const LINE_TYPES: readonly {
  readonly name: R12LineType;
  readonly text: string;
  readonly dashes: readonly number[];
}[] = [
  { name: 'CONTINUOUS', text: 'Solid line', dashes: [] },
  { name: 'DASHED', text: '__ __ __', dashes: [60, -15] },
  { name: 'DASHDOT', text: '____ . ____ .', dashes: [120, -15, 0, -15] },
  { name: 'DOT', text: '. . . .', dashes: [0, -15] },
];

const table = (name: string, entries: readonly (readonly Group[])[]): Group[] => [
  [0, 'TABLE'],
  [2, name],
  [70, entries.length],
  ...entries.flat(),
  [0, 'ENDTAB'],
];

const section = (name: string, groups: readonly Group[]): Group[] => [
  [0, 'SECTION'],
  [2, name],
  ...groups,
  [0, 'ENDSEC'],
];

/** An empty drawing with the given layers; entities keep the order in which they are added. */
export const r12Drawing = (layers: readonly R12Layer[], comment: string): R12Drawing => {
  const entities: Group[] = [];
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  const reach = ([x, y]: Point, around = 0): void => {
    minX = Math.min(minX, x - around);
    minY = Math.min(minY, y - around);
    maxX = Math.max(maxX, x + around);
    maxY = Math.max(maxY, y + around);
  };
  const point = (base: number, [x, y]: Point): Group[] => [
    [base, x],
    [base + 10, y],
    [base + 20, 0],
  ];
  return {
    polyline(layer, vertices, closed) {
      entities.push([0, 'POLYLINE'], [8, layer], [66, 1], ...point(10, [0, 0]), [70, closed ? 1 : 0]);
      for (const vertex of vertices) {
        reach(vertex.at);
        entities.push([0, 'VERTEX'], [8, layer], ...point(10, vertex.at));
        if (vertex.bulge !== 0) entities.push([42, vertex.bulge]);
      }
      entities.push([0, 'SEQEND'], [8, layer]);
    },
    line(layer, from, to) {
      reach(from);
      reach(to);
      entities.push([0, 'LINE'], [8, layer], ...point(10, from), ...point(11, to));
    },
    circle(layer, center, radius) {
      reach(center, radius);
      entities.push([0, 'CIRCLE'], [8, layer], ...point(10, center), [40, radius]);
    },
    text(layer, at, height, degrees, text) {
      reach(at);
      // Centred (72 = 1): group 11 is the point that counts, group 10 only a hint.
      entities.push([0, 'TEXT'], [8, layer], ...point(10, at), [40, height], [1, r12Text(text)]);
      if (degrees !== 0) entities.push([50, degrees]);
      entities.push([72, 1], ...point(11, at));
    },
    toString() {
      const empty = minX > maxX;
      const header: Group[] = [
        [9, '$ACADVER'],
        [1, 'AC1009'],
        [9, '$INSBASE'],
        ...point(10, [0, 0]),
        [9, '$EXTMIN'],
        ...point(10, empty ? [0, 0] : [minX, minY]),
        [9, '$EXTMAX'],
        ...point(10, empty ? [0, 0] : [maxX, maxY]),
        [9, '$LUNITS'],
        [70, 2],
        [9, '$MEASUREMENT'],
        [70, 1],
        [9, '$INSUNITS'],
        [70, 4],
      ];
      const lineTypes = LINE_TYPES.map(({ name, text, dashes }): Group[] => [
        [0, 'LTYPE'],
        [2, name],
        [70, 0],
        [3, text],
        [72, 65],
        [73, dashes.length],
        [40, dashes.reduce((sum, dash) => sum + Math.abs(dash), 0)],
        ...dashes.map((dash): Group => [49, dash]),
      ]);
      const layerEntries = [{ name: '0', color: 7, lineType: 'CONTINUOUS' as const }, ...layers].map(
        ({ name, color, lineType }): Group[] => [
          [0, 'LAYER'],
          [2, name],
          [70, 0],
          [62, color],
          [6, lineType],
        ],
      );
      const style: Group[] = [
        [0, 'STYLE'],
        [2, 'STANDARD'],
        [70, 0],
        [40, 0],
        [41, 1],
        [50, 0],
        [71, 0],
        [42, 2.5],
        [3, 'txt'],
        [4, ''],
      ];
      const groups: Group[] = [
        [999, r12Text(comment)],
        ...section('HEADER', header),
        ...section('TABLES', [
          ...table('LTYPE', lineTypes),
          ...table('LAYER', layerEntries),
          ...table('STYLE', [style]),
        ]),
        ...section('BLOCKS', []),
        ...section('ENTITIES', entities),
        [0, 'EOF'],
      ];
      return groups.map(groupText).join('');
    },
  };
};
