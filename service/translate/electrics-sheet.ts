import type { CableReport } from '../../solver/trade/cable-report.js';
import type { CircuitReport } from '../../solver/trade/circuit-report.js';
import { type Figure, type Finding, show } from '../../solver/trade/figure.js';
import { RULES } from '../../solver/trade/rules.js';
import { sensorResistance } from '../../solver/trade/sensor-readings.js';
import type { SheetFigure, SheetReadings } from '../papers/model.js';
import type { LayoutElectrics } from './electrics.js';

const OHM_PER_MOHM = 1e6;

/** Temperature the resistance bands hold at, C. */
const BAND_AT = 20;

/** Units and messages as they are printed. */
const printed = (text: string): string => text.replace(/(?<=\d )C\b/g, '°C').replace(/\bm2\b/g, 'm²');

const line = (label: string, figure: Figure): SheetFigure => {
  const governing = figure.rules.at(-1);
  const value =
    figure.unit === 'ratio' ? show(figure.value) : printed(`${show(figure.value)} ${figure.unit}`);
  if (governing === undefined) return { label, value };
  return { label, value, rule: figure.rules.join(', '), source: RULES[governing].source.text };
};

const judged = (finding: Finding): SheetFigure => ({
  label: printed(finding.message),
  value: finding.value === null ? '' : printed(`${show(finding.value)} ${finding.unit}`),
  rule: finding.rule,
  source: RULES[finding.rule].source.text,
  ...(finding.status === 'advice' ? {} : { ok: finding.status === 'ok' }),
});

const cableFigures = (cable: CableReport): readonly SheetFigure[] => [
  line('power at the supply', cable.powerAtSupply),
  line('current at the supply', cable.currentAtSupply),
  line('power per metre', cable.linearPower),
  line('resistance at 20 °C', cable.resistance20),
  line('lowest at 20 °C', cable.bandLow),
  line('highest at 20 °C', cable.bandHigh),
  line('resistance warm', cable.resistanceWarm),
  ...(cable.floor === null
    ? []
    : [
        line('heat per area', cable.floor.density),
        line('floor surface, estimate', cable.floor.surface),
        line('floor surface, limit', cable.floor.surfaceLimit),
      ]),
  ...cable.findings.map(judged),
];

const circuitFigures = (circuit: CircuitReport): readonly SheetFigure[] => [
  line('supply voltage', circuit.voltage),
  line('power', circuit.power),
  line('current', circuit.current),
  line('least rating of device and conductors', circuit.required),
  ...(circuit.device === null ? [] : [line('smallest standard device', circuit.device)]),
  line('ground-fault protection trips at most at', circuit.groundFaultTrip),
  ...circuit.findings.map(judged),
  ...circuit.thermostats.flatMap(({ findings }) => findings.map(judged)),
];

/** A sensor of the typical kind; its own data sheet governs. */
const sensorBand = ({ book }: LayoutElectrics): NonNullable<SheetReadings['sensor']> => {
  const { r25, beta } = book.values['sensor-typical'];
  const { tolerance, uncertainty } = book.values['sensor-band'];
  return {
    nominal: sensorResistance(r25, beta, BAND_AT),
    low: sensorResistance(r25, beta, BAND_AT + uncertainty) * (1 - tolerance),
    high: sensorResistance(r25, beta, BAND_AT - uncertainty) * (1 + tolerance),
  };
};

const readingsOf = (cable: CableReport, { book }: LayoutElectrics): SheetReadings => ({
  conductor: {
    nominal: cable.resistance20.value,
    low: cable.bandLow.value,
    high: cable.bandHigh.value,
  },
  insulation: {
    legal: book.values['insulation-minimum'].resistance / OHM_PER_MOHM,
    expected: book.values['insulation-expected'].resistance / OHM_PER_MOHM,
    testVoltage: book.values['insulation-minimum'].testVoltage,
  },
  temperature: BAND_AT,
});

/** What the meter should read in a zone, with a sensor where one is placed; null where the zone has no cable. */
export const zoneReadings = (
  electrics: LayoutElectrics,
  zone: string,
  sensor: boolean,
): SheetReadings | null => {
  const cable = electrics.report.cables.find(({ id }) => id === zone);
  if (cable === undefined) return null;
  return { ...readingsOf(cable, electrics), ...(sensor ? { sensor: sensorBand(electrics) } : {}) };
};

/** Figures and bands of one zone's cable for the papers. */
export const zoneElectrics = (
  electrics: LayoutElectrics,
  zone: string,
  sensor: boolean,
): { readonly electrical: readonly SheetFigure[]; readonly readings: SheetReadings } | null => {
  const cable = electrics.report.cables.find(({ id }) => id === zone);
  const readings = zoneReadings(electrics, zone, sensor);
  return cable === undefined || readings === null ? null : { electrical: cableFigures(cable), readings };
};

/** Figures of the circuit for the papers. */
export const circuitElectrics = ({ report }: LayoutElectrics): readonly SheetFigure[] =>
  report.circuits.flatMap(circuitFigures);
