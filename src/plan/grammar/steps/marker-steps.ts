/**
 * Markers and turns in an instruction: `pm`, `slip marker`, `placing a marker every 16 sts`, `turn`.
 * Input: a cursor at the word. Output: the step, the cursor behind it. Short rows and a beginning of the
 * round that moves cannot be followed, which is said.
 */
import { raw, regex } from '../../lexicon/expression.ts';
import { BY_NUMBER, hungByNumber } from '../markers-hung.ts';
import type { StepCursor } from './step-cursor.ts';
import type { Step } from './steps.ts';
import { wording } from './wording.ts';

const M = 'm|mk|mkr|mkrs|marker|markers';
const PLACE = 'place|pl|put|hang|set|add|insert';
const MARKER_OPS: readonly { re: RegExp; action: 'place' | 'slip' | 'remove' }[] = [
  {
    re: wording(
      `{ pm | ${PLACE} { a|another|stitch|next|~ }? m|mk|mkr|marker { (? pm )? }? } { for the|a|each|every|beginning|beg|start|end|of|round|rounds|rnd|rnds|row|corner|corners|side|center|centre|middle|next|new|bor|section|needle|quarter|raglan|panel* }?`,
    ),
    action: 'place',
  },
  {
    re: wording(
      `{ sl m | slm m? | sm | slip { the|next|~ }? ${M} { (? sm )? }? | sl the? m|mk|mkr|marker|markers }`,
    ),
    action: 'slip',
  },
  {
    re: wording(
      `{ rm | remove { the|next|~ }? ${M} { (? rm )? }? | { take out | drop } the? marker }`,
    ),
    action: 'remove',
  },
];

/** "k2tog, k1, marker, k1, ssk": passed on the way. */
const BARE_MARKER = /\(?(?:the )?(?:marker|mkr)\)?(?=\s*[,;])/y;
const TURN = wording('and? turn { the? work | piece|over }?');
const PLACES =
  '{ pm | place|placing|put|putting|hang|hanging|slip|slipping|insert|inserting|add|adding a|in* stitch? marker|markers { on|onto to? the right|left? hand? needle }? }';
const EACH_STS = 'every|each ~(\\d{1,7})(?!\\d)(?:st|nd|rd|th)? @sts?';
/** "placing a marker every 16 sts", "after every 24 sts place a marker", "a marker is placed after every 24 sts" */
const PLACE_EVERY = wording(
  `and? { ${PLACES} after? ${EACH_STS} | after ${EACH_STS} ,? ${PLACES} | a? marker|markers is|are placed|put|hung in? after ${EACH_STS} }`,
);
/** "the last marker shows the beginning of the round", ", 4 markers in all": what the markers are. */
const MARKER_TOLD = wording(
  `{ and|with|where | of which | so that }? { { { the|your }? last|final|% { of them|these|which }? marker|mkr|m|one|1|pm? is|marks|mark|=|shows|show|indicates|indicate|being|at|for|denotes ~[^.;,()\\d]{0,60}?\\b(?:beg|start|end|bor)[a-z]*(?![a-z]) of|the|each|every|a|this|your|round|rounds|rnd|rnds|row|side|is|marker|from|here|on|one|it|being|different|another|contrasting|in|color|colour* } | using|with a|an|the? ~[^.;,()\\d]{0,30}marker(?:[^.;,()\\d]|1(?=\\s*[.,;)])){0,40} | { there are now? }? # marker|markers { in all|total | altogether } }`,
);
/** "placing markers in sts 10, 30, 50": as `lex/marker-words.ts` tells it. */
const PLACED_BY_NUMBER = regex.y`(?:and\s+)?${BY_NUMBER}`;
const MOVED_MARKER = wording(
  `{ move|shift|reposition the? ~(?:[a-z]+\\s+){0,4} ${M} ~(?!\\s*up(?:wards)?\\b) #|to|the|back|left|right|over|forward|beyond|past|behind|after|this|next|that|st|sts|stitch* | place|put a|the? new { bor | ~beg[a-z.]* of the? rnd|round | start|end of rnd|round | rnd|round } marker|m }`,
);
const MARK_IN =
  'pop|put|place|hang|clip|attach|slip|stick|add|insert|fix|hook a|an|your|the|locking|removable|stitch|split|ring|coloured|colored|open|safety* marker|markers|pin|pins in|into|on|onto|to|through';
