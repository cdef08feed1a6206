/**
 * Markers in whatever words a hand has for them, told in one way each: hung in or behind stitches that are told by number,
 * passed on the way, taken off. In: the designer's text. Out: places, and what they are read as, so that rounds, sentences
 * and openings need to know one wording alone. Data of `wordings.ts`.
 */
import { raw } from '../lexicon/expression.ts';
import { NUMBER_WORD, type Replacement, valueOfNth } from './numbers.ts';
import { readAs } from './replaced.ts';
import { reads, type Wording } from './wording.ts';

const NTH_WORD =
  '(?:(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)-)?(?:first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|eleventh|twelfth|[a-z]{3,5}teenth|twentieth|thirtieth|fortieth|fiftieth|sixtieth|seventieth|eightieth|ninetieth)';

/** "30th", "thirtieth", "30", "thirty" are 30. */
function placeNumber(told: string): number {
  const digits = /^\d+/.exec(told);
  return digits ? Number(digits[0]) : valueOfNth(told);
}

const STW = '(?:stitches|sts?(?![a-z])|stitch)';
const THING = raw`(?:markers?|mkrs?|pins?|rings?|tags?|clips?|threads?|loops?|scraps?|bits?|pieces?|strands?|yarn|ms?\b|wool)`;
/** "a removable marker", "a bit of coloured thread", "4 rings", "locking markers" */
const NP = `(?:(?:an?|the|your|another|one|four|three|six|eight|\\d{1,2}) )?(?:(?!each|every|at|in|after)[a-z]+[ -]){0,3}?${THING}(?: (?:of|in) (?:[a-z]+ ){0,2}(?:thread|yarn|wool|colou?r|string|cotton|kind))?`;
const HANG =
  '(?:pm|(?:plac|hang|hook|insert|attach|ty|tie|clip|pin|pop|fix|fasten|slip|pass|stick|weav|thread|add|hung)(?:p?ing|e|ed)?|put(?:ting)?|set(?:ting)?)(?: in| on)?';
const MARK = 'mark(?:ing)?';
const NUMBERED = `(?!one (?:of|at|for|as|to|in|marker)\\b)(?:\\d{1,3}(?:st|nd|rd|th)?|${NTH_WORD}|${NUMBER_WORD})(?![a-z0-9])`;
const ST = `(?:${STW} ?(?:nos?\\.?|numbers?)? ?|(?:nos?\\.|numbers?) ?)`;
const JOINED = `(?:, ?(?:and |then )?|,? (?:and|then|&) |/)(?:(?:again|also|another|one) )?(?:(?:in|into|on|after|behind|before) )?(?:the )?${ST}?`;
const ITEM = `(?:the )?${ST}?`;
const LIST = `${ITEM}${NUMBERED}(?:(?: ${STW}(?=,|;| and| &))?${JOINED}${NUMBERED}){1,11}(?![ ]?(?:cm|mm|rounds?|rnds?|rows?|times|needles?)\\b)(?: ?${STW})?`;
/** What the marked stitches are, or how it is done: asks for nothing more. */
const CORNERS = raw`(?:[,;:.]? ?\(?(?:(?:these|those|they|which|that) (?:\d |four |six )?(?:(?:sts|stitches) )?(?:are|will be|mark|become) |as |for |= ?|being |(?=(?:the|your) (?:\d |four |six )?corner)|(?<=\())(?:the |your )?(?:\d |four |six )?corners?(?: (?:stitches|sts?(?![a-z])|stitch))?\)?(?=[ ]?(?:[,;.:)]|$)))`;
const AS_YOU = '(?: (?:as|when) you (?:come to|reach|get to|go)(?: (?:it|them|each))?)?';
const LEAD = raw`(?:\(?(?:with|while|whilst|at the same time|doing so|as you (?:go|knit|work)),? ){0,3}`;

function list(told: string): number[] {
  return [...told.matchAll(new RegExp(NUMBERED, 'gi'))].map((m) => placeNumber(m[0]));
}

