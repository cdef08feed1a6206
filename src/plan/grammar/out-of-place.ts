/**
 * Orders that stand where nothing is worked: above the cast-on, among notes, behind the end. "Purl one round" there would
 * change the piece and is lost; a swatch, a habit of every row, what a stitch means, finishing would not. In: the tokens of a
 * sentence, or statements in order of the text. Out: whether it is such an order; the statements, with those said.
 */
import type { Place } from '../lex/source.ts';
import type { Token } from '../lex/tokens.ts';
import { regex } from '../lexicon/expression.ts';
import { NOTE_WORDS } from '../lexicon/words.ts';
import { frontOf } from './adverbials.ts';
import type { Statement } from './ast.ts';
import { hidesOrder } from './hidden-orders.ts';
import type { Line } from './lines.ts';
import { moodOf } from './mood.ts';
import type { Passage } from './passage.ts';
import { sentenceInstructs } from './prose.ts';
import { leftToYou } from './telling.ts';
import { toldOfEdges } from './unknown-names.ts';
import { isStitchWord } from './word-law.ts';

/** Most tokens of a sentence that is judged. Chosen: bounds the time; a long one has 60. */
const LONGEST = 120;

const textOf = (tokens: readonly Token[]): string => tokens.map((t) => t.text).join(' ');

/** Some clause of it asks for work, at once or behind words that say when. */
function asksForWork(list: readonly Token[]): boolean {
  if (moodOf(list) === 'asks' || hidesOrder(list)) return true;
  if (IN_THE_WORK.test(textOf(list)) && sentenceInstructs(list)) return true;
  const { found, next } = frontOf(list);
  return found.length > 0 && next < list.length && moodOf(list.slice(next)) === 'asks';
}

/** "Notes:", "2.", "•": what stands before a sentence and is no part of it. */
function withoutLead(tokens: readonly Token[]): readonly Token[] {
  let list = tokens.filter((t) => t.kind !== 'line');
  for (let n = 0; n < 3; n++) {
    const [first, second, third] = list;
    if (!first) break;
    if (first.kind === 'mark' && '*•-#("\''.includes(first.text)) list = list.slice(1);
    else if (first.kind === 'number' && /^[.)]$/.test(second?.text ?? '')) list = list.slice(2);
    else if (first.text === 'pattern' && NOTE_WORDS.has(second?.text ?? '') && third)
      list = list.slice(1);
    else if (NOTE_WORDS.has(first.text) && second?.kind === 'mark') list = list.slice(2);
    else break;
  }
  return list;
}

/** Words in front of a colon, a dash or "=" that name what is explained behind it. Chosen. */
const LONGEST_HEAD = 9;

const WORK =
  /^(?:knit|purl|k|p|slip|sl|work|lift|make|yarn|pick|pass|insert|increase|decrease|with|repeat|round|yo|wool|thread)$/;

/** "ssk: slip 2 …", "M1 = lift the strand …", "K2tog knit 2 together": what a word means. */
function explains(list: readonly Token[]): boolean {
  const at = list
    .slice(0, LONGEST_HEAD + 1)
    .findIndex((t, i) => /^[:=]$/.test(t.text) || (t.text === '-' && t.spaced && i > 0));
  if (at > 0 || MEANS.test(textOf(list))) return true;
  const [first, second] = list;
  const short = isStitchWord(first) || /^[a-z]{2,4}\d?$/.test(first.text);
  return (
    short &&
    /^[a-z]+\d*[a-z]*$/.test(first.text) &&
    !VERB.test(first.text) &&
    WORK.test(second?.text ?? '')
  );
}

const MEANS = /\b(?:stands? for|means?|is short for|is called|are called)\b/;
const VERB =
  /^(?:knit|purl|k|p|work|slip|sl|dec|inc|rep|cont|bind|cast|make|add|join|turn|pass|put|take|now|then|next|also|and|do|let|we|you|on|in|at|for|with|from|skip|omit|rib|lose|gain|drop|yes|so|only|just|here|all|use|pm|set|to|go|keep|run|wrap|give|get|fit)$/;

