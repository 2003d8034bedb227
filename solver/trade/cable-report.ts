import { type CableLoad, spacingOf } from './electrical-input.js';
import { atMost, type Figure, type Finding, figure, show } from './figure.js';
import { heatDensity, type Ripple, ripple, surfaceLimit, surfaceTemperature } from './heat.js';
import {
  coefficientOf,
  currentOf,
  powerShare,
  resistanceBand,
  resistanceOf,
  temperatureFactor,
} from './resistance.js';
import type { RuleBook } from './rules.js';

/** What depends on how densely the cable lies; null without a heated area or a stud pattern. */
export interface FloorFigures {
  readonly spacing: Figure;
  readonly heatedArea: Figure;
  readonly density: Figure;
  /** Mean surface temperature, an estimate. */
  readonly surface: Figure;
  /** Highest surface temperature allowed, and the setting of a floor limiter where one is needed. */
  readonly surfaceLimit: Figure;
  readonly rippleOpen: Figure;
  readonly rippleInsulated: Figure;
  readonly limiter: boolean;
}

export interface CableReport {
  readonly id: string;
  /** At the rated voltage. */
  readonly power: Figure;
  readonly linearPower: Figure;
  readonly current: Figure;
  /** At the supply voltage. */
  readonly powerAtSupply: Figure;
  readonly currentAtSupply: Figure;
  readonly supplyShare: Figure;
  /** Power at the supply voltage with the conductor at floor temperature. */
  readonly powerWarm: Figure;
  /** Nominal, and what the meter may read at 20 C. */
  readonly resistance20: Figure;
  readonly bandLow: Figure;
  readonly bandHigh: Figure;
  readonly resistancePerMetre: Figure;
  readonly floorTemperature: Figure;
  readonly resistanceWarm: Figure;
  readonly floor: FloorFigures | null;
  readonly findings: readonly Finding[];
}

/** One cable on a supply of `supply` V. The cable has passed `electricalProblems`. */
export function cableReport(book: RuleBook, cable: CableLoad, supply: number): CableReport {
  const linearPower = cable.power / (cable.length / 1000);
  const nominal = cable.labelResistance ?? resistanceOf(cable.power, cable.voltage);
  const band = resistanceBand(book, nominal);
  const alloy = coefficientOf(book, cable.alloy);
  const warmRule = cable.floorTemperature === null ? 'floor-temperature' : 'as-given';
  const warmTemperature = cable.floorTemperature ?? book.values['floor-temperature'].temperature;
  const warm = nominal * temperatureFactor(alloy.perKelvin, warmTemperature);
  const share = powerShare(cable.voltage, supply);
  const powerAtSupply = cable.power * share;
  const floor = floorFigures(book, cable, linearPower * share);
  return {
    id: cable.id,
    power: figure(cable.power, 'W', 'as-given'),
    linearPower: figure(linearPower, 'W/m', 'ohm'),
    current: figure(currentOf(cable.power, cable.voltage), 'A', 'ohm'),
    powerAtSupply: figure(powerAtSupply, 'W', 'voltage-squared'),
    currentAtSupply: figure(currentOf(powerAtSupply, supply), 'A', 'ohm', 'voltage-squared'),
    supplyShare: figure(share, 'ratio', 'voltage-squared'),
    powerWarm: figure(supply ** 2 / warm, 'W', 'ohm', alloy.rule, warmRule),
    resistance20: figure(nominal, 'ohm', cable.labelResistance === null ? 'ohm' : 'as-given'),
    bandLow: figure(band.low, 'ohm', 'ohm', 'resistance-band'),
    bandHigh: figure(band.high, 'ohm', 'ohm', 'resistance-band'),
    resistancePerMetre: figure(nominal / (cable.length / 1000), 'ohm/m', 'ohm'),
    floorTemperature: figure(warmTemperature, 'C', warmRule),
    resistanceWarm: figure(warm, 'ohm', 'ohm', alloy.rule, warmRule),
    floor,
    findings: [
      voltageFinding(book, cable, supply),
      ...labelFindings(book, cable),
      linearPowerFinding(book, cable, linearPower * share),
      ...spacingFindings(book, cable),
      ...screenFindings(cable),
      ...floorFindings(book, cable, floor),
    ],
  };
}

