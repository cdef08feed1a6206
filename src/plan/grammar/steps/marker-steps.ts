/**
 * Markers and turns in an instruction: `pm`, `slip marker`, `placing a marker every 16 sts`, `turn`.
 * Input: a cursor at the word. Output: the step, the cursor behind it. Short rows and a beginning of the
 * round that moves cannot be followed, which is said.
 */
import { NUM } from '../../lex/numbers.ts';
import { STS } from '../../lexicon/words.ts';
import type { StepCursor } from './step-cursor.ts';
import type { GroupStep, Step } from './steps.ts';

const MARKER_OPS: readonly { re: RegExp; action: 'place' | 'slip' | 'remove' }[] = [
  {
    re: /(?:pm\b|place\s+(?:a\s+|another\s+|stitch\s+|next\s+|\w+\s+)?(?:m\b|marker)(?:\s*\(?pm\b\)?)?)(?:\s+for(?:\s+(?:the|a|each|every|beginning|beg|start|end|of|rounds?|rnds?|row|corners?|side|cent(?:re|er)|middle|next|new|bor|section|needle|quarter|raglan|panel)\b)+)?/y,
    action: 'place',
  },
  {
    re: /(?:slm?\s*m\b|sm\b|slm\b|slip\s+(?:the\s+|next\s+|\w+\s+)?(?:m\b|markers?\b)(?:\s*\(?sm\b\)?)?|sl\s+(?:the\s+)?(?:m\b|markers?\b|mkr?\b))/y,
    action: 'slip',
  },
  {
    re: /(?:rm\b|remove\s+(?:the\s+|next\s+|\w+\s+)?(?:m\b|markers?\b)(?:\s*\(?rm\b\)?)?|(?:take\s+out|drop)\s+(?:the\s+)?marker)/y,
    action: 'remove',
  },
];

const TURN =
  /(?:turn(?:\s+(?:the\s+)?(?:work|piece|over))?|(?:and\s+)?turn)(?![a-z])(?:\s+(?:the\s+)?work)?/y;
const PLACES =
  '(?:pm(?![a-z])|(?:plac|put|hang|slip|insert|add)(?:e|ing|ting|ping)?\\s+(?:a\\s+|in\\s+)*(?:stitch\\s+)?markers?(?:\\s+on(?:to|\\s+to)?\\s+the\\s+(?:right\\s+|left\\s+)?(?:hand\\s+)?needle)?)';
const EACH_STS = `(?:every|each)\\s+(${NUM})(?:th)?(?:\\s*${STS})?`;
/** "placing a marker every 16 sts", "after every 24 sts place a marker", "a marker is placed after every 24 sts" */
const PLACE_EVERY = new RegExp(
  `(?:and\\s+)?(?:${PLACES}\\s+(?:after\\s+)?${EACH_STS}|after\\s+${EACH_STS},?\\s+${PLACES}|(?:a\\s+)?markers?\\s+(?:is|are)\\s+(?:placed|put|hung)\\s+(?:in\\s+)?after\\s+${EACH_STS})`,
  'y',
);
/** "the last marker shows the beginning of the round", ", 4 markers in all": what the markers are. */
const MARKER_TOLD =
  /(?:(?:and|of\s+which|with|where|so\s+that)\s+)?(?:(?:the\s+|your\s+)?(?:last|final|first|second|third|fourth|\d(?:st|nd|rd|th))\s+(?:of\s+(?:them|these|which)\s+)?(?:marker|mkr|m|one|pm)?\s*(?:is|marks?|=|shows?|indicates?|being|at|for|denotes)(?![a-z])[^.;,()\d]{0,60}?\b(?:beg|start|end|bor)[a-z]*(?:\s+(?:of|the|each|every|a|this|your|rounds?|rnds?|rows?|side|is|marker|from|here|on|one|it|being|different|another|contrasting|in|colou?r)\b)*|(?:using|with)\s+an?\s+[^.;,()\d]{0,30}marker[^.;,()\d]{0,40}|(?:there\s+are\s+(?:now\s+)?)?\d+\s+markers?\s+(?:in\s+(?:all|total)|altogether)(?![a-z]))/y;