/** How one stitch is made. */
const OF_A_STITCH =
  /\b(?:psso|pass(?:es|ed|ing)? .*\bover|(?:through|into|by) (?:the|its|their) (?:back|front)|strand|bar|cable needle|cn|lift|knitwise|as if to)\b/;
/** Another piece, or one to try, and its gauge. */
const TRIED =
  /\b(?:swatch\w*|samples?|test (?:piece|square|patch)|tension|gauge|practi[cs]e|(?:to|per|over|in) (?:the |an? |each |every |\d+ )?(?:inch(?:es)?|cm)|(?:per|to the|an?) in\b)\b/;
/** What holds wherever it comes, and names no round. */
const HABIT =
  /^(?:(?:please|always|note that|remember to|also|and|throughout) ?)*(?:(?:in|on|at) (?:every|each|all) (?:row|round|rnd)s? )?(?:slip|knit|purl|work|keep|begin|start|end|mark|move|twist|carry)\b.*\b(?:first|last|edge|selvedge|selvage|corner|border|seam|markers?|yarns?|colou?rs?|tension|stitches in)\b.*\b(?:every|each|all|throughout|always)\b|^(?:begin|start|end)\b.*\b(?:every|each|all) (?:row|round|rnd)s?\b|^always\b|^(?:when|whenever|where|wherever|while|if|should|unless|each time|every time)\b/;
/** Who tells how a piece is made. */
const TOLD =
  /^(?!so that\b)(?:here |so |then )*(?:you|one|it|this|that|these|the (?:[a-z-]+ )?(?:square|piece|work|pattern|blanket|block|chart))\b|\b(?:we|i)\b/;
const MUST =
  /\b(?:must|should|have to|has to|need to|needs to|will need|next round|is to be|(?:you|we|one) (?:will )?(?:now|next|then))\b/;

const UNIT = '(?:rounds?|rnds?|rows?|ridges?)';
/** Words for where the work has come to. */
const ANCHORED =
  'here|(?<=[a-z0-9] )now|this time|for once|at this point|on the way|in 1 round|before going on|before you (?:go|draw)[a-z ]*|while you are (?:there|at it)|this side|next side|for the rest|once more|again';
const IN_THE_WORK = regex.plain`\b(?:${ANCHORED}|next ${UNIT})\b`;
const ROUNDS = regex.plain`\b(?:${UNIT}|(?:down|up|back) to \d+)\b`;
/** A particular round, a number of rounds, so many stitches at a place, once more. */
const PARTICULAR = [
  `\\b(?:next|last|first|following|coming|previous|second|third|fourth|other|odd|even|plain|decrease|remaining|further|\\d+(?:st|nd|rd|th)) (?:[a-z-]+ ){0,2}${UNIT}\\b`,
  `\\b${UNIT} \\d+\\b`,
  `\\b(?:\\d+|a|an|another|extra|more|couple of|few|some) (?:[a-z-]+ ){0,3}?${UNIT}\\b`,
  '\\b(?:\\d+|a|an|another|extra|every (?:second|third|fourth|other|\\dth)) (?:[a-z-]+ ){0,2}?(?:sts?|stitch(?:es)?(?! (?:border|edge|edging|band|frame|pattern|panel|centre|center|square))|loops?|decreases?|increases?|yarn overs?|eyelets?)\\b',
  `\\b(?:${ANCHORED})\\b`,
  '\\b(?:down|up|back) to \\d+\\b',
  '\\b(?:again|once more|twice|thrice|\\d+ times)\\b',
  '\\b(?:each|every|all|both|either) (?:of the )?(?:\\d+ )?(?:corners?|markers?|sides?|needles?|ends?)\\b',
] as const;
const CONCRETE = new RegExp([...PARTICULAR, '\\b\\d+ more\\b'].join('|'));
const IN_ROUNDS = new RegExp(PARTICULAR.join('|'));

