/**
 * Clauses that order something of the fabric, whatever their verb: "get rid of a stitch on each needle", "part the work at the
 * middle", "grow it to 104", "narrow once more". Every imperative upon stitches, rounds or all of the work is one, but for
 * those that a rule here names as harmless: looking, care, where the stitches lie. In: the words of one clause. Out: whether it is such.
 */
import { CLASSES } from '../lexicon/classes.ts';
import { EVERYDAY } from '../lexicon/everyday.ts';
import { raw, regex } from '../lexicon/expression.ts';
import {
  CARE_VERBS,
  CRAFT_NOUNS,
  DETERMINERS,
  EVERYDAY_VERBS,
  FABRIC_WORDS,
  FILLERS,
  MODALS,
  PRONOUNS,
  REMARK_LEADS,
  SIDE_WORDS,
  STITCH_WORDS,
} from '../lexicon/words.ts';

/** What no verb in the imperative is. */
const NO_VERBS: readonly ReadonlySet<string>[] = [
  DETERMINERS,
  PRONOUNS,
  MODALS,
  REMARK_LEADS,
  CRAFT_NOUNS,
  FABRIC_WORDS,
  SIDE_WORDS,
  STITCH_WORDS,
  FILLERS,
];
const NOUNS =
  /^(?:another|such|few|several|many|most|more|shape|shaping|begin|start|commence|continue|cont|go|carry|proceed|back|straight|only|about|down|over|under|through|across|along|between|once|twice|again|yes|no|ok|well|today|photo|picture|figure|chapter|page|part(?= (?:\d|one|two|a|b|i)\b)|step|lesson|congratulations|number|odd|wrong|right|main|gauge|tension|size|sizes|colour|color|yarn|wool|cotton|above|below|left|thanks|hi|hello|dear|inside|outside|beside|behind|like|unlike|during|since|per|despite|via|upon|plus|minus|not|how|so|multiple|comments|every|sample|version|material|materials|experts?|beginners?)$/;
/** They are looked at, or thought of. */
const LOOKS =
  /^(?:count|check|mark|tick|measure|read|reread|write|note|see|look|watch|show|photograph|compare|notice|observe|admire|enjoy|love|find|recognise|recognize|identify|spot|imagine|picture|remember|recall|feel|expect|mind|trust|celebrate|tell|understand|call|name|have|hear|learn|practise|practice|study|explain|wait|rest|press|pin|block|steam|wash|soak|weigh|test|try|follow|finish|track|say|memorise|memorize|thank|ask|want|need|hope|prefer|like)$/;
/** The piece is made up. */
const FINISHES =
  /^(?:sew|seam|graft|weave|darn|stitch|embroider|attach|oversew|crochet|line|dye|felt|label|donate|frame)$/;
/** They are made to sit well. */
const TIGHTENS =
  /^(?:tighten|tug|snug|pull|ease|smooth|neaten|tidy|stretch|even|hold|keep|straighten|loosen|adjust|support|protect|secure|catch|rescue|pat|give|push)$/;
/** They are laid elsewhere on the needles. */
const LAYS =
  /^(?:slide|push|spread|arrange|rearrange|distribute|divide|share|move|shift|transfer|put|place|set|lay|hang|bring|turn|separate|space|squeeze|bunch|let|take|carry|join|close|connect|draw|gather|fasten|thread|pass|pick|drop|lose|use|make|get|avoid|prevent|stop|help|allow|ensure|keep|cover|change|hide|stick|fit|pack|load|return|flip)$/;

const ADJECTIVES = '(?:(?!of |on |at |in |to |for |from |with |by |into )[a-z0-9-]+ ){0,3}?';
const CRAFT =
  '(?:sts?|stitch(?:es)?|loops?|rounds?|rnds?|rows?|ridges?|decreas(?:e|es|ing)|increas(?:e|es|ing)|repeats?|yarn overs?|eyelets?|picots?|cables?|bobbles?|plaits?|ribs?)(?! (?:markers?|counters?|holders?|gauge|stoppers?|count|definition|patterns?|numbers?|dictionary|library|of (?:yarn|wool|thread|string|cotton)))';
const MANY = raw`(?:an?|another|\d+|some|several|few|many|more|every|each|half(?: (?:of )?the)?|all(?: (?:of )?(?:the|these|those))?|both|extra|further|no|any|(?:the|that|this|your|its|these|those) (?:first|last|next|other|second|third|fourth|previous|following|remaining|odd|even|\d+(?:st|nd|rd|th)?))`;
const PARTICLES =
  '(?:(?:on|off|out|up|down|in|over|back|away|straight|right|directly|ahead|again|round|around|through|along|rid|without|about|with|of|from|to|into|for|at|only|just) )*';
