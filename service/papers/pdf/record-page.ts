import type { PlanSheet, SheetZone } from '../model.js';
import { decimal } from '../units.js';
import { type Book, TYPE } from './book.js';
import { table } from './table.js';

const ROUNDS = ['off the spool', 'after laying', 'after tiling'];

const ohms = (value: number): string => `${decimal(value, value < 1000 ? 1 : 0)} ohm`;

const noSensor = ({ wet }: SheetZone): string =>
  wet ? 'none: no sensor lies in a wet zone' : "the sensor's own table";

/** What each meter reading is compared with, in the words of the box's head. */
const expectations = (zone: SheetZone): { readonly what: string; readonly expected: string }[] => {
  const { readings, cable } = zone;
  if (readings === undefined)
    return [
      {
        what: 'conductor',
        expected: `nominal ${ohms(cable.voltage ** 2 / cable.power)} (voltage squared over power); the band on the cable's label counts`,
      },
      { what: 'insulation', expected: 'as the instructions of the cable demand' },
      { what: 'sensor', expected: noSensor(zone) },
    ];
  const { conductor, insulation, sensor, temperature } = readings;
  return [
    {
      what: 'conductor',
      expected: `${ohms(conductor.low)} to ${ohms(conductor.high)}, nominal ${ohms(conductor.nominal)}, at ${temperature} °C; the cable's label counts`,
    },
    {
      what: 'insulation',
      expected: `at least ${insulation.legal} megohm at ${insulation.testVoltage} V d.c.; a sound cable shows ${insulation.expected} or more`,
    },
    {
      what: 'sensor',
      expected:
        sensor === undefined
          ? noSensor(zone)
          : `${ohms(sensor.low)} to ${ohms(sensor.high)} at ${temperature} °C for the typical kind; the sensor's own table counts`,
    },
  ];
};

const zoneRecord = (book: Book, zone: SheetZone): void => {
  book.heading(`${zone.id}: cable ${zone.cable.id}`, 75);
  table(
    book,
    [
      { head: 'reading', share: 0.16 },
      { head: 'expected', share: 0.84 },
    ],
    expectations(zone).map((line) => ({ cells: [line.what, line.expected] })),
    { size: 8 },
  );
  table(
    book,
    [
      { head: 'round', share: 0.13 },
      { head: 'conductor, ohm', share: 0.13 },
      { head: 'insulation, megohm', share: 0.13 },
      { head: 'sensor, ohm', share: 0.13 },
      { head: 'cable at, °C', share: 0.1 },
      { head: 'date', share: 0.12 },
      { head: 'name', share: 0.13 },
      { head: 'signature', share: 0.13 },
    ],
    ROUNDS.map((round) => ({ cells: [round], height: 12 })),
    { size: 8, grid: true },
  );
};

/** Test record: three rounds with empty boxes for every cable. */
export const recordPage = (book: Book, sheet: PlanSheet): void => {
  book.page('Test record');
  book.heading('Test record');
  book.paragraph(
    'Measure every cable three times, with the supply disconnected. A reading outside its band stops the work: find the cause before anything is covered.',
  );
  book.paragraph('Copy the serial numbers from the labels before the cables are covered.', {
    size: TYPE.small,
  });
  table(
    book,
    [
      { head: 'zone', share: 0.25 },
      { head: 'cable', share: 0.25 },
      { head: 'serial number', share: 0.5 },
    ],
    sheet.zones.map((zone) => ({ cells: [zone.id, zone.cable.id, ''], height: 9 })),
    { grid: true },
  );
  for (const zone of sheet.zones) zoneRecord(book, zone);
};
