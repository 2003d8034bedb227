import { z } from 'zod';
import { pathSchema } from './report.js';

const mm = (description: string) => z.number().meta({ description: `${description} (mm)` });
const place = z.tuple([z.number(), z.number()]);

export const coldLeadSchema = z
  .object({
    path: pathSchema.meta({ description: 'From the thermostat along the wall to the joint.' }),
    floor: mm('Length of the path'),
    rise: mm('Up the wall to the thermostat'),
    needed: mm('Cold lead needed in all'),
  })
  .meta({ id: 'ColdLead', description: 'Way of the unheated supply lead.' });

export const crossingSchema = z
  .object({
    dryZone: z.string(),
    lead: pathSchema.meta({ description: 'Heating cable from the joint to the entry, corners sharp.' }),
    joint: place.meta({ description: 'Hot-to-cold joint, on the dry floor.' }),
    entry: place,
    lastDry: place.meta({ description: 'Last stud channel crossing on the dry floor.' }),
    enter: place.meta({ description: 'Where the cable meets the curb.' }),
    leave: place.meta({ description: 'Where it leaves the curb.' }),
    slant: z.number().meta({ description: 'Deviation from square (degrees).' }),
    stud: place.nullable().meta({ description: 'Stud that is wrapped by half a turn before the climb.' }),
    groove: z.object({ width: z.number(), depth: z.number() }).nullable(),
    parts: z
      .object({
        run: mm('On the floors'),
        climb: mm('Up the curb'),
        top: mm('Over its top'),
        descent: mm('Down into the shower'),
        wrap: mm('Half a turn about the last stud'),
        turns: z.number(),
        cornerSaving: mm('Saved by rounding the corners'),
      })
      .meta({ description: 'leadIn = run + climb + top + descent + wrap - cornerSaving.' }),
    leadIn: mm('Heating cable used up before the entry'),
    missed: z
      .object({ crossing: z.number().nullable(), joint: z.number().nullable() })
      .meta({ description: 'Distance from the places wished for (mm); null without a wish.' }),
  })
  .meta({
    id: 'Crossing',
    description: 'How the heating cable of a shower gets there, over its curb, once.',
  });

const sensorPlaceSchema = z
  .object({
    at: place,
    lead: pathSchema.meta({ description: 'From the wall to the sensor.' }),
    length: z.object({ floor: z.number(), inWall: z.number(), rise: z.number(), total: z.number() }),
    between: z.tuple([z.number(), z.number()]).meta({ description: 'Runs on either side.' }),
    gap: mm('Between these runs'),
    depth: mm('Inside the heated area'),
  })
  .meta({ id: 'SensorPlace', description: 'Midway between two runs, its lead crossing no cable.' });

export const sensorOutcomeSchema = z
  .object({
    placed: z.boolean(),
    sensor: sensorPlaceSchema.nullable(),
    spare: sensorPlaceSchema.nullable(),
    reason: z.string().nullable(),
    by: z.number().nullable().meta({ description: 'By how much it fails (mm).' }),
    detail: z.string().nullable().meta({ description: 'Why there is no place, or no spare one.' }),
  })
  .meta({ id: 'Sensor', description: 'Place of the floor sensor, or why there is none.' });

export const layingSchema = z
  .object({
    order: z.enum(['from-joint', 'from-far-end']),
    runs: z
      .array(
        z.object({
          n: z.number(),
          pieces: z.tuple([z.number(), z.number()]).meta({
            description:
              "First and last of its straight pieces, as numbered in the zone's `runs`: the run, and the step over to the next.",
          }),
          from: place,
          to: place,
          studsAlong: z.number(),
          beyond: mm('Left over where the run ends between two studs'),
          studsOver: z
            .number()
            .nullable()
            .meta({ description: 'To the next parallel run; null where the cable turns off or ends.' }),
          turn: z.enum(['left', 'right']).nullable(),
          length: mm('Along the run'),
          used: mm('Cable laid at its end'),
          mark: z.number().nullable().meta({ description: 'Metre mark expected at its end.' }),
        }),
      )
      .meta({
        description:
          'Runs in the order of work. The papers, the steps, the checkpoints and the sensor use these numbers.',
      }),
    steps: z.array(
      z.object({ n: z.number(), kind: z.string(), used: mm('Cable laid after it'), sentence: z.string() }),
    ),
    checkpoints: z.array(
      z.object({
        afterRun: z.number(),
        at: place,
        used: mm('Cable laid here, from where laying begins'),
        mark: z.number().nullable().meta({ description: 'Metre mark expected here.' }),
        allowed: mm('Allowed either way'),
      }),
    ),
    midpoint: z.object({ run: z.number().nullable(), at: place.nullable(), mark: z.number().nullable() }),
    endMark: z.number().nullable(),
  })
  .meta({
    id: 'Laying',
    description: 'Order of work: dry floors from the joint, wet zones from the far end.',
  });