function floorFigures(book: RuleBook, cable: CableLoad, linearPower: number): FloorFigures | null {
  if (cable.density === null) return null;
  const spacing = spacingOf(cable, cable.density);
  const spacingRule = cable.density.kind === 'area' ? 'mean-spacing' : 'stud-pattern';
  const density = heatDensity(linearPower, spacing);
  const defaults = book.values['ripple-model'];
  const waves: Ripple = ripple({
    linearPower,
    spacing,
    depth: cable.floor.depth ?? defaults.depth,
    conductivity: cable.floor.conductivity ?? defaults.conductivity,
    surfaceCoefficient: defaults.surfaceCoefficient,
  });
  const use = surfaceLimit(book, cable.floor.use);
  const room = cable.floor.room ?? use.room;
  const surface = surfaceTemperature(book, density, room);
  const walked = book.region === 'IEC' ? book.values['walked-floor'].most : Number.POSITIVE_INFINITY;
  const limit = Math.min(use.limit, walked);
  return {
    spacing: figure(spacing, 'mm', spacingRule),
    heatedArea: figure((spacing * cable.length) / 1e6, 'm2', spacingRule),
    density: figure(density, 'W/m2', 'heat-density', spacingRule),
    surface: figure(
      surface,
      'C',
      'surface-estimate',
      cable.floor.room === null ? 'surface-limits' : 'as-given',
      'heat-density',
    ),
    surfaceLimit: figure(limit, 'C', walked <= use.limit ? 'walked-floor' : 'surface-limits'),
    rippleOpen: figure(waves.open, 'K', 'ripple-model'),
    rippleInsulated: figure(waves.insulated, 'K', 'ripple-model'),
    limiter: !atMost(surface, limit),
  };
}

function voltageFinding(book: RuleBook, cable: CableLoad, supply: number): Finding {
  const ratio = supply / cable.voltage;
  const off = Math.abs(ratio - 1);
  const { tolerance } = book.values['voltage-match'];
  const share = powerShare(cable.voltage, supply);
  const actual = `it would give ${show(cable.power * share)} W instead of ${show(cable.power)} W (${show(share)} of rated)`;
  const status = off <= 1e-9 ? 'ok' : off <= tolerance + 1e-9 ? 'advice' : 'refuse';
  return {
    id: 'voltage',
    subject: cable.id,
    status,
    value: supply,
    limit: cable.voltage,
    unit: 'V',
    rule: 'voltage-match',
    message:
      status === 'ok'
        ? `the supply matches the label, ${show(cable.voltage)} V`
        : `the label says ${show(cable.voltage)} V, the supply is ${show(supply)} V: ${actual}`,
  };
}

function labelFindings(book: RuleBook, cable: CableLoad): Finding[] {
  if (cable.labelResistance === null) return [];
  const fromPower = resistanceOf(cable.power, cable.voltage);
  const band = resistanceBand(book, fromPower);
  const agrees = cable.labelResistance >= band.low && cable.labelResistance <= band.high;
  return [
    {
      id: 'label',
      subject: cable.id,
      status: agrees ? 'ok' : 'advice',
      value: cable.labelResistance,
      limit: fromPower,
      unit: 'ohm',
      rule: 'resistance-band',
      message: agrees
        ? `the label's resistance agrees with its power and voltage (${show(fromPower)} ohm)`
        : `the label's ${show(cable.labelResistance)} ohm disagree with its power and voltage, which make ${show(fromPower)} ohm: read the label again`,
    },
  ];
}

function linearPowerFinding(book: RuleBook, cable: CableLoad, linearPower: number): Finding {
  const { most } = book.values['linear-power'];
  const fits = atMost(linearPower, most);
  return {
    id: 'linear-power',
    subject: cable.id,
    status: fits ? 'ok' : 'refuse',
    value: linearPower,
    limit: most,
    unit: 'W/m',
    rule: 'linear-power',
    message: fits
      ? `${show(linearPower)} W/m is within ${show(most)} W/m`
      : `${show(linearPower)} W/m is more than the ${show(most)} W/m allowed in mortar`,
  };
}