/** "placing markers in sts 10, 30, 50": the one way that the grammar knows; null where the numbers do not go up. */
function placed(verb: string, how: string, told: string): string | null {
  const bare = told.replace(/\bst(?:s|itch(?:es)?)?\b\.?/gi, '');
  const at = list(bare);
  if (at.length < 2 || at.some((n, i) => i > 0 && n <= at[i - 1])) return null;
  // "in sts 25 and 50 and after the 75th": the places that the list itself names
  const groups: { readonly where: string; readonly at: number[] }[] = [];
  for (const part of `${how} ${bare}`.split(/\b(?=(?:in|into|on|after|behind|before)\b)/i)) {
    const before = /before/i.test(part);
    const where = before || /after|behind/i.test(part) ? 'after' : 'in';
    // A marker before the first stitch is that of the round.
    const numbers = list(part).flatMap((n) => (before ? (n > 1 ? [n - 1] : []) : [n]));
    if (groups.at(-1)?.where === where) groups.at(-1)?.at.push(...numbers);
    else if (numbers.length > 0) groups.push({ where, at: numbers });
  }
  const place = /ing\b/i.test(verb) ? 'placing' : 'place';
  return groups.map((g) => `${place} markers ${g.where} sts ${g.at.join(', ')}`).join(', ');
}

/** ", the last of them shows where the round begins": so it does anyhow behind every so many. */
const LAST_IS = raw`(?:(?:,|;|:|\.| -|,? and|,? where| \()? ?(?:the )?(?:last|final|first|other|fourth|sixth|eighth|third|[3-8](?:rd|th)) (?:(?:markers?|one|m|1|ring|pin|thread)\b)?(?: ?of (?:them|these|which))? ?(?:is|marks?|marking|shows?|showing|indicat(?:es|ing)|being|at|=|stands|denotes|goes|sits)(?: (?:that|the|one|also|now|then|at|for|of|each|every|a|this|your|here|where|as)){0,4} (?:beg(?:inning|ins)?|start|end|bor|(?:round|rnd) (?:starts|begins))\b\.?(?: ?(?:of|for) (?:the |each |every )?(?:round|rnd|rd)\b)?\)?)`;
const IN_ALL = raw`(?:,? \(?((?:\d{1,2}|three|four|six|eight) (?:markers )?(?:in (?:all|total)|altogether))\)?(?=[ ]?(?:[.;]|$|,? ?(?:the|and|where|of which) (?:the )?(?:last|fourth|4th))))?`;
const THEREAFTER =
  '(?: (?:thereafter|after (?:it|that|this)|from (?:t?here|this)(?: on)?|onwards?))?';
const N_TH = `((?:\\d{1,3}|${NUMBER_WORD}))(?:st|nd|rd|th)?`;
const EACH_N = `(?:each|every)(?: (?:set|group|section) of)? ${N_TH}(?: more)? ?${STW}(?: on)?`;
const START = raw`(?:at|for|to (?:mark|show)|here at) (?:the )?(?:beg(?:inning)?\b\.?|start)(?: of (?:the )?(?:round|rnd|rd))?`;
const AND_ONE = raw`(?:,? and|,| \+|,? plus|;)(?: then| also| again)*(?: (?:(?:\d|two|three|five|seven|one|a|another|others?|more|further)(?: more| further| markers?)*|markers?))?`;

/** "placing a marker after every 24 sts" */
function placedEvery(verb: string, every: string, inAll: string | undefined): string {
  const all = inAll ? `, ${inAll.replace(/(?<=^\S+ )(?!markers)/, 'markers ')}` : '';
  return `${/ing\b/i.test(verb) ? 'placing' : 'place'} a marker after every ${every} sts${all}`;
}

/** "Count 4 sts and": where the one that is told stands anyhow. */
const COUNT_OFF = `(?:count (?:off )?(?:\\d+|${NUMBER_WORD}) ${STW}(?: from [^.;\\n]{0,30}?)? and )?`;

const IN = '(?:in|into|on|onto|to|through|round|around|at)';
const AFTER = '(?:after|behind|before)';
const ON_NEEDLE = '(?: (?:on|onto|on to) (?:the |your )?(?:right )?needle)?';
const EACH_OF = `(?:(?: each of| every one of| all of)?(?: (?:these|those|the following|the)(?: (?:\\d|four|six|eight))? ${STW}:?)?|(?: each of| every one of| all of))?`;
const AHEAD = `(?<![a-z])${LEAD}`;