/** A sentence above the cast-on, or among notes there, that would change the piece; its lead taken off. */
function ordersAbove(list: readonly Token[]): boolean {
  if (list.length < 2 || list.length > LONGEST || list.some((t) => t.text === '=')) return false;
  const text = textOf(list);
  if (toldOfEdges(text)) return true;
  if (!CONCRETE.test(text) || TRIED.test(text) || FINISHING.test(text)) return false;
  if (explains(list) || OF_A_STITCH.test(text) || HABIT.test(text) || NO_ORDER.test(text))
    return false;
  if (tellsOfRounds(list, text) || (TOLD.test(text) && !MUST.test(text))) return false;
  return !leftToYou(list) && asksForWork(list);
}

/** Colours, a goal, what a bracket or a chart means. */
const NO_ORDER =
  /^(?:mc|cc|[b-h]|a for|up to|down to|size|approx|about|keep your)\b|\b(?:brackets?|asterisks?|stars|parenthes[ie]s|chart|dpns?|double - pointed|circular|no \.|\d mm|ring closes|threads?|(?:coloured|colored) yarn)\b/;

/** "navy for rounds 2, 5 and 8": what a list says of them that is neither a stitch nor a fabric, nor work. */
const OF_ROUNDS = regex.plain`^([a-z][a-z -]{0,40}?) for (?:the [a-z]+ edge and )?${UNIT} \d[\d ,and-]*(?:the [a-z]+ edge)?$`;
const FABRIC =
  /^(?:stockinette|stocking|garter|rib\w*|seed|moss|reverse|cables?|lace|mesh|plain\w*|knit\w*|purl\w*|decreas\w*|increas\w*|shap\w*|stitch|repeat\w*|same|as)$/;

function tellsOfRounds(list: readonly Token[], text: string): boolean {
  const [, what] = OF_ROUNDS.exec(text) ?? [];
  if (what === undefined) return false;
  const words = list.slice(0, what.split(' ').length);
  return words.every((t) => !VERB.test(t.text) && !FABRIC.test(t.text) && !isStitchWord(t));
}

/** What is done with a piece that is off the needles, or with more like it. */
const FINISHING =
  /\b(?:weav\w+|darn\w*|sew\w*|seam\w*|row ends|side edges|mattress|graft\w*|block\w*|pin(?:s|ned|ning)?|steam\w*|press\w*|iron\w*|wash\w*|soak\w*|rins\w+|dry|damp\w*|trim\w*|snip|tails?|tassels?|fring\w+|pompoms?|buttons?|lining|stuff\w*|felt\w*|embroider\w*|crochet\w*|lay flat|lavender|hang(?:er|ing)?|yarn ends?|loose ends?|ends (?:in|away|off)|inside out|back to back|tugs?|stretch|(?:next|second|other|another|each) (?:square|piece|one)|squares|blankets?|pieces|blocks|patches|motifs|tiles|homework|at home|labels?|row counter|may be)\b/;

/** "Work a round of double crochet", "Knit 24 more squares": another craft, or another piece. */
export function isOfAnother(text: string): boolean {
  return /\b(?:crochet\w*|squares|pieces|blankets?|patches|motifs|tiles)\b/.test(text);
}

/** A sentence behind the end of the piece that asks for more of it. */
export function ordersBehind(tokens: readonly Token[]): boolean {
  if (tokens.length > LONGEST) return false;
  const list = withoutLead(tokens);
  if (list.length < 2 || list.some((t) => t.text === '=')) return false;
  const text = textOf(list);
  if (explains(list) || TRIED.test(text)) return false;
  if (!FINISHING.test(text)) return IN_ROUNDS.test(text) && asksForWork(list);
  // "Purl one more round, then weave in the ends"
  return clauses(list).some((part) => {
    const said = textOf(part);
    return ROUNDS.test(said) && !FINISHING.test(said) && asksForWork(part);
  });
}