/** So many of them, or one of them that is not the others. */
const COUNTED = regex.plain`^${PARTICLES}${MANY} (?:of (?:the |these |those )?)?${ADJECTIVES}(${CRAFT})\b`;
const NAMED = regex.plain`^${PARTICLES}(?:(?:rounds?|rnds?|rows?) \d+|(?:the|your|these|those|this|that|its|their) ${ADJECTIVES}(?:${CRAFT}\b|(?:purl|knit|shaping|purling|knitting)(?= (?:once|this|on|in|at|here|this|for|from|now|over|along)\b|$)))`;
const WHOLE = regex.plain`^${PARTICLES}(?:(?:the|your|this|that) (?:whole |entire )?(?:work|piece|knitting|fabric|ring|tube|square|thing|round|number|count|total)|(?:it|this|that)(?! (?:way|manner|fashion|time|point|stage|order|direction|moment|[a-z]+ (?:is|are)\b))|everything|all|them|those|these|both|the lot|the same|either)(?= |$)`;
const INTO_FABRIC =
  /^(?:on |over |back |out |off )*(?:to|in|into|with|up) (?:a |an )?(?:[a-z]+ )?(?:garter|stockinette|stocking|moss|seed|rib|ribbing|purl|twisted|reverse)\b(?! (?:bumps?|side|ridges? (?:at|on)|yarn|needles?))/;
/** How it is not worked otherwise. */
const MANNERED =
  /\b(?:backwards?|in reverse|the other way(?: round| around)?|the wrong way|inside out|upside down|mirrored|mirror-wise|twice(?: over)?|thrice|\d+ times|once more|again|anew|afresh|in (?:purl|knit|rib|garter|moss|mirror image)|instead|rather than|differently|doubled|double (?:yarn|wool|thread))\b/;
/** Stitches for which there is no room any more where they are. */
const REMOVES =
  /\b(?:onto|off|over|behind|in front|between|to the|back|together|away|from)\b|^(?:up|out|through) (?:a|another|\d+)\b/;
const ONCE_MORE =
  /^(?:out |in |round |on |off |down |up )?(?:again|once more|once again|a (?:second|third|last|further) time|another time|\d+ (?:more )?times|twice|thrice|every time|each time)\b/;
const BARE_NUMBER =
  /^(?:chain|leave|lose|drop|skip|miss|take|shed|gain|cross|wrap|pass|cast|bind|slip|ch)(?: on| off| out| away| up| together)* \d+$/;
/** How wide the piece is. */
const SHAPES =
  /^(?:narrow|widen|taper|shape|shrink|grow|enlarge|decrease|increase|purl|knit|rib|repeat|reduce)$/;
/** What is told of stitches is not done. */
const OMITS =
  /^(?:forget|ignore|disregard|omit|skip|miss|drop|lose|spare|save|abandon|avoid|leave|refrain|dispense|do|scrap|delete|strike|cancel|suppress)$/;
/** "make 2 at each corner" */
const AT_EACH =
  /^(?:make|lose|take|put|add|gain|drop|leave|cross|wrap|pass|knit|purl|slip|work|twist|bind off|cast off|increase|decrease|swallow|shed|cut)(?: up| off| out| in)? (?:\d+|a|an|another)(?: more| extra| fewer)? (?:over the other |again |together |less )?(?:at|on|in|along|per|beside|near|either|before|after) (?:the )?(?:(?:middle|end|beginning|start|edge) of )?(?:each|every|either|both|all|the corners?|the sides?)\b/;
/** The work is made otherwise by them. */
const RESHAPES =
  /^(?:part|halve|quarter|cut|fold|divide|split|break|open|separate|twist|flip|reverse|gather|pleat|unravel|undo|rip|frog|double|swap|exchange|steek|slash|replace|raise|lower|reduce)$/;

/** "continue in single rib", "change to moss stitch" */
const GOES_OVER =
  /^(?:continue|cont|proceed|carry on|go on|keep going|keep on|work on|go over|change(?: over)?|switch(?: over)?|turn|move(?: on)?|take up|go back|return|revert|resort)(?: now| then| again)? (?:in|to|with|into) (?:the |a |an )?(?:(?!the |a )[a-z0-9-]+ ){0,2}?(?:garter|stockinette|stocking|moss|seed|rib|ribbing|purl|twisted|reverse|lace)\b(?! (?:side|bumps?|needles?|section|part|border|edge|chart))/;

interface Imperative {
  readonly verb: string;
  readonly rest: string;
}

function imperativeOf(text: string): Imperative | null {
  const [, verb, rest] = /^([a-z]{2,})(?: (.*))?$/.exec(text) ?? [];
  if (!verb || /(?:ing|ed|ly|[^s]s)$/.test(verb) || NOUNS.test(verb) || DONE.test(verb))
    return null;
  const known =
    RESHAPES.test(verb) ||
    /^(?:turn|do|repeat|decrease|increase)$/.test(verb) ||
    /^get rid\b/.test(text);
  if (!known && NO_VERBS.some((set) => set.has(verb))) return null;
  return { verb, rest: (rest ?? '').replace(WHERE, '') };
}

const DONE =
  /^(?:written|done|made|taken|seen|given|gone|known|shown|grown|worn|drawn|chosen|begun|woven|sewn|got|gotten|found|kept|held|left|lost|sent|said|told|come|become|been|had|was|were|did|saw|wrote|gave|took|went|came|began|chose|drew|threw|thrown|broken|broke|fell|fallen|ate|bought|brought|thought|taught|caught|felt|meant|spent|won|ran)$/;

