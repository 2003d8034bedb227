/** The same, reckoned when first asked for and then kept. */
export const once = <T>(reckon: () => T): (() => T) => {
  let known: { readonly value: T } | null = null;
  return () => {
    known ??= { value: reckon() };
    return known.value;
  };
};
