import { CAUTIONS } from '../papers/cautions.js';
import type { LayoutRequest } from '../schemas/layout-request.js';
import type { LayoutResponse } from '../schemas/layout-response.js';

type ZoneAnswer = LayoutResponse['zones'][number];

const WIDTH = 100;
const LABEL = 18;

/** Spaces where a line may be broken: not between a number and its unit. */
const BREAKS = /(?<!\d) | (?!(?:mm?|m2|ohm|Mohm|kg|mA|A|C|W|V|%)(?![a-z]))/;

const metres = (mm: number): string =>
  Math.abs(mm) < 1000 ? `${mm.toFixed(0)} mm` : `${(mm / 1000).toFixed(2)} m`;
const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;
const place = ([x, y]: readonly [number, number]): string => `(${x.toFixed(0)}, ${y.toFixed(0)})`;
const ohms = (value: number): string => `${value.toFixed(1)} ohm`;

/** `text` after `head`, broken into lines of at most WIDTH characters; further lines are indented as far as the first. */
const wrapped = (head: string, text: string, indent = head.length): string => {
  const lines: string[] = [];
  let line = head;
  let begun = false;
  for (const word of text.split(BREAKS)) {
    if (begun && line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = ' '.repeat(indent) + word;
    } else line = begun ? `${line} ${word}` : `${line}${word}`;
    begun = true;
  }
  return [...lines, line].join('\n');
};

const row = (label: string, text: string): string => wrapped(`  ${label.padEnd(LABEL)}`, text);

const sensorText = ({ sensor }: ZoneAnswer): string | null => {
  if (sensor === undefined) return null;
  if (sensor.sensor === null) return `no place: ${sensor.detail ?? sensor.reason ?? ''}`;
  const { at, between, depth, length } = sensor.sensor;
  const spare = sensor.spare === null ? '' : `; spare at ${place(sensor.spare.at)}`;
  return `at ${place(at)}, midway between runs ${between.join(' and ')}, ${metres(depth)} inside; lead ${metres(length.total)} to the thermostat${spare}`;
};

const crossingText = ({ crossing }: ZoneAnswer): string | null => {
  if (crossing === undefined) return null;
  const { parts, groove } = crossing;
  const way = `once, from ${place(crossing.enter)} to ${place(crossing.leave)}`;
  const over =
    groove === null
      ? ''
      : `, over the top: ${metres(parts.climb)} up, ${metres(parts.top)} across, ${metres(parts.descent)} down in a groove of ${groove.width} x ${groove.depth} mm`;
  return `${way}${over}; joint on floor "${crossing.dryZone}" at ${place(crossing.joint)}, ${metres(crossing.leadIn)} of heating cable before the shower`;
};

