import { readFile, writeFile } from 'node:fs/promises';
import { openApiDocument } from './document.js';

const PATH = 'api-spec/openapi.json';

const text = `${JSON.stringify(openApiDocument(), null, 2)}\n`;

if (process.argv.includes('--check')) {
  const committed = await readFile(PATH, 'utf8').catch(() => '');
  if (committed !== text) {
    console.error(`${PATH} does not match the schemas; run: npm run spec`);
    process.exitCode = 1;
  }
} else {
  await writeFile(PATH, text);
  console.log(`${PATH} written`);
}
