import type { RequestHandler } from 'express';
import type { z } from 'zod';
import type { InputProblem } from '../../solver/trade/figure.js';
import type { OverrideProblem } from '../../solver/trade/rules.js';
import { type Fault, ProblemError } from '../problems.js';
import { parseBody } from '../validate/parse.js';
import { fieldName, jsonPointer, type PathPart } from '../validate/pointer.js';

/** Most faults listed in one answer. */
const MOST_FAULTS = 50;

/** Significant digits of a figure on the wire. */
const DIGITS = 8;

/** What a report of the trade comes to; everything beside `kind` is the answer. */
export type Reckoning =
  | { readonly kind: 'report' }
  | { readonly kind: 'bad-input'; readonly problems: readonly InputProblem[] }
  | { readonly kind: 'bad-overrides'; readonly problems: readonly OverrideProblem[] };

/** An endpoint that answers at once from a pure function: no thread, no job, no store. */
export interface ReckonEndpoint<S extends z.ZodType> {
  readonly schema: S;
  /** What is wrong with a request of the right form before anything is reckoned. */
  faults?(request: z.output<S>): readonly Fault[];
  reckon(request: z.output<S>): Reckoning;
}

const invalid = (faults: readonly Fault[]): ProblemError =>
  new ProblemError({
    slug: 'invalid-request',
    detail:
      faults.length === 1
        ? (faults[0]?.detail ?? 'One field is wrong.')
        : `${faults.length} fields are wrong; see errors.`,
    errors: faults.slice(0, MOST_FAULTS),
  });

const faultAt = (path: readonly PathPart[], message: string): Fault => ({
  pointer: jsonPointer(path),
  detail: `${fieldName(path)} ${message}.`,
});

const overridePath = ({ rule, value }: OverrideProblem): PathPart[] =>
  value === null ? ['overrides', rule] : ['overrides', rule, value];

/** JSON of an answer, figures without the noise of binary fractions. */
export const answerText = (answer: object): string =>
  JSON.stringify(answer, (_key, value: unknown) =>
    typeof value === 'number' ? Number(value.toPrecision(DIGITS)) : value,
  );

/** Handler of such an endpoint; the body has been read into req.body. */
export const reckonHandler =
  <S extends z.ZodType>(endpoint: ReckonEndpoint<S>): RequestHandler =>
  (req, res) => {
    const parsed = parseBody(endpoint.schema, req.body);
    if (!parsed.ok) throw invalid(parsed.faults);
    const faults = endpoint.faults?.(parsed.value) ?? [];
    if (faults.length > 0) throw invalid(faults);
    const outcome = endpoint.reckon(parsed.value);
    switch (outcome.kind) {
      case 'bad-input':
        throw invalid(outcome.problems.map(({ path, message }) => faultAt(path, message)));
      case 'bad-overrides':
        throw invalid(outcome.problems.map((problem) => faultAt(overridePath(problem), problem.message)));
      case 'report': {
        const { kind: _kind, ...answer } = outcome;
        res.type('application/json').send(answerText(answer));
      }
    }
  };
