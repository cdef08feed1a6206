/**
 * A place in the instruction text of one round, moving forward as steps are read, with what has been
 * noticed on the way: counts stated, words that could not be read. Input: text and where it stands in
 * the normalised source. Output: matches at the place, diagnostics with their place in the source.
 */
import type { Remark } from '../../diagnostics.ts';
import type { Place } from '../../lex/source.ts';
import type { Severity } from '../../plan.ts';
import type { DeclaredRepeats } from './declared-repeats.ts';
import type { StatedCount } from './stated-counts.ts';
import type { Amount, GroupStep, Step, StitchStep } from './steps.ts';

/** What separates steps. */
export const GAP = /[\s,;.:!]+/y;

/** An asterisk that a "repeat from *" may still close. */
export interface OpenStar {
  /** 1 for `*`, 2 for `**`. */
  readonly level: number;
  /** Steps read before it in its bracket. */
  readonly index: number;
  /** Its place in the text. */
  readonly at: number;
}

/** "on each of the 4 needles", "over each of the other 3 sides", "on the remaining 3 needles" */
const TOLD_SIDES =
  /\b(?:(?:each|every|all)\s+(?:of\s+)?(?:the\s+)?(?:(other|remaining|rem\.?)\s+)?|(other|remaining|rem\.?)\s+)([2-9])\s+(?:(?:\w+\s+)?needles?|dpns?|sides?|sections?|edges?|quarters?|wedges?)\b/;

export class StepCursor {
  readonly text: string;
  /** Where the text stands in the normalised source. */
  readonly base: number;
  /** Next character to read. */
  i = 0;
  stated: StatedCount | null = null;
  /** Stitches gained or lost, told before they are worked. */
  promised: number | null = null;
  /** Words that could not be read. */
  unread = 0;
  /** Clauses passed that ask for nothing. */
  asides = 0;
  /** Some of them are errors. */
  failed = false;
  /** The text ends in the middle of something. */
  unfinished = false;
  /** End of the last word that could not be read; −1 before any. */
  unknownTo = -1;
  /** Asterisks that are open in each bracket around this place, the innermost last. */
  readonly scopes: OpenStar[][] = [];
  /** Mistakes met on the way. */
  readonly remarks: Remark[] = [];
  /** Brackets that tell numbers. */
  readonly tells: Place[] = [];
  /** Colour that the round is worked in, where it says so. */
  colour: string | null = null;

  /** How often the parts are worked that say nothing themselves. */
  readonly declared: DeclaredRepeats;

  constructor(text: string, base: number, declared: DeclaredRepeats) {
    this.text = text;
    this.base = base;
    this.declared = declared;
  }

  /** Goes past what the sticky expression matches here; null where that is nothing. */
  match(re: RegExp): RegExpExecArray | null {
    re.lastIndex = this.i;
    const m = re.exec(this.text);
    if (m && re.lastIndex > this.i) {
      this.i = re.lastIndex;
      return m;
    }
    return null;
  }

  /** Back to a place, from which nothing was read. */
  back<T extends null | false>(to: number, nothing: T): T {
    this.i = to;
    return nothing;
  }

  /** Reports what has been read since `from`. */
  say(severity: Severity, code: string, from: number, message: string, hint = ''): void {
    this.sayAt(severity, code, from, this.i, message, hint);
  }

  sayAt(
    severity: Severity,
    code: string,
    from: number,
    to: number,
    message: string,
    hint: string,
  ): void {
    if (severity === 'error') this.failed = true;
    this.remarks.push({
      severity,
      code,
      from: this.base + from,
      to: this.base + to,
      message,
      hint,
    });
  }

  /** What has been read since `from`, as a place in the source. */
  span(from: number): Place {
    return { from: this.base + from, to: this.base + this.i };
  }

  stitch(name: string, from: number, amount: Amount): StitchStep {
    return { kind: 'stitch', name, amount, from: this.base + from, to: this.base + this.i };
  }

  group(
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
      from: this.base + from,
      to: this.base + this.i,
    };
  }

  /** Steps that are worked once for every side. */
  eachSide(steps: readonly Step[], from: number): GroupStep {
    const group = this.group(steps, from, { times: 1 }, null, true);
    const told = TOLD_SIDES.exec(this.text.slice(from, this.i));
    if (!told) return group;
    return { ...group, sides: Number(told[3]) + ((told[1] ?? told[2]) ? 1 : 0) };
  }
}
