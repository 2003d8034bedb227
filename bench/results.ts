import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** Run through npm, benches start in the project's folder. */
const FILE = join(process.cwd(), 'bench', 'RESULTS.md');

export function markdownTable(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

/** Puts `body` under the heading `title` of RESULTS.md, in place of what stood there. */
export function replaceSection(title: string, body: string): void {
  const old = existsSync(FILE) ? readFileSync(FILE, 'utf8') : '# Results\n';
  const parts = old.split(/^## /m);
  const section = `${title}\n\n${body}\n\n`;
  const at = parts.findIndex((part, k) => k > 0 && part.startsWith(`${title}\n`));
  if (at >= 0) parts[at] = section;
  else parts.push(section);
  writeFileSync(
    FILE,
    `${parts
      .map((part, k) => (k === 0 ? `${part.trimEnd()}\n\n` : part))
      .join('## ')
      .trimEnd()}\n`,
  );
}
