import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { boundsCross, DEFAULT_CAPS, validateModel, verifySolution } from '../solver/engines/guard.js';
import type { MipEngine, MipLimits, MipModel, MipResult } from '../solver/engines/port.js';

export type NativeProgram = 'cbc' | 'glpsol';

/**
 * The model in CPLEX LP format: columns x0, x1, ... all named in the objective, so that readers number them in
 * order; a row with two different finite sides becomes two rows.
 */
export function writeLpFormat(model: MipModel): string {
  const term = (coefficient: number, column: number): string =>
    `${coefficient < 0 ? '-' : '+'} ${Math.abs(coefficient)} x${column}`;
  const lines = [
    'Minimize',
    ' cost:',
    ...model.variables.map((v, j) => `  ${term(v.cost, j)}`),
    'Subject To',
  ];
  for (const [i, row] of model.rows.entries()) {
    if (row.columns.length === 0) continue;
    const terms = row.columns.map((column, k) => `  ${term(row.coefficients[k], column)}`);
    const put = (name: string, relation: string, side: number): void => {
      lines.push(` ${name}:`, ...terms, `  ${relation} ${side}`);
    };
    if (row.lower === row.upper) put(`r${i}`, '=', row.lower);
    else {
      if (row.lower !== -Infinity) put(`r${i}l`, '>=', row.lower);
      if (row.upper !== Infinity) put(`r${i}u`, '<=', row.upper);
    }
  }
  const bound = (value: number): string =>
    value === Infinity ? '+inf' : value === -Infinity ? '-inf' : String(value);
  lines.push('Bounds', ...model.variables.map((v, j) => ` ${bound(v.lower)} <= x${j} <= ${bound(v.upper)}`));
  const integers = model.variables.flatMap((v, j) => (v.integer ? [` x${j}`] : []));
  if (integers.length > 0) lines.push('Generals', ...integers);
  lines.push('End', '');
  return lines.join('\n');
}

/** A native solver run as a child process for each model, or null when the program is not installed. */
export function createNativeEngine(program: NativeProgram): MipEngine | null {
  const version = program === 'cbc' ? ['-quit'] : ['--version'];
  if (spawnSync(program, version, { stdio: 'ignore' }).error !== undefined) return null;
  return {
    name: program,
    solve(model: MipModel, limits: MipLimits): MipResult {
      const reason = validateModel(model, DEFAULT_CAPS);
      if (reason !== null) return { kind: 'failed', reason };
      if (boundsCross(model)) return { kind: 'infeasible' };
      const folder = mkdtempSync(join(tmpdir(), 'peers-'));
      try {
        return run(program, model, limits, folder);
      } finally {
        rmSync(folder, { recursive: true, force: true });
      }
    },
  };
}

interface NativeAnswer {
  readonly status: 'optimal' | 'infeasible' | 'feasible' | 'none';
  readonly values: Float64Array;
}

/** The last bound a program printed before the clock stopped it; -Infinity when it printed none. */
function printedBound(program: NativeProgram, log: string): number {
  const pattern =
    program === 'cbc'
      ? /(?:Lower bound:|best possible|Continuous objective value is) +(-?[\d.]+(?:e[+-]?\d+)?)/g
      : />= +(-?[\d.]+(?:e[+-]?\d+)?)/g;
  const bounds = [...log.matchAll(pattern)].map((match) => Number(match[1]));
  return bounds.length === 0 ? -Infinity : Math.max(...bounds);
}

function run(program: NativeProgram, model: MipModel, limits: MipLimits, folder: string): MipResult {
  const input = join(folder, 'model.lp');
  const output = join(folder, 'solution.txt');
  writeFileSync(input, writeLpFormat(model));
  const seconds = String(Math.max(1, Math.ceil(limits.seconds)));
  const args =
    program === 'cbc'
      ? [
          input,
          '-timeMode',
          'elapsed',
          '-seconds',
          seconds,
          '-ratioGap',
          '0',
          '-allowableGap',
          '1e-7',
          '-solve',
          '-solution',
          output,
        ]
      : ['--lp', input, '--mipgap', '0', '--tmlim', seconds, '--write', output];
  const child = spawnSync(program, args, {
    encoding: 'utf8',
    timeout: Math.ceil(1000 * (limits.seconds + 30)),
  });
  if (child.error !== undefined || !existsSync(output))
    return { kind: 'failed', reason: `${program} gave no answer` };
  const text = readFileSync(output, 'utf8');
  const size = model.variables.length;
  const answer = program === 'cbc' ? readCbc(text, size) : readGlpsol(text, size, child.stdout);
  if (answer.status === 'infeasible') return { kind: 'infeasible' };
  const bound = printedBound(program, child.stdout);
  if (answer.status === 'none') return { kind: 'stopped', bound, incumbent: null };
  const checked = verifySolution(model, answer.values);
  if (!checked.ok) return { kind: 'failed', reason: `solution does not fit the model: ${checked.reason}` };
  const { objective, values } = checked;
  if (answer.status === 'optimal') return { kind: 'optimal', objective, values };
  return { kind: 'stopped', bound, incumbent: { objective, values } };
}

/** First line: the status; then one line per non-zero column: number, name, value, reduced cost. */
function readCbc(text: string, size: number): NativeAnswer {
  const [head, ...lines] = text.split('\n');
  const values = new Float64Array(size);
  for (const line of lines) {
    const [, name, value] = line.replace('**', '').trim().split(/\s+/);
    if (name?.startsWith('x')) values[Number(name.slice(1))] = Number(value);
  }
  if (head.startsWith('Optimal')) return { status: 'optimal', values };
  if (head.startsWith('Infeasible') || head.startsWith('Integer infeasible'))
    return { status: 'infeasible', values };
  const isStoppedWithSolution = head.startsWith('Stopped') && !head.includes('no integer solution');
  return { status: isStoppedWithSolution ? 'feasible' : 'none', values };
}

/** Lines "s mip rows columns status objective" and "j column value" (with more fields for models without integers). */
function readGlpsol(text: string, size: number, log: string): NativeAnswer {
  const values = new Float64Array(size);
  let status: NativeAnswer['status'] = 'none';
  for (const line of text.split('\n')) {
    const fields = line.split(/\s+/);
    if (fields[0] === 's') {
      const isMip = fields[1] === 'mip';
      const code = isMip ? fields[4] : `${fields[4]}${fields[5]}`;
      if (code === (isMip ? 'o' : 'ff')) status = 'optimal';
      else if (code.startsWith('n')) status = 'infeasible';
      else if (isMip && code === 'f') status = 'feasible';
    }
    if (fields[0] === 'j')
      values[Number(fields[1]) - 1] = Number(
        fields[2].length === 1 && /[a-z]/.test(fields[2]) ? fields[3] : fields[2],
      );
  }
  if (status === 'none' && /HAS NO (PRIMAL|INTEGER) FEASIBLE/.test(log)) status = 'infeasible';
  return { status, values };
}
