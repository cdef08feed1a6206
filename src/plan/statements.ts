/**
 * Plan text → statements, one for each instruction: header lines, cast-on, rounds with their labels,
 * repeats of rounds, plain rounds, the ending, and prose that is left alone. Splits lines into
 * sentences where a new instruction starts and joins lines that go on.
 */

import { readStatedCount, type StatedCount } from './grammar/steps/stated-counts.ts';
import { readSteps } from './grammar/steps/step-reader.ts';
import { type RoundLabel, readLabel, UNIT } from './labels.ts';
import { LENGTH, NUM, NUMBER_LIST, ORDINAL_LIST } from './lex/numbers.ts';
import type { Place, Source } from './lex/source.ts';
import type { Abbreviations } from './lexicon/abbreviations.ts';
import { readCompound } from './repeat-lines.ts';
import { readShape } from './shape-lines.ts';

export type Statement = Place &
  (
    | { readonly kind: 'cast-on' }
    | { readonly kind: 'join' }
    | { readonly kind: 'round'; readonly label: RoundLabel | null }
    | { readonly kind: 'repeat' }
    | { readonly kind: 'plain' }
    | { readonly kind: 'named' }
    | { readonly kind: 'shape' }
    | { readonly kind: 'end' }
    | { readonly kind: 'count'; readonly stated: StatedCount }
    | { readonly kind: 'heading' }
  );

type StartKind = 'shape' | 'cast-on' | 'join' | 'repeat' | 'plain' | 'named' | 'end' | 'round';

const VERB_REPEAT =
  '(?:(?:and|then|now)\\s+){0,3}(?:rep(?:eat)?(?:ing)?\\.?|work(?:ing)?|knit|continue|cont\\.?)(?:\\s+(?:to|in|repeating|to\\s+repeat|working|to\\s+work|as\\s+(?:set|established),?\\s+(?:repeating|working))){0,4}';
const REPEAT = new RegExp(
  `${VERB_REPEAT}\\s+(?:from\\s+)?(?:the\\s+|all\\s+){0,2}(?:(?:these|those|last|previous|prev\\.?|above|preceding|this)\\s+(?:${NUM}\\s+)?(?:${UNIT})|(?:rounds?|rnds?|rds?|rows?|steps?|r)\\.?\\s*#?\\s*(?:${NUMBER_LIST}))`,
  'y',
);
const REPEAT_COUNT = new RegExp(
  `rep(?:eat)?\\.?\\s+(?:(?:the|this|these|all)\\s+){0,2}${NUM}[\\s-]+(?:${UNIT}|(?:round|rnd|row)(?=[\\s-]))`,
  'y',
);
const REPEAT_NTH = new RegExp(
  `(?:(?:and|then|now)\\s+){0,3}rep(?:eat)?(?:ing)?\\.?\\s+(?:from\\s+)?(?:the\\s+)?(?:${ORDINAL_LIST})\\s+(?:${UNIT})`,
  'y',
);
const NAMED_WORK = new RegExp(
  `(?:(?:and|then|now)\\s+){0,3}(?:rep(?:eat)?\\.?|work(?:ing)?)\\s+(?:the\\s+|a\\s+|this\\s+|another\\s+)?(?!(?:next|last|these|those|in|even|each|every|all|from|as|on|to)\\b)(?:[a-z][a-z'-]{0,24}\\s+){1,3}?(?:${UNIT})(?!\\s*:)`,
  'y',
);
const COMPOUND = new RegExp(
  `[([]?(?:(?:and|then|now)\\s+){0,3}(?:rep(?:eat)?\\.?|work(?:ing)?|knit|purl|k|p)\\s[^.:*\\n]{0,60}?(?:${UNIT})[^.:*\\n]{0,60}?(?:${UNIT})`,
  'y',
);
const PLAIN = new RegExp(
  `(?:(?:and|then|now)\\s+){0,3}(?:work(?:ing)?|knit|purl|k|p|cont(?:inue)?\\.?|rib|keep)(?![a-z0-9])(?:[^.;:()\\[*\\n]|\\([^()\\n]{0,60}\\)){0,70}?(?:${LENGTH}(?=\\s*(?:cm|mm|ins?|inch))|${NUM}|next|following|another|a)\\s+(?:(?:more|further|additional|plain|straight|even|complete|full|next)\\s+)*(?:${UNIT}|cm|mm|ins?|inch(?:es)?)(?![a-z])`,
  'y',
);
const MEASURES =
  /(?:(?:and|then|now)\s+){0,3}(?:work|knit|cont(?:inue)?\.?)(?![a-z0-9])[^.;:\n]{0,90}?(?:measures?|is|reaches)\s+(?:about\s+|approx\.?\s+|approximately\s+)?\d+/y;