/** What an opening is made of. */
const OPENS =
  /\b(?:join\w*|markers?|pm|mark|needles?|dpns?|circular|magic|loop|twist\w*|divid\w+|distribut\w+|arrang\w+|shar\w+|spread\w*|cast|casting|co|circle|ring|tail|yarn|thread|turn\w*|hold|leave|place|slip|knot)\b|\b(?:in|to|into) (?:(?:a|the) )?(?:rounds?|rows|rnd)\b(?! \d)|\b(?:flat|to and fro|back and forth)\b/;

const ONLY_PART = /=|\bwritten out\b/;

/** A sentence among those of a cast-on or set-up that asks for something else. */
export function ordersInOpening(tokens: readonly Token[]): boolean {
  const list = withoutLead(tokens);
  if (list.length < 3 || list.length > LONGEST || OPENS.test(textOf(list))) return false;
  if (explains(list) || ONLY_PART.test(textOf(list))) return false;
  return moodOf(list) === 'asks' && sentenceInstructs(list);
}

function clauses(list: readonly Token[]): Token[][] {
  const out: Token[][] = [[]];
  for (const t of list)
    if (/^(?:[,;]|and|then|before|after)$/.test(t.text)) out.push([]);
    else out[out.length - 1].push(t);
  return out.filter((part) => part.length > 1);
}

const ABOVE = {
  kind: 'refused',
  code: 'above-the-cast-on',
  message: 'this stands above the cast-on, where nothing is worked yet, and was not followed',
  hint: 'Move it to the round that it is for; what the piece is like may be told here.',
} as const;

/** Statements with the orders that stand above the cast-on, which no rule follows there. */
export function sayAbove(
  statements: readonly Statement[],
  passage: Passage,
  lines: readonly Line[],
): Statement[] {
  const at = statements.findIndex((s) => s.kind === 'cast-on');
  if (at < 0) return [...statements];
  const { tokens } = passage;
  const above = statements.slice(0, at);
  const followed = above.filter(isFollowedThere);
  const isFollowed = ({ from, to }: Place): boolean =>
    followed.some((s) => s.from < to && from < s.to);
  const lost: Statement[] = [];
  /** The lines up to the next blank one explain a fabric or a stitch. */
  let explaining = false;
  for (const line of lines) {
    if (line.from >= statements[at].from) break;
    let { last } = line;
    while (last > line.first && tokens[last - 1].to > statements[at].from) last--;
    const said = tokens.slice(line.first, last);
    if (said.length === 0) explaining = false;
    if (said.length === 0 || (line.taken && !isNote(said))) continue;
    if (isNote(said)) explaining = false;
    else explaining ||= isFollowed(line) || explainsBelow(said);
    let told = explaining;
    for (let i = line.first; i < last && !told; ) {
      const stop = passage.sentenceEnd(i, last, '.!?');
      const end = Math.min(last, stop + 1);
      const list = withoutLead(tokens.slice(i, stop));
      if (ordersAbove(list)) lost.push({ ...ABOVE, ...passage.span(i, end) });
      // What follows goes on with it.
      told = list.length > 1 && (explains(list) || TRIED.test(textOf(list)));
      i = end;
    }
  }
  return [...above, ...lost, ...statements.slice(at)];
}

/** Rounds and colours that are told above the cast-on mean something below it. */
function isFollowedThere(s: Statement): boolean {
  if (s.kind !== 'round') return /^(?:colour|pattern|crossing|edges)$/.test(s.kind);
  return s.body.kind !== 'steps' || s.body.steps.length > 0;
}

/** "Moss stitch:" over lines of its own. */
function explainsBelow(said: readonly Token[]): boolean {
  const last = said[said.length - 1];
  return last.text === ':' && said.length < LONGEST_HEAD && !HEADS_WORK.test(said[0].text);
}

const HEADS_WORK = /^(?:instructions?|method|directions?|pattern|how|to|work|working|the|square)$/;

function isNote(said: readonly Token[]): boolean {
  return said.slice(0, 3).some((t) => NOTE_WORDS.has(t.text) || /^techniques?$/.test(t.text));
}
