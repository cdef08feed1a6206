/**
 * Decreases that a text calls by a name of its own and tells by the way they are worked: "1 overhaling (slip 1, knit 1, pull
 * the slipped st. over)", "3 together (= slip 1, 2 k tog, lift the loose stitch over)", then "3 together" alone. In: the
 * designer's text. Out: places, and the stitch that each is read as.
 */
import type { Replacement } from './numbers.ts';

const WAY =
  '(?:slip|sl|lift|take)\\.? ?(?:1|2|one|two)[^()\\n]{3,80}?\\b(?:over|psso|p2sso)\\b(?: (?:the|it)[a-z ]{0,24})?\\.?';
const NAME = '(?:[a-zåäöøæéèêç]{4,14}[ -])?[a-zåäöøæéèêç]{4,14}';
/** Behind its first use, in brackets. */
const IN_BRACKETS = new RegExp(
  `(?<=[,;:*] ?|\\band |\\bthen )(?:(?:1|one) (${NAME})|([23]) (?:sts? )?tog(?:ether)?) ?\\([= ]{0,3}(${WAY})\\)`,
  'gi',
);
/** On a line of its own. */
const ON_A_LINE = new RegExp(`^[ \\t•*-]{0,6}(${NAME}) ?[:=] ?(${WAY})[ \\t]*$`, 'gim');
const KNOWN =
  /^(?:round|rounds|row|rows|next|last|first|then|note|repeat|each|left|right|slip|knit|purl|decrease|dec|together|cable|here|times|edge|corner)$/i;

/** The stitch that is worked so; null for ways of other stitches. */
function stitchOf(way: string): string | null {
  if (/\bp(?:url)?(?: ?\d| )/i.test(way.replace(/\bp2?sso\b|\bpass\w*/gi, ''))) return null;
  const two = /\b(?:slip|sl|lift|take)\.? ?(?:2|two)\b/i.test(way);
  const pair = /(?:\b2|k2|\btwo)[^,]{0,24}\btog/i.test(way);
  if (two)
    return pair || !/\bk(?:nit)? ?(?:1|one|the next)|\b1 (?:st )?k/i.test(way) ? null : 's2kp';
  if (pair) return 'sk2p';
  return /\bk(?:nit)?\.? ?(?:1|one|the next)|\b(?:1|one)(?: sts?\.?)? k(?:nit)?\b/i.test(way)
    ? 'skp'
    : null;
}

export function decreasesByTheirWay(text: string): Replacement[] {
  const out: Replacement[] = [];
  const used = (name: string, stitch: string, from: number): void => {
    const one = new RegExp(
      `(?<=[,;:*(] ?|\\band |\\bthen )(?:(?:1|one) )?${name}(?=[ ]?[,;.*)])`,
      'gi',
    );
    for (const m of text.matchAll(one))
      if (m.index >= from) out.push({ from: m.index, to: m.index + m[0].length, text: stitch });
  };
  for (const m of text.matchAll(IN_BRACKETS)) {
    const [said, name, several, way] = m;
    const stitch = stitchOf(way);
    if (!stitch || (name && KNOWN.test(name))) continue;
    const to = m.index + said.length;
    out.push({ from: m.index, to, text: stitch });
    used(name ?? `${several} (?:sts? )?tog(?:ether)?`, stitch, to);
  }
  for (const m of text.matchAll(ON_A_LINE)) {
    const stitch = KNOWN.test(m[1]) ? null : stitchOf(m[2]);
    if (stitch) used(m[1], stitch, m.index + m[0].length);
  }
  return out;
}
