import { type InputProblem, isPositive, show } from './figure.js';
import { type FloorUse, meanSpacing, patternSpacing } from './heat.js';
import type { Alloy } from './resistance.js';
import type { Region } from './rule.js';
import type { RuleOverrides } from './rules.js';

/** How far apart the runs lie on average. */
export type Density =
  /** Heated area, m2. */
  | { readonly kind: 'area'; readonly area: number }
  /** Repeating gaps in studs on a pitch in mm. */
  | { readonly kind: 'pattern'; readonly pitch: number; readonly gaps: readonly number[] };

/** The build-up above the cable; null takes the default. mm, W/(m K), C. */
export interface FloorBuild {
  readonly use: FloorUse;
  readonly room: number | null;
  readonly depth: number | null;
  readonly conductivity: number | null;
}

/** A heating cable by its label and where it lies: W, V, mm, ohm, C. */
export interface CableLoad {
  readonly id: string;
  readonly power: number;
  readonly voltage: number;
  readonly length: number;
  /** Resistance at 20 C printed on the label; null takes V^2 / P. */
  readonly labelResistance: number | null;
  readonly alloy: Alloy;
  readonly braid: boolean;
  readonly earthedGrid: boolean;
  readonly wet: boolean;
  readonly density: Density | null;
  /** Least centre distance of adjacent runs; null where not measured. */
  readonly closestRuns: number | null;
  /** Conductor temperature in use; null takes the default. */
  readonly floorTemperature: number | null;
  readonly floor: FloorBuild;
}

/** Ground-fault protection in place: null where nothing has been said about it. A. */
export type GroundFault =
  | { readonly kind: 'none' }
  | { readonly kind: 'fitted'; readonly trip: number }
  | null;

export interface Thermostat {
  readonly id: string;
  /** Rated switching current, A; null where none is chosen yet. */
  readonly rating: number | null;
  readonly cables: readonly string[];
}

export interface Circuit {
  readonly id: string;
  /** Supply voltage, V. */
  readonly voltage: number;
  /** Rated current of the overcurrent device, A; null where none is chosen yet. */
  readonly device: number | null;
  readonly groundFault: GroundFault;
  readonly thermostats: readonly Thermostat[];
}

export interface ElectricalInput {
  readonly region: Region;
  readonly overrides: RuleOverrides;
  readonly cables: readonly CableLoad[];
  readonly circuits: readonly Circuit[];
}

const LEAST_SPACING = 5;
const MOST_SPACING = 2000;

/** Mean spacing of the runs, mm. */
export const spacingOf = (cable: CableLoad, density: Density): number =>
  density.kind === 'area'
    ? meanSpacing(density.area, cable.length)
    : patternSpacing(density.pitch, density.gaps);

/** Everything in the request that makes a report meaningless; empty when there is nothing. */
export function electricalProblems(input: ElectricalInput): InputProblem[] {
  const problems: InputProblem[] = [];
  const say = (path: InputProblem['path'], message: string): void => {
    problems.push({ path, message });
  };
  const positive = (path: InputProblem['path'], value: number | null): void => {
    if (value !== null && !isPositive(value)) say(path, 'must be a number above zero and below 1e9');
  };
  const between = (
    path: InputProblem['path'],
    value: number | null,
    least: number,
    most: number,
    unit: string,
  ): void => {
    if (value !== null && !(value >= least && value <= most))
      say(path, `must lie in ${least} ... ${most} ${unit}`);
  };
  const temperature = (path: InputProblem['path'], value: number | null): void =>
    between(path, value, -40, 120, 'C');

  if (input.cables.length === 0) say(['cables'], 'is empty: give at least one cable');
  if (input.circuits.length === 0) say(['circuits'], 'is empty: give at least one circuit');
  const cables = new Set<string>();
  for (const [i, cable] of input.cables.entries()) {
    const at = ['cables', i] as const;
    if (cables.has(cable.id)) say([...at, 'id'], `is '${cable.id}', as another cable is: give each its own`);
    cables.add(cable.id);
    positive([...at, 'power'], cable.power);
    positive([...at, 'voltage'], cable.voltage);
    positive([...at, 'length'], cable.length);
    positive([...at, 'labelResistance'], cable.labelResistance);
    positive([...at, 'closestRuns'], cable.closestRuns);
    between([...at, 'floor', 'depth'], cable.floor.depth, 1, 500, 'mm');
    between([...at, 'floor', 'conductivity'], cable.floor.conductivity, 0.02, 20, 'W/(m K)');
    temperature([...at, 'floorTemperature'], cable.floorTemperature);
    temperature([...at, 'floor', 'room'], cable.floor.room);
    if (cable.alloy.kind === 'own' && !(Math.abs(cable.alloy.coefficient) <= 0.008)) {
      say([...at, 'alloy', 'coefficient'], 'must lie in -0.008 ... 0.008 per kelvin');
    }
    if (cable.density?.kind === 'area') positive([...at, 'density', 'area'], cable.density.area);
    if (cable.density?.kind === 'pattern') {
      positive([...at, 'density', 'pitch'], cable.density.pitch);
      if (cable.density.gaps.length === 0 || !cable.density.gaps.every(isPositive)) {
        say([...at, 'density', 'gaps'], 'must hold at least one gap, each a number of studs above zero');
      }
    }
    const spacing = cable.density === null ? null : spacingOf(cable, cable.density);
    if (spacing !== null && !(spacing >= LEAST_SPACING && spacing <= MOST_SPACING)) {
      say(
        [...at, 'density'],
        `makes a mean spacing of ${show(spacing)} mm, believable is ${LEAST_SPACING} ... ${MOST_SPACING} mm: compare with the cable's length`,
      );
    }
  }

  const fed = new Set<string>();
  const circuits = new Set<string>();
  const thermostats = new Set<string>();
  for (const [i, circuit] of input.circuits.entries()) {
    const at = ['circuits', i] as const;
    if (circuits.has(circuit.id))
      say([...at, 'id'], `is '${circuit.id}', as another circuit is: give each its own`);
    circuits.add(circuit.id);
    positive([...at, 'voltage'], circuit.voltage);
    positive([...at, 'device'], circuit.device);
    if (circuit.groundFault?.kind === 'fitted')
      positive([...at, 'groundFault', 'trip'], circuit.groundFault.trip);
    if (circuit.thermostats.length === 0)
      say([...at, 'thermostats'], 'is empty: give at least one thermostat');
    for (const [j, thermostat] of circuit.thermostats.entries()) {
      const here = [...at, 'thermostats', j] as const;
      if (thermostats.has(thermostat.id)) {
        say([...here, 'id'], `is '${thermostat.id}', as another thermostat is: give each its own`);
      }
      thermostats.add(thermostat.id);
      positive([...here, 'rating'], thermostat.rating);
      if (thermostat.cables.length === 0) say([...here, 'cables'], 'is empty: name at least one cable');
      for (const [k, id] of thermostat.cables.entries()) {
        if (!cables.has(id)) say([...here, 'cables', k], `names '${id}', which is no cable of this request`);
        else if (fed.has(id))
          say([...here, 'cables', k], `names '${id}', which is fed already: a cable hangs on one thermostat`);
        fed.add(id);
      }
    }
  }
  for (const [i, cable] of input.cables.entries()) {
    if (!fed.has(cable.id))
      say(['cables', i, 'id'], `is '${cable.id}', which hangs on no thermostat of any circuit`);
  }
  return problems;
}