/** Verbs of passing a marker on its way, and of taking it off. */
const PASSES = '(?:move|pass|shift|slip|lift|take|bring|carry|transfer|sl)';
const ACROSS =
  '(?: (?:over|across|along|past|by|on|(?:over |across )?(?:to|onto) the (?:right|other)(?:[ -]hand)?(?: needle)?))?';
const THE_MARKER =
  '(?:the |your |each |this |that )?(?:next |following |corner )?(?:markers?|mkr|ring)';
const CLAUSE_ENDS = '(?=[ ]?(?:[,;.:*)(\\]=–—-]|$)| and )';
const OFF = '(?:off|out|away)';
const REMOVES =
  '(?:remov(?:e|ing)|drop(?:ping)?|withdraw(?:ing)?|discard(?:ing)?|tak(?:e|ing)(?= off| out| away| the| all| your| markers| every)|lift(?:ing)?(?= off| out| the| all)|slip(?:ping)? (?=off|out)|pull(?:ing)? (?=out|off)|let(?:ting)?|leav(?:e|ing) off)';
const THEM = raw`(?:(?:all(?: of)? |the |your |these |those |every |each ){0,3}(?:\d |other |remaining |corner |stitch |side ){0,2}(?:markers?|rings?))`;
const BUT_ONE = raw`(?:,? (?:all )?(?:except|but|apart from|save|bar|other than)(?: for)? (?:for )?(?:(?:the|that|one|of|a|for|at|which|marks?|your|odd|different|unique|special|single|contrast(?:ing)?|coloured|colored|other|marked?) ){0,4}(?:bor|first|last|start|beginning|beg|round|beginning-of-round|end|one|marker|ring)\b\.?(?:(?: (?:of|the|rnd|round|one|marker|ring|for|at|that|marks|shows|beginning|start)){1,6})?)`;
const ON_THE_WAY =
  '(?:,? (?:underway|along the way|on the way|on your way|en route|in passing|as (?:you|they) (?:go|come|meet|reach|get|work|are met|are reached)(?: (?:along|round|around|up|to|them|it|each|across|one|that)){0,3}|when (?:you|they) (?:meet|come|reach|get)(?: (?:to|them|it|up)){0,2}|while (?:you are|doing so|working)(?: (?:at it|on))?|at the same time|(?:in|on|during) (?:this|the (?:last|final|next)) (?:round|rnd|row)))';
const KEEPS =
  '(?:,? (?:but )?(?:keep(?:ing)?|leav(?:e|ing))(?: in(?: place)?)? (?:only |just )?(?:the |that |your )?(?:bor|first|last|start|beginning|beginning-of-round|round)(?: (?:of the round|of round|marker|one|ring)){0,2}(?: (?:in|in place|on|where it is))?)';

/** "k2tog, remove marker": the one that is met there, a step of its round. */
const ONE_HERE = /^(?:remove|drop|take out) (?:the |this |that |next )*marker$/i;

const EACH_MARKER =
  '(?:each|every|all|both|the|a)?(?: of the)?(?: (?:\\d|four|six|eight))? ?(?:(?:stitch )?markers?|mkrs?)(?: threads?)?\\b';
const ON_EACH_SIDE = `(?:(?:de|in)crease (?:\\d{1,2}|a|one) ${STW}(?: (?:on|at) (?:each|both|either) sides? of ${EACH_MARKER})? by )?`;
const THUS_TOLD = '(?:,? (?:as follows|like this|in this way|thus|so))?[ ]?[:,]?';
const MOVE =
  '(?:(?:slip|sl) ?1(?: st(?:itch)?)?(?: as if to knit| knitwise)?,? k(?:nit)? ?1,? (?:psso|pass (?:the )?slipped (?:st(?:itch)? )?over)|(?:slip|sl) ?1,? k2 ?tog,? psso|(?:k|p) ?\\d{1,2}(?! ?tog)|(?:k|p)2 ?tog(?: ?tbl)?|k3tog|ssk|skpo?|s2kp|sk2p|cdd|ssp|yo|m1[lrp]?|kfb|knit(?:ting)? (?:2|two)(?: sts| stitches)? tog(?:ether)?|knit \\d)';
