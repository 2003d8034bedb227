/** Code region whose rules a report follows. */
export type Region = 'NEC' | 'IEC';

/** Where a rule's content comes from; 'memory' means recalled, not seen in a source. */
export type SourceKind = 'published' | 'memory' | 'derived' | 'common practice';

/** Clause numbers move between editions, so each goes with the editions it was read for. */
export interface Clause {
  readonly document: string;
  readonly edition: string;
  readonly clause: string;
}

/** One default of a rule; an override must lie in `min` ... `max`. */
export interface NumberDefault {
  readonly kind: 'number';
  readonly value: number;
  readonly unit: string;
  readonly min: number;
  readonly max: number;
}

/** An ascending list of defaults (standard ratings); every member of an override must lie in `min` ... `max`. */
export interface ListDefault {
  readonly kind: 'list';
  readonly value: readonly number[];
  readonly unit: string;
  readonly min: number;
  readonly max: number;
}

export interface Rule {
  readonly title: string;
  /** 'both': applied under either code; 'trade': usage of the trade, no code behind it. */
  readonly region: Region | 'both' | 'trade';
  readonly clauses: readonly Clause[];
  readonly values: Readonly<Record<string, NumberDefault | ListDefault>>;
  readonly source: { readonly kind: SourceKind; readonly text: string };
  readonly overridable: boolean;
}

export const number = (value: number, unit: string, min: number, max: number): NumberDefault => ({
  kind: 'number',
  value,
  unit,
  min,
  max,
});

export const list = (value: readonly number[], unit: string, min: number, max: number): ListDefault => ({
  kind: 'list',
  value,
  unit,
  min,
  max,
});
