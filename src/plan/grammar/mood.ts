/**
 * The mood of a sentence, clause by clause: who acts, in which tense, upon what. "So purl the next row" asks; "my mother
 * purled two rows" and "some people bind off here" tell. In: the tokens of a sentence. Out: whether it asks for work, tells
 * and asks nothing (`told`: of what somebody else does), or leaves that open.
 */
import type { Token } from '../lex/tokens.ts';
import { regex } from '../lexicon/expression.ts';
import { demandsWork } from './demands.ts';
import { ordersFabric } from './imperatives.ts';
import { leavesOut } from './limits.ts';

export type Mood = 'asks' | 'tells' | 'told' | null;

interface Clause {
  /** The mark or the word before it. */
  readonly opener: string;
  readonly text: string;
}

/** Most tokens of a sentence that is judged. Chosen: bounds the time; a long one has 60. */
const LONGEST = 120;

const JOINS = /^(?:and|but|or|so|then|yet)$/;
const SUBORDINATES =
  /^(?:because|since|as|when|whenever|if|unless|while|where|which|who|that|until|till|before|after|though|although|than|whatever|once)$/;
/** "that one", "at that point", "once more": no clause begins there. */
const NO_CLAUSE =
  /^(?:one|1|is|was|way|point|row|round|rnd|stitch|more|again|makes?|leaves?|\d+|round|a)$/;
const POINTS_AT =
  /^(?:slip|knit|purl|make|of|at|on|in|to|do|like|for|from|with|not|just|only|such|work)$/;

/** The sentence in clauses, its leading words taken off. */
function clausesOf(tokens: readonly Token[]): Clause[] {
  const out: Clause[] = [];
  let opener = '';
  let words: string[] = [];
  const close = (next: string): void => {
    if (words.length > 0) out.push({ opener, text: words.join(' ').replace(/ - /g, '-') });
    else if (opener && !'.,'.includes(opener) && ',.'.includes(next)) return;
    opener = next;
    words = [];
  };
  for (const [i, { kind, text, spaced }] of tokens.entries()) {
    const next = tokens[i + 1];
    if (kind === 'line') continue;
    if (
      kind === 'mark' &&
      (',;:().!?'.includes(text) || (text === '-' && spaced && next?.spaced))
    ) {
      close(text);
      continue;
    }
    const fixed = /^(?:that|once)$/.test(text);
    const begins =
      SUBORDINATES.test(text) &&
      !(fixed && (NO_CLAUSE.test(next?.text ?? '.') || POINTS_AT.test(tokens[i - 1]?.text ?? '')));
    if (kind === 'word' && (begins || JOINS.test(text))) {
      close(text);
      continue;
    }
    words.push(text);
  }
  close('');
  return out;
}

const ROUNDS = '(?:rounds?|rnds?|rows?|ridges?)';
const CRAFT = `(?:${ROUNDS}|sts?|stitch(?:es)?|loops?|decreas(?:e|es|ing)|increas(?:e|es|ing)|yarn overs?|repeats?)`;
/** Verbs that make stitches, and those that leave them out. */
const WORK =
  '(?:knit|purl|k|p|work|rework|repeat|rep|redo|skip|omit|decrease|dec|increase|inc|cast (?:on|off)|bind off|bo|slip|rib|leave out|leave off|pass over|add|insert)';
const WORKING =
  '(?:knitting|purling|working|repeating|skipping|omitting|decreasing|increasing|casting (?:on|off)|binding off|slipping|leaving out|adding)';
const WORKED =
  '(?:knitted|knit|purled|worked|repeated|skipped|omitted|left (?:out|off|unworked)|slipped|dropped|bound off|cast (?:on|off)|decreased|increased|added|picked up)';
/** What work is done to, or how much of it. */
const OBJECT = regex.plain`\b(?:\d+|${CRAFT}|all|every|each|both|them|it|this|these|those|another|again|twice|times|instead|next|last|first|second|garter|stockinette|rib|moss|seed|across|further|more|same|rest|remaining)\b`;
/** A bare verb of work begins the clause. */
const BARE = regex.plain`^(?:(?:then|now|just|simply|always) )*(?:${WORK}|pass|draw|turn)\b`;
const SOON = '(?:now |then |just |simply |also |only |first |still |really |here |always |next )*';
const DUTY = `(?:will |should |must |shall |have to |need to |ought to |want to |will (?:want|need|have) to |had better |are to |are going to |do )?`;