/** "pop a marker into each corner stitch", "mark this st": the stitches are marked, none is worked. */
const MARKS_STITCHES = wording(
  `and? { ${MARK_IN} each|every|all { { # }? of }? those|these|the|your|#* { k1s | corner st|sts|stitch|stitches | corner|corners | knit|centre|center|single|new|marked|yo st|sts|stitch|stitches | yo|yos|yarnover|yarnovers | yarn over|overs } { ,|;|:|-* as? they|these|those|which { are|mark|show | will be } your|the? corner|corners @sts? }? | { ${MARK_IN} | mark|marking } { it | this|that|the|last|same|purl|purled|knit|single|centre|center|middle|corner* @sts | this|that one|1? } { { that|which }? you|we? have? just worked|made|knitted|purled|knit }? { as|for|being the|your|a? centre|center|middle|corner|axis @sts? }? ~(?!\\s*(?:before|after|to|for)\\b) }`,
);
/** The stitch just worked, not every one of a sort. */
const MARKS_ONE = /\b(?:it|this|that|last|just|the (?:st|stitch|one))\b/;
/** "hang a marker on next st and knit it", "mark the next st, knit 1": the stitch that is marked is the one worked. */
const MARKS_NEXT = wording(
  `and? { ${MARK_IN} | mark|marking } the? next|following @sts ,|;|and|then* ~(knit|purl|k|p)(?:ing)?(?![a-z]) { it|1 | this|that|the marked? @sts } ~(?!\\s*(?:tog|with))`,
);
/** "place removable marker in st just worked": another marker, and not the one that was there. */
const NEW_MARKER =
  /^(?:and )?(?:plac|putt?|popp?|hang|clipp?)(?:e|ing)? (?:(?:locking|stitch|removable|coloured|colored|split|ring|safety) )*(?:marker|m|pin)\b(?! (?:up|back|again))/;
/** "mark next st, k30": of the stitches that are worked then. */
const MARKS_AHEAD = wording(
  `and? { ${MARK_IN} | mark|marking } the? next|following|foll @sts ~(?=\\s*(?:[,;*)\\]]|$))`,
);
/** "pop the marker into the stitch you just made", "moving the marker up to the new centre stitch": it stays with its stitch. */
const MARKER_KEPT = wording(
  '{ the|this|that|your? new|resulting|remaining|decreased|single? @sts { that|which { is|are? left|remains|results|formed } }? =|is|becomes|are|marks the|your? new|next? centre|center|middle|corner|marked @sts? ~(?=\\s*(?:[.,;)]|$)) } | pop|popping|put|putting|place|placing|replace|replacing|move|moving|hang|clip|clipping|return|returning|transfer|re-hang|rehang|bring|bringing|carry|carrying|take|taking the|your|its|each|every|this|that? locking|stitch|corner|coloured|colored|removable? marker|markers|m|pin up|back|again|along|too* in|into|on|onto|to|through|with the|this|that|your|each? { { new|resulting|remaining|decreased|decrease|dec|centre|center|middle|corner|single|marked }* st|stitch|s2kp|sk2p|cdd|decrease|one | 1 } { { that|which? { you|we { have | are|is }? }? { just|now|newly }? { made|worked|formed|created|left|knitted|results|remains } } | { that|which { is|has } left } | of|from the|this|that double? decrease|s2kp|cdd|sk2p }?',
);
/** "move the markers up as the work grows" */
const MARKERS_UP = wording(
  'move|shift|bring|carry|take|pass|lift the|your|these|those|all* marker|markers|pin|pins up|upwards',
  "(?:\\s+(?:as|whenever|when|with|while|every|each|from|if|so)\\b(?:\\s+(?!(?:knit|purl|work(?!\\s+(?:progresses|grows|gets|goes))|repeat|until|till|times|then|and|dec|inc)\\b)[a-z']+){0,12})?",
);

/** "w&t", "wrap the next st and turn", "make a double stitch and turn". */
const SHORT_ROW = wording(
  '{ w &|+ t | wt | { bring yarn { forward | to front } ,? }? wrap { the? next? st|stitch ,? }? and|& turn | wrap the? next? st|stitch ,|; turn | turn ,? and? { make a? }? { ds | double st|stitch } } { the? work }?',
);
const YARN_TO =
  '{ bring|move|take the? yarn { to the? }? front|back|forward { between the? needles }? | yf|yb|yfwd|wyif|wyib }';
