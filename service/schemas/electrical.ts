import { z } from 'zod';
import { RANGES, SIZES } from '../limits.js';
import { idSchema, quantity } from './fields.js';
import {
  alloySchema,
  figureSchema,
  findingSchema,
  ofKinds,
  overridesSchema,
  regionSchema,
  ruleNoteSchema,
} from './trade.js';

const densitySchema = z
  .discriminatedUnion(
    'kind',
    [
      z.strictObject({ kind: z.literal('area'), area: quantity('heatedArea', 'Area the cable heats') }),
      z.strictObject({
        kind: z.literal('pattern'),
        pitch: quantity('pitch', 'Distance between neighbouring stud channels'),
        gaps: z
          .array(z.int().min(RANGES.spacing.min).max(RANGES.spacing.max))
          .min(1)
          .max(SIZES.gaps)
          .meta({ description: 'Gaps between neighbouring runs, in the order they repeat (studs)' }),
      }),
    ],
    ofKinds('area', 'pattern'),
  )
  .meta({ id: 'HeatDensity', description: 'How densely the cable lies: by its area or by a stud pattern.' });

export const buildSchema = z
  .strictObject({
    use: z.enum(['occupied', 'bathroom', 'edge']).default('bathroom'),
    room: quantity('siteTemperature', 'Room temperature; by use when left out').nullable().default(null),
    depth: quantity('coverDepth', 'Cable centre below the surface').nullable().default(null),
    conductivity: quantity('conductivity', 'Of the mortar and tile above the cable').nullable().default(null),
  })
  .meta({ id: 'FloorBuild', description: 'Use of the floor and what lies above the cable.' });

export const NO_BUILD = { use: 'bathroom', room: null, depth: null, conductivity: null } as const;

const loadSchema = z
  .strictObject({
    id: idSchema,
    power: quantity('power', 'Power at the rated voltage'),
    voltage: quantity('voltage', 'Voltage on the label'),
    length: quantity('cableLength', 'Length of the heating part'),
    labelResistance: quantity('nominalResistance', 'Resistance at 20 C on the label; V^2 / P when left out')
      .nullable()
      .default(null),
    alloy: alloySchema,
    braid: z.boolean().meta({ description: 'The element has a braid or screen to earth.' }),
    earthedGrid: z.boolean().default(false).meta({ description: 'An earthed grid lies above the element.' }),
    wet: z.boolean().meta({ description: 'The cable lies in a shower or wet room.' }),
    density: densitySchema.nullable().default(null),
    closestRuns: quantity('runDistance', 'Least centre distance of adjacent runs').nullable().default(null),
    floorTemperature: quantity('conductorTemperature', 'Conductor temperature in use')
      .nullable()
      .default(null),
    floor: buildSchema.default(NO_BUILD),
  })
  .meta({ id: 'CableLoad', description: 'A heating cable by its label, and where it lies.' });

const circuitSchema = z
  .strictObject({
    id: idSchema,
    voltage: quantity('voltage', 'Supply voltage'),
    device: quantity('ratedCurrent', 'Rated current of the overcurrent device, where one is chosen')
      .nullable()
      .default(null),
    groundFault: z
      .discriminatedUnion(
        'kind',
        [
          z.strictObject({ kind: z.literal('none') }),
          z.strictObject({ kind: z.literal('fitted'), trip: quantity('trip', 'Tripping current') }),
        ],
        ofKinds('none', 'fitted'),
      )
      .nullable()
      .default(null)
      .meta({
        description: 'Ground-fault (residual-current) protection; null while nothing is known of it.',
      }),
    thermostats: z
      .array(
        z.strictObject({
          id: idSchema,
          rating: quantity('ratedCurrent', 'Rated switching current, where one is chosen')
            .nullable()
            .default(null),
          cables: z.array(idSchema).min(1).max(SIZES.cables),
        }),
      )
      .min(1)
      .max(SIZES.thermostats),
  })
  .meta({ id: 'Circuit', description: 'A supply circuit with the thermostats and cables on it.' });

export const electricalRequestSchema = z
  .strictObject({
    region: regionSchema,
    overrides: overridesSchema,
    cables: z.array(loadSchema).min(1).max(SIZES.cables),
    circuits: z.array(circuitSchema).min(1).max(SIZES.circuits),
  })
  .meta({ id: 'ElectricalRequest', description: 'Cables and the circuits that feed them.' });

const floorFiguresSchema = z
  .object({
    spacing: figureSchema,
    heatedArea: figureSchema,
    density: figureSchema,
    surface: figureSchema.meta({ description: 'Mean surface temperature left on; an estimate, no promise.' }),
    surfaceLimit: figureSchema,
    rippleOpen: figureSchema.meta({ description: 'Peak to peak, heat also flowing down.' }),
    rippleInsulated: figureSchema.meta({ description: 'Peak to peak, insulated just under the cable.' }),
    limiter: z.boolean().meta({ description: 'A floor limiter is required.' }),
  })
  .meta({ id: 'FloorFigures' });

const cableReportSchema = z
  .object({
    id: z.string(),
    power: figureSchema,
    linearPower: figureSchema,
    current: figureSchema,
    powerAtSupply: figureSchema,
    currentAtSupply: figureSchema,
    supplyShare: figureSchema,
    powerWarm: figureSchema,
    resistance20: figureSchema,
    bandLow: figureSchema,
    bandHigh: figureSchema,
    resistancePerMetre: figureSchema,
    floorTemperature: figureSchema,
    resistanceWarm: figureSchema,
    floor: floorFiguresSchema.nullable(),
    findings: z.array(findingSchema),
  })
  .meta({
    id: 'CableElectrics',
    description: 'One cable at its rated voltage, at the supply, cold and warm.',
  });

const circuitReportSchema = z
  .object({
    id: z.string(),
    voltage: figureSchema,
    power: figureSchema,
    current: figureSchema,
    required: figureSchema.meta({ description: 'Least rating of the device and of the conductors.' }),
    device: figureSchema
      .nullable()
      .meta({ description: 'Smallest standard device; null when none is large enough.' }),
    mostLoad: figureSchema.nullable(),
    groundFaultTrip: figureSchema,
    thermostats: z.array(
      z.object({
        id: z.string(),
        cables: z.array(z.string()),
        current: figureSchema,
        required: figureSchema,
        findings: z.array(findingSchema),
      }),
    ),
    findings: z.array(findingSchema),
  })
  .meta({ id: 'CircuitElectrics', description: 'One circuit with its device, protection and thermostats.' });

export const electricalResponseSchema = z
  .object({
    region: regionSchema,
    status: z.enum(['ok', 'advice', 'refuse']).meta({ description: 'The worst finding.' }),
    cables: z.array(cableReportSchema),
    circuits: z.array(circuitReportSchema),
    totals: z.object({
      power: figureSchema,
      heatedArea: figureSchema.nullable(),
      density: figureSchema.nullable(),
    }),
    open: z.array(findingSchema).meta({ description: 'Every finding that is not ok.' }),
    rules: z.array(ruleNoteSchema).meta({ description: 'The rules that the figures and findings name.' }),
  })
  .meta({ id: 'ElectricalResponse', description: 'What the electrician gets.' });