/** Where or when it is done. */
const WHERE =
  /(?<=.) (?:after|before|until|till|while|when|as|near|under|around|round the|against)\b.*$/;

function isCare(verb: string): boolean {
  return (
    LAYS.test(verb) ||
    TIGHTENS.test(verb) ||
    EVERYDAY_VERBS.has(verb) ||
    CARE_VERBS.has(verb) ||
    CLASSES.handle.has(verb) ||
    CLASSES.care.has(verb)
  );
}

/** The clause orders something of the fabric that no rule names as harmless, also behind words that say where. */
export function ordersFabric(text: string): boolean {
  if (orders(text)) return true;
  if (!/^(?:on|at|in|along|near|over|with|from|between|by|beside) /.test(text)) return false;
  const words = text.split(' ');
  for (let k = 2; k < Math.min(words.length - 1, 9); k++) {
    const [before, verb] = [words[k - 1], words[k]];
    if (NO_NOUN.test(before) || !(VERBS.test(verb) || (LAYS.test(verb) && !NOUN_TOO.test(verb))))
      continue;
    const order = words.slice(k).join(' ');
    if (orders(order) || (EACH.test(text) && A_FEW.test(order))) return true;
  }
  return false;
}

const EACH = /\b(?:each|every|either|both|all|corners?)\b/;
/** "make 2", "pass one over the other" */
const A_FEW =
  /^(?:make|add|lose|gain|work|knit|purl|slip|take|drop|pass|cross|wrap|twist|increase|decrease|double|leave|omit|skip|put) (?:up |off |out |in )?(?:\d+|one|a|an|another)(?: (?:more|extra|fewer|less|again|now|over the (?:other|next)|as well|each time|together|too|less|from here|only|first|also))*$/;

/** No noun, so that no verb follows it. */
const NO_NOUN =
  /^(?:the|a|an|of|in|on|at|to|and|or|this|that|these|those|your|my|our|its|their|his|her|each|every|all|no|some|any|both|either|for|with|by|from|over|it|you|we|i|they|who|which|first|last|next|second|other|small|big|little|good|new|of|between|into|is|are|can|will|may|would|could|not|\d+)$/;
/** Verbs that are no nouns. */
const VERBS =
  /^(?:make|add|insert|remove|eliminate|double|knit|purl|work|slip|skip|omit|twist|wrap|bind|cast|decrease|increase|pass|throw|tuck|squeeze|cross|put|pick|drop|lose|gain|take|pull|draw|leave)$/;
const NOUN_TOO =
  /^(?:place|set|turn|change|help|cover|pack|fit|stick|move|share|space|spread|join|shift|hide|push|return|use|let|get|stop|load|flip)$/;

function orders(text: string): boolean {
  if (GOES_OVER.test(text)) return true;
  const order = imperativeOf(text);
  if (!order || LOOKS.test(order.verb) || FINISHES.test(order.verb)) return false;
  const { verb, rest } = order;
  if (BARE_NUMBER.test(text)) return true;
  if (ONCE_MORE.test(rest)) return SHAPES.test(verb) || !(isCare(verb) || EVERYDAY.has(verb));
  if (/\bmarkers?\b/.test(text) && CLASSES.place.has(verb)) return false;
  if (AT_EACH.test(text) || EVERY_NTH.test(rest)) return true;
  const [, noun] = COUNTED.exec(rest) ?? [];
  if (noun) return !TIGHTENS.test(verb) || ROUND.test(noun) || REMOVES.test(rest);
  const reshapes = RESHAPES.test(verb) && !OF_YARN.test(text) && !CUTS_IT.test(text);
  if (NAMED.test(rest)) return OMITS.test(verb) || reshapes || !isCare(verb);
  if (WHOLE.test(rest)) {
    if (verb === 'make' && /^(?:it|them|this) [a-z]+er\b/.test(rest)) return false;
    const known = isCare(verb) || EVERYDAY.has(verb);
    return MANNERED.test(rest) || reshapes || TO_COUNT.test(rest) || !known;
  }
  return INTO_FABRIC.test(rest) && !isCare(verb);
}

const ROUND = /^(?:rounds?|rnds?|rows?|ridges?|repeats?)$/;
/** "Give every fourth pair a miss" */
const EVERY_NTH =
  /\b(?:every|each) (?:third|fourth|fifth|other|[3-9](?:rd|th)|\dnd) (?!needle|marker|corner|side|time|evening|day|week|square|photo|page)/;
const OF_YARN = /\b(?:yarns?|threads?|wool|tails?|ends?|needles?|dpns?|holders?)\b/;
/** The yarn, told before. */
const CUTS_IT = /^(?:cut|break) (?:it|them|this|that|both)\b/;
/** "Grow it to 104", no length and no needles. */
const TO_COUNT =
  /\b(?:to|by) \d+\b(?! (?:cm|mm|in(?! (?:a|an|one|1|all)\b)|inch|degrees|minutes?|hours?|g|c|(?:[a-z-]+ ){0,3}(?:needles?|dpns?|holders?))\b)/;
