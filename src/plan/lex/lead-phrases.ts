/**
 * Words that lead to an order and ask for nothing themselves: "it is now time to knit …", "we are going to …", "go on by
 * purling …". In: the designer's text. Out: places that are read as nothing.
 */
import { raw, regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';
import { FABRIC_NAME } from './wording.ts';

const AND = '(?:(?:and|but|so|now|then|finally|next|first|after that|from here),? ){0,3}';
const WHO = '(?:you|we|i|one)';
const SOON = "(?:(?:now|then|will|'ll|just|simply|only|also|first|next|here|really|all) ){0,3}";
const IS = '(?:is|was|will be)(?: now| then| simply| just)?(?: to)?';
const LEADS = [
  `(?:it(?: is|['’]s) )?(?:now |then |finally |high |nearly )?(?:the )?(?:time|moment)(?: has come| now)?(?: for you)? to`,
  `(?:the|your|our|my) (?:very )?(?:next|first|second|third|last|final|only|following|other) (?:thing|step|task|job|move|stage|part)(?: (?:for you|to do|now|here|${WHO} do)){0,3} ${IS}`,
  `(?:what|all)(?: that)? ${SOON}${WHO} ${SOON}(?:do|need to do|have to do|must do|need)(?: now| here| next| then){0,2} ${IS}`,
  `(?:all )?that(?: is|['’]s) left(?: to do)?(?: now)? ${IS}`,
  `${WHO} ${SOON}(?:have|need|want|ought|get|begin|start|proceed|continue) to`,
  `${WHO}(?: are| am|['’](?:re|m)) ${SOON}(?:going|about|supposed|ready|meant|to have) to`,
  `${WHO} ${SOON}are to`,
  `(?:this|here|now) is (?:where|when|the (?:place|point|moment) (?:where|when|at which)) ${WHO}(?: (?:now|then|will))?`,
  `let(?:['’]s| us)(?: now| then)?`,
  '(?:start|begin|proceed|continue|go on|carry on|move on)(?: now)? to(?= (?:knit|purl|decrease|increase|repeat|bind|cast) )',
];
const VERBS = raw`knit|purl|work|repeat|rep|continue|cont|carry|go on|keep|decrease|dec|increase|inc|bind|cast|break|cut|snip|gather|close|tie|weave|slip|place|join|turn|draw|thread|pull|fasten|rib|change|switch|begin|start|finish|end|alternate|do|make|bo|co|[kp] ?\d+|k2tog|ssk`;
const GERUNDS =
  'knitting|purling|working|repeating|decreasing|increasing|binding|casting|breaking|cutting|drawing|threading|joining|ribbing';
/** In front of an order: a line, a stop, a comma. */
const BEGINS = '\\b(?<=^[ \\t•*-]{0,8}|[.;!:)] {1,3}|, )';

const LEADING = regex.gim`${BEGINS}(${AND})(?:${LEADS.join('|')})[ ](?=(?:${VERBS})\b)`;
const BY_DOING = regex.gim`${BEGINS}(${AND})(?:${WHO} ${SOON})?(?:go on|continue|carry on|begin|start|finish|end|proceed|follow(?: this| on)?)(?: now| off)? (?:by|with)[ ](?=(?:${GERUNDS})\b)`;
/** "Knit around so: rib with k2, p2" */
const ROUND_THUS = regex.gim`(?:${BEGINS}|\b(?<=\band ))(${AND})(?:(?:knit|work|go) (?:in )?(?:the )?(?:a?round|rounds|rnds)(?: and round)?,? (?:so|thus|as follows|like this|in this way|in the following way)|work a?round)[ ]?:[ ](?=(?:${VERBS}|[0-9]+ (?:rounds|rnds))\b)`;
/** Of reminders only those that tell how many rounds or how far, or the end. */
const ROUNDS = raw`(?:another |the next )?[a-z0-9]+(?: ?\([^()\n]{1,20}\))? (?:more |plain )?(?:rounds?|rnds?|rows?|cm|inches)`;
const FAR = '[^.;\\n]{1,140}\\b(?:until|till|times|twice|for \\d+ (?:rounds?|rnds?|rows?))\\b';
const ONCE = '(?![^.;\\n]{0,60}\\b(?:between|each|every|always)\\b)';
const REMINDING = regex.gim`${BEGINS}(${AND})(?:(?:do not|don['’]t) forget|remember|be sure|make sure|take care|be careful)(?: to| (?:that )?you)[ ](?=(?:knit|purl|work|rib|repeat|rep|continue|decrease|increase) ${FAR}|(?:(?:knit|purl|work|rib) ${ROUNDS}|(?:bind|cast) off|bo)\b${ONCE})`;

/** … in front of rounds that have no verb: "next come 6 knit rounds", "this is followed by 2 purl rounds". */
const COUNTED = raw`(?:(?:another|a|an|one|two|three|four|five|six|seven|eight|nine|ten|twelve|\d{1,3}) )(?:more |further )?(?:plain |knit |purl |garter |rib )?(?:rounds?|rnds?|rows?)\b(?! (?:form|make|are|is|have|should|will))`;
const COMING = regex.gim`${BEGINS}${AND}(?:(?:come|comes|there (?:now )?follows?|(?:this|it|that|which) is (?:now |then )?followed by|follow (?:this|it|that|on) with|go on with|carry on with|now for|plus|add|do|on to)(?: now| then)?)[ ](?=${COUNTED})`;
/** "6 rounds of knit follow" */
const FOLLOWING =
  /(?= (?:now |then )?follows?)(?<=\b(?:rounds?|rnds?|rows?)(?: (?:of|in|all) (?:knit|purl|garter|rib|stockinette|moss|seed)(?: st(?:itch)?)?)?)() (?:now |then )?follows?(?: next| now| here)?(?=[.;])/gim;

/** "Start decreasing: every 2nd round, …" */
const SHAPING_BEGINS = regex.gim`${BEGINS}(${AND})(?:start|begin) (?:the |your )?(?:decreasing|decreases|increasing|increases|shaping)(?: now)?[ ]?:[ ](?=(?:on |in )?(?:every|each|alternate)\b(?! (?:rows?|rounds?|rnds?) (?:is|are)))`;

/** "Place markers at each corner as foll: k21, place marker": a round, whose markers its stitches place. */
const PLACING = regex.gim`${BEGINS}(?:${AND}(?:divide|split|mark|section)(?: off| up)? (?:the|your|this)? ?(?:square|work|round|rnd|sts|stitches|piece)(?: up| off)? (?:in|into) (?:4|four|quarters|sides|sections)(?: (?:equal )?(?:parts|sections|quarters|sides))?|pm|(?:place|placing|set|put in|add) (?:the |your |four |4 )?(?:stitch |corner )?markers)(?: (?:at|for|in) (?:each|every|all|the)(?: of the)?(?: 4| four)? corners?)?(?:,? (?:on|in|over) (?:the )?(?:next|following) (?:round|rnd|row))?(?:,? (?:as follows|as foll\.?|thus|like this))?[ ]?:[ ](?=(?:\*|k|p|knit|purl)[ ]?\d)`;

/** "As you work round 1, place a marker after every 24 sts": markers placed before it, or as it is worked. */
const AS_WORKED = regex.gim`(?:${BEGINS}|\b(?<=\band,? ))(${AND})(?:set-?up[ ]?:[ ])?(?:(?:as|while|when) (?:you |we )?(?:work|working|knit|knitting|purl|purling)|in|on|during) (?:(?:the )?(?:first|1st) (?:round|rnd|row)|(?:round|rnd|row) (?:1|one))[ ]?,?[ ](?=(?:place|put|hang|slip|clip|attach|insert)[ ](?:a |the |your |stitch |locking |removable |[a-z]+ )?(?:markers?|m)\b|pm\b)`;

/** "Knit 1 round, then work a decrease round as follows: …": a label with its stitches. */
const NAMED_ROUND = regex.gim`(?:,? (?:and then|then|and)|${BEGINS}${AND})[ ]?\b(?:work|knit|make|do) (?:a|an|one|1|another|the first)[ ]((?:dec(?:rease)?|inc(?:rease)?|shaping|eyelet|lace|cable|ridge) (?:round|rnd|row))(?: (?:as follows|as foll\.?|thus|like this|this way|in this way))?[ ]?:[ ](?=[*([]|(?:on|at|k|p|knit|purl|slip|sl|ssk|skp|skpo|yo|yfwd|kfb|m1[lr]?|k2tog|p2tog|[kp] ?\d+)\b)`;

const BEHIND = `(?:,? (?:and then|then|and)|${BEGINS}${AND})`;
const LAST_ONE = '(?:a|an|one|1|another|the)(?: (?:last|final|single|further))?';
const TOGETHER = '(k2tog|k3tog|ssk|sssk|p2tog|p3tog)';
/** "Finish off with a k3tog round", "then work a round of k2tog" */
const TOGETHER_ROUND = regex.gim`${BEHIND}[ ]?\b(?:(?:(?:finish|end|close)(?: off)?(?: with| by(?: working| knitting)?)?|work|knit|do) |(?<=then |, ))${LAST_ONE} (?:${TOGETHER}[ -](?:round|rnd|row)|(?:round|rnd|row) of ${TOGETHER}s?)(?:[ ]?,(?: and then| then| and)?(?=[ ])|(?=[ ]?(?:[.(;=:]|-|$)))`;
/** "dec round again (ssk, k12, k2tog)" */
const ROUND_BRACKETED = regex.gim`${BEHIND}[ ]?\b(?:(?:work|knit|do) )?(?:(?:a|an|the|another|one) )?(dec|decrease|inc|increase) (round|rnd|row)(?: again| once more)?,? \(((?=[a-z])(?:ssk|skpo?|k ?\d|k2tog|p ?\d|p2tog|yo|m1[lr]?|kfb|sk2p|s2kp|cdd)[^()*\n]{2,80})\)(?:[ ]?,(?: and then| then| and)?(?=[ ])|(?=[ ]?(?:[.;]|$)))`;

const FABRIC = `(?:(?:${FABRIC_NAME})(?: (?:stitch|st))?|st st|(?:single|double) rib|k ?\\d,? ?p ?\\d rib)`;
const EDGING = '(?:border|edging|edge|band|frame)';
/** "Moss st border: 4 rnds", "Border (garter stitch): 6 rounds" */
const BORDERED = regex.gim`^([ \t•*-]{0,8})(?:(${FABRIC}) ${EDGING}|${EDGING}(?:[ ]?\(| in | of |, )(?:in )?(${FABRIC})\)?)[ ]?[:,-][ ]?([a-z]{3,9}|\d{1,3}) (rounds|rnds|rows)\b(?=[ ]?(?:[.;,]|$))`;

/** "(Bind off all sts.)" on a line of its own: an end like any other. */
const BRACKETED =
  /^([ \t]{0,8})\(((?:(?:bind|cast) off\b|(?:cut|break|snip) [^()\n]{1,40} through\b)[^()\n]{0,100})\)[ \t]{0,8}$/gim;

/** The words stand behind another clause, which ends before a round of its own. */
const isBehind = ({ 0: all, index, input }: RegExpExecArray): boolean =>
  /^[ ,]/.test(all) || /, $/.test(input.slice(Math.max(0, index - 2), index));

function together(m: RegExpExecArray): string {
  const [all, one, of] = m;
  const goesOn = /,[a-z ]*$/i.test(all) ? '. ' : '';
  return `${isBehind(m) ? '. ' : ''}Next round: *${one ?? of}; rep from * to end${goesOn}`;
}

function bracketed(m: RegExpExecArray): string {
  const [, way, unit, steps] = m;
  const parted = isBehind(m);
  const name = /^d/i.test(way) ? 'Decrease' : 'Increase';
  return `${parted ? '. ' : ''}${name} ${unit}: *${steps}; rep from * to end. `;
}

/** "03:10  The frame", "[14:05] Bind off": when a film shows it. */
const STAMPS =
  /^([ \t]{0,8})[[(]?(?:\d{1,2}:)?\d{1,2}:\d{2}[\])]?[ \t]*(?:[-–—][ \t]*)?(?=[a-z*])/gim;

export function leadPhrases(text: string): Replacement[] {
  const leads = [
    LEADING,
    BY_DOING,
    ROUND_THUS,
    REMINDING,
    FOLLOWING,
    SHAPING_BEGINS,
    AS_WORKED,
    STAMPS,
  ].flatMap((re) => readAs(text, re, '', 1));
  const brackets = [...text.matchAll(BRACKETED)].flatMap(({ index, 1: lead, 2: inside }) => {
    const open = index + lead.length;
    return [open, open + 1 + inside.length].map((at) => ({ from: at, to: at + 1, text: '' }));
  });
  const bordered = ([, , before, inside, n, unit]: RegExpExecArray) =>
    `Work ${n} ${unit} in ${before ?? inside}`;
  return [
    ...leads,
    ...readAs(text, COMING, ''),
    ...readAs(text, BORDERED, bordered, 1),
    ...readAs(text, NAMED_ROUND, ([all, name]) => `${/^[ ,]/.test(all) ? '. ' : ''}${name}: `),
    ...readAs(text, PLACING, 'Next round: '),
    ...readAs(text, TOGETHER_ROUND, together),
    ...readAs(text, ROUND_BRACKETED, bracketed),
    ...brackets,
  ];
}
