/** Counts in words, for every surface: `1 stitch`, `3 sts`, `twice more`. */

export function counted(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}

/** `1 st`, `12 sts`. */
export function stitchCount(n: number): string {
  return counted(n, 'st');
}

/** `88 stitches`, `88 stitches and 1 more for the join` */
export function castOnWords(castOn: number, forJoin: number): string {
  const all = counted(castOn, 'stitch', 'stitches');
  return forJoin > 0 ? `${all} and ${forJoin} more for the join` : all;
}

/** `once`, `twice`, `3 times`. */
export function times(n: number): string {
  return n === 1 ? 'once' : n === 2 ? 'twice' : `${n} times`;
}

/** `1`, `1 and 2`, `1, 2 and 3`. */
export function listed(items: readonly string[], word = 'and'): string {
  if (items.length < 2) return items.join('');
  return `${items.slice(0, -1).join(', ')} ${word} ${items[items.length - 1]}`;
}

const NUMBERS =
  'none one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty'.split(
    ' ',
  );

/** `twelve` up to twenty, figures beyond: where a figure would stand beside another. */
export function numberWord(n: number): string {
  return NUMBERS[n] ?? String(n);
}

/** Stitches as a knitter counts a width, in halves: `half a stitch`, `1 stitch`, `2½ stitches`. */
export function halfStitches(count: number): string {
  const halves = Math.max(1, Math.round(2 * count));
  if (halves === 1) return 'half a stitch';
  const whole = Math.floor(halves / 2);
  return `${whole}${halves % 2 ? '½' : ''} ${halves === 2 ? 'stitch' : 'stitches'}`;
}

/** `a square`, `an octagon`, `an 18-sided piece`. */
export function withArticle(noun: string): string {
  return `${/^(?:[aeio]|8|11\b|18\b)/i.test(noun) ? 'an' : 'a'} ${noun}`;
}