const zoneRows = (zone: ZoneAnswer, request: LayoutRequest): readonly string[] => {
  const { coverage, length, end, coldLead, readings, laying } = zone;
  const cable = request.catalogue.find(({ id }) => id === zone.cable);
  if (cable === undefined) throw new Error(`The answer names cable ${zone.cable}, which was not offered.`);
  const sensor = sensorText(zone);
  const crossing = crossingText(zone);
  const first = laying?.checkpoints[0];
  const refused = zone.rules.filter(({ ok }) => !ok).length;
  return [
    `${zone.id.toUpperCase()}`,
    row(
      'order cable',
      `${cable.id}: ${metres(cable.length)}, ${cable.power} W at ${cable.voltage} V, cold lead ${metres(cable.coldLead)}`,
    ),
    row(
      'coverage',
      `${percent(coverage.fraction)} of ${coverage.targetArea.toFixed(2)} m2; proven: no layout on this lattice has more than ${percent(coverage.upperBound)}`,
    ),
    row(
      'way',
      `${laying?.runs.length ?? zone.runs.length} runs, ${length.turns} turns; laid ${laying?.order === 'from-far-end' ? 'from the far end back to the curb' : 'from the joint'}`,
    ),
    row(
      'length',
      `${metres(length.path)} with rounded corners${length.leadIn > 0 ? ` (${metres(length.leadIn)} of it before the entry)` : ''} = the cable's ${metres(length.cable)}`,
    ),
    row(
      'end',
      `at ${place(end.at)} in the buffer; within ± ${metres(end.tolerance)} it stays there, with ${metres(end.slack)} to spare`,
    ),
    ...(crossing === null ? [] : [row('crossing', crossing)]),
    ...(coldLead === undefined
      ? []
      : [
          row(
            'cold lead',
            `${metres(coldLead.needed)} of ${metres(cable.coldLead)} needed to the thermostat`,
          ),
        ]),
    ...(sensor === null ? [] : [row('floor sensor', sensor)]),
    ...(readings === undefined
      ? []
      : [
          row(
            'meter reads',
            `${ohms(readings.conductor.low)} to ${ohms(readings.conductor.high)} (nominal ${ohms(readings.conductor.nominal)}) at ${readings.temperature} C; insulation ${readings.insulation.expected} Mohm or more at ${readings.insulation.testVoltage} V d.c.`,
          ),
        ]),
    ...(first === undefined
      ? []
      : [
          row(
            'first check',
            `after run ${first.afterRun}: ${first.mark === null ? `${metres(first.used)} laid` : `mark ${first.mark.toFixed(2)}`}, ± ${metres(first.allowed)}`,
          ),
        ]),
    row(
      'rules',
      refused === 0
        ? `all ${zone.rules.length} kept: ${zone.rules.map(({ rule }) => rule).join(', ')}`
        : `${refused} broken`,
    ),
    '',
  ];
};

const electricalRows = ({ electrical }: LayoutResponse): readonly string[] => {
  if (electrical === undefined || electrical === null) return [];
  const circuits = electrical.circuits.map((circuit) =>
    row(
      circuit.id,
      `${circuit.power.value.toFixed(0)} W, ${circuit.current.value.toFixed(2)} A at ${circuit.voltage.value} V; device and conductors for ${circuit.required.value.toFixed(2)} A, smallest standard device ${circuit.device?.value ?? 'none'} A; ground-fault protection that trips at ${circuit.groundFaultTrip.value * 1000} mA`,
    ),
  );
  const heat = electrical.cables.flatMap(({ id, floor, linearPower }) =>
    floor === null
      ? []
      : [row(id, `${linearPower.value.toFixed(1)} W/m, ${floor.density.value.toFixed(0)} W/m2`)],
  );
  const open = electrical.open.map(({ subject, status, message }) =>
    row(status === 'refuse' ? 'REFUSED' : 'note', `${subject}: ${message}`),
  );
  return [`FOR THE ELECTRICIAN (${electrical.region})`, ...circuits, ...heat, ...open, ''];
};

const materialRows = ({ materials }: LayoutResponse, request: LayoutRequest): readonly string[] => {
  if (materials === undefined) return [];
  const { membrane, mortar, sealing, grooves } = materials;
  return [
    'MATERIALS',
    row(
      'membrane',
      `${membrane.area.value.toFixed(2)} m2: ${membrane.pieces.value} ${request.materials?.membrane.kind ?? 'piece'}(s)`,
    ),
    row('mortar', `${mortar.mass.value.toFixed(1)} kg, ${mortar.bags.value} bags if one serves all layers`),
    ...sealing.map(({ zone, total, rolls }) =>
      row('sealing tape', `${zone}: ${metres(total.value)}, ${rolls.value} roll(s)`),
    ),
    ...grooves.map(({ zone, fill, length }) =>
      row('groove grout', `${zone}: ${fill.value.toFixed(2)} kg in ${metres(length.value)}`),
    ),
    '',
  ];
};

/** What a person wants to know of a layout, as lines of text. */
export const summary = (request: LayoutRequest, layout: LayoutResponse): string =>
  [
    `${request.title ?? 'Layout'}, plan ${layout.id}; places in mm, right and up from the room's zero point`,
    '',
    ...layout.zones.flatMap((zone) => zoneRows(zone, request)),
    ...electricalRows(layout),
    ...materialRows(layout, request),
    'CAUTIONS',
    ...CAUTIONS.filter(({ grave }) => grave).map(({ head, text }) => wrapped('  ', `${head}. ${text}`, 4)),
  ].join('\n');
