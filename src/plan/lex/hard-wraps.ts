/**
 * Sentences that a mail program or a printer broke into lines at a width. In: the text as typed. Out: the line ends
 * that are read as spaces, so that every rule meets such a sentence whole.
 */
import { regex } from '../lexicon/expression.ts';
import type { Replacement } from './numbers.ts';

/** A line at least so long may have been broken. Chosen; lines of columns are shorter. */
const SHORTEST = 36;
/** Most characters of a line that a printer's width leaves. Chosen: wide screens wrap at 120. */
const WIDEST = 130;
/** Share of the lines that surely go on which must have had no room for the next word. Chosen. */
const MOST_FULL = 0.8;

const UNIT = '(?:rounds?|rnds?|rds?|rows?|r)';
/** What begins a line of its own: labels with their marks, items, boxes, captions. */
const LABEL = new RegExp(
  [
    `${UNIT}\\.?[ ]?\\d{1,4}(?:[ ]?(?:-|–|to|and|,|&|\\+)[ ]?(?:${UNIT}[ ])?\\d{1,4})*[ ]*(?:\\([^()]{1,30}\\))?(?:[ ]*[:–—]|[ ]-|\\.[ ]+\\S|[ ]{2})`,
    `(?:\\d{1,4}(?:st|nd|rd|th)|next|first|second|third|fourth|fifth|sixth|last|set-?up|foundation)[ ]${UNIT}\\b[^.:,;]{0,24}(?:[:–—]|\\.[ ]*[–—]|\\.[ ]+\\S)`,
    '(?:step|part|section|stage|day|clue)[ ]\\d',
    // "rest round = knit", "plain round - knit every stitch"
    `(?:[a-z'-]{2,20}[ ]){1,3}${UNIT}[ ]?(?:[:=–—]|-[ ])`,
    '\\[[ _x]?\\]',
  ].join('|'),
  'iy',
);
/** Items of a list and captions, which stand behind no word that leads on. */
const ITEM =
  /(?:\d{1,3}[.):]|[A-Za-z][.)])[ ]+\S|[A-Z][A-Za-z'/&-]*(?:[ ][A-Za-z'/&-]+){0,3}[ ]?:(?!\d)|[A-Za-z][A-Za-z0-9()/&-]{0,11}(?:[ ][a-z]{1,10})?[ ]=[ ](?=[a-z(])/y;
/** A comma, or a word that surely ends no line of its own. */
const OPENS =
  /(?:,|&|\b(?:and|or|then|the|a|an|of|to|until|till|every|each|with|without|on|in|into|at|from|for|by|between|as|than|is|are|has|have|your|their|ending|leaving|including|not)) *$/i;
/** Words that end no line of their own: what they lead to stands in the next. */
const LEADS =
  /(?:,|&|\b(?:and|or|then|the|a|an|of|to|until|till|every|each|with|without|on|in|into|at|from|for|by|between|before|after|as|than|that|which|over|is|are|has|have|there|your|their|its|these|those|this|only|not|including|last|next|first|following|more|times|remaining|work|knit|purl|repeat|rep|k|p|ending|leaving|leaves|remains?|now|obtains?|rounds?|rnds?|rows?|rds?|\()) *$/i;
const VERB_LAST = /[,:;] (?:and |then )?(?:knit|purl|k|p|slip)$/i;
const UNIT_LAST = regex.i`\b${UNIT}$`;
/** What begins no line of its own behind words that no full stop closes. */
const GOES_ON = /^(?:[=(][ ]?[a-z\d]|\*[ ]?\d{1,3} times)/;
const VERB_FIRST = /^(?:has|have|had|is|are|was|were|remains?|until|till|and|or|than|of)\b/i;
/** Words of orders and captions that may begin a line without a full stop before them. */
const BEGINS =
  /^(?:cast|co|knit|purl|k|p|work|repeat|rep|join|break|cut|bind|bo|fasten|weave|draw|pull|thread|continue|cont|change|place|pm|next|now|then|begin|start|finish|finishing|using|with|materials?|gauge|tension|needles?|size|yarn|abbreviations|notes?|divide|distribute|turn|block|press|slip|sl|odd|even|every|all|rest|other|otherwise|each|decrease|increase|dec|inc|rounds?|rnds?|rows?|r\d*)\b(?!')/i;

/** How a text was set in lines. */
interface Setting {
  /** Characters of a line; without end where the text was set to no width. */
  readonly wide: number;
  /** Lines that show it. */
  readonly shown: number;
  /** The writer begins sentences small, so that a small letter tells nothing. */
  readonly small: boolean;
}

interface TextLine {
  /** Behind its last character that is no space. */
  readonly end: number;
  readonly text: string;
  /** Spaces in front. */
  readonly indent: number;
  /** Columns stand in it, or nothing but a rule. */
  readonly apart: boolean;
  /** The first of the text. */
  readonly title: boolean;
}

function linesOf(text: string): TextLine[] {
  const out: TextLine[] = [];
  for (let from = 0; from <= text.length; ) {
    let to = text.indexOf('\n', from);
    if (to < 0) to = text.length;
    const whole = text.slice(from, to).trimEnd();
    const words = whole.trimStart();
    const apart = /[\t|]|\S {3,}\S/.test(words) || !/[a-z0-9]/i.test(words);
    const title = words !== '' && out.every(({ text: before }) => before === '');
    out.push({
      end: from + whole.length,
      indent: whole.length - words.length,
      text: words,
      apart,
      title,
    });
    from = to + 1;
  }
  return out;
}

/** Characters, the space in front among them. */
function width({ indent, text }: TextLine): number {
  return indent + text.length;
}

/** Characters that the line would have with the next one's first word. */
function withNext(line: TextLine, next: TextLine): number {
  const space = next.text.indexOf(' ');
  return width(line) + 1 + (space < 0 ? next.text.length : space);
}

/** `next` is a line of its own by what it begins with. */
function standsAlone({ text }: TextLine, next: TextLine): boolean {
  if (OPENS.test(text) && !text.endsWith(',')) return false;
  if (UNIT_LAST.test(text) && /^\d/.test(next.text)) return false;
  LABEL.lastIndex = 0;
  ITEM.lastIndex = 0;
  return LABEL.test(next.text) || (!text.endsWith(',') && ITEM.test(next.text));
}

/** Neither may be a line of columns, a rule or empty. */
function mayGoOn(line: TextLine, next: TextLine): boolean {
  const { text } = line;
  if (line.apart || next.apart || width(line) < SHORTEST || width(line) > WIDEST) return false;
  return !/[!?]$/.test(text) && !/^#/.test(text) && !standsAlone(line, next);
}

/** The line ends within a phrase, which no line of its own does; a title may. */
function opens({ text, title }: TextLine, next: TextLine): boolean {
  ITEM.lastIndex = 0;
  return OPENS.test(text) && !ITEM.test(next.text) && !(title && BEGINS.test(next.text));
}

/** By its words alone the sentence surely goes on in the next line; `small`: small letters begin sentences as well. */
function surely(line: TextLine, next: TextLine, small: boolean): boolean {
  if (/[.:;]$/.test(line.text)) return false;
  if (opens(line, next) || GOES_ON.test(next.text) || VERB_FIRST.test(next.text)) return true;
  return !small && /^[a-z]{2}/.test(next.text) && !BEGINS.test(next.text);
}

/** The writer begins sentences small, so that a small letter tells nothing. */
function beginsSmall(lines: readonly TextLine[]): boolean {
  let small = 0;
  let all = 0;
  for (const [i, { text }] of lines.entries()) {
    const before = lines[i - 1]?.text ?? '';
    if (!/^[a-z]/i.test(text) || (before !== '' && !/[.!?]$/.test(before))) continue;
    all++;
    if (/^[a-z]/.test(text)) small++;
  }
  return small * 2 > all;
}

/** How wide the text was set, and how many lines show it. */
function setting(lines: readonly TextLine[]): Setting {
  const small = beginsSmall(lines);
  const sure = lines
    .slice(0, -1)
    .map((line, i) => [line, lines[i + 1]] as const)
    .filter(([line, next]) => mayGoOn(line, next) && surely(line, next, small));
  let wide = 0;
  for (const [line, next] of sure)
    wide = Math.max(wide, width(line), Math.min(width(next), WIDEST));
  const full = sure.filter(([line, next]) => withNext(line, next) > wide).length;
  const set = full > 0 && full >= MOST_FULL * sure.length;
  return { wide: set ? wide : Number.POSITIVE_INFINITY, shown: full, small };
}

function goesOn(line: TextLine, next: TextLine, { wide, shown, small }: Setting): boolean {
  if (!mayGoOn(line, next)) return false;
  const { text } = line;
  const [begin] = next.text;
  const leads = LEADS.test(text) && /[a-z\d*=([-]/i.test(begin);
  const order = BEGINS.test(next.text);
  if (leads && !text.endsWith(',') && opens(line, next)) return true;
  // "…, knit / 22, knit 2 tog"
  if (VERB_LAST.test(text) && /^\d{1,3},/.test(next.text)) return true;
  if (withNext(line, next) <= wide) return false;
  const often = shown > 1;
  if (/[.;:]$/.test(text)) {
    if (/^\(\d|^[A-Z][a-z]/.test(next.text)) return often;
    return often && !small && !order && /^[a-z]{2}/.test(next.text);
  }
  if (leads || VERB_FIRST.test(next.text)) return true;
  if (/[a-z]/i.test(begin)) return (!order && often) || (!small && /[a-z]/.test(begin));
  if (/\d/.test(begin) && often) return true;
  return GOES_ON.test(next.text) || /^[=([–-] ?\d/.test(next.text);
}

/** Line ends at which a printer broke a sentence, with the space about them; empty for most texts. */
export function hardWraps(text: string): Replacement[] {
  const lines = linesOf(text);
  const set = setting(lines);
  const out: Replacement[] = [];
  for (let i = 0; i + 1 < lines.length; i++) {
    const next = lines[i + 1];
    if (goesOn(lines[i], next, set))
      out.push({ from: lines[i].end, to: next.end - next.text.length, text: ' ' });
  }
  return out;
}
