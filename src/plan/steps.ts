/** The instruction tree of one round as the designer wrote it. Filled in by the parser. */
export type Step = { readonly kind: string };