const MOVED_MARKER =
  /(?:(?:move|shift|reposition)\s+(?:the\s+)?(?:[a-z]+\s+){0,4}(?:markers?|m)\b(?!\s+up(?:wards)?\b)(?:\s+(?:\d+|one|to|the|back|left|right|over|forward|beyond|past|behind|after|this|next|that|sts?|stitch)\b)*|(?:place|put)\s+(?:a\s+|the\s+)?new\s+(?:bor|beg[a-z.]*\s+of\s+(?:the\s+)?(?:rnd|round)|(?:start|end)\s+of\s+(?:rnd|round)|rnd|round)\s+(?:marker|m)\b)/y;
/** "pop a marker into each corner stitch": the stitches are marked, none is worked. */
const MARKS_STITCHES =
  /(?:pop|put|place|hang|clip|attach|slip|stick|add)\s+(?:(?:a|an|your|the|locking|removable|stitch|split|ring|coloured|colored|open|safety)\s+)*(?:markers?|pins?)\s+(?:in(?:to)?|on(?:to)?|through)\s+(?:each|every|all)\s+(?:(?:one\s+)?of\s+)?(?:(?:those|these|the|your|four|4|six|6|\d+)\s+)*(?:k1s|corner\s+(?:sts|stitch(?:es)?)|corners?|(?:knit|centre|center|single|new|marked|yo)\s+(?:sts|stitch(?:es)?)|yos|yarn\s*overs?)(?![a-z])(?:[\s,;:-]*(?:(?:as\s+)?(?:they|these|those|which)\s+(?:are|will\s+be|mark|show)\s+(?:your\s+|the\s+)?corners?(?:\s+(?:sts|stitch(?:es)?))?))?/y;
