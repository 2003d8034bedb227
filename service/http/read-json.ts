import type { Request, RequestHandler, Response } from 'express';
import { SIZES } from '../limits.js';
import { ProblemError } from '../problems.js';

/** How much of an oversized body is read off, so that the client gets to see the answer, before it is cut off. */
const READ_OFF_BYTES = 8 * SIZES.bodyBytes;
const READ_OFF_MS = 2000;

type Body =
  | { readonly kind: 'read'; readonly bytes: Buffer }
  | { readonly kind: 'too-large' }
  | { readonly kind: 'aborted' };

/** Reads at most the allowed size; a larger body is read off within bounds, then the connection is given up. */
const readBody = (req: Request, res: Response): Promise<Body> =>
  new Promise((resolve) => {
    const chunks: Buffer[] = [];
    let size = 0;
    let timer: NodeJS.Timeout | undefined;
    const finish = (body: Body): void => {
      clearTimeout(timer);
      req.off('data', onData).off('end', onEnd).off('error', onBreak).off('close', onBreak);
      resolve(body);
    };
    const cutOff = (): void => {
      res.set('Connection', 'close');
      req.pause();
      finish({ kind: 'too-large' });
    };
    const onData = (chunk: Buffer): void => {
      size += chunk.length;
      if (size <= SIZES.bodyBytes) {
        chunks.push(chunk);
        return;
      }
      chunks.length = 0;
      timer ??= setTimeout(cutOff, READ_OFF_MS);
      if (size > READ_OFF_BYTES) cutOff();
    };
    const onEnd = (): void =>
      finish(
        size > SIZES.bodyBytes ? { kind: 'too-large' } : { kind: 'read', bytes: Buffer.concat(chunks, size) },
      );
    const onBreak = (): void => finish({ kind: 'aborted' });
    req.on('data', onData).on('end', onEnd).on('error', onBreak).on('close', onBreak);
  });

const mediaTypeProblem = (req: Request): string | null => {
  const encoding = req.headers['content-encoding'] ?? 'identity';
  if (encoding.toLowerCase() !== 'identity') {
    return `The body has Content-Encoding "${encoding.slice(0, 40)}"; send it without one.`;
  }
  const type = req.headers['content-type'];
  if (type === undefined) return 'The Content-Type header is missing; send application/json.';
  const [media = '', ...parameters] = type.split(';').map((text) => text.trim().toLowerCase());
  if (media !== 'application/json') {
    return `Content-Type is "${type.slice(0, 80)}"; send application/json.`;
  }
  const charset = parameters.find((text) => text.startsWith('charset='))?.slice('charset='.length);
  if (charset !== undefined && !['utf-8', '"utf-8"', 'utf8', 'us-ascii'].includes(charset)) {
    return `The charset is ${charset.slice(0, 40)}; send UTF-8.`;
  }
  return null;
};

const malformed = (detail: string): ProblemError => new ProblemError({ slug: 'malformed-json', detail });

const parse = (bytes: Buffer): unknown => {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw malformed('The body is not valid UTF-8.');
  }
  if (text.trim() === '') throw malformed('The body is empty; send one JSON object.');
  try {
    return JSON.parse(text);
  } catch (error) {
    throw malformed(
      `The body is not JSON: ${error instanceof Error ? error.message.slice(0, 200) : 'unreadable'}`,
    );
  }
};

/** Reads the body as JSON into req.body; every way this can fail is a problem of its own. */
export const readJson: RequestHandler = async (req, res, next) => {
  const wrongType = mediaTypeProblem(req);
  if (wrongType !== null) throw new ProblemError({ slug: 'unsupported-media-type', detail: wrongType });
  const body = await readBody(req, res);
  if (body.kind === 'aborted') return;
  if (body.kind === 'too-large') {
    throw new ProblemError({
      slug: 'too-large',
      detail: `The body is larger than ${SIZES.bodyBytes} bytes, the most that is read.`,
    });
  }
  req.body = parse(body.bytes);
  next();
};