function spacingFindings(book: RuleBook, cable: CableLoad): Finding[] {
  if (cable.closestRuns === null) return [];
  const { least } = book.values['run-spacing'];
  const fits = atMost(least, cable.closestRuns);
  return [
    {
      id: 'run-spacing',
      subject: cable.id,
      status: fits ? 'ok' : 'refuse',
      value: cable.closestRuns,
      limit: least,
      unit: 'mm',
      rule: 'run-spacing',
      message: fits
        ? `adjacent runs keep ${show(least)} mm on centres`
        : `adjacent runs lie ${show(cable.closestRuns)} mm on centres, the least is ${show(least)} mm`,
    },
  ];
}

function screenFindings(cable: CableLoad): Finding[] {
  const findings: Finding[] = [];
  const say = (status: Finding['status'], message: string): void => {
    findings.push({
      id: 'screen',
      subject: cable.id,
      status,
      value: null,
      limit: null,
      unit: 'ratio',
      rule: 'screened-element',
      message,
    });
  };
  if (cable.braid) say('ok', 'the element has a braid to earth');
  else if (cable.earthedGrid) say('advice', 'no braid: the earthed grid above it must be bonded and tested');
  else if (cable.wet) say('refuse', 'an element without braid or earthed grid is not laid in a wet room');
  else say('advice', 'an element without braid needs an earthed grid above it');
  if (cable.wet) {
    findings.push({
      id: 'wet-approval',
      subject: cable.id,
      status: 'advice',
      value: null,
      limit: null,
      unit: 'ratio',
      rule: 'wet-approval',
      message:
        'get the approval of the authority having jurisdiction, and a cable, joint and membrane rated for a shower',
    });
  }
  return findings;
}

function floorFindings(book: RuleBook, cable: CableLoad, floor: FloorFigures | null): Finding[] {
  if (floor === null) return [];
  const density = floor.density.value;
  const { least, most } = book.values['heat-density-limits'];
  const tooMuch = !atMost(density, most);
  const tooLittle = !atMost(least, density);
  const surface = floor.surface.value;
  const limit = floor.surfaceLimit.value;
  const waves = Math.max(floor.rippleOpen.value, floor.rippleInsulated.value);
  const felt = book.values['ripple-felt'].most;
  return [
    {
      id: 'heat-density',
      subject: cable.id,
      status: tooMuch ? 'refuse' : tooLittle ? 'advice' : 'ok',
      value: density,
      limit: tooLittle ? least : most,
      unit: 'W/m2',
      rule: 'heat-density-limits',
      message: tooMuch
        ? `${show(density)} W/m2 is more than ${show(most)} W/m2: spread the cable wider or take a weaker one`
        : tooLittle
          ? `${show(density)} W/m2 is less than ${show(least)} W/m2 and may not feel warm`
          : `${show(density)} W/m2 lies in ${show(least)} ... ${show(most)} W/m2`,
    },
    {
      id: 'surface',
      subject: cable.id,
      status: floor.limiter ? 'advice' : 'ok',
      value: surface,
      limit,
      unit: 'C',
      rule: floor.surfaceLimit.rules[0] ?? 'surface-limits',
      message: floor.limiter
        ? `limiter required: left on, the surface is estimated to reach ${show(surface)} C; set the floor limiter to ${show(limit)} C`
        : `the surface is estimated to stay at ${show(surface)} C, limit ${show(limit)} C`,
    },
    {
      id: 'ripple',
      subject: cable.id,
      status: waves <= felt ? 'ok' : 'advice',
      value: waves,
      limit: felt,
      unit: 'K',
      rule: 'ripple-felt',
      message:
        waves <= felt
          ? `the surface varies by at most ${show(waves)} K between runs`
          : `the surface may vary by ${show(waves)} K between runs: closer runs or more cover even it out`,
    },
  ];
}
