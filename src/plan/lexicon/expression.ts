/**
 * Expressions put together out of pieces, and written as the engine reads them: no backslash is doubled. In: the source, with
 * sources of shared pieces in it. Out: the RegExp, or the source of a piece.
 */
type Written<T> = (source: TemplateStringsArray, ...pieces: readonly (string | number)[]) => T;

/** A piece of expressions. */
export const raw: Written<string> = (source, ...pieces) => String.raw(source, ...pieces);

const flagged =
  (flags: string): Written<RegExp> =>
  (source, ...pieces) =>
    new RegExp(raw(source, ...pieces), flags);

/** What is looked for, by the flags of its RegExp. */
export const regex = {
  plain: flagged(''),
  g: flagged('g'),
  gi: flagged('gi'),
  gim: flagged('gim'),
  gimy: flagged('gimy'),
  gm: flagged('gm'),
  i: flagged('i'),
  im: flagged('im'),
  iy: flagged('iy'),
  y: flagged('y'),
} as const;