const LEADS =
  /^(?:(?:and|but|so|then|now|or|just|simply|please|also|too|here|first|next|finally|rather|better|dear|well|oh|this time|after that|afterwards?|at this point|from (?:here|now)(?: on)?|once more|again|for (?:once|now)|only|quickly|instead|let us|time to|therefore|remember to|[a-z]{3,}ly) )+/;
/** "On the next round purl …": where, in front of the verb. */
const PLACED = regex.plain`^(?:on|in|at|along|for|from|over|to|with|during|across|between|after|before) (?:[a-z0-9'-]+ ){1,7}?(?=(?:you |we )?(?:${WORK}|make|put|leave|cross|add|start|stop|change|replace) )(?<!(?:the|a|an|every|each|to|it|would|will|can|could|may|might|plain|of|first|last|next|your|these|this|no|between|you|we|i|they|who|that|(?<!(?:needle|round|rnd|row|side|needles|rounds|rows) )\d+) )`;

/** Verbs of everyday that change the work by what they are done to. */
const CHANGES: readonly RegExp[] = [
  /^do (?:\d+|a|an|another|the|those|these|that|it|this|both)\b.*\b(?:rounds?|rnds?|rows?|again|twice|times|once more|over|only|purl|knit|too|decreases?|instead|in (?:purl|knit|rib))\b/,
  /^(?:begin|start|commence|go (?:round|over|back|through)|run|play) (?!again$).*\b(?:again|once more|afresh|anew|over again)\b/,
  /^(?:dec|decrease|inc|increase)s? (?:only )?(?:at|on|in|along)\b|^(?:start|begin) with an? (?:extra|further|second)\b|^(?:start|begin) over\b|^make do with \d+/,
  /^(?:bring in|start|begin|make|swap|exchange|twist|fold|reverse|even (?:it|them) out) .*\b(?:(?:purl|knit|plain|extra|garter|moss|first|last|second|next|previous) (?:rounds?|rnds?|rows?|ridges?|sts|stitches|rib)|for purl|(?:rounds?|rnds?|rows?) \d+|contrast(?:ing)? colou?r)\b(?<!^(?:start|begin)(?:ning|ing)? with an? (?:purl|knit|plain) .*)/,
  /^leave .*\b(?:live|open|unworked|on (?:a|the) (?:thread|holder|pin|spare))\b|^take \d+ (?:sts|stitches|loops) (?:off|away|from|out)\b/,
  /^(?:take|bring|get|draw|let|cut|raise|reduce|lower|whittle) (?:it|them|the (?:count|number|total|sts|stitches|work|piece))\b.*\b(?:to|at) \d+\b(?! (?:cm|mm|in(?! 1 )|inch))/,
  /^(?:alternate|change|stripe)\b.*\b(?:colou?rs?|yarns|yarn [b-h])\b/,
  /^(?:make|let) (?:that|it|them|this|these|those) \d+\b/,
  /^(?:make|shape|give it|have|put in|work in|throw in|fit in|slot in|insert|add|sneak in|allow)(?: yourself| it)? (?:it )?(?:a|an|another|\d+|some|1 more)\b.*\b(?:rounds?|rnds?|rows?|ridges?|decreases?|increases?|eyelets?|buttonholes?|slit|opening|thumb|gusset|flap|hem|dart|tuck|picots?|cables?|bobbles?|sts|stitch(?:es)?)\b/,
  /^give (?:it|yourself|the|your|each|every|this|that)\b.*\b(?:a|an|another|\d+|1 more)\b.*\b(?:rounds?|rnds?|rows?|ridges?|decreases?|increases?|sts|stitches)\b/,
  /^do (?:it|that|this)(?: too| now| here| please| then)*$/,
  /^(?:go|skip|jump|move) (?:straight |right |directly |on |back |over )*(?:on |ahead )?to (?:the )?(?:breaking|closing|binding|casting|rounds?|rnds?|rows?|step|border|last|next|bind|cast|end|final|k2tog|decrease)\b/,
  /^(?:go back|go over|go on|go (?:down|up)(?= (?:to )?\d)|carry on|keep going|continue|keep on|keep)\b.*\b(?:\d+|sts|rounds?|rnds?|rows?|again|yarn|colou?r)\b/,
  /^(?:do )?(?:stop|end|finish|halt|quit)\b.*\b(?:\d+|sts|stitches|rounds?|rnds?|rows?|decreas\w+|repeats?|early|earlier|sooner)\b/,
  /^(?:start|begin|commence)(?: again)?(?: straight| right| directly)? (?:with|at|from|on|by)(?: the)? (?:rounds?|rnds?|rows?|step|\d+|second|third|next)\b/,
  /^(?:take (?:away|out|off)|leave|drop|lose|pull out|rip out|unravel|undo) (?:out |off |away )?(?:the |all |every |that |this |these |those |your )*(?:[a-z-]+ )?(?:\d+|first|last|next|second|final|rounds?|rnds?|rows?|decreases?|increases?|sts|stitches|yarn overs?)\b/,
  /^(?:forget|ignore|disregard|scrap|drop|delete|strike|cross out|strike out|never mind|don't bother|do not bother|dispense|do without|save yourself|spare yourself|jump|miss|pass)\b.*\b(?:rounds?|rnds?|rows?|decreases?|increases?|repeats?|instruction|line|purling|next|following|1)\b/,
  /^(?:double|halve|replace|swap|exchange|reverse|switch) (?:the |all |this$|that$|these$|those$|every |each |both |round |rnd |row |it )/,
  /^(?:purl|knit) (?:on|away|along|straight|it|them|this|instead)\b/,
  /^(?:put|place|set|slot) (?:a|an|another|\d+|1 more)\b.*\b(?:rounds?|rnds?|rows?|ridges?|buttonholes?|slit|opening|thumb)\b/,
  regex.plain`^(?:do not|don't|never|needn't|no need to|(?:you|we) (?:must|should|need|do) not|(?:you|we) (?:needn't|don't))(?: need to| have to)? (?:${WORK}|do) (?=(?:the|this|that|these|those|it|them|round|rnd|row|rounds|\d+)\b)(?!.*\b(?:yet|too|tight|loose|so|hard|more|between|plain|even|wrong|markers?)\b).*\b(?:${CRAFT}|\d+|it)\b`,
  /^pick up (?:and knit )?(?:\d+|all|the sts|sts|stitches)\b/,
  /^let (?:every|each|all|the|\d+|both|those|these)\b.*\b(?:fall|drop|slip|run|go|off)\b/,
  /^turn (?:the work )?and (?:purl|knit|work)\b/,
  /^(?:do|have|work|take) (?:so|likewise|the same)\b/,
  /^(?:try|consider|better|best|why not|how about|i suggest|i recommend|i advise|i propose|i prefer) (?:to )?(?:knit|purl|work|repeat|skip|omit|leav|decreas|increas|cast|bind|slip|add)/,
];
/** It is only how it is done that is asked. */
const MANNER =
  /^(?:[a-z]+ )(?:it |them |this |these |sts |the (?:edge|sts|stitches|first|last) ?)?(?:on )?(?:very |quite |rather |nice and |as )?(?:loosely|tightly|firmly|evenly|neatly|gently|slowly|loose|tight|carefully)?$|\b(?:your way|my way|in peace|with joy|for fun|(?<!\b(?:at|before|after|past|to|beside|of) (?:each|every|the|both|all|either|next) )markers?|bag|paragraph|page|chapter|section|dinner|tea|swatch|blocking|wool)\b/;

/** The reader is to do as was told: "and so should you". */
const SAME =
  /\bso (?:should|must|ought|will) (?:you|we)\b|\b(?:you|we) (?:should|must|had better|ought to|will want to) (?:do (?:so|that|it|the same|likewise)|too\b|as well\b)|\b(?:that|which) is what (?:you|we) (?:should|must|need to|have to|do|will)\b|\bdo (?:the same|likewise|as i do)\b|\bfollow (?:suit|my example)\b|\b(?:so|and|now) (?:please )?do(?: so)?[ .!]*$/;
/** A whole sentence that asks, whatever its clauses are. */
const ASKS: readonly RegExp[] = [
  regex.plain`\b(?:next|following|other|last|this) ${ROUNDS} (?:you|we) (?:now |then |just |simply |only )*(?:knit|purl|work|k|p)\b`,
  /\bevery (?:third|fourth|[3-9](?:rd|th)) (?:rounds?|rnds?|rows?) (?:is|gets|stays|remains|has)\b/,
  /\b(?:whatever|no matter what|never mind what|regardless of what|despite what) (?:it|the|they|is|we|i)\b.{0,40}\b(?:says?|said|told|printed|written|stated|given|asks?|gave)\b|\b(?:where|than) it says\b|\bthan (?:you are |is )?(?:told|printed|written|stated|given|asked)\b/,
  regex.plain`\b(?:comes?|follows?|goes|belongs?|fits?|there is|is|are)(?: now| here| next| then| first| also| in)* (?:a|an|another|1 more|\d+(?: more)?) (?:[a-z]+ )?${ROUNDS} (?:of|in) (?!the |all )`,
  /\b(?:is|are) to be (?!seen|found|expected|had|hoped|admired|avoided|preferred)[a-z]+(?:ed|en|t|n|d)\b/,
  /\b(?:you|we) (?:will |would )?(?:want|need) (?:another )?\d+ more\b|\b\d+ (?:[a-z]+ ){0,2}(?:will|would) (?:do|suffice|be enough)\b|\b\d+ (?:[a-z]+ )?(?:is|are) too (?:many|few)\b|\byou do \d+$|\bas (?:much|many) again\b/,
  regex.plain`\bfrom (?:now|here|this point)(?: on(?:wards?)?)?(?=$| ?[,.;])(?<!\b(?:no (?:more|further)|not|don't|pattern)\b.*)(?<=\b(?:${ROUNDS}|decreas\w+|increas\w+|yarn|colou?r|purl)\b.*)(?<!\b(?:shorter|smaller|longer|larger|easier|quicker|faster|looks?|feels?|goes|grows?|shrinks?|quickly)\b.*)`,
  regex.plain`\b(?:an?|another) (?:second|third|further|extra|last|more) (?:[a-z]+ )?${ROUNDS} (?:belongs|comes|follows|goes|fits|is (?:worked|added|made|needed))\b`,
  regex.plain`\b(?:\d+ (?:more |further |extra )?(?:[a-z]+ )?${ROUNDS}(?: in [a-z]+| of [a-z]+)? (?:are|get) (?:now |then )*${WORKED}(?! in all| altogether| so far| by now)|(?:${ROUNDS}|these|this|it) (?:is|are) (?:then |now )?repeated\b(?! (?:to|until|around|between|from|below|above|throughout|as|all|\d)))`,
  regex.plain`\b(?:it|this|that) (?:is (?:[a-z]+ ){1,4}|pays|helps|would be [a-z]+) ?to ${WORK} (?=.*(?:more|extra|another|instead|\d+|the next|this|twice|again))`,
  regex.plain`\b(?:do|trick|secret|rule|thing|idea|plan|answer|best|advice|tip|cure|remedy)(?: here| now)? is (?:just |simply |always )*(?:to )?${WORK} (?:\d+|a|an|the|it|all|every|each|another)\b`,
  regex.plain`\bi (?:would )?(?:advise|urge|tell|ask|want|like|need|beg) you to ${WORK}\b`,
  regex.plain`\bi (?:would|should|'d)\b(?! have).*\b${WORK} (?:\d+|a|an|the|it|all|every|each|another|on)\b`,
  regex.plain`\bi (?:wouldn't|would not|shouldn't|should not)\b.*\b${WORK} (?:the |this |that )?(?:next|coming|following|last|first|${ROUNDS})\b`,
  regex.plain`\b(?:rounds?|rnds?|rows?) (?:[a-z-]+ ){0,3}(?:should|must|has to|have to|is to|are to|needs? to|ought to) (?:[a-z]+ )?be ${WORKED}\b`,
  regex.plain`\b(?:are|is) (?:then |now |all |simply |just )*${WORKED} (?:for|over|in) (?:a|an|another|\d+)\b.*${ROUNDS}`,
];

/** Leaves it to the knitter, or is about another piece. */
const LEFT =
  /^(?:if|in case|should)$|^optional|^(?:if|should|had) (?:you|your|it|they|there|this|that|one|the|yours|somebody|someone|anyone)\b|^in case\b|^(?:in|for|on) (?:the|my|our|a|her|his) (?:[a-z]+ )?(?:shawl|hat|scarf|cowl|socks?|sleeve|bag|rug|hexagon|pentagon|triangle|circle|version|edition|printing|leaflet)\b|^(?:for|in|on) (?:the |a |any |all )?(?:other |much |even )?(?:bigger|larger|smaller|wider|longer|large|small|big|other|round|new|second|first edition|earlier|old)\b.*\b(?:squares?|sizes?|version|mat|one|blanket|edition|printing|leaflet|piece|book|pattern|chapter)\b|^(?:those|anyone|knitters|people|readers|beginners|everyone|everybody)$/;
/** What is left to nobody after all. */
const ALL_THE_SAME =
  /\b(?:all the same|anyway|anyhow|regardless|in any case|nevertheless|either way|even so)\b/;
/** "you may knit 2 more rounds" */
const MAY = regex.plain`^(?:you|one) (?:can|may|could|might) ${SOON}${WORK}\b`;
const PERSON =
  '(?:people|knitters?|readers?|testers?|beginners?|books?|teachers?|friends?|editor|publisher|magazines?|designers?|leaflets?|neighbou?r|children|child|kids|cat|dog|daughter|son|husband|wife|sister|brother|cousin|niece|nephew|[a-z]*mother|[a-z]*father|[a-z]*parents|aunt(?:ie)?|uncle|gran|grandma|grandpa|nan|granny|grandad|mum|dad|mom|lady|ladies|woman|women|man|men|girl|girls|shop|group|guild|class|student|students|others|hands)';
/** Somebody else acts. */
const OTHERS = regex.plain`^(?:(?:once|years ago|long ago|sometimes|often|nowadays|here|of course|(?:in|on|at) (?:her|his|their|other|some|older|another|many|most) [a-z]+) )*(?:(?:he|she|they|everybody|everyone|nobody|somebody|someone|some|most|many|few|others|hers|his|nobody else|${PERSON})\b(?! of the sts)|(?:(?:my|our|his|her|their|your|some|many|most|other|these|those|the|a|an|old|good|several|\d+|one|two|of)\b ?){1,4}(?:[a-z-]+ ){0,2}${PERSON}\b)`;
const TELLERS = regex.plain`^(?:he|she|they|everybody|everyone|nobody|somebody|someone|some|most|many|few|other|others|my|our|his|her|their|in|on|at|once|sometimes|yo|psso|ssk|skp|those|${PERSON})$`;
/** A sentence that begins with this word may be told of somebody else. */
export function mayTell({ kind, text }: Token): boolean {
  return kind === 'number' || TELLERS.test(text);
}

/** "Psso is short for …", "Ssk, in case you have never met it: …": what a stitch is. */
const DEFINES =
  /^\(?\W*(?:a |an |the )?(?:yo|ssk|psso|skp|k2tog|p2tog|s2kp|kfb|cdd|yarn over)\b(?: (?:is|are) (?:short|another|the same as|only|just|simply|british|american|an? (?:abbreviation|way))\b| (?:stands|means)\b|,? ?(?:in case|for those|which some|as you|if you)\b[^:]{0,80}:)/;
/** "2 rounds are done": how far the work is. */
const SO_FAR =
  /^\W*(?:(?:and|so|then|now|here|,) )*\d+ (?:(?:decrease|increase) )?(?:rounds|rows|rnds) (?:are|have been) (?:now |already )?(?:done|finished|completed?|behind)\b/;
/** "Three rounds of eyelets frame a smooth ground", "from here on the decreases eat into the rib": what the work looks like. */
const DESCRIBES =
  /^(?!.*\b(?:and|then|to) (?:knit|purl|work|slip|rep|repeat|cast|bind|continue|inc|dec|increase|decrease)\b(?! (?:sts?|stitch|stitches|bumps?|sides?)\b))(?:(?:from|after|by) (?:here|now|this|that|then|there)(?: on| onwards?)? ,? ?|here |now |soon )?(?:the|a|an|these|those|some|\d+|both|all)(?: (?!sts?\b|stitch)[a-z-]+){1,6} (?:frames?|surrounds?|encloses?|encircles?|outlines?|eats?|swallows?|nibbles?|disappears?|vanish(?:es)?|dissolves?|melts?|spirals?|radiates?)(?: (?:into|up|away|in|the|a|an|each|all|every|its|their|out|from|towards?|at|by|one|and|then))+(?: [a-z-]+)* ?[.!]*$/;
/** What the writer, or both, did. */
const DID =
  /^(?:(?:once|here|at first|last year|years ago|for this|in the end|on (?:the|my) sample|originally) )*(?:i|we)(?: (?:have|had|once|first|always|never|just|still|only|also|even|both|twice))* (?:was|were|did|had|made|took|began|began|got|went|lost|found|thought|tried|used|knew|came|gave|left|[a-z]{3,}ed)\b/;
/** A thing is told of: something that is no round, stitch or needle. */
const PLAIN_TELLING =
  /^(?:it|that|this|there|nothing|what|who|how|why|mine|the|a|an|my|our|your|these|those|no|all|each|every|any|here|on|in|at|by|for|with|from|without)\b/;
const FINITE =
  /\b(?:is|are|was|were|has|have|had|does|did|will|would|can|can't|could|may|might|isn't|aren't|wasn't|doesn't|won't|looks?|goes|gives?|makes?|takes?|keeps?|stays?|shows?|leans?|lies?|sits?|hangs?|wants?|feels?|comes?|helps?|means?|needs?|seems?|appears?|tells?|stands?|forms?|runs?|falls?|rises?|follows?|frames?|surrounds?|encloses?|encircles?|outlines?|meets?|divides?|separates?|breaks?|radiates?|travels?|eats?|began|became|[a-z]{4,}ed)\b/;
/** "look at the corner", "notice how …", "compare the large version": only the eye is asked for. */
const LOOKS =
  /^(?:look|notice|compare|observe|see|admire|imagine|picture|think|feel|don't (?:worry|panic|scream|pull|be|despair|mind|fret)|do not (?:worry|panic|be)|hold|mind|thank|congratulations|count|check)\b/;

/** Several act, now or always, so that a bare verb behind "and" is theirs: "some slip two, knit one and pass both over". */
const SEVERAL =
  /^(?:some|many|most|few|several|other|others|they|we|those|all|people|knitters|readers|beginners|testers|books)\b/;
const PAST = /\b(?:was|were|had|did|went|got|made|took|came|gave|began|[a-z]{3,}ed)\b/;

/** Behind the end of a piece: more is to be knitted. */
export function asksForMore(tokens: readonly Token[]): boolean {
  const said = tokens.map((t) => t.text).join(' ');
  return (
    /\b(?:(?:knit|purl|cast on|pick up|work|repeat) (?:\d+(?! (?:more )?(?:squares|pieces|blocks|patches|motifs|tiles|of (?:them|these))\b)|another|an?|the same|from|rounds?|rows?|again)|do (?:it|this|that|the same|all)\b.*\b(?:again|\d+|times)|do the same|\d+ (?:more|further|extra) (?:[a-z]+ )?(?:rounds?|rnds?|rows?|ridges?)|(?:another|an extra|a further|a last|1 last) (?:[a-z]+ )?(?:round|rnd|row|ridge))\b/.test(
      said,
    ) &&
    !/=|; [a-z0-9]{1,6} - [a-z]|\b(?:knit|make|work) (?:a|an|another|1)(?: second| new| third| whole| matching| 2nd)? (?:square|block|patch|tile)\b(?!.*\b(?:rounds?|rnds?|rows?) \d)|\b(?:crochet|homework|at home|means?|next (?:week|time))\b/.test(
      said,
    ) &&
    moodOf(tokens) === 'asks'
  );
}

/** Whether a sentence asks for work, only tells, or leaves it open. */
export function moodOf(tokens: readonly Token[]): Mood {
  if (tokens.length === 0 || tokens.length > LONGEST) return null;
  const clauses = clausesOf(tokens);
  if (clauses.length === 0) return null;
  const said = clauses.map((c) => `${c.opener} ${c.text}`).join(' ');
  const plain = tokens
    .map((t) => t.text)
    .join(' ')
    .replace(/ ,/g, ',');
  if (SAME.test(said) || OFTEN.test(plain) || demandsWork(plain.replace(LEADS, ''))) return 'asks';
  if (DEFINES.test(plain) || SO_FAR.test(plain)) return 'told';
  if (DESCRIBES.test(plain)) return 'tells';
  let left = false;
  /** Who acts in the clause before: somebody else, and whether a bare verb may go on with it. */
  let other: 'one' | 'several' | null = null;
  let told = false;
  /** The words that are neither left to the knitter nor somebody else's. */
  let own = '';
  /** Things are told of, and "and" goes on with them. */
  let thing = false;
  let tells = true;
  for (const [i, { opener, text }] of clauses.entries()) {
    if (/^[;.!?()]$/.test(opener) || ALL_THE_SAME.test(text)) left = false;
    else if (/^(?:if|unless)$/.test(opener) || LEFT.test(text) || MAY.test(text)) left = true;
    if (SUBORDINATES.test(opener)) {
      if (!left && !other) own += ` ${opener} ${text}`;
      // "After every repeat purl 1 round"
      if (
        !left &&
        /^(?:after|before)$/.test(opener) &&
        `${opener} ${text}`.replace(PLACED, '').length < text.length
      )
        if (asksIn(`${opener} ${text}`, '', false)) return 'asks';
      continue;
    }
    const goesOn =
      /^(?:and|or|but|,|then)$/.test(opener) || (opener === ':' && other === 'several');
    if (OTHERS.test(text) || DID.test(text)) {
      other =
        (SEVERAL.test(text) && !PAST.test(text)) || /\bto [a-z]/.test(text) ? 'several' : 'one';
      told = true;
      continue;
    }
    if (/^(?:you|we|i)\b/.test(text) || !goesOn) other = null;
    if (!left && !other) own += ` ${opener} ${text}`;
    if (left || (other === 'several' && BARE.test(text))) continue;
    // "stop" and "when you have 24" say it together.
    let whole = text;
    for (let k = i + 1; SUBORDINATES.test(clauses[k]?.opener ?? ''); k++)
      whole += ` ${clauses[k].opener} ${clauses[k].text}`;
    if (i === 0 && NO_VERB.test(text) && !FINITE.test(text)) return 'asks';
    if (asksIn(text, whole, thing && /^(?:and|or|but)$/.test(opener))) return 'asks';
    thing = PLAIN_TELLING.test(text) && FINITE.test(text);
    if (!(LOOKS.test(text) || declares(text) || (other && !BARE.test(text)))) tells = false;
  }
  if (ASKS.some((re) => re.test(own))) return 'asks';
  return tells ? (told ? 'told' : 'tells') : null;
}

/** "two more plain rounds": no verb tells what to do with them, and there they stand. */
const NO_VERB =
  /^(?:then |now |here |next |first |and )*(?:a|an|another|no|\d+)(?: more| extra| further| second| third| border| purl| purled| knit| knitted| plain| garter| eyelet| of these| of those)* (?:rounds?|rnds?|rows?|ridges?|repeats?)(?! (?:ago|later|before|below|above|back|down|behind|away|in all|altogether|left|to go|short))(?: of [a-z ]+)?(?: more| now| here| first| next| then| like (?:that|this|these)| the same| please| this time| rather)*$/;
/** "once more", "same again", "twice", "4 times is enough": nothing but how often. */
const OFTEN =
  /^(?:and |now |then |the |same|all|of|it|this|that|you do |two by two |2 by 2 | )*\b(?:again|once more|once again|twice|thrice|another \d+|\d+ more|\d+ again|(?:not more than |no more than |only |just )?\d+ times)(?: over| now| please| more| is| are| will| be| do| enough| plenty| with .*|[ ,.!])*$/;
const WORKS = regex.plain`^${WORK}\b`;
/** "you should now", "we then" */
const READER = regex.plain`^(?:you|we) ${SOON}${DUTY}${SOON}(?=${WORK} )`;
/** "you then take …": what the reader does, and not only what comes of it. */
const ACTS = regex.plain`^(?:you|we|one|the (?:knitter|reader)) ${SOON}${DUTY}${SOON}(?!(?:have|get|see|lose|gain|find|want|need|feel|know|notice|reach|count|end|come|go|are|will|can|begin|start|love|like|think|say|call|hear|prefer|may|might|could|would|should|must|do|did|had|were|was|also|always|never|often|only|made|got|took)\b)`;
const READER_CHANGES = regex.plain`^(?:you|we) (?:can |may |could |might )?${SOON}${DUTY}${SOON}(?=(?:begin|start) (?:with|at|from) (?:round|rnd|row)|go (?:straight|back|right)|leave out|insert|double|replace|forget|ignore|disregard|drop |do (?:it|this|that|so) )`;
const BUSY = regex.plain`^(?:you|we) (?:will |are )(?:now )?be ?(?=${WORKING})`;
const DONE = regex.plain`\b(?:is|are|be|gets?) (?:now |then |all |always |only |just |again |not )*${WORKED}\b`;
/** "three more rounds would look heavy": nobody is asked to. */
const WOULD =
  /^(?!(?:i|you|we)\b)(?!.*\b(?:better|best|idea|time) (?:to|if)\b).*\b(?:would|wouldn't)(?: not)? (?!like you|have you)[a-z]/;
const WORKINGS = regex.plain`\b${WORKING}\b`;
const COUNTED = regex.plain`\b\d+ (?:more |fewer |extra )?${CRAFT}`;
const BARE_WORK = regex.plain`(?<!\b(?:the|a|an|to|of|every|each|plain|no|two|these|those) )\b${WORK} `;

/** A clause that is no part of another asks for work. */
function asksIn(words: string, whole: string, goesOn: boolean): boolean {
  const text = words.replace(LEADS, '');
  const placed = WORKS.test(text) ? text : text.replace(PLACED, '');
  const done = placed.replace(READER, '').replace(READER_CHANGES, '');
  if (WORKS.test(done)) {
    if (MANNER.test(done) || isNoun(done)) return false;
    if (OBJECT.test(done.replace(WORKS, ''))) return true;
  }
  if (BUSY.test(text)) return /\b\d+\b|\bnext\b/.test(text);
  if (goesOn && /^(?:make|form|give|keep|let|leave|create|hold|show|take)\b/.test(done))
    return false;
  if (ordersFabric(done) || ordersFabric(text) || ordersFabric(done.replace(ACTS, ''))) return true;
  if (goesOn || /\bmarkers?\b/.test(text)) return false;
  return CHANGES.some((re) => re.test(done) || re.test(text) || re.test(whole.replace(LEADS, '')));
}

/** "knit stitches stand side by side": no verb. */
function isNoun(text: string): boolean {
  return (
    /^(?:knit|purl|decrease|increase|slip|work|rib|repeat)\b (?:sts|stitch(?:es)?|rounds?|rows?|rnds?|bumps?|sides?|ridges?|columns?)\b/.test(
      text,
    ) && FINITE.test(text)
  );
}

/** Something is told of that is no count, and nothing that is worked. */
function declares(text: string): boolean {
  if (WOULD.test(text)) return true;
  if (/^i\b/.test(text))
    return !COUNTED.test(text) && !BARE_WORK.test(text) && !WORKINGS.test(text);
  return (
    PLAIN_TELLING.test(text) &&
    FINITE.test(text) &&
    !COUNTED.test(text) &&
    !BARE_WORK.test(text) &&
    !DONE.test(text) &&
    !leavesOut(text)
  );
}
