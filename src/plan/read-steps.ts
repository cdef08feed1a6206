/**
 * Instruction text of one round → Step tree. Recursive over brackets; asterisks are closed by the
 * "repeat from *" that follows them. Never fails: what it cannot read becomes a diagnostic and is left
 * out. Longer than most files because the trade has many wordings for the same few things.
 */
import type { Abbreviations } from './abbreviations.ts';
import type { DiagnosticList } from './diagnostics.ts';
import { NUM, toNumber } from './numbers.ts';
import { readStatedCount, type StatedCount } from './stated-counts.ts';
import type { Amount, GroupStep, PatternRule, Step } from './steps.ts';
import { stitchKind } from './stitch-table.ts';
import { readStitch } from './stitch-words.ts';
import { nearestWord } from './suggestions.ts';
import { type ReadTimes, readTarget, readTimes, STS } from './targets.ts';

/** Deepest nesting of brackets. Chosen: no pattern needs more, and reading stays safe. */
const DEEPEST = 30;

/** Unread words after which the rest of an instruction is given up. Chosen. */
const MOST_UNREAD = 200;

export interface ReadInstruction {
  readonly steps: readonly Step[];
  readonly stated: StatedCount | null;
  /** Words that could not be read: the text is perhaps no instruction at all. */
  readonly unread: number;
  /** Some of them are errors, so that the count cannot be trusted. */
  readonly failed: boolean;
  /** The text ends in the middle of something. */
  readonly unfinished: boolean;
  /** Some wording would need to know where the instruction stops: "repeat from * to end" and so on. */
  readonly hasStitches: boolean;
}