/** "yf, slip next st, yb, return st to left needle, turn": a wrap told in full. */
const WRAP_IN_FULL = wording(
  `{ ${YARN_TO} ,|;? }? slip|sl the? next|1? st|stitch purlwise|pwise? ,|;? then? ${YARN_TO} ,|;? and|then? return|slip|sl|pass|put the? slipped|same? st|stitch back? to|onto the? left|lh hand? needle ,|;? and? turn`,
);
/** What is said of a wrap that is worked with its stitch. */
const WITH_STITCH = raw`(?:[\s,]+(?:it|them|these|both|all|together|tog|with|along|and|the|their|its|your|each|every|sts?|stitch(?:es)?|loops?|same|as|you|they(?:\s+(?:surround|encircle|belong|wrap|hold))?|come|go|get|reach|meet|appear|one|1(?!\s*[a-z])|1\s+st(?:itch)?|own|wrapped|that|belongs?|to|on|which|was|were|is|are|from|under|underneath|up|wraps?|double|ds|past|when|where|at|turns?|turning|points?|in|so|no|gaps?|holes?|show|shows|close|closes|any|way|working|(?:knit|purl|work)(?:ting|ing)?(?=\s+(?:it|them|these|both|each|every|tog|the\s+wraps?))|picking|lifting|hiding|closing|through|thru|back|front|legs?|first|second|normal|usual)(?![a-z]))*`;
/** "pick up wrap and knit it together with the st", "knit wrap with stitch": the one wrapped stitch is worked. */
const WRAPPED = wording(
  '{ pick|lift up the|next|this? wrap ,? and? ~(knit|purl|k|p)(?![a-z0-9]) | ~(knit|purl|k|p)(?![a-z0-9]) the|next|this? wrap|wrapped @sts? ~(?!\\s*(?:&|and)\\s+turn) }',
  WITH_STITCH,
);
/** "picking up the wraps and knitting them with their sts": the stitches are worked as any other. */
const WRAPS = wording(
  'and|while|by* work|working|pick|picking|lift|lifting|knit|knitting|purl|purling|hide|hiding|close|closing|collect|collecting up? ~[^.;(),\\d]{0,40}?\\b(?:wraps?|ds|double\\s+st\\w*)(?![a-z])',
  WITH_STITCH,
);
const NEW_BEGINNING = /^(?:place|put)\s+(?:a\s+|the\s+)?new\s+(?:bor|beg|start|end|rnd|round)/;

/** "omitting the last pm", "but leave out the final marker": the one at the end of the round is there already. */
const LAST_OMITTED = wording(
  'but|and|only* omit|omitting|skip|skipping|leave|leaving|without|except|not out? for|on|placing|place|put|putting* the|your* last|final|4th|6th|8th|3rd pm|m|mk|mkr|marker|one|repeat|ring { { of all | there } }? ~(?![a-z])',
);

/** True behind a repeat whose last step places the marker that is left out. */
export function readLastOmitted(cursor: StepCursor, last: Step): boolean {
  const marks = last.kind === 'group' && last.steps.at(-1);
  return marks && marks.kind === 'marker' && marks.action === 'place'
    ? cursor.match(LAST_OMITTED) !== null
    : false;
}

/** A marker or a turn; null for one that cannot be followed, 'none' where there is neither. */
export function readMarkerStep(cursor: StepCursor): Step | null | 'none' {
  const at = cursor.i;
  const told = 'ap'.includes(cursor.text[at]) ? cursor.match(PLACED_BY_NUMBER) : null;
  if (told) return { kind: 'marker', ...hungByNumber(told), ...cursor.span(at) };
  const kept = cursor.match(MARKER_KEPT);
  if (kept && !NEW_MARKER.test(kept[0])) return null;
  if (kept) cursor.i = at;
  const marks = cursor.match(MARKS_STITCHES);
  if (marks)
    return MARKS_ONE.test(marks[0]) ? { kind: 'marker', action: 'mark', ...cursor.span(at) } : null;
  if (cursor.match(MARKERS_UP)) return null;
  const next = cursor.match(MARKS_NEXT);
  if (next) {
    const marked = cursor.stitch(next[1][0], at, { times: 1 });
    return cursor.group([marked, { kind: 'marker', action: 'mark', ...cursor.span(at) }], at, {
      times: 1,
    });
  }
  if (cursor.match(MARKS_AHEAD))
    return { kind: 'marker', action: 'mark', ahead: true, ...cursor.span(at) };
  const c = cursor.text[at];
  const spaced = 'amphis'.includes(c) ? cursor.match(PLACE_EVERY) : null;
  if (spaced) {
    const every = Number(spaced[1] ?? spaced[2] ?? spaced[3]);
    return { kind: 'marker', action: 'place', every, ...cursor.span(at) };
  }
  if ('psrtd'.includes(c) && !NEW_BEGINNING.test(cursor.text.slice(at, at + 24))) {
    for (const { re, action } of MARKER_OPS) {
      if (cursor.match(re)) return { kind: 'marker', action, ...cursor.span(at) };
    }
  }
  if (cursor.match(MARKER_TOLD)) return null;
  if (cursor.match(BARE_MARKER)) return { kind: 'marker', action: 'slip', ...cursor.span(at) };
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
