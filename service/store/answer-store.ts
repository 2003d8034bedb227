import type { Timings, WorkKind } from '../pool/task.js';

/** A finished answer as it is kept. */
export interface Answer {
  readonly id: string;
  readonly kind: WorkKind;
  /** The request it answers, defaults filled in. */
  readonly request: unknown;
  /** JSON of the body without timings. */
  readonly json: string;
  readonly timings: Timings;
  /** JSON of what papers are drawn from; null where there are none. */
  readonly sheet: string | null;
  readonly etag: string;
  /** False when a guard cut the work short. */
  readonly repeatable: boolean;
}

/** Body of an answer as it is sent. */
export const answerBody = (answer: Answer): string =>
  `${answer.json.slice(0, -1)},"timings":${JSON.stringify(answer.timings)}}`;

export interface StoreLimits {
  readonly entries: number;
  /** Characters of JSON kept in all. */
  readonly characters: number;
}

const sizeOf = ({ json, sheet }: Answer): number => json.length + (sheet?.length ?? 0);

/** Recent answers by id; the one not asked for longest is dropped first. */
export class AnswerStore {
  readonly #answers = new Map<string, Answer>();
  readonly #limits: StoreLimits;
  #characters = 0;

  constructor(limits: StoreLimits) {
    this.#limits = limits;
  }

  get size(): number {
    return this.#answers.size;
  }

  get(id: string): Answer | undefined {
    const answer = this.#answers.get(id);
    if (answer !== undefined) {
      this.#answers.delete(id);
      this.#answers.set(id, answer);
    }
    return answer;
  }

  put(answer: Answer): void {
    this.#drop(answer.id);
    this.#answers.set(answer.id, answer);
    this.#characters += sizeOf(answer);
    for (const id of this.#answers.keys()) {
      const fits = this.#answers.size <= this.#limits.entries && this.#characters <= this.#limits.characters;
      if (fits) break;
      this.#drop(id);
    }
  }

  #drop(id: string): void {
    const answer = this.#answers.get(id);
    if (answer === undefined) return;
    this.#answers.delete(id);
    this.#characters -= sizeOf(answer);
  }
}
