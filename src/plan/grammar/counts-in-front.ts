/**
 * Counts in front of lines, as in a margin: `84 - purl`. In: the lines. Out: whether a line begins with such a number,
 * and whether the text counts so.
 */
import type { Token } from '../lex/tokens.ts';
import type { Line } from './lines.ts';

/** `84 - purl` */
export function isCountInFront({ first, last }: Line, tokens: readonly Token[]): boolean {
  const [n, dash] = [tokens[first], tokens[first + 1]];
  return (
    last - first > 2 && n.kind === 'number' && Number.isInteger(n.value) && '-:'.includes(dash.text)
  );
}

/** Several lines begin with a number that is no number of a round: they do not count on. */
export function countsInFront(lines: readonly Line[], tokens: readonly Token[]): boolean {
  const found = lines.filter((l) => l.last > l.first && isCountInFront(l, tokens));
  const values = found.map((l) => tokens[l.first].value);
  if (values.length < 4 || values.some((n) => n < 3)) return false;
  return (
    values.filter((n, i) => i > 0 && n <= values[i - 1]).length >= values.length / 2 ||
    values.filter((n, i) => i > 0 && n === values[i - 1]).length >= values.length / 4
  );
}