/** "move the markers up as the work grows" */
const MARKERS_UP =
  /(?:move|shift|bring|carry|take|pass|lift)\s+(?:the\s+|your\s+|these\s+|those\s+|all\s+)*(?:markers?|pins?)\s+up(?:wards)?(?![a-z])(?:\s+(?:as|whenever|when|with|while|every|each|from|if|so)\b(?:\s+(?!(?:knit|purl|work(?!\s+(?:progresses|grows|gets|goes))|repeat|until|till|times|then|and|dec|inc)\b)[a-z']+){0,12})?/y;

/** "w&t", "wrap the next st and turn", "make a double stitch and turn". */
const SHORT_ROW =
  /(?:w\s*&\s*t|w\s*\+\s*t|wt|(?:bring\s+yarn\s+(?:forward|to\s+front)[\s,]+)?wrap\s+(?:(?:the\s+)?(?:next\s+)?(?:st|stitch)[\s,]*)?(?:and|&)\s+turn|wrap\s+(?:the\s+)?(?:next\s+)?(?:st|stitch)[\s,;]+turn|turn[\s,]+(?:and\s+)?(?:make\s+(?:a\s+)?)?(?:ds|double\s+(?:st|stitch)))(?![a-z])(?:\s+(?:the\s+)?work)?/y;
const YARN_OVER_TO =
  '(?:(?:bring|move|take)\\s+(?:the\\s+)?yarn\\s+(?:to\\s+(?:the\\s+)?)?(?:front|back|forward)(?:\\s+between\\s+(?:the\\s+)?needles)?|yf|yb|yfwd|wyif|wyib)';
/** "yf, slip next st, yb, return st to left needle, turn": a wrap told in full. */
const WRAP_IN_FULL = new RegExp(
  `(?:${YARN_OVER_TO}[,;\\s]+)?(?:slip|sl)\\s+(?:the\\s+)?(?:next\\s+|1\\s+)?(?:st|stitch)(?:\\s+p(?:url)?wise)?[,;\\s]+(?:then\\s+)?${YARN_OVER_TO}[,;\\s]+(?:and\\s+|then\\s+)?(?:return|slip|sl|pass|put)\\s+(?:the\\s+)?(?:slipped\\s+|same\\s+)?(?:st|stitch)\\s+(?:back\\s+)?(?:to|onto)\\s+(?:the\\s+)?(?:left|lh)(?:[-\\s]hand)?\\s+needle[,;\\s]+(?:and\\s+)?turn(?![a-z])`,
  'y',
);
/** What is said of a wrap that is worked with its stitch. */
const WITH_STITCH =
  '(?:[\\s,]+(?:it|them|these|both|all|together|tog|with|along|and|the|their|its|your|each|every|sts?|stitch(?:es)?|loops?|same|as|you|they(?:\\s+(?:surround|encircle|belong|wrap|hold))?|come|go|get|reach|meet|appear|one|1(?!\\s*[a-z])|1\\s+st(?:itch)?|own|wrapped|that|belongs?|to|on|which|was|were|is|are|from|under|underneath|up|wraps?|double|ds|past|when|where|at|turns?|turning|points?|in|so|no|gaps?|holes?|show|shows|close|closes|any|way|working|(?:knit|purl|work)(?:ting|ing)?(?=\\s+(?:it|them|these|both|each|every|tog|the\\s+wraps?))|picking|lifting|hiding|closing|through|thru|back|front|legs?|first|second|normal|usual)(?![a-z]))*';
/** "pick up wrap and knit it together with the st", "knit wrap with stitch": the one wrapped stitch is worked. */
const WRAPPED = new RegExp(
  `(?:(?:pick|lift)\\s+up\\s+(?:the\\s+|next\\s+|this\\s+)?wrap\\s*,?\\s*(?:and\\s+)?(knit|purl|k|p)(?![a-z0-9])${WITH_STITCH}|(knit|purl|k|p)\\s+(?:the\\s+|next\\s+|this\\s+)?wrap(?:ped\\s+st(?:itch)?)?(?![a-z])(?!\\s*(?:&|and)\\s+turn)${WITH_STITCH})`,
  'y',
);
/** "picking up the wraps and knitting them with their sts": the stitches are worked as any other. */
const WRAPS = new RegExp(
  `(?:(?:and|while|by)\\s+){0,2}(?:work|pick|lift|knit|purl|hid|clos|collect)(?:ing|e)?\\s+(?:up\\s+)?[^.;(),\\d]{0,40}?\\b(?:wraps?|ds|double\\s+st\\w*)(?![a-z])${WITH_STITCH}`,
  'y',
);
const NEW_BEGINNING = /^(?:place|put)\s+(?:a\s+|the\s+)?new\s+(?:bor|beg|start|end|rnd|round)/;

/** A marker or a turn; null for one that cannot be followed, 'none' where there is neither. */
export function readMarkerStep(cursor: StepCursor): Step | null | 'none' {
  if (cursor.match(MARKS_STITCHES) || cursor.match(MARKERS_UP)) return null;
  const at = cursor.i;
  const c = cursor.text[at];
  const spaced = 'amphis'.includes(c) ? cursor.match(PLACE_EVERY) : null;
  if (spaced) {
    const times = Number(spaced[1] ?? spaced[2] ?? spaced[3]);
    const run = cursor.stitch('k', at, { times });
    const marker = { kind: 'marker', action: 'place', ...cursor.span(at) } as const;
    return cursor.group([run, marker], at, { kind: 'rest', count: 0 });
  }
  if ('psrtd'.includes(c) && !NEW_BEGINNING.test(cursor.text.slice(at, at + 24))) {
    for (const { re, action } of MARKER_OPS) {
      if (cursor.match(re)) return { kind: 'marker', action, ...cursor.span(at) };
    }
  }
  if (cursor.match(MARKER_TOLD)) return null;
  if (cursor.match(MOVED_MARKER)) {
    cursor.unread++;
    cursor.say(
      'error',
      'marker-moved',
      at,
      'a beginning of the round that moves cannot be followed',
      'Let the round begin a stitch earlier or later from the cast-on on, so that its marker stays.',
    );
    return null;
  }
  const wrapped = cursor.match(WRAPPED);
  if (wrapped) return cursor.stitch((wrapped[1] ?? wrapped[2])[0], at, { times: 1 });
  if (cursor.match(WRAPS)) return null;
  const short = cursor.match(SHORT_ROW) ?? cursor.match(WRAP_IN_FULL);
  if (short)
    return {
      kind: 'turn',
      style: /ds|double/.test(short[0]) ? 'double' : 'wrap',
      ...cursor.span(at),
    };
  return cursor.match(TURN) ? { kind: 'turn', style: 'plain', ...cursor.span(at) } : 'none';
}

/** `[k16, pm]` to the end, as "knit, placing a marker every 16 sts" means. */
export function isPlacing(group: GroupStep): boolean {
  return group.steps.length === 2 && group.steps[1].kind === 'marker' && !('times' in group.amount);
}