const MARKER_OPS: readonly { re: RegExp; action: 'place' | 'slip' | 'remove' }[] = [
  {
    re: /(?:pm\b|place\s+(?:a\s+|another\s+|stitch\s+|next\s+|\w+\s+)?(?:m\b|marker)(?:\s*\(?pm\b\)?)?)(?:\s+for\s+[a-z ]{2,30})?/y,
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

const NOISE =
  /(?:(?:dec|inc|decrease|increase)\s*:(?!\s*\d)|removing\s+(?:all\s+)?(?:the\s+)?markers?(?:\s+as\s+(?:you|they)\s+(?:come|go|get|reach|are)[a-z ]*)?|(?:decrease|increase|cable|plain|crossing|dec|inc)\.?\s+(?:round|rnd|row)(?=\s*[:.,-])|(?:with\s+)?(?:rs|ws|right\s+side|wrong\s+side)\s+facing|(?:while\s+)?(?:slipping|carrying|keeping|moving|passing)\s+(?:all\s+)?(?:the\s+|your\s+)?markers?(?:\s+as\s+(?:you|they)\s+(?:come|go|get|reach|are)[a-z ]*|\s+up)?|and\s+then|and|then|&|now|also|ending\s+with|ending|end\s+with|end|finishing\s+with|finish\s+with|across\s+(?:the\s+)?(?:row|round)|once|loosely|tightly|evenly|carefully|work(?=\s+(?:[\d(*[]|k\d|p\d|ssk|as\s+follows))|as\s+follows|thus|join(?:\s+(?:in|to|for)\s+[a-z ]{0,40}(?:round|rnd))?|inclusive|please|(?:with|using|in|change\s+to|switch\s+to|join)\s+(?:colou?r\s+)?(?:mc|cc\d?|main\s+colou?r|contrast(?:ing)?\s+colou?r|(?:yarn|colou?r)\s+[a-d])|(?:for\s+)?(?:the\s+)?(?:last|final|first|next)\s+side|\(?(?:rs|ws)(?:\s+facing)?\)?)(?![a-z0-9])\s*:?/y;
const EACH_SIDE =
  /(?:\(?\s*(?:work\s+)?(?:on\s+|along\s+|across\s+|at\s+)?(?:each|every|all(?:\s+(?:the|four|4))?)\s+(?:of\s+the\s+(?:\w+\s+)?)?(?:sides?|needles?|sections?|quarters?|wedges?|segments?|panels?|edges?)(?:\s+of\s+the\s+square)?\s*(?:work(?:ed)?\s+)?(?:as\s+follows|thus)?\s*\)?\s*[:,-]?\s*)/y;
const TRAIL_EACH_SIDE =
  /[\s,;]*(?:(?:rep(?:eat)?|work)\s+(?:this\s+)?)?(?:on|along|for|across)\s+(?:each|every|all(?:\s+(?:the|four|4))?)\s+(?:of\s+the\s+(?:\w+\s+)?)?(?:sides?|needles?|sections?|quarters?|wedges?|segments?|edges?)(?![a-z])/y;
/** "*…* on each needle" */
const CLOSE_EACH =
  /(?:(?:on|for|along|across)\s+)?(?:each|every|all(?:\s+(?:the|four|4))?)\s+(?:of\s+the\s+(?:\w+\s+)?)?(?:sides?|needles?|sections?|quarters?|wedges?|segments?)(?![a-z])(?!\s*:)/y;
const REPEAT_FROM =
  /(?:rep(?:eat)?s?\.?|work|cont(?:inue)?\.?)\s*(?:(?:the\s+)?(?:instructions?|sts?|stitches|section|sequence|pattern|part)\s+)?(?:working\s+)?(?:from|fr\.?|between|bet\.?|btw|the)?\s*(?:the\s+)?(?:(\*+)(?:'?s(?![a-z]))?(?:\s*(?:to|-|and|through)\s*\*+)?|(?:asterisks?|stars?)(?![a-z]))/y;
const REPEAT_BRACKET =
  /[\s,;]*(?:rep(?:eat)?\.?)\s*(?:(?:between|from|the)\s+)?(?:\(\s*\)|\[\s*\]|brackets?|parenthes[ei]s|(?:these|this|the)\s+(?:\d+\s+)?(?:sts?|stitches|sequence)|sequence)?\s*/y;
const SPREAD = new RegExp(
  `(?:work\\s+)?(dec|inc)(?:r?eas(?:e|ing)|rs?|\\.)?\\s*(?:by\\s+)?(?:(${NUM})\\s*(?:${STS})?)?\\s*(?:evenly|even)(?:\\s+(?:spaced|distributed))?\\s*(?:(${NUM})\\s*(?:${STS}|times)?\\s*)?(?:across|around|over|along|to\\s+end|in)?\\s*(?:(?:the|this|all)\\s+)?(?:round|rnd|row|sts|stitches)?(?:\\s*(?:by|using|with)\\s+(?:working\\s+)?(k2tog|ssk|skp|p2tog|m1[lrp]?|kfb|yo)(?:\\s+each\\s+time)?)?`,
  'y',
);
const SPREAD_STITCH = new RegExp(
  `(k2tog|ssk|skp|p2tog|m1[lrp]?|kfb|yo)\\s+evenly\\s+(?:spaced\\s+)?(${NUM})\\s*(?:times|x)(?:\\s+(?:across|around)(?:\\s+(?:the\\s+)?(?:round|row))?)?`,
  'y',
);
const INTO_ONE = new RegExp(
  `[\\s,]*(?:all\\s+)?(?:in|into|in\\s+to)\\s+(?:the\\s+)?(?:same\\s+|next\\s+|one\\s+|1\\s+|a\\s+|single\\s+|following\\s+|center\\s+|centre\\s+|corner\\s+)+(?:${STS}|yo(?![a-z])|loop)`,
  'y',
);
const PATTERNS: readonly { re: RegExp; rule: PatternRule }[] = [
  {
    re: /(?:work(?:ing)?\s+)?(?:k(?:nit)?\s+(?:all\s+|into\s+)?(?:the\s+)?(?:k|knit)s?(?:\s+(?:sts?|stitches))?\s*(?:,|and|&)?\s*(?:and\s+)?p(?:url)?\s+(?:all\s+|into\s+)?(?:the\s+)?(?:p|purl)s?(?:\s+(?:sts?|stitches))?(?![a-z0-9])|(?:all\s+)?(?:the\s+)?(?:sts?|stitches)\s+as\s+they\s+(?:appear|present(?:\s+themselves)?|face(?:\s+you)?|come|show|look))/y,
    rule: 'knits',
  },
  {
    re: /(?:work(?:ing)?\s+)?(?:k(?:nit)?\s+(?:all\s+)?(?:the\s+)?(?:p|purl)s?(?:\s+(?:sts?|stitches))?\s*(?:,|and|&)?\s*(?:and\s+)?p(?:url)?\s+(?:all\s+)?(?:the\s+)?(?:k|knit)s?(?:\s+(?:sts?|stitches))?(?![a-z0-9])|(?:work\s+)?(?:in\s+)?(?:seed|moss)(?:\s+st(?:itch)?)?(?:\s+as\s+(?:set|established))?(?![a-z]))/y,
    rule: 'seed',
  },
  {
    re: /(?:(?:work|cont(?:inue)?\.?)\s+)?(?:in\s+)?garter(?:\s+st(?:itch)?\.?)?(?:\s+as\s+(?:set|established))?(?![a-z])/y,
    rule: 'garter',
  },
  {
    re: /(?:(?:work|cont(?:inue)?\.?)\s+)?(?:in\s+)?rev(?:erse)?\.?\s+(?:stoc?k(?:inette|ing)(?:\s+st(?:itch)?)?|st\.?\s*st\.?)(?![a-z])/y,
    rule: 'reverse',
  },
  {
    re: /(?:(?:work|cont(?:inue)?\.?)\s+)?(?:in\s+)?(?:stoc?k(?:inette|ing)(?:\s+st(?:itch)?\.?)?|st\.?\s*st\.?|stst)(?![a-z])/y,
    rule: 'stockinette',
  },
  {
    re: /(?:(?:work|cont(?:inue)?\.?|keep)\s+)?(?:(?:in\s+)?(?:the\s+)?(?:est(?:ablished)?\.?\s+)?(?:pat(?:t|tern)?s?\.?|rib(?:bing)?)(?:\s+as\s+(?:set|est(?:ablished)?\.?|before))?|(?:in\s+)?(?:as\s+(?:set|est(?:ablished)?\.?|before|usual))|even(?:\s+in\s+pat(?:t|tern)?)?|straight|across|all\s+(?:the\s+)?(?:sts?|stitches)(?:\s+as\s+(?:set|est(?:ablished)?))?)(?![a-z])/y,
    rule: 'set',
  },
  { re: /(?:work|patt)(?![a-z])/y, rule: 'set' },
];
const PATTERN_COUNT = new RegExp(
  `\\s*(?:(?:over|across|for)\\s+)?(?:the\\s+)?(?:next\\s+|first\\s+|last\\s+)?(${NUM})(?!\\s*(?:rounds?|rnds?|rows?|cm|inch|ins?\\b|"))\\s*(?:${STS})?(?:\\s+(?:as\\s+(?:set|est(?:ablished)?)|in\\s+pat(?:t|tern)?(?:\\s+as\\s+(?:set|established))?))?(?![a-z0-9])`,
  'y',
);
const SIZES = /\s*\(\s*\d{1,4}(?:\s*,\s*\d{1,4})+\s*\)/y;
const SECTION = /(?:needles?|ndl|side|section|n(?=\d))\s*(\d)(?:\s*(?:,|and|&)\s*\d)*\s*[:.-]\s*/y;
const REPEAT_BARE =
  /rep(?:eat)?\.?(?:\s+(?:these|this|the)\s+(?:\d+\s+)?(?:sts?|stitches|sequence|pattern))?(?=\s*(?:to\s|around|across|until|all\s|\d|twice|once|for|x|[([,;=-]|\.|$))/y;
const TURN =
  /(?:turn(?:\s+(?:the\s+)?(?:work|piece|over))?|(?:and\s+)?turn)(?![a-z])(?:\s+(?:the\s+)?work)?/y;
const PLACE_EVERY = new RegExp(
  `(?:and\\s+)?(?:pm(?![a-z])|plac(?:e|ing)\\s+(?:a\\s+)?(?:stitch\\s+)?markers?)\\s+(?:after\\s+)?(?:every|each)\\s+(${NUM})(?:th)?\\s*${STS}`,
  'y',
);
const MOVED_MARKER =
  /(?:(?:move|shift|reposition)\s+(?:the\s+)?(?:[a-z]+\s+){0,4}(?:markers?|m)\b(?:\s+(?:\d+|one|to|the|back|left|right|over|forward|beyond|past|behind|after|this|next|that|sts?|stitch)\b)*|(?:place|put)\s+(?:a\s+|the\s+)?new\s+(?:bor|beg[a-z.]*\s+of\s+(?:the\s+)?(?:rnd|round)|(?:start|end)\s+of\s+(?:rnd|round)|rnd|round)\s+(?:marker|m)\b)/y;
const SHORT_ROW =
  /(?:w\s*&\s*t|w\s*\+\s*t|wrap\s+(?:and|&)\s+turn|wrap\s+(?:next\s+)?st)(?![a-z])/y;
const GAP = /[\s,;.:]+/y;
const WORD = /[^\s,;()[\]{}*]+/y;

interface OpenStar {
  readonly level: number;
  readonly index: number;
  readonly at: number;
}

class StepReader {
  stated: StatedCount | null = null;
  unread = 0;
  failed = false;
  unfinished = false;
  readonly #text: string;
  readonly #base: number;
  readonly #abbreviations: Abbreviations;
  readonly #found: DiagnosticList | null;
  #i = 0;
  /** End of the last word that could not be read. */
  #unknownTo = -1;
  /** Asterisks that are open in each bracket around this place. */
  readonly #scopes: OpenStar[][] = [];
  /** Steps of `Needle 1: …` and so on, for "as needle 1". */
  readonly #parts = new Map<string, readonly Step[]>();

  constructor(
    text: string,
    base: number,
    abbreviations: Abbreviations,
    found: DiagnosticList | null,
  ) {
    this.#text = text;
    this.#base = base;
    this.#abbreviations = abbreviations;
    this.#found = found;
  }

  #match(re: RegExp): RegExpExecArray | null {
    re.lastIndex = this.#i;
    const m = re.exec(this.#text);
    if (m && re.lastIndex > this.#i) {
      this.#i = re.lastIndex;
      return m;
    }
    return null;
  }

  #say(
    severity: 'error' | 'warning' | 'note',
    code: string,
    from: number,
    message: string,
    hint = '',
  ): void {
    if (severity === 'error') this.failed = true;
    this.#found?.add(severity, code, this.#base + from, this.#base + this.#i, message, hint);
  }

  /** Everything up to the closing bracket, or to the end of the text. */
  readSequence(closer: string, depth: number, openedAt: number): Step[] {
    const stars: OpenStar[] = [];
    this.#scopes.push(stars);
    const items = this.#readItems(stars, closer, depth, openedAt);
    this.#scopes.pop();
    return items;
  }

  #readItems(stars: OpenStar[], closer: string, depth: number, openedAt: number): Step[] {
    const items: Step[] = [];
    let eachSideFrom = -1;
    let eachSideIndex = 0;
    const wrapEachSide = (): void => {
      if (eachSideFrom < 0 || items.length === eachSideIndex) return;
      const steps = items.splice(eachSideIndex);
      items.push(this.#group(steps, eachSideFrom, { times: 1 }, null, true));
      eachSideFrom = -1;
    };

    for (;;) {
      this.#match(GAP);
      const at = this.#i;
      const c = this.#text[at];
      if (c === undefined) break;
      if (c === closer) {
        this.#i++;
        wrapEachSide();
        this.#closeStars(stars);
        return items;
      }
      if (c === ')' || c === ']' || c === '}') {
        this.#i++;
        this.#say(
          'warning',
          'bracket-not-opened',
          at,
          `this closing "${c}" has no opening bracket`,
          'Remove it, or open a bracket before the stitches that belong together.',
        );
        continue;
      }
      if (c === '(' || c === '[' || c === '{') {
        if (this.#readBracketedRemark(at, items[items.length - 1])) continue;
        const group = this.#readBracket(c, depth, at);
        if (group) items.push(...group);
        continue;
      }
      if (c === '*') {
        this.#readStar(items, stars, at);
        continue;
      }
      if ((c === 'k' || c === 'p') && this.#readPlainRun(items, at)) continue;
      if (this.unread > MOST_UNREAD) {
        this.#i = this.#text.length;
        continue;
      }
      if (this.#readTrailingCount(at)) continue;
      if ('(woaec'.includes(c) && this.#match(EACH_SIDE)) {
        wrapEachSide();
        eachSideFrom = at;
        eachSideIndex = items.length;
        continue;
      }
      const trail = 'rwofa'.includes(c) && this.#matchTrailingSides();
      if (trail && items.length > 0 && eachSideFrom < 0) {
        items.push(
          this.#group(items.splice(0), this.#spanStart(items, at), { times: 1 }, null, true),
        );
        continue;
      }
      if ('rwc'.includes(c) && this.#readRepeat(items, stars, at)) continue;
      if ((c === 'n' || c === 's') && this.#readSection(items, at)) continue;
      const step = this.#readStep(items, depth);
      const placing = step !== null && step !== 'none' && step.kind === 'group' && isPlacing(step);
      if (step !== null && step !== 'none' && (step.kind === 'spread' || placing)) {
        // "knit, decreasing 8 sts evenly": one instruction.
        const last = items[items.length - 1];
        if (last?.kind === 'stitch' && !('times' in last.amount)) items.pop();
      }
      if (step === 'none') this.#readUnknown(at);
      else if (step !== null) items.push(step);
    }
    wrapEachSide();
    this.#closeStars(stars);
    if (closer !== '') {
      this.unfinished = true;
      this.unread++;
      this.failed = true;
      this.#found?.add(
        'error',
        'bracket-not-closed',
        this.#base + openedAt,
        this.#base + openedAt + 1,
        `this "${this.#text[openedAt]}" is never closed`,
        `Put a "${closer}" after the last stitch that belongs to it.`,
      );
    } else if (/(?:[,&]|\b(?:and|then|to|from|next|last|rep|repeat|k|p))\s*$/.test(this.#text)) {
      this.unfinished = true;
    }
    return items;
  }

  /** The commonest words by far, `k5,` and `p2)`, without trying anything else. */
  #readPlainRun(items: Step[], at: number): boolean {
    const text = this.#text;
    let i = at + 1;
    let times = 0;
    for (; i < at + 8; i++) {
      const digit = text.charCodeAt(i) - 48;
      if (!(digit >= 0 && digit <= 9)) break;
      times = times * 10 + digit;
    }
    if (i === at + 1 || i === at + 8 || this.#abbreviations.shadowsPlain) return false;
    const next = text[i];
    if (next === ',' || next === ';') {
      // "k5, to last 2 sts" says more; only a following stitch or bracket ends it for sure.
      let j = i + 1;
      while (text[j] === ' ') j++;
      const c = text[j];
      if (c === undefined || !'kpsym[(*'.includes(c)) return false;
      if ((c === 'k' || c === 'p') && !(text[j + 1] >= '0' && text[j + 1] <= '9')) return false;
      if (c === '(') return false;
    } else if (next !== undefined && !')]}'.includes(next)) return false;
    this.#i = i;
    items.push({
      kind: 'stitch',
      name: text[at],
      amount: { times },
      from: this.#base + at,
      to: this.#base + i,
    });
    return true;
  }

  #spanStart(items: readonly Step[], at: number): number {
    return items.length > 0 ? items[0].from - this.#base : at;
  }

  #matchTrailingSides(): boolean {
    return this.#match(TRAIL_EACH_SIDE) !== null;
  }

  #group(
    steps: readonly Step[],
    from: number,
    amount: Amount,
    otherTimes: number | null = null,
    eachSide = false,
  ): GroupStep {
    return {
      kind: 'group',
      steps,
      amount,
      otherTimes,
      eachSide,
      from: this.#base + from,
      to: this.#base + this.#i,
    };
  }

  #closeStars(stars: OpenStar[]): void {
    for (const star of stars) {
      this.unfinished = true;
      this.#found?.add(
        'warning',
        'star-without-repeat',
        this.#base + star.at,
        this.#base + star.at + star.level,
        'nothing says how often to repeat from this *',
        'Add for example "; rep from * to end" after the stitches to repeat.',
      );
    }
    stars.length = 0;
  }

  /** `(120 sts)`, `(RS)`, `(corner stitch)`: brackets that hold no stitches. */
  #readBracketedRemark(at: number, last: Step | undefined): boolean {
    const end = matchingBracket(this.#text, at);
    if (end < 0) return false;
    const inside = this.#text.slice(at + 1, end);
    if (inside.trim() === '') {
      this.#i = end + 1;
      return true;
    }
    const count = readStatedCount(inside);
    if (count) {
      this.#i = end + 1;
      this.stated ??= count;
      return true;
    }
    if (/^\s*(?:rs|ws|right side|wrong side|dec(?:rease)?|inc(?:rease)?)\b[a-z .]*$/.test(inside)) {
      this.#i = end + 1;
      return true;
    }
    // Only short brackets without inner ones can be remarks; this also keeps nested reading linear.
    if (inside.length > 160 || /[([{]/.test(inside)) return false;
    // A bracket that is worked several times is no remark, whatever is in it.
    if (
      /^\s*(?:x\s*\d|\d+\s*x|\d+\s+times|twice|once|to\s|around|in(?:to)?\s|rep)/.test(
        this.#text.slice(end + 1, end + 20),
      )
    ) {
      return false;
    }
    const inner = new StepReader(inside, this.#base + at + 1, this.#abbreviations, null);
    const steps = inner.readSequence('', 1, 0);
    // "k2tog (knit two together)" only explains.
    const [only] = steps;
    const explains =
      steps.length === 1 &&
      inner.unread === 0 &&
      last !== undefined &&
      ((only.kind === 'stitch' &&
        last.kind === 'stitch' &&
        only.name === last.name &&
        only.name.length > 1) ||
        (only.kind === 'marker' && last.kind === 'marker' && only.action === last.action));
    if (explains || (inner.unread > 0 && (steps.length === 0 || looksLikeProse(inside)))) {
      this.#i = end + 1;
      return true;
    }
    return false;
  }

  #readBracket(open: string, depth: number, at: number): Step[] | null {
    const closer = open === '(' ? ')' : open === '[' ? ']' : '}';
    this.#i++;
    if (depth >= DEEPEST) {
      this.#say(
        'error',
        'brackets-too-deep',
        at,
        `brackets are nested more than ${DEEPEST} deep`,
        'Write the inner repeats as rounds or abbreviations of their own.',
      );
      this.#i = this.#text.length;
      return null;
    }
    const steps = [...foldBobbles(this.readSequence(closer, depth + 1, at))];
    if (steps.length === 0) return null;
    if (this.#match(INTO_ONE)) {
      const name = intoOneName(steps);
      if (name === null) {
        this.#say(
          'error',
          'into-one-stitch',
          at,
          'only k, p, k tbl, p tbl and yo can be worked together into one stitch',
        );
        return null;
      }
      const amount = this.#readAmount()?.amount ?? { times: 1 };
      return [{ kind: 'stitch', name, amount, from: this.#base + at, to: this.#base + this.#i }];
    }
    const start = this.#i;
    this.#match(REPEAT_BRACKET);
    let read = this.#readAmount();
    if (!read) {
      this.#i = start;
      read = this.#readAmount();
    }
    if (!read && this.#matchTrailingSides()) {
      return [this.#group(steps, at, { times: 1 }, null, true)];
    }
    if (!read) return [this.#group(steps, at, { times: 1 })];
    if (read.times?.more) {
      return [this.#group(steps, at, { times: read.times.times + 1 }, read.times.times)];
    }
    return [this.#group(steps, at, read.amount)];
  }

  /** Times or a target, with any gap before it. */
  #readAmount(): { amount: Amount; times: ReadTimes | null } | null {
    const start = this.#i;
    this.#match(/[\s,;]+/y);
    const times = this.#closesStar() ? null : readTimes(this.#text, this.#i);
    if (times) {
      this.#i = times.end;
      // "3 times to end", "3 times around": the target only repeats what the number says.
      return { amount: { times: times.times }, times };
    }
    const target = readTarget(this.#text, this.#i);
    if (target) {
      this.#i = target.end;
      return { amount: target.target, times: null };
    }
    this.#i = start;
    return null;
  }

  /** The asterisk here closes an open one; only right behind a bracket can it still mean "times". */
  #closesStar(): boolean {
    if (this.#text[this.#i] !== '*' || !this.#scopes.some((s) => s.length > 0)) return false;
    return !(
      /[)\]}]/.test(this.#text[this.#i - 1] ?? '') &&
      /^\*\d+(?!\s*times)/.test(this.#text.slice(this.#i, this.#i + 12))
    );
  }

  #readStar(items: Step[], stars: OpenStar[], at: number): void {
    let level = 0;
    while (this.#text[this.#i] === '*') {
      level++;
      this.#i++;
    }
    // "*8 sts dec'd, 72 sts*": a remark in italics.
    const inner = /[^*\n]{3,80}(?=\*)/y;
    inner.lastIndex = this.#i;
    const remark = inner.exec(this.#text);
    const count =
      remark && /\d\s*sts?\b|stitches/.test(remark[0]) ? readStatedCount(remark[0]) : null;
    if (remark && count) {
      this.#i += remark[0].length + 1;
      this.stated ??= count;
      return;
    }
    const open = stars.findLastIndex((s) => s.level === level);
    if (open >= 0 && items.length > stars[open].index) {
      // A second asterisk closes the repeat if "repeat…", a number of times or the end follows.
      const start = this.#i;
      this.#match(GAP);
      if (this.#match(CLOSE_EACH)) {
        const steps = items.splice(stars[open].index);
        const from = stars[open].at;
        stars.length = open;
        items.push(this.#group(steps, from, { times: 1 }, null, true));
        return;
      }
      const rep = this.#match(REPEAT_FROM) ?? this.#match(REPEAT_BARE);
      const read = this.#readAmount();
      const atEnd = this.#atEnd() || ')]}'.includes(this.#text[this.#i]);
      if (rep || read || atEnd || this.#countFollows()) {
        const steps = items.splice(stars[open].index);
        const from = stars[open].at;
        stars.length = open;
        items.push(this.#starGroup(steps, from, read, rep !== null));
        return;
      }
      this.#i = start;
    }
    stars.push({ level, index: items.length, at });
  }

  #atEnd(): boolean {
    const rest = /[\s.,;]*$/y;
    rest.lastIndex = this.#i;
    return rest.test(this.#text);
  }

  #countFollows(): boolean {
    const rest = this.#text.slice(this.#i, this.#i + 40);
    return /^[\s,;.]*(?:[-=]\s*\d|\(\s*\d)/.test(rest);
  }

  #starGroup(
    steps: readonly Step[],
    from: number,
    read: { amount: Amount; times: ReadTimes | null } | null,
    repeated: boolean,
  ): GroupStep {
    if (!read) return this.#group(steps, from, { kind: 'rest', count: 0 });
    const { times } = read;
    if (!times) return this.#group(steps, from, read.amount);
    if (!repeated || times.total) return this.#group(steps, from, { times: times.times });
    // Worked once, then repeated; without "more" some patterns mean the total.
    return this.#group(steps, from, { times: times.times + 1 }, times.more ? null : times.times);
  }

  /** "k2, p2; repeat to end" without any asterisk: everything so far. */
  #readBareRepeat(items: Step[], stars: OpenStar[]): boolean {
    if (items.length === 0) return false;
    const start = this.#i;
    if (!this.#match(REPEAT_BARE)) return false;
    const read = this.#readAmount();
    if (!read) {
      this.#i = start;
      return false;
    }
    const star = stars.pop();
    stars.length = 0;
    const steps = items.splice(star && star.index < items.length ? star.index : 0);
    items.push(this.#starGroup(steps, steps[0].from - this.#base, read, true));
    return true;
  }

  #readRepeat(items: Step[], stars: OpenStar[], at: number): boolean {
    const m = this.#match(REPEAT_FROM);
    if (!m) return this.#readBareRepeat(items, stars);
    const level = m[1]?.length ?? 1;
    let open = stars.findLastIndex((s) => s.level === level);
    if (open < 0) open = stars.length - 1;
    const read = this.#readAmount();
    if (open < 0) {
      if (items.length > 0 && read && /^\s*rep/.test(m[0])) {
        // No asterisk: most likely everything so far.
        this.#say(
          'warning',
          'repeat-without-star',
          at,
          'there is no * to repeat from; read as repeating everything from the beginning',
          'Put a * before the first stitch that is repeated.',
        );
        const steps = items.splice(0);
        items.push(this.#starGroup(steps, steps[0].from - this.#base, read, true));
      } else {
        this.#say(
          'error',
          'repeat-without-star',
          at,
          'there is no * to repeat from',
          'Put a * before the first stitch that is repeated.',
        );
      }
      return true;
    }
    const star = stars[open];
    stars.length = open;
    const steps = items.splice(star.index);
    if (steps.length === 0) return true;
    if (!read && this.#matchTrailingSides()) {
      items.push(this.#group(steps, star.at, { times: 1 }, null, true));
      return true;
    }
    items.push(this.#starGroup(steps, star.at, read, true));
    return true;
  }

  /** `Needle 1: …`: every such part is worked over its own share of the round. */
  #readSection(items: Step[], at: number): boolean {
    const m = this.#match(SECTION);
    if (!m) return false;
    // The parts are equal shares: from here to the next label or the end is one side's work.
    const rest = this.#text.slice(this.#i);
    const next = rest.search(
      /\b(?:needles?|ndl|side|section|n(?=\d))\s*\d(?:\s*(?:,|and|&)\s*\d)*\s*[:-]/,
    );
    const end = next < 0 ? this.#text.length : this.#i + next;
    const named = m[0].match(/\d/g) ?? [];
    const numbers = named.length;
    const like =
      /^\s*(?:work\s+)?(?:as|same\s+as|like|rep(?:eat)?)\s+(?:for\s+)?(?:needle|ndl|side|section|n)\s*(\d)/.exec(
        this.#text.slice(this.#i, end),
      );
    const inner = new StepReader(
      this.#text.slice(this.#i, end),
      this.#base + this.#i,
      this.#abbreviations,
      this.#found,
    );
    const known = like ? this.#parts.get(like[1]) : undefined;
    const steps = known ?? inner.readSequence('', 1, 0);
    for (const n of named) this.#parts.set(n, steps);
    this.unread += inner.unread;
    this.failed ||= inner.failed;
    this.stated ??= inner.stated;
    this.#i = end;
    if (steps.length === 0) return true;
    for (let i = 0; i < numbers; i++) {
      items.push({ ...this.#group(steps, at, { times: 1 }), part: true });
    }
    return true;
  }

  /** `- 120 sts`, `= 120`, or a bare `120 sts` at the end. */
  #readTrailingCount(at: number): boolean {
    const c = this.#text[at];
    const dashed = c === '-' || c === '=' || c === '~' || c === '>';
    const bare = c >= '0' && c <= '9';
    const worded =
      'yntlmg'.includes(c) &&
      /(?:you\s|now\s|there\s|total\s|leav(?:ing|es)\s|mak(?:ing|es)\s|giv(?:ing|es)\s)/y.test(
        this.#text.slice(at, at + 8),
      );
    if (!dashed && !bare && !worded) return false;
    const rest = this.#text.slice(at, at + 140);
    const stop = rest.search(/\.(?:\s|$)|\n|;/);
    const part = stop < 0 ? rest : rest.slice(0, stop);
    const body = part.replace(/^[-=~>\s]+/, '');
    if (!dashed && !/\b(?:sts?|stitch(?:es)?|loops)\b/.test(body)) return false;
    const count = readStatedCount(body);
    if (count) {
      this.stated ??= count;
      this.#i = at + part.length;
      return true;
    }
    if (dashed) {
      this.#i = at + 1;
      return true;
    }
    return false;
  }

  /** One step; null for words without meaning, 'none' if nothing could be read. */
  #readStep(items: readonly Step[], depth: number): Step | null | 'none' {
    const at = this.#i;
    const spaced = 'amp'.includes(this.#text[at]) ? this.#match(PLACE_EVERY) : null;
    if (spaced) {
      const [from, to] = [this.#base + at, this.#base + this.#i];
      const run = {
        kind: 'stitch',
        name: 'k',
        amount: { times: toNumber(spaced[1]) },
        from,
        to,
      } as const;
      return this.#group([run, { kind: 'marker', action: 'place', from, to }], at, {
        kind: 'rest',
        count: 0,
      });
    }
    if (
      'psrtd'.includes(this.#text[at]) &&
      !/^(?:place|put)\s+(?:a\s+|the\s+)?new\s+(?:bor|beg|start|end|rnd|round)/.test(
        this.#text.slice(at, at + 24),
      )
    ) {
      for (const { re, action } of MARKER_OPS) {
        if (this.#match(re)) {
          return { kind: 'marker', action, from: this.#base + at, to: this.#base + this.#i };
        }
      }
    }
    if (this.#match(MOVED_MARKER)) {
      this.unread++;
      this.#say(
        'error',
        'marker-moved',
        at,
        'a beginning of the round that moves cannot be followed',
        'Let the round begin a stitch earlier or later from the cast-on on, so that its marker stays.',
      );
      return null;
    }
    if (this.#match(SHORT_ROW)) {
      this.unread++;
      this.#say(
        'error',
        'short-row',
        at,
        'short rows (wrap and turn) cannot be followed',
        'Work every row to its end.',
      );
      return null;
    }
    if (this.#match(TURN)) {
      return { kind: 'turn', from: this.#base + at, to: this.#base + this.#i };
    }
    const own = this.#readOwn(at);
    if (own) return own;
    const spread = this.#readSpread(at);
    if (spread) return spread;
    const pattern = this.#readPattern(at);
    if (pattern) return pattern;

    const multiplier = /(\d{1,3})\s*x\s*(?=[(]|[a-z])/y;
    multiplier.lastIndex = at;
    const times = multiplier.exec(this.#text);
    if (times && !readStitch(this.#text, at)) {
      this.#i = multiplier.lastIndex;
      const c = this.#text[this.#i];
      const inner =
        c === '(' ? this.#readBracket('(', depth, this.#i) : this.#readStep(items, depth);
      if (inner === null || inner === 'none') return inner;
      const steps = Array.isArray(inner) ? inner : [inner];
      return this.#group(steps, at, { times: Number(times[1]) });
    }

    const stitch = readStitch(this.#text, at);
    if (stitch) {
      this.#i = stitch.end;
      if (stitch.doubt) this.#say('warning', 'ambiguous-stitch', at, stitch.doubt);
      if (this.#match(SIZES)) this.#saySizes(at);
      return this.#finishStitch(stitch.name, stitch.amount, stitch.spelled, items, at);
    }
    if (this.#match(NOISE)) return null;
    // "2 knit", "3 purl sts"
    const counted = /(\d{1,4})\s*(k(?:nit)?|p(?:url)?)(?![a-z0-9])(?:\s*sts?\b)?/y;
    const m = this.#match(counted);
    if (m) {
      return this.#finishStitch(m[2][0], { times: Number(m[1]) }, false, items, at);
    }
    return 'none';
  }

  #saySizes(at: number): void {
    this.#say(
      'warning',
      'several-sizes',
      at,
      'several sizes are given; the first one is followed',
      'Write a plan for one size.',
    );
  }

  #finishStitch(
    name: string,
    counted: Amount | null,
    spelled: boolean,
    items: readonly Step[],
    at: number,
  ): Step {
    let amount = counted;
    const single = amount !== null && 'times' in amount;
    const before = this.#i;
    const read = this.#readAmount();
    if (read?.times) {
      const n = single ? (amount as { times: number }).times : 1;
      const times = read.times.more ? read.times.times + 1 : read.times.times;
      amount = { times: n * times };
    } else if (read && (amount === null || !single)) {
      amount = read.amount;
    } else if (read && single) {
      // "k1 to end" and "p2tog 2 to last 3 sts" run on; "k5 to marker" says both, the count wins.
      const n = (amount as { times: number }).times;
      const target = read.amount;
      if (n === 1 && name !== 'k' && name !== 'p') amount = target;
      else if (!('kind' in target) || target.kind === 'rest' || target.kind === 'end') {
        const step: Step = {
          kind: 'stitch',
          name,
          amount: { times: n },
          from: this.#base + at,
          to: this.#base + before,
        };
        return this.#group([step], at, target);
      }
    }
    if (amount === null) {
      const eachOf = /\s+in(?:to)?\s+(?:the\s+)?next\s+(?:st|stitch)(?![a-z])/y;
      this.#match(eachOf);
      const alone = items.length === 0 && this.#nothingFollows();
      const plain = name === 'k' || name === 'p';
      amount = plain && (spelled || alone) ? { kind: 'rest', count: 0 } : { times: 1 };
    }
    return {
      kind: 'stitch',
      name,
      amount,
      from: this.#base + at,
      to: this.#base + this.#i,
    };
  }

  #nothingFollows(): boolean {
    return /^(?:\s|[.,;]|turn|\([^a-z]*(?:\d+\s*(?:sts?|stitches)[^)]*)?\)|[-=]\s*\d+\s*(?:sts?|stitches)?)*$/.test(
      this.#text.slice(this.#i, this.#i + 200),
    );
  }

  /** The plan's own abbreviations. */
  #readOwn(at: number): Step | null {
    const own = this.#abbreviations.matchAt(this.#text, at);
    if (!own) return null;
    this.#i = at + own.name.length;
    if (own.kind !== null) return this.#finishStitch(own.kind, null, false, [], at);
    const read = this.#readAmount();
    const amount: Amount = read?.times
      ? { times: read.times.more ? read.times.times + 1 : read.times.times }
      : (read?.amount ?? { times: 1 });
    return this.#group(own.steps, at, amount);
  }

  #readSpread(at: number): Step | null {
    let m = /^(?:k2|ssk|skp|p2|m1|kfb|yo)/.test(this.#text.slice(at, at + 3))
      ? this.#match(SPREAD_STITCH)
      : null;
    if (m) {
      return {
        kind: 'spread',
        name: m[1],
        times: toNumber(m[2]),
        from: this.#base + at,
        to: this.#base + this.#i,
      };
    }
    const c = this.#text[at];
    if (c !== 'd' && c !== 'i' && c !== 'w') return null;
    m = this.#match(SPREAD);
    if (!m) return null;
    const number = m[2] ?? m[3];
    if (number === undefined) {
      this.#i = at;
      return null;
    }
    return {
      kind: 'spread',
      name: m[4] ?? (m[1] === 'dec' ? 'k2tog' : 'm1'),
      times: toNumber(number),
      from: this.#base + at,
      to: this.#base + this.#i,
    };
  }

  #readPattern(at: number): Step | null {
    const c = this.#text[at];
    if (!'kpwgsrceaimn'.includes(c) || /^[kp]\d/.test(this.#text.slice(at, at + 2))) return null;
    for (const { re, rule } of PATTERNS) {
      if (!this.#match(re)) continue;
      let amount: Amount | null = null;
      const m = this.#match(PATTERN_COUNT);
      if (m) amount = { times: toNumber(m[1]) };
      // "work to last 2 sts as set", "work in pattern as set to marker"
      const read = this.#readAmount();
      if (read && amount === null) amount = read.amount;
      let named = rule;
      const gap = this.#i;
      this.#match(/[\s,]*/y);
      for (const late of PATTERNS) {
        if (named !== 'set' && late.rule === 'set') break;
        if (late.rule === 'knits') continue;
        const word = this.#text.slice(this.#i, this.#i + 3);
        if (!/^(?:in|as|eve|str)/.test(word) || /^as\s*f/.test(word)) break;
        if (this.#match(late.re)) {
          named = late.rule;
          break;
        }
      }
      if (named === rule && this.#text.slice(gap, this.#i).trim() === '') this.#i = gap;
      const again = amount === null ? this.#readAmount() : null;
      if (again) amount = again.amount;
      if (
        rule === 'set' &&
        amount === null &&
        /^(?:work|across|even|patt)\s*$/.test(this.#text.slice(at, this.#i))
      ) {
        // "work" before stitches is only a verb.
        if (!this.#nothingFollows()) return this.#isVerbOnly(at);
      }
      return {
        kind: 'pattern',
        rule: named,
        amount: amount ?? { kind: 'rest', count: 0 },
        from: this.#base + at,
        to: this.#base + this.#i,
      };
    }
    return null;
  }

  /** Leaves the word "work" unread as a step when stitches follow it. */
  #isVerbOnly(at: number): Step | null {
    const end = this.#i;
    this.#match(GAP);
    const c = this.#text[this.#i];
    const follows = c === '*' || c === '(' || c === '[' || readStitch(this.#text, this.#i) !== null;
    if (!follows) {
      this.#i = at;
      return null;
    }
    this.#i = end;
    // An empty group: nothing is worked.
    return this.#group([], at, { times: 1 });
  }

  #readUnknown(at: number): void {
    const m = this.#match(WORD);
    if (!m) {
      this.#i = at + 1;
      return;
    }
    const word = m[0].replace(/[.:'"!?-]+$/, '');
    if (!/[a-z0-9]/.test(word)) return;
    this.unread++;
    // Words that follow one another without anything readable are one mistake.
    const goesOn = this.#unknownTo >= 0 && this.#text.slice(this.#unknownTo, at).trim() === '';
    this.#unknownTo = this.#i;
    if (goesOn) return;
    const near = nearestWord(word, this.#abbreviations.names());
    const rest = /[^,;.()[\]{}*\n]{0,160}/y;
    rest.lastIndex = this.#i;
    if (/^(?:to|until|before|after)$/.test(word)) {
      // A place that isn't known is one mistake, numbers and all.
      const place = /[^,;()[\]{}*\n.]{0,80}/y;
      place.lastIndex = this.#i;
      place.exec(this.#text);
      this.#i = place.lastIndex;
      this.#say(
        'error',
        'unknown-word',
        at,
        `"${this.#text.slice(at, this.#i).trim()}" is no place that is known here`,
        'Say it as for example: (k2, p2) 4 times, k to last 2 sts, k to 2 sts before marker.',
      );
      return;
    }
    const phrase = word + (rest.exec(this.#text)?.[0] ?? '');
    const prose =
      near === null && /^[a-z'" -]+$/.test(phrase) && phrase.trim().split(' ').length >= 3;
    if (prose) {
      this.#i = rest.lastIndex;
      this.#say('warning', 'words-not-followed', at, `"${phrase.trim()}" is not followed`);
      return;
    }
    // A number behind it is its count.
    const wordEnd = this.#i;
    this.#match(/\s*\d{1,7}(?=\s*(?:sts?\b|[,;.)\]]|$))(?:\s*sts?\b)?/y);
    const end = this.#i;
    this.#i = wordEnd;
    this.#say(
      'error',
      'unknown-word',
      at,
      `"${word}" is no stitch that is known here`,
      near !== null
        ? `Perhaps ${near} is meant.`
        : /^(?:times?|to|before|after|until|around|across|of|from|more|x|marker|end|rep|repeat)$/.test(
              word,
            )
          ? 'Say it as for example: (k2, p2) 4 times, k to last 2 sts, k to 2 sts before marker.'
          : `If it is a stitch of your own, explain it: Abbreviation: ${word} = …`,
    );
    this.#i = end;
  }
}

/** `[k16, pm]` to the end, as "knit, placing a marker every 16 sts" means. */
function isPlacing(group: GroupStep): boolean {
  return group.steps.length === 2 && group.steps[1].kind === 'marker' && !('times' in group.amount);
}

/** Place of the bracket that closes the one at `at`, any kind of bracket counting; −1 if none. */
function matchingBracket(text: string, at: number): number {
  let depth = 0;
  for (let i = at; i < text.length; i++) {
    const c = text[i];
    if (c === '(' || c === '[' || c === '{') depth++;
    else if (c === ')' || c === ']' || c === '}') {
      depth--;
      if (depth === 0) return i;
    }
  }
  return -1;
}

/** Plain words rather than stitches with a slip in them. */
function looksLikeProse(text: string): boolean {
  return !/\d/.test(text) && text.trim().split(/\s+/).length >= 2;
}

/** Name of the kind that works these steps into one stitch; null if they can't be. */
function intoOneName(steps: readonly Step[]): string | null {
  const parts: string[] = [];
  const collect = (list: readonly Step[]): boolean =>
    list.every((step) => {
      if (step.kind === 'group' && 'times' in step.amount && step.amount.times <= 24) {
        for (let i = 0; i < step.amount.times; i++) if (!collect(step.steps)) return false;
        return parts.length <= 24;
      }
      if (step.kind !== 'stitch') return false;
      const name = { k: 'k1', p: 'p1', ktbl: 'k1 tbl', ptbl: 'p1 tbl', yo: 'yo' }[step.name];
      if (!name) return false;
      const times = 'times' in step.amount ? step.amount.times : 1;
      if (times > 24) return false;
      for (let i = 0; i < times; i++) parts.push(name);
      return true;
    });
  if (!collect(steps) || parts.length === 0) return null;
  const name = `(${parts.join(', ')}) in 1 st`;
  return stitchKind(name) ? name : null;
}

/** Longest bobble: turns within one stitch. Chosen. */
const MOST_TURNS = 20;

/**
 * A bobble told in full ("(k1, yo, k1) in next st, turn, p3, turn, sk2p") takes one stitch and leaves
 * one: it becomes the stitch `mb`, because rows within a row cannot be followed.
 */
function foldBobbles(steps: readonly Step[]): readonly Step[] {
  if (!steps.some((s) => s.kind === 'turn')) return steps;
  for (let start = 0; start + 3 < steps.length; start++) {
    const first = steps[start];
    if (first.kind !== 'stitch' || steps[start + 1].kind !== 'turn') continue;
    const kind = stitchKind(first.name);
    if (kind?.consumes !== 1 || kind.loops.length < 2) continue;
    let loops = kind.loops.length;
    let turns = 1;
    let i = start + 2;
    let used = 0;
    let made = 0;
    while (i < steps.length && turns < MOST_TURNS) {
      const step = steps[i];
      if (step.kind === 'turn') {
        if (used !== loops) break;
        loops = made;
        used = 0;
        made = 0;
        turns++;
        i++;
        continue;
      }
      if (step.kind !== 'stitch') break;
      const one = stitchKind(step.name.startsWith('sl1') ? 'k' : step.name);
      if (!one) break;
      const times = 'times' in step.amount ? step.amount.times : loops - used;
      used += one.consumes * times;
      made += one.loops.length * times;
      i++;
      if (turns % 2 === 0 && used === loops && made === 1) {
        const bobble: Step = {
          kind: 'stitch',
          name: 'mb',
          amount: { times: 1 },
          from: first.from,
          to: step.to,
        };
        return foldBobbles([...steps.slice(0, start), bobble, ...steps.slice(i)]);
      }
      if (used > loops) break;
    }
  }
  return steps;
}

/** Reads `text`, which stands at `base` of the normalised source. */
export function readSteps(
  text: string,
  base: number,
  abbreviations: Abbreviations,
  found: DiagnosticList | null,
): ReadInstruction {
  const reader = new StepReader(text, base, abbreviations, found);
  const steps = foldBobbles(reader.readSequence('', 0, 0));
  return {
    steps,
    stated: reader.stated,
    unread: reader.unread,
    failed: reader.failed,
    unfinished: reader.unfinished,
    hasStitches: steps.some((s) => s.kind !== 'marker' && s.kind !== 'turn'),
  };
}