const MOVES = `(${MOVE}(?:(?:,| and|, and|, then| then) ${MOVE}){0,4})`;
const TAKES: readonly (readonly [RegExp, number])[] = [
  [/^(?:k3tog|s2kp|sk2p|cdd|(?:slip|sl) ?1,? k2)/i, 3],
  [/^(?:[kp]2 ?tog|ssk|skp|ssp|knit(?:ting)? (?:2|two)\b.*tog|slip|sl)/i, 2],
  [/^(?:yo|m1)/i, 0],
];

/** Stitches that such moves are worked over. */
function worksOver(moves: string): number {
  return [...moves.matchAll(new RegExp(MOVE, 'gi'))].reduce((sum, [move]) => {
    const known = TAKES.find(([re]) => re.test(move));
    return sum + (known?.[1] ?? Number(/\d+/.exec(move)?.[0] ?? 1));
  }, 0);
}

/** "Before each marker: k2tog, k1. After each marker: k1, ssk", "k2tog, k1 before each marker and k1, ssk after it" */
function besideMarkers(before: string, after: string): string {
  const said = (moves: string): string => moves.replace(/^knitting/i, 'knit');
  const n = worksOver(before);
  return `at each marker: work to ${n > 0 ? `${n} sts before ` : ''}marker, ${said(before)}, slip marker, ${said(after)}`;
}

