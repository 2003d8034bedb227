/** Mixed-integer model in engine-neutral form: minimise c'x subject to rows and variable bounds. */
export interface MipModel {
  readonly variables: readonly MipVariable[];
  readonly rows: readonly MipRow[];
}

export interface MipVariable {
  readonly cost: number;
  readonly lower: number;
  readonly upper: number;
  readonly integer: boolean;
}

/** lower <= sum(coefficients[k] * x[columns[k]]) <= upper; +-Infinity for a free side. */
export interface MipRow {
  readonly columns: readonly number[];
  readonly coefficients: readonly number[];
  readonly lower: number;
  readonly upper: number;
}

export interface MipLimits {
  /** Guard only: a solve stopped by it gives 'stopped' and its incumbent is not trusted for determinism. */
  readonly seconds: number;
}

export type MipResult =
  | {
      readonly kind: 'optimal';
      readonly objective: number;
      readonly values: Float64Array;
      /**
       * Row multipliers y of a model without integer variables (minimisation: y >= 0 on a row at its lower
       * side, y <= 0 at its upper side); absent where the engine gives none.
       */
      readonly duals?: Float64Array;
    }
  | { readonly kind: 'infeasible' }
  /** Guard fired or the engine gave up; `bound` is -Infinity where the engine does not tell. */
  | {
      readonly kind: 'stopped';
      readonly bound: number;
      readonly incumbent: { readonly objective: number; readonly values: Float64Array } | null;
    }
  | { readonly kind: 'failed'; readonly reason: string };

/** A synchronous engine; blocking, so it is only ever called in a worker thread. */
export interface MipEngine {
  /** 'glpk.js', 'highs', or a native program's name in measurements. */
  readonly name: string;
  solve(model: MipModel, limits: MipLimits): MipResult;
}
