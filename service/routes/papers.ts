import type { Request, Response } from 'express';
import { z } from 'zod';
import type { Deps } from '../deps.js';
import { onlyMethods } from '../http/errors.js';
import { matchesEtag } from '../http/etag.js';
import type { Paper } from '../pool/press-task.js';
import { ProblemError } from '../problems.js';
import { displaySchema } from '../schemas/layout-request.js';
import { problemResponses } from '../spec/responses.js';
import type { Sheets } from '../translate/sheet.js';
import type { RouteModule } from './route.js';

const PAPER_MS = 20_000;

interface PaperKind {
  readonly paper: Paper;
  readonly type: string;
  readonly summary: string;
}

const PAPERS: readonly PaperKind[] = [
  {
    paper: 'drawing.svg',
    type: 'image/svg+xml',
    summary: 'Plan to scale, one user unit is one mm of the room',
  },
  {
    paper: 'drawing.dxf',
    type: 'image/vnd.dxf',
    summary: 'Plan as DXF R12 in mm, layers named for what they hold',
  },
  { paper: 'runs.csv', type: 'text/csv; charset=utf-8', summary: 'Every run with its studs and lengths' },
  {
    paper: 'sheet.pdf',
    type: 'application/pdf',
    summary: 'Plans, run table, test record, circuit sheet, hand-over page',
  },
];

const unknownLayout = (): ProblemError =>
  new ProblemError({
    slug: 'unknown-layout',
    detail: 'No layout of that id is kept here; send its request again to get it.',
  });

/** The sheet with the units asked for in ?display=, or those of the request. */
const sheetFor = (text: string, display: unknown): string => {
  const sheets = JSON.parse(text) as Sheets;
  const parsed = displaySchema.safeParse(display ?? sheets.display);
  if (!parsed.success) {
    throw new ProblemError({ slug: 'bad-request', detail: 'display must be one of: metric, imperial.' });
  }
  return JSON.stringify(sheets[parsed.data]);
};

const print = async (
  deps: Deps,
  { paper, type }: PaperKind,
  req: Request<{ id: string }>,
  res: Response,
): Promise<void> => {
  const answer = deps.answers.get(req.params.id);
  if (answer === undefined || answer.sheet === null) throw unknownLayout();
  const sheet = sheetFor(answer.sheet, req.query.display);
  const etag = answer.etag.replace(/"$/, `-${paper}-${String(req.query.display ?? '')}"`);
  res.set({ ETag: etag, 'Cache-Control': 'no-cache' });
  if (matchesEtag(req.get('if-none-match'), etag)) {
    res.status(304).end();
    return;
  }
  const submission = deps.press.submit({ kind: 'paper', paper, sheet }, PAPER_MS);
  if (submission.kind !== 'accepted') {
    const slug = submission.kind === 'queue-full' ? 'queue-full' : 'shutting-down';
    throw new ProblemError({
      slug,
      detail: 'No paper is printed just now.',
      retryAfter: submission.retryAfter,
    });
  }
  const { ticket } = submission;
  const cancel = (): void => ticket.cancel();
  res.once('close', cancel);
  const result = await ticket.done;
  res.off('close', cancel);
  if (res.closed) return;
  if (result.kind !== 'document') {
    deps.log.error({ paper, id: answer.id, result }, 'paper not printed');
    throw new ProblemError({
      slug: 'not-printed',
      detail: `The ${paper} of this layout could not be made; the fault was recorded.`,
    });
  }
  res.set('Content-Type', type);
  res.set('Content-Disposition', `inline; filename="oxturn-${answer.id}-${paper}"`);
  res.send(Buffer.from(result.bytes));
};

/** Drawings and papers of a layout that is kept. */
export const papers: RouteModule = {
  paths: Object.fromEntries(
    PAPERS.map(({ paper, type, summary }) => [
      `/v1/layouts/{id}/${paper}`,
      {
        get: {
          operationId: `read${paper.replace(/(^|\.)(\w)/g, (_all, _dot, letter: string) => letter.toUpperCase())}`,
          summary,
          requestParams: {
            path: z.object({ id: z.string() }),
            query: z.object({ display: displaySchema.optional() }),
          },
          responses: {
            200: { description: 'The paper.', content: { [type]: { schema: z.string() } } },
            304: { description: 'Unchanged.' },
            ...problemResponses(
              'bad-request',
              'unknown-layout',
              'not-printed',
              'queue-full',
              'shutting-down',
            ),
          },
        },
      },
    ]),
  ),
  mount(router, deps) {
    for (const kind of PAPERS) {
      router
        .route(`/v1/layouts/:id/${kind.paper}`)
        .get((req, res) => print(deps, kind, req, res))
        .all(onlyMethods('GET', 'HEAD'));
    }
  },
};
