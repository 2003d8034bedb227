import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';

/** Run through npm, benches start in the project's folder. */
const FILE = join(process.cwd(), 'bench', 'RESULTS.md');

export function markdownTable(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

/** The machine, the day of a run and how busy the machine was, as a line above its table. */
export const machineLine = (now: Date): string =>
  `${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, Node ${process.version}, ${now.toISOString().slice(0, 10)}, load average of the last 5 minutes ${loadavg()[1].toFixed(1)}`;

/** Processor time this process has used, seconds: what a clock shows when nothing else runs. */
export function processorSeconds(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

/** A share as a figure in per cent, two digits. */
export const percent = (share: number): string => (100 * share).toFixed(2);

/** Mean of the figures; NaN of none. */
export const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;

/** `document` with `body` under the heading `title`, in place of what stood there, or at the end. */
export function withSection(document: string, title: string, body: string): string {
  const parts = document.split(/^## /m);
  const section = `${title}\n\n${body}\n\n`;
  const at = parts.findIndex((part, k) => k > 0 && part.startsWith(`${title}\n`));
  if (at >= 0) parts[at] = section;
  else parts.push(section);
  return `${parts
    .map((part) => `${part.trimEnd()}\n\n`)
    .join('## ')
    .trimEnd()}\n`;
}

/** Puts `body` under the heading `title` of RESULTS.md, in place of what stood there. */
export function replaceSection(title: string, body: string): void {
  const old = existsSync(FILE) ? readFileSync(FILE, 'utf8') : '# Results\n';
  writeFileSync(FILE, withSection(old, title, body));
}
