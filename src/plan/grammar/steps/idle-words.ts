/**
 * Words among the stitches that ask for no stitch: facings, joins, "ending with", the round's colour, the
 * count that the stitches behind it come to. In: a cursor at the words. Out: true and the cursor behind them,
 * with what they say of the round kept; false otherwise.
 */
import type { StepCursor } from './step-cursor.ts';

const NOISE =
  /(?:(?:dec|inc)(?:rease)?\s+(?:thus|so|as\s+follows|in\s+this\s+(?:way|manner)|like\s+(?:this|so)|(?:at|for)\s+(?:the\s+|each\s+|every\s+)?corners?)|(?:(?:work|knit|treat|count|tak|purl)ing\s+)?(?:each|every|the|all)\s+(?:of\s+the\s+)?(?:double\s+|wrapped\s+|new\s+)?(?:sts?|stitch(?:es)?|yos?|yarn\s*overs?|loops?|ds)\s+as\s+(?:1|one|an?|usual|normal)(?:\s+(?:ordinary|normal|usual|single|plain|regular|separate))?(?:\s+(?:sts?|stitch(?:es)?))?|(?:dec|inc|decrease|increase)\s*:(?!\s*\d)|(?:removing|taking\s+(?:out|off|away)|dropping|lifting\s+(?:off|out)|slipping\s+(?:off|out))\s+(?:all\s+)?(?:of\s+)?(?:the\s+|your\s+)?markers?(?:\s+(?:on|in)\s+(?:the\s+)?(?:first|last|next|second)(?:\s+(?:one\s+)?of\s+(?:these|those|them|the))?(?:\s+(?:rows?|rounds?|rnds?))?|\s+as\s+(?:you|they)\s+(?:come|go|get|reach|are)(?:\s+(?:to|across|along|around|them|it|on|each|one|every|marker|up|reached|met)(?![a-z]))*)?|(?:decreas(?:e|ing)|increas(?:e|ing)|cable|plain|crossing|dec|inc)\.?\s+(?:round|rnd|row)(?=\s*[:.,-])|(?:with\s+)?(?:rs|ws|right\s+side|wrong\s+side)\s+facing|(?:while\s+)?(?:slipping|carrying|keeping|moving|passing)\s+(?:all\s+)?(?:the\s+|your\s+)?markers?(?:\s+as\s+(?:you|they)\s+(?:come|go|get|reach|are)(?:\s+(?:to|across|along|around|them|it|on|each|one|every|marker|up|reached|met)(?![a-z]))*|\s+up)?|and\s+then|and|then|&|now|also|including\s+(?:(?:in(?:to)?|all|both|the|each|every|of|your)\s+)*(?:yos?|yarn\s*-?overs?|corner\s+(?:sts|stitch(?:es)?)|new\s+(?:sts|stitches)|increases?)|ending\s+with|ending|end\s+with|end|finishing\s+with|finish\s+with|across\s+(?:the\s+)?(?:row|round)|once|loosely|tightly|evenly|carefully|work(?=\s+(?:[\d(*[]|k\d|p\d|ssk|as\s+follows))|as\s+follows|thus|join(?:\s+(?:in|to|for|into|the|a|an|work|working|knit|knitting|form|make|circle|ring)(?![a-z]))*(?:\s+(?:round|rnd|circle|ring))?|inclusive|please|(?:(?:with|using|in|change\s+to|switch\s+to|join|rejoin)\s+)?(?:colou?r\s+)?(?:the\s+)?(?:mc|cc\d?|(?:main|contrast(?:ing)?|second|first)\s+(?:colou?r|yarn|shade)|contrast(?=\s*[,:.])|(?:yarn|colou?r)\s+[a-d])|(?:with|using|in)\s+(?:yarn\s+)?[a-d]|afterwards?|finally|lastly|again|here|first|next|so|still|(?:you|we)(?=\s+(?:work|knit|purl|k|p|ssk|just|simply)\b)|just|simply|initially|(?:for\s+)?(?:the\s+)?(?:last|final|first|next)\s+side|\(?(?:rs|ws)(?:\s+facing)?\)?)(?![a-z0-9])\s*:?/y;
/** "decrease 8 sts: …" before the stitches that do so. */
const PROMISED =
  /(d|i)(?:ec|nc)(?:r?ease)?\s+(\d{1,4})\s*(?:sts?|stitch(?:es)?)\s*:\s*(?=(?:at|on|each|every|for)\s+(?:each|every|all|the|needle|side)|[*([]|[kp]\d|ssk|skp)/y;

/** "then work an ssk", "begin with k1", "at the same time": words around a stitch; "the corner (sl 2, …)". */
const AROUND =
  /(?:(?:begin|start)(?:ning|ing)?\s+with(?:\s+an?)?|work(?:ing)?\s+an?|make(?=\s+an?\s+y)|an?(?=\s+(?:ssk|k2tog|skp|y|m1|cdd|s2kp|cent|double))|(?:and\s+)?at\s+the\s+same\s+time|rep(?:eat)?(?=\s*[([])|the\s+(?:(?:double|central|centred|left|right)\s+)?(?:corner|centre|center|middle|decrease|increase|cable|crossing)(?:\s+(?:st|stitch|decrease|increase))?\s*(?=\())(?![a-z0-9])/y;

export function readIdleWords(cursor: StepCursor): boolean {
  if (cursor.match(AROUND)) return true;
  const promised = cursor.match(PROMISED);
  if (promised) {
    cursor.promised ??= (promised[1] === 'd' ? -1 : 1) * Number(promised[2]);
    return true;
  }
  const noise = cursor.match(NOISE);
  if (noise) cursor.colour ??= colourIn(noise[0]);
  return noise !== null;
}

/** "with CC", "using colour B" */
function colourIn(words: string): string | null {
  const m =
    /\b(mc|cc\d?)\b|\b(main|first)\b(?=\s+[a-z])|\bcontrast|\bsecond (?=[a-z])|(?:colou?r|yarn|with|using|in)\s+([a-d])\b/.exec(
      words,
    );
  if (!m) return null;
  if (m[1]) return m[1].toUpperCase();
  if (m[2])
    return words.includes('first') && !/first\s+(?:colou?r|yarn|shade)/.test(words) ? null : 'MC';
  return m[3] ? `colour ${m[3].toUpperCase()}` : 'CC';
}
