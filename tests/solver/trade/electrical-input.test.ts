import { describe, expect, it } from 'vitest';
import { electricalReport } from '../../../solver/trade/electrical.js';
import { circuit, electricalInput, load } from './samples.js';

describe('input that no report can be made from', () => {
  const problems = (change: Parameters<typeof electricalInput>[0]) => {
    const outcome = electricalReport(electricalInput(change));
    return outcome.kind === 'bad-input' ? outcome.problems.map((p) => p.path.join('.')) : outcome.kind;
  };
  const t = { id: 'T1', rating: 15, cables: ['A'] };
  it.each([
    [{ cables: [] }, ['cables', 'circuits.0.thermostats.0.cables.0']],
    [{ circuits: [] }, ['circuits', 'cables.0.id']],
    [{ cables: [load({ power: 0 })] }, ['cables.0.power']],
    [{ cables: [load({ voltage: Number.NaN })] }, ['cables.0.voltage']],
    [{ cables: [load({ length: Number.POSITIVE_INFINITY })] }, ['cables.0.length']],
    [{ cables: [load({ alloy: { kind: 'own', coefficient: 0.1 } })] }, ['cables.0.alloy.coefficient']],
    [{ cables: [load({ floorTemperature: 500 })] }, ['cables.0.floorTemperature']],
    [{ cables: [load({ density: { kind: 'area', area: 4000 } })] }, ['cables.0.density']],
    [
      { cables: [load({ density: { kind: 'pattern', pitch: 30, gaps: [] } })] },
      ['cables.0.density.gaps', 'cables.0.density'],
    ],
    [{ cables: [load(), load()] }, ['cables.1.id']],
    [{ circuits: [circuit({ thermostats: [] })] }, ['circuits.0.thermostats', 'cables.0.id']],
    [
      { circuits: [circuit({ thermostats: [{ ...t, cables: ['A', 'A'] }] })] },
      ['circuits.0.thermostats.0.cables.1'],
    ],
    [
      { circuits: [circuit({ thermostats: [t, { ...t, cables: [] }] })] },
      ['circuits.0.thermostats.1.id', 'circuits.0.thermostats.1.cables'],
    ],
    [{ circuits: [circuit({ groundFault: { kind: 'fitted', trip: -1 } })] }, ['circuits.0.groundFault.trip']],
  ])('%#', (change, paths) => {
    expect(problems(change)).toEqual(paths);
  });

  it('an override that does not exist', () => {
    expect(electricalReport(electricalInput({ overrides: { nonsense: { x: 1 } } }))).toMatchObject({
      kind: 'bad-overrides',
      problems: [{ rule: 'nonsense', reason: 'unknown-rule' }],
    });
  });
});
