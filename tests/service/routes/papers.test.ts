import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { showerRequest } from '../../helpers/requests.js';
import { type RunningService, startService } from '../../helpers/service.js';

let service: RunningService;
let at = '';

beforeAll(async () => {
  service = await startService();
  const response = await service.post('/v1/layouts', showerRequest());
  expect(response.status).toBe(200);
  at = service.url + (response.headers.get('content-location') ?? '');
});

afterAll(async () => {
  await service.close();
});

describe('papers of a layout', () => {
  it.each([
    ['drawing.svg', 'image/svg+xml', /^<(\?xml|svg)/],
    // DXF: group 0 SECTION, comments in group 999 may stand before it (DXF reference, from memory).
    ['drawing.dxf', 'image/vnd.dxf', /^(\s*999\n.*\n)*\s*0\nSECTION\n/],
    ['runs.csv', 'text/csv', /^\S.*,.*\n/],
    // ISO 32000-1, 7.5.2: the header of a PDF file.
    ['sheet.pdf', 'application/pdf', /^%PDF-1\./],
  ])('%s', async (paper, type, begins) => {
    const response = await fetch(`${at}/${paper}`);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-type')).toContain(type);
    expect(response.headers.get('content-disposition')).toContain(paper);
    const text = (await response.text()).replaceAll('\r\n', '\n');
    expect(text.length).toBeGreaterThan(100);
    expect(text).toMatch(begins);

    const again = await fetch(`${at}/${paper}`);
    expect((await again.text()).replaceAll('\r\n', '\n')).toBe(text);
    const etag = response.headers.get('etag') ?? '';
    expect((await fetch(`${at}/${paper}`, { headers: { 'if-none-match': etag } })).status).toBe(304);
  });

  it('writes lengths in the units asked for', async () => {
    const metric = await (await fetch(`${at}/drawing.svg`)).text();
    const imperial = await (await fetch(`${at}/drawing.svg?display=imperial`)).text();
    expect(imperial).not.toBe(metric);
    const bad = await fetch(`${at}/drawing.svg?display=ells`);
    expect(bad.status).toBe(400);
    expect(await bad.json()).toMatchObject({ type: '/problems/bad-request' });
  });

  it('has none of a layout it does not keep', async () => {
    const response = await fetch(`${service.url}/v1/layouts/none/sheet.pdf`);
    expect(response.status).toBe(404);
    expect(await response.json()).toMatchObject({ type: '/problems/unknown-layout' });
    expect((await fetch(`${at}/drawing.png`)).status).toBe(404);
  });
});
