import { type Figure, figure, show } from './figure.js';
import type { SensorReadings, SensorRound } from './readings-input.js';
import type { RuleBook, RuleId } from './rules.js';
import type { Judgement, Verdict } from './verdict.js';

const KELVIN = 273.15;

/** ohm at `temperature` C of a sensor with `r25` ohm at 25 C and B value `beta` K. */
export const sensorResistance = (r25: number, beta: number, temperature: number): number =>
  r25 * Math.exp(beta * (1 / (temperature + KELVIN) - 1 / (25 + KELVIN)));

/** C at which a sensor reads `resistance` ohm (above zero). */
export const sensorTemperature = (r25: number, beta: number, resistance: number): number =>
  1 / (Math.log(resistance / r25) / beta + 1 / (25 + KELVIN)) - KELVIN;

interface SensorData {
  readonly r25: number;
  readonly beta: number;
  readonly rules: readonly RuleId[];
}

function sensorData(book: RuleBook, sensor: SensorReadings): SensorData {
  const typical = book.values['sensor-typical'];
  const known = sensor.r25 !== null && sensor.beta !== null;
  return {
    r25: sensor.r25 ?? typical.r25,
    beta: sensor.beta ?? typical.beta,
    rules: known ? ['sensor-curve'] : ['sensor-curve', 'sensor-typical'],
  };
}

/** What the meter should show from 5 to 35 C. */
export function sensorTable(
  book: RuleBook,
  sensor: SensorReadings,
): readonly { readonly temperature: number; readonly resistance: Figure }[] {
  const { r25, beta, rules } = sensorData(book, sensor);
  return [5, 10, 15, 20, 25, 30, 35].map((temperature) => ({
    temperature,
    resistance: figure(sensorResistance(r25, beta, temperature), 'ohm', ...rules),
  }));
}

export function judgeSensor(book: RuleBook, sensor: SensorReadings, reading: SensorRound): Judgement {
  const { r25, beta, rules } = sensorData(book, sensor);
  const { tolerance, uncertainty } = book.values['sensor-band'];
  const { factor } = book.values['sensor-fault'];
  const expected = sensorResistance(r25, beta, reading.temperature);
  const low = sensorResistance(r25, beta, reading.temperature + uncertainty) * (1 - tolerance);
  const high = sensorResistance(r25, beta, reading.temperature - uncertainty) * (1 + tolerance);
  const figures: Record<string, Figure> = {
    expected: figure(expected, 'ohm', ...rules),
    low: figure(low, 'ohm', 'sensor-band', ...rules),
    high: figure(high, 'ohm', 'sensor-band', ...rules),
  };
  const judged = (verdict: Verdict, rule: RuleId, message: string): Judgement => ({
    what: 'sensor',
    verdict,
    reasons: [{ rule, message }],
    figures,
    next: NEXT_SENSOR[verdict],
  });
  if (reading.resistance === 'open' || reading.resistance > expected * factor) {
    return judged('stop', 'sensor-fault', `the sensor is open, about ${show(expected)} ohm expected`);
  }
  if (reading.resistance < expected / factor) {
    return judged('stop', 'sensor-fault', `the sensor is shorted, about ${show(expected)} ohm expected`);
  }
  figures.temperature = figure(sensorTemperature(r25, beta, reading.resistance), 'C', ...rules);
  const range = `${show(low)} ... ${show(high)} ohm at ${show(reading.temperature)} C`;
  return reading.resistance >= low && reading.resistance <= high
    ? judged('pass', 'sensor-band', `${show(reading.resistance)} ohm lie in ${range}`)
    : judged(
        'investigate',
        'sensor-band',
        `${show(reading.resistance)} ohm are outside ${range}; they would mean ${show(figures.temperature.value)} C`,
      );
}

const NEXT_SENSOR: Readonly<Record<Verdict, string>> = {
  pass: 'Write the reading into the test record.',
  investigate:
    "Compare with the sensor's own table and the temperature at its tip; warm the tip by hand: the reading must fall.",
  stop: 'Change to the spare sensor, or replace this one before it is covered.',
};