const CAST_ON = /(?:cast(?:ing)?[\s-]*on|c\/?o)(?![a-z])/;
const CAST_ON_START =
  /[([*\s]{0,3}(?:(?:cast(?:ing)?[\s-]*on|c\/?o)(?![a-z])|pick\s+up(?:\s+and\s+knit)?\s+\d|(?:loosely\s+)cast\s+on|begin\s+with\s+\d+\s+st|start\s+with\s+\d+\s+st)/y;
const CAST_ON_LEAD =
  /(?:using|with|on|onto|starting|beginning|by|work(?:ing)?\s+with|for\s+each|loosely)\b/y;
const JOIN_START =
  /(?:(?:join|joining|being\s+careful|taking\s+care|taking\s+care|make\s+sure|divide|distribute|arrange)\b|(?:pm|place\s+(?:a\s+)?(?:stitch\s+)?marker)\b(?:(?!\b(?:co|cast|rep|repeat)\b)[^.\n]){0,40}\bjoin)/y;
const END_START =
  /(?:(?:and|then|now)\s+){0,3}(?:(?:bind(?:ing)?[\s-]*off|cast[\s-]*off|b\/?o)(?![a-z])(?!\s*(?:first\s+|next\s+)?\d+\s*(?:sts?|stitches)?[\s,;]*(?:,|;|at\s|then\s|and\s|[kp]\b|[kp]\d))|(?:break|cut|b)\s*(?:&|and)\s*(?:draw|thread|t\b|pull)|(?:break|cut)\s+(?:the\s+|off\s+)?(?:the\s+)?(?:yarn|wool|working|thread|tail)|(?:draw|thread|run|pull|pass)\s+(?:the\s+|a\s+|yarn|tail|end|it|length)[^.\n]{0,40}?\bthrough|(?:fasten|finish|tie|close)\s+off|draw\s+up(?![a-z])|gather\s+(?:up\s+)?(?:the\s+)?(?:remaining|rem|last|sts)|(?:leave|slip|place|put|transfer)\s+(?:the\s+|all\s+)?(?:remaining\s+|rem\s+|live\s+|these\s+|last\s+)*(?:\d+\s+)?(?:sts?|stitches)\s+[^.\n]{0,30}?(?:holder|waste|live|needles?|scrap))/y;
/** Bound off at the beginning of coming rows: shaping, not the end. */
const END_SHAPING =
  /^(?:bind[\s-]*off|cast[\s-]*off|bo)\s+\d+\s*(?:sts?|stitches)?\s+at\s+(?:the\s+)?(?:beg|start)/;

/** Places of one line where an instruction may start; more make no plan. Chosen. */
const MOST_TRIED = 10_000;

const SHAPE =
  /(?:(?:and|then|now)\s+){0,3}(?:(?:dec|inc)[a-z.]{0,12}\s+(?:(?:by\s+)?\d+\s*(?:st[a-z]*\s+)?even|(?:(?:1|one)\s+st[a-z]*\s+)?(?:at\s+|on\s+)?(?:each|both|either)\b)|(?:cont(?:inue)?\.?|keep|proceed|carry|go|(?:work|rep(?:eat)?\.?)(?=\s+(?:on\s+)?(?:in\s+(?:this|the\s+same)|like\s+this)))\s)/y;
const BULLET =
  /^(?:[\s•>]|-\s+|\*\s+(?=(?:round|rnd|row|cast|co\b|knit\s|purl\s|bind|join|repeat)))+/;
const BOLD = /^\*\*(?=[a-z][^*\n]{0,60}\*\*)/;
const ITEM =
  /^\(?\d{1,3}[.)]\s+(?=(?:cast|co\b|using|with|join|round|rnd|row|r\d|knit\s|purl\s|work\s|bind|break|cut|repeat|rep\s|next|place|pm\b|set|dec(?:rease)?\b|inc(?:rease)?\b|divide|cont(?:inue)?\b|draw|fasten|change|shape))/;

function test(re: RegExp, text: string, at: number): boolean {
  re.lastIndex = at;
  return re.test(text);
}

/** Stitches enough that a line must be meant as an instruction. */
export function looksLikeInstruction(text: string): boolean {
  const found = text.match(
    /(?<![a-z0-9])(?:[kp]\d{1,4}|k2tog|p2tog|k3tog|ssk|ssp|skp|sk2p|s2kp|cdd|yo|yfwd|kfb|pfb|m1[lrp]?|sl\s?\d|psso|\d\/\d\s*[lr]p?c|rep from)(?![a-z0-9])/g,
  );
  return (found?.length ?? 0) >= 2;
}

/** What is open at some place of an instruction: brackets and asterisks without their repeat. */
interface OpenState {
  statement: number;
  at: number;
  depth: number;
  stars: number;
}

class StatementReader {
  readonly statements: Statement[] = [];
  readonly #text: string;
  readonly #abbreviations: Abbreviations;
  #castOn = false;
  #ended = false;

  constructor(source: Source, abbreviations: Abbreviations) {
    this.#text = source.norm;
    this.#abbreviations = abbreviations;
  }

  /** The kind of statement that starts exactly at `at`, or null. */
  #startAt(at: number, end: number): { kind: StartKind; label: RoundLabel | null } | null {
    const text = this.#text;
    // The words must not run on into the next line.
    const within = (re: RegExp): boolean => test(re, text, at) && re.lastIndex <= end;
    const sentence = (): string => text.slice(at, Math.min(end, at + 300));
    if (END_SHAPING.test(sentence()) && readShape(sentence(), at)) {
      return { kind: 'shape', label: null };
    }
    if (test(END_START, text, at) && !END_SHAPING.test(sentence())) {
      if (this.#castOn) return { kind: 'end', label: null };
    }
    if (
      test(CAST_ON_START, text, at) &&
      /\d|\b(?:one|two|three|four|five|six|seven|eight|nine|ten|twelve|sixteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred)\b/.test(
        firstSentence(sentence()),
      )
    ) {
      if (!this.#inWork()) return { kind: 'cast-on', label: null };
    }
    if (!this.#castOn && test(CAST_ON_LEAD, text, at)) {
      const first = firstSentence(sentence());
      if (CAST_ON.test(first) && /\d/.test(first)) return { kind: 'cast-on', label: null };
    }
    if (test(JOIN_START, text, at)) return { kind: 'join', label: null };
    if (within(REPEAT) || within(REPEAT_COUNT) || within(REPEAT_NTH)) {
      return { kind: 'repeat', label: null };
    }
    const lead = /(?:(?:and|then|now)\s+){1,3}(?=(?:round|rnd|row|rd)s?\.?\s*\d)/y;
    const label = readLabel(text, test(lead, text, at) ? lead.lastIndex : at);
    if (label && label.end <= end && this.#labelHolds(label, at, end)) {
      return { kind: 'round', label };
    }
    if (within(COMPOUND) && readCompound(firstSentence(sentence()))) {
      return { kind: 'named', label: null };
    }
    if (test(SHAPE, text, at) && readShape(sentence(), at)) return { kind: 'shape', label: null };
    if (within(PLAIN) || within(MEASURES)) return { kind: 'plain', label: null };
    if (within(NAMED_WORK)) return { kind: 'named', label: null };
    return null;
  }

  /** A cast-on after rounds have been worked starts another piece only at a hard beginning. */
  #inWork(): boolean {
    return false;
  }

  /** Without a colon, stitches must follow, or it is a sentence about rounds. */
  #labelHolds(label: RoundLabel, at: number, end: number): boolean {
    const body = this.#text.slice(label.end, Math.min(end, label.end + 200));
    if (label.marked) {
      // "Rounds 1-4. These form the pattern"
      return true;
    }
    if (body.trim() === '') return label.numbers.length > 0 && at + 40 > label.end;
    const first = firstSentence(body);
    const read = readSteps(first, 0, this.#abbreviations, null);
    if (read.hasStitches && read.unread === 0) return true;
    return (
      looksLikeInstruction(first) || /^(?:as|same\s+as|rep(?:eat)?)\s+(?:round|rnd|row)/.test(body)
    );
  }

  read(lines: readonly { from: number; to: number; taken: boolean }[]): Statement[] {
    let blank = true;
    for (const line of lines) {
      if (line.taken) {
        blank = true;
        continue;
      }
      const raw = this.#text.slice(line.from, line.to);
      if (raw.trim() === '') {
        blank = true;
        continue;
      }
      this.#line(line.from, line.to, raw, blank);
      blank = false;
    }
    return this.statements;
  }

  #line(lineFrom: number, to: number, raw: string, blank: boolean): void {
    let from = lineFrom;
    const heading = /^\s*#/.test(raw);
    const indented = /^\s/.test(raw);
    for (const re of [BULLET, BOLD, ITEM, BULLET]) {
      const m = re.exec(this.#text.slice(from, to));
      if (m) from += m[0].length;
    }
    if (heading || from >= to) {
      this.#push({ kind: 'heading', from, to });
      return;
    }
    const starts: { at: number; kind: StartKind; label: RoundLabel | null }[] = [];
    const first = this.#startAt(from, to);
    if (first) {
      starts.push({ at: from, ...first });
      if (first.kind === 'cast-on') this.#castOn = true;
    }
    // Further instructions within the line.
    const boundary =
      /(?:[.;!)\]}]\**\s+|(?:,|\s-+(?=\s))\s*(?:and\s+)?(?:then\s+)?|\s(?:and|then)\s+)/g;
    const line = this.#text.slice(lineFrom, to);
    boundary.lastIndex = (first?.label ? Math.max(from, first.label.end - 1) : from) - lineFrom;
    let tried = 0;
    for (let m = boundary.exec(line); m; m = boundary.exec(line)) {
      const at = lineFrom + m.index + m[0].length;
      boundary.lastIndex = Math.max(m.index + 1, at - 1 - lineFrom);
      if (at >= to) break;
      const current = starts[starts.length - 1];
      // Stitches with their number start nothing; most commas end here.
      const c = this.#text[at];
      const next = this.#text.charCodeAt(at + 1);
      if ((c === 'k' || c === 'p') && next >= 48 && next <= 57) continue;
      if (c === '*' || c === '(' || c === '[') continue;
      // "and then repeat": one beginning.
      if (
        current &&
        /^(?:and|then|now|\s){1,4}$/.test(
          this.#text.slice(current.at, Math.min(at, current.at + 20)),
        )
      )
        continue;
      if (++tried > MOST_TRIED) break;
      const start = this.#startAt(at, to);
      if (!start) continue;
      const hard = /^[.;!]/.test(m[0]);
      const closing = /^[)\]}]/.test(m[0]);
      const opening =
        current === undefined || current.kind === 'cast-on' || current.kind === 'join';
      const plainish = current?.kind === 'plain' || current?.kind === 'repeat';
      const allowed = hard
        ? true
        : closing
          ? start.kind !== 'plain' || opening || plainish
          : start.kind === 'end' ||
            start.kind === 'shape' ||
            ((opening || plainish) &&
              (start.kind === 'plain' || start.kind === 'named' || start.kind === 'repeat')) ||
            (start.kind === 'join' && opening && current !== undefined) ||
            (start.kind === 'round' &&
              start.label?.marked === true &&
              start.label.numbers.length > 0 &&
              /^[,-]/.test(m[0]) === false);
      if (!allowed) continue;
      // "(knit 1 round, purl 1 round)" stays together.
      if (!hard && !closing && current && opensMore(this.#text, current.at, at)) continue;
      if (start.kind === 'round' && !hard && !closing) continue;
      if (start.kind === 'round' && start.label && !start.label.marked && closing) continue;
      if (current?.kind === 'end' && start.kind === 'end') continue;
      if (starts.length === 0 && at > from) this.#text.slice(from, at);
      starts.push({ at, kind: start.kind, label: start.label });
      if (start.kind === 'cast-on') this.#castOn = true;
      if (start.label) {
        boundary.lastIndex = Math.max(boundary.lastIndex, start.label.end - 1 - lineFrom);
      }
    }
    const firstAt = starts[0]?.at ?? to;
    if (firstAt > from) this.#free(from, firstAt, indented, blank, lineFrom);
    for (let i = 0; i < starts.length; i++) {
      const { at, kind, label } = starts[i];
      const end = starts[i + 1]?.at ?? to;
      if (kind === 'round') this.#push({ kind, label, from: at, to: end });
      else this.#push({ kind, from: at, to: end });
    }
  }

  #push(statement: Statement): void {
    if (statement.kind === 'cast-on') this.#castOn = true;
    if (statement.kind === 'end') this.#ended = true;
    this.statements.push(statement);
  }

  /** A line that starts no statement: it goes on with the last one, is a round by itself, or prose. */
  #free(from: number, to: number, indented: boolean, blank: boolean, lineFrom: number): void {
    const text = this.#text.slice(from, to);
    const last = this.statements[this.statements.length - 1];
    const stated = readStatedCount(text.replace(/^[\s([{=-]+|[\s)\]}.]+$/g, ''));
    if (stated && /\bsts?\b|stitch|[([]/.test(text)) {
      this.#push({ kind: 'count', stated, from, to });
      return;
    }
    const read = readSteps(text, from, this.#abbreviations, null);
    const clean = read.unread === 0 && read.steps.length > 0;
    if (last?.kind === 'round' && !blank) {
      const open = this.#openAtEnd(last);
      const startsSmall = !/^[\s•*-]*[A-Z]/.test(this.#original(lineFrom, to));
      const goesOn =
        open ||
        (clean &&
          (indented || startsSmall) &&
          (last.label !== null || indented) &&
          (indented || !this.#complete(last)));
      if (goesOn && (open || clean)) {
        this.statements[this.statements.length - 1] = { ...last, to };
        return;
      }
    }
    if (!this.#castOn || this.#ended) {
      this.#push({ kind: 'heading', from, to });
      return;
    }
    const patternOnly = read.steps.every((s) => s.kind === 'pattern') && !/\bwork\b/.test(text);
    if ((clean && read.hasStitches && !patternOnly) || looksLikeInstruction(text)) {
      this.#push({ kind: 'round', label: null, from, to });
    } else this.#push({ kind: 'heading', from, to });
  }

  #open: OpenState = { statement: -1, at: 0, depth: 0, stars: 0 };

  /** The last statement breaks off in the middle of something. Looks at each character once. */
  #openAtEnd(last: Extract<Statement, { kind: 'round' }>): boolean {
    const index = this.statements.length - 1;
    const start = last.label?.end ?? last.from;
    let state = this.#open;
    if (state.statement !== index) state = { statement: index, at: start, depth: 0, stars: 0 };
    for (let i = state.at; i < last.to; i++) {
      const c = this.#text[i];
      if (c === '(' || c === '[' || c === '{') state.depth++;
      else if (c === ')' || c === ']' || c === '}') state.depth--;
      else if (c === '*' && this.#text[i - 1] !== '*') state.stars++;
    }
    state.at = last.to;
    this.#open = state;
    const tail = this.#text.slice(Math.max(start, last.to - 60), last.to);
    if (tail.trim() === '' || state.depth > 0) return true;
    // "Next round: k" is whole.
    if (/^\s*[kp]\.?\s*$/.test(this.#text.slice(start, last.to))) return false;
    if (/(?:[,&]|\b(?:and|then|to|from|next|last|rep|repeat|k|p|work))\s*$/.test(tail)) return true;
    // "*k2, p2" waits for its "rep from *".
    return state.stars % 2 === 1;
  }

  /** The last statement says how its round ends: "to end", "around", "(88 sts)". */
  #complete(last: Extract<Statement, { kind: 'round' }>): boolean {
    const start = last.label?.end ?? last.from;
    if (last.to - start > 400) return false;
    const read = readSteps(this.#text.slice(start, last.to), start, this.#abbreviations, null);
    if (read.stated) return true;
    const end = read.steps[read.steps.length - 1];
    if (!end || !('amount' in end) || 'times' in end.amount) return false;
    return end.amount.kind === 'rest' || (end.amount.kind === 'end' && end.amount.count === 0);
  }

  #original(from: number, to: number): string {
    return this.#source?.text.slice(this.#source.map[from], this.#source.map[to]) ?? '';
  }

  #source: Source | null = null;
  withSource(source: Source): this {
    this.#source = source;
    return this;
  }
}

/** More brackets are opened than closed between two places; looked at from the later one. */
function opensMore(text: string, from: number, to: number): boolean {
  let depth = 0;
  for (let i = to - 1; i >= from && to - i < 300; i--) {
    if (text[i] === ')') depth++;
    else if (text[i] === '(' && --depth < 0) return true;
  }
  return false;
}

function firstSentence(text: string): string {
  const stop = text.search(/\.(?:\s|$)|\n/);
  return stop < 0 ? text : text.slice(0, stop);
}

/** Splits the lines that are no headers (`taken`) into statements, in order of the text. */
export function readStatements(
  source: Source,
  lines: readonly { from: number; to: number; taken: boolean }[],
  abbreviations: Abbreviations,
): Statement[] {
  return new StatementReader(source, abbreviations).withSource(source).read(lines);
}