export const MARKER_WORDINGS: readonly Wording[] = [
  // "Start after a marker: ssk, knit until 2 sts remain before the next marker, k2tog."
  reads(([, after, before]) =>
    besideMarkers(before, after),
  )`\b(?:start|begin)(?:n?ing)? (?:just |right )?(?:after|behind) (?:an?|the|each|every) (?:stitch )?markers?(?: threads?)?[ ]?[:,]? ${MOVES}[ ]?,? (?:then )?(?:knit|work|k) (?:until|to|till) (?:there are )?\d{1,2} ${STW} (?:remain |are left |left )?(?:before|to) (?:the )?(?:next )?marker(?: thread)?[ ]?[:,]? ${MOVES}(?![a-z0-9])`,
  // "Each needle begins with k1, ssk and ends with k2tog, k1."
  reads(
    ([, part, first, last]) => `on ${part}: ${first}, knit to last ${worksOver(last)} sts, ${last}`,
  )`\b((?:each|every) (?:of the (?:\d|four|six) )?(?:needle|side|section)s?) (?:begins|starts) with ${MOVES},? (?:and|but) (?:ends|finishes) with ${MOVES}(?![a-z0-9])`,
  reads(
    'at each marker: work to $1 sts before marker, ',
  )`(?:\b(?:start|begin)(?:n?ing)?(?: (?:work|to work))?|(?<=[.:;] |^)(?:work )?)[ ]?(\d{1,2}) ${STW} before ${EACH_MARKER}${THUS_TOLD}[ ](?=(?:k|p|ssk|sk|knit|purl|yo|m1|work|dec|inc))`,
  reads(([, before, after]) =>
    besideMarkers(before, after),
  )`\b${ON_EACH_SIDE}(?:(?:de|in)crease )?(?:as follows )?(?:\d st(?:itch)? )?before ${EACH_MARKER}${THUS_TOLD}[ ]${MOVES}[ ]?[,.;]?(?: and)? (?:(?:de|in)crease )?(?:as follows )?(?:after|behind) (?:it\b|them\b|${EACH_MARKER})${THUS_TOLD}[ ]${MOVES}(?![a-z0-9])`,
  reads(([, before, after]) =>
    besideMarkers(before, after),
  )`\b${ON_EACH_SIDE}(?:work(?:ing)? |mak(?:e|ing) )?${MOVES} (?:just )?before(?: ${EACH_MARKER})?[ ]?[,;]?(?:,? (?:and )?(?:slip|pass) (?:it|the marker)(?: over)?,?)?(?: and)? (?:then )?(?:work(?:ing)? |mak(?:e|ing) )?${MOVES} (?:just )?(?:after|behind) (?:it\b|them\b|${EACH_MARKER})(?![a-z0-9])`,
  // "hang a thread on the 12th, 35th and 58th st", "mark sts 10, 30 and 50 with pins"
  reads(([, verb, how, told]) =>
    placed(verb, how, told),
  )`${AHEAD}(${HANG}) ${NP}${ON_NEEDLE} (?:also |too )?(${AFTER}|${IN})${EACH_OF} (${LIST})${CORNERS}?${AS_YOU}\)?`,
  reads(([, verb, told]) =>
    placed(verb, 'in', told),
  )`${AHEAD}(${MARK})(?: with ${NP})?:? (?:each of )?(${LIST})(?: with ${NP})?${CORNERS}?${AS_YOU}\)?`,
  reads(([, verb, told]) => placed(verb, 'in', told))`\bwith ${NP} (${MARK}) (${LIST})${CORNERS}?`,
  reads(([, how, told]) =>
    placed('placing', how, told),
  )`(?<=[,;(] ?)\(?with ${NP} (?:hung |placed |put )?(${AFTER}|in|on) (${LIST})(?:${CORNERS}|; these[^()\n]{0,40})?\)?`,
  // "mark these 4 sts with pins: the 14th, the 42nd, …"
  reads(([, verb, told]) =>
    placed(verb, 'in', told),
  )`\b(${MARK}) (?:these|those|the)(?: (?:\d|four|six|eight))? (?:${STW}|corners?(?: ${STW})?)(?: (?:with|by|using) ${NP})?(?::|,| -| at| on| in) ?(${LIST})`,
  // "mark the fifth; then mark every tenth st after that"
  reads(
    ([, verb, first, every]) =>
      `${/ing\b/i.test(verb) ? 'placing' : 'place'} markers in sts ${placeNumber(first)} every ${placeNumber(every)}`,
  )`\b${COUNT_OFF}(${MARK}) (?:the )?(${NUMBERED})(?: ${STW})?[,;.] ?(?:and )?(?:then )?(?:also )?mark(?:ing)? (?:each|every) (${NUMBERED}) ${STW}${THEREAFTER}`,
  // "Markers go in sts 8, 23, 38 and 53"
  reads(([, how, told]) =>
    placed('place', how, told),
  )`${AHEAD}(?:${NP}|markers?) (?:go|goes|sit|sits|belong|hang|come|is|are)(?: (?:placed|hung|put|hooked|clipped|set))? (${AFTER}|${IN})${EACH_OF} (${LIST})${CORNERS}?`,
  // "the 14th, 42nd, 70th and 98th sts are the corners: mark them"
  reads(([, told]) =>
    placed('place', 'in', told),
  )`(?<![a-z] )(${LIST}) (?:are|become|being|will be|form)(?: (?:marked|the|your|as|four|six|\d)){0,3}(?: corners?(?: ${STW})?)(?:[,:;] ?(?:and )?mark (?:(?:each|all) of )?(?:them|these|those)(?: with ${NP})?)?`,
  // "a marker in st no. 5": one of several that are hung sentence by sentence
  reads(
    ([, verb, n]) => `${/ing\b/i.test(verb) ? 'placing' : 'place'} markers in sts ${n}`,
  )`${AHEAD}${COUNT_OFF}(${HANG}) ${NP} (?:also |too )?(?:in|into|on) (?:the )?(?:next ${STW} \()?(?:${STW} )?(?:nos?\.?|number) (\d{1,3})(?! ?(?:,|and\b|&)? ?\d)\)?`,
  // "mark the 10th st and then every 20th st", "a marker after the first edge st and then after every 16 sts"
  reads(
    ([, verb, how, first, every]) =>
      `${/ing\b/i.test(verb) ? 'placing' : 'place'} markers ${/after|behind/i.test(how ?? '') ? 'after' : 'in'} sts ${placeNumber(first)} every ${placeNumber(every)}`,
  )`${AHEAD}(${MARK}|(?:${HANG}) ${NP}(?= (?:${AFTER}|${IN}) )) ?(${AFTER}|${IN})? ?(?:the )?(?:${STW} )?(${NUMBERED})(?: (?:edge|selvedge|seam|border))? ?${STW}(?:,? and|,|;)(?: (?:then|again|also|one|a|another|marker|thereafter)){0,3}(?: (?:${AFTER}|in|for|on))? (?:each|every) ${N_TH} ?${STW}?${THEREAFTER}`,
  // "a marker at the beginning of the round and one for each 24 sts thereafter"
  reads(([, verb, every]) =>
    placedEvery(verb, String(placeNumber(every)), undefined),
  )`${AHEAD}(${HANG}) ${NP} ${START}${AND_ONE}(?: (?:for|after|at|behind))? ${EACH_N}${THEREAFTER}`,
  reads(([, verb, every, inAll]) =>
    placedEvery(verb, String(placeNumber(every)), inAll),
  )`${AHEAD}(pm|(?:${HANG}) ${NP})${ON_NEEDLE}(?: (?:also|always|again))? ?(?:${AFTER} |at )?${EACH_N}${THEREAFTER}${IN_ALL}${LAST_IS}?`,
  reads(([, verb, every]) =>
    placedEvery(verb, String(placeNumber(every)), undefined),
  )`${AHEAD}(${HANG}) ${NP}(?: with)? ${N_TH} ${STW} (?:between (?:them|each)|apart(?: from (?:each other|one another))?)${LAST_IS}?`,
  // "pass the ring", "lift the marker over", "let the marker pass", "the marker is slipped"
  reads(
    'slip marker',
  )`\b(?<=[,;:*] ?|\b(?:and|then) )(?:${PASSES} ${THE_MARKER}${ACROSS}|let ${THE_MARKER} (?:pass|go by)|(?:the )?(?:marker|ring) is (?:slipped|passed|moved|lifted|taken)(?: over| across| along)?)${CLAUSE_ENDS}`,
  // "withdrawing the rings", "removing all markers except BOR", "the markers are removed along the way"
  reads(([all]) =>
    ONE_HERE.test(all) ||
    (/^(?:let|tak|leav|lift|slip|pull)/i.test(all) &&
      !/\b(?:off|out|away|drop|fall|go)\b/i.test(all))
      ? null
      : 'removing markers',
  )`\b(?<=[,;:.(*-–—] {0,2}|\b(?:and|then|while) )${REMOVES} ?(?:${OFF} )?${THEM}${BUT_ONE}?(?: ${OFF}| drop(?: off)?| fall(?: off)?| go)?${BUT_ONE}?${ON_THE_WAY}?${BUT_ONE}?${KEEPS}?${CLAUSE_ENDS}`,
  reads(
    'removing markers',
  )`\b(?<=[,;:.(*-–—] {0,2}|\band )(?:${THEM} (?:are|being) (?:then |now )?(?:removed|dropped|taken off|taken out|withdrawn)${ON_THE_WAY}?|${THEM} ${OFF}|(?:you )?no longer need(?:ing)? ${THEM}|leaving only ${THEM}? ?(?:the )?(?:bor|beginning-of-round|first|start)(?: (?:marker|one|ring))?(?: in place| on)?)${CLAUSE_ENDS}`,
];

/** Rings that are hung as markers are called markers; none that the piece is joined into. */
export function ringsAsMarkers(text: string): Replacement[] {
  const hung =
    /\b(?:plac|put|hang|set|slip|thread|insert|pass|marker|split|stitch)[a-z]* (?:[a-z0-9]+ ){0,3}rings?\b/i.test(
      text,
    ) && !/\bmagic ring\b/i.test(text);
  if (!hung) return [];
  const rings =
    /\b(?<=\b(?:an?|the|each|every|next|last|first|following|other|another|one|\d{1,2}|(?:st|nd|rd|th)|\d(?:st|nd|rd|th)|marker|coloured|stitch|split|all|these|first) )(?<!\b(?:in|into|to|as|form|make|close|join|joined|gather) (?:an?|the|one) )(?:marker |stitch )?(ring)(s?)\b/gi;
  return readAs(text, rings, (m) => `marker${m[2]}`);
}
