/**
 * The steps of one bracket as they are read, and the words before or behind them that have them worked on each side, on
 * both halves, or so many times. In: a cursor at such words. Out: the steps so far, put together as they say.
 */
import { stitchKind } from '../../stitches/table.ts';
import { type Announced, readAgain, readAnnouncement } from './announcements.ts';
import {
  AT_ROW_START,
  AT_START,
  cornersIn,
  EACH_HALF,
  EACH_SIDE,
  TRAIL_EACH_SIDE,
} from './side-words.ts';
import type { OpenStar, StepCursor } from './step-cursor.ts';
import { type Amount, type GroupStep, isTarget, type Step } from './steps.ts';
import { readStitch } from './stitch-words.ts';

/** How steps are worked: as announced, once on each half, else once on each side. */
type Manner = Announced | 'halves' | null;

interface Lead {
  readonly manner: Manner;
  /** Where its words begin. */
  readonly from: number;
  /** The first step that it holds for. */
  readonly index: number;
  /** The plain run told before it, which "work" means within it: "knit; on each side work to the last 2 sts, …". */
  readonly run: Step | null;
}

export class Sequence {
  readonly cursor: StepCursor;
  readonly items: Step[] = [];
  /** Asterisks that no repeat has closed yet. */
  readonly stars: OpenStar[] = [];
  #lead: Lead | null = null;

  constructor(cursor: StepCursor) {
    this.cursor = cursor;
  }

  /** Words stand before the steps that say how they are worked. */
  get led(): boolean {
    return this.#lead !== null;
  }

  /** The first step that such words hold for. */
  get ledFrom(): number {
    return this.#lead?.index ?? 0;
  }

  /** The steps from `index` on are worked as the words at `from` say. */
  lead(manner: Manner, from: number, run: Step | null = null, index = this.items.length): void {
    this.#lead = { manner, from, index, run };
  }

  /** What the last such words hold for ends here. */
  close(): void {
    const { items } = this;
    if (!this.#lead || items.length <= this.#lead.index) return;
    const { manner, from, index, run } = this.#lead;
    this.#lead = null;
    const steps = items.splice(index).map((s) => workedAs(run, s));
    const [only] = steps;
    if (manner !== null && manner !== 'halves' && (manner.corner || manner.atMarkers)) {
      // "At each marker: *…; rep from *" says itself how often.
      const once = manner.atMarkers && goesToMarker(only) && !steps.some((s) => s.kind === 'group');
      const about = once ? [this.cursor.eachSide(steps, from)] : null;
      items.push(...(about ?? this.#aboutCorners(steps, from) ?? steps));
      return;
    }
    // "Decrease on each side: *…; rep from * to end" says itself how often, "on each side (…)" does not.
    const once = only.kind === 'group' && !only.eachSide && !only.part && isOnce(only.amount);
    if (
      manner === null ||
      manner === 'halves' ||
      steps.length > 1 ||
      only.kind !== 'group' ||
      once
    ) {
      items.push(...this.#worked(steps, manner, manner === 'halves' ? this.cursor.i : from));
      return;
    }
    const { amount } = manner;
    const told = amount !== null && 'times' in amount && !('times' in only.amount);
    items.push(told && !only.eachSide ? { ...only, amount } : only);
  }

  /** The steps so far, from `index` on, are worked as the words at `at` say. */
  wrap(manner: Manner, at: number, index = 0): void {
    this.#lead = null;
    this.items.push(...this.#worked(this.items.splice(index), manner, at));
  }

  /** All the steps as one repeat. */
  takeAll(amount: Amount): Step {
    return this.cursor.group(this.items, this.items[0].from - this.cursor.base, amount);
  }

  /** "k2tog, ssk" at each corner: what stands behind it begins a side; null where the stitches tell more, or no two halves. */
  #aboutCorners(steps: readonly Step[], from: number): Step[] | null {
    const names = steps.flatMap((s) =>
      s.kind === 'stitch' && 'times' in s.amount ? new Array(s.amount.times).fill(s.name) : ['?'],
    );
    const half = names.length / 2;
    const fixed = names.every((n) => stitchKind(n)?.consumes === 2 || /^[kp]$/.test(n));
    if (!fixed || names.length < 2 || names.length > 8 || !Number.isInteger(half)) return null;
    const { cursor } = this;
    const stitch = (name: string): Step => cursor.stitch(name, from, { times: 1 });
    const before = names.slice(0, half);
    const wide = before.reduce((sum, n) => sum + (stitchKind(n)?.consumes ?? 1), 0);
    const span = cursor.span(from);
    const rest: Step = {
      kind: 'pattern',
      rule: 'set',
      amount: { kind: 'end', count: wide },
      ...span,
    };
    return [cursor.eachSide([...names.slice(half).map(stitch), rest, ...before.map(stitch)], from)];
  }

  #worked(steps: readonly Step[], manner: Manner, from: number): GroupStep[] {
    const { cursor } = this;
    if (manner === 'halves') {
      // Both tips of a needle share the round equally.
      const half = (): GroupStep => ({ ...cursor.group(steps, from, { times: 1 }), part: true });
      return [half(), half()];
    }
    return manner?.amount
      ? [cursor.group(steps, from, manner.amount, manner.otherTimes)]
      : [cursor.eachSide(steps, from)];
  }
}

function goesToMarker(step: Step): boolean {
  return 'amount' in step && isTarget(step.amount) && step.amount.kind === 'marker';
}

function isOnce(amount: Amount): boolean {
  return 'times' in amount && amount.times === 1;
}

/** "k, dec 8 sts evenly": the letter alone. */
export function uncounted(cursor: StepCursor, step: Step): boolean {
  return /^(?:k(?:nit)?|p(?:url)?)$/.test(
    cursor.text.slice(step.from - cursor.base, step.to - cursor.base),
  );
}

/** Words in front of stitches: "Decrease on each needle:", "four times in all:". */
export function readLeading(seq: Sequence): boolean {
  const { cursor, items } = seq;
  const at = cursor.i;
  if (items.length === 1 && !seq.led && cursor.match(AT_START)) {
    seq.lead(null, at, null, 0);
    return true;
  }
  if (items.length === 1 && cursor.match(AT_ROW_START)) return true;
  const leads = readAnnouncement(cursor);
  if (!leads) return false;
  const run = dropBareRun(seq);
  seq.close();
  if (leads.eachSide || leads.amount || leads.corner || leads.atMarkers) seq.lead(leads, at, run);
  return true;
}

/** "knit, and on each needle decrease as follows: …": one instruction. */
function dropBareRun({ cursor, items }: Sequence): Step | null {
  const [only] = items;
  const bare =
    items.length === 1 &&
    'amount' in only &&
    isTarget(only.amount) &&
    (uncounted(cursor, only) || (only.amount.kind === 'end' && only.amount.count === 0));
  return bare ? (items.pop() ?? null) : null;
}

/** What "work" is read as, behind a plain run that is told for all of the round. */
function workedAs(run: Step | null, step: Step): Step {
  if (run?.kind !== 'stitch' || step.kind !== 'pattern' || step.rule !== 'set') return step;
  const { amount, from, to } = step;
  return { kind: 'stitch', name: run.name, amount, from, to };
}

/** "*yo, k to last st, yo, k1 on each needle*": the asterisk behind closes. */
const CLOSES_STAR =
  /[\s,;]*(?:\*(?=\W*$)|rep(?:eat)?\s+from\s+\*(?:\s+(?:to\s+(?:the\s+)?end(?:\s+of\s+(?:the\s+)?(?:round|rnd))?|a?round|(?:\d+\s+(?:more\s+)?times|(?:once|twice)\s+more)(?:\s+more)?))?)/y;

/** "on each side:", "do this 4 times", "…, - on each half". `c`: the character here. */
export function readSides(seq: Sequence, c: string): boolean {
  const { cursor, items } = seq;
  const at = cursor.i;
  const again = items.length > 0 ? readAgain(cursor) : null;
  if (again) {
    seq.wrap(again, at);
    seq.stars.length = 0;
    return true;
  }
  const sides = '(woaecfiup'.includes(c) && cursor.match(EACH_SIDE);
  const halves = !sides && 'ob'.includes(c) && cursor.match(EACH_HALF);
  if (sides || halves) {
    const manner = halves ? 'halves' : null;
    if (sides && /^[^(].*\)$/.test(sides[0])) cursor.i--;
    const [star] = seq.stars;
    if (star && star.index < items.length && !seq.led && cursor.match(CLOSES_STAR)) {
      seq.stars.length = 0;
      seq.wrap(manner, at, star.index);
      return true;
    }
    if (items.length > 0 && !seq.led && !stitchesFollow(cursor)) seq.wrap(manner, at);
    else {
      const run = dropBareRun(seq);
      seq.close();
      seq.lead(manner, at, run);
    }
    return true;
  }
  const trail = 'rwofiadbust'.includes(c) && cursor.match(TRAIL_EACH_SIDE);
  if (!trail) return false;
  // "knit, working an s2kp at each marked stitch": where within the sides is not told.
  if (/^\W*(?:at|on|in)\b.*marked\s+st/.test(trail[0]) && seq.stars.length === 0)
    return cursor.back(at, false);
  if (items.length > 0 && !seq.led) {
    // "*ssk, k16, k2tog; repeat on each needle": the asterisk is closed by it.
    const [star] = seq.stars.splice(0);
    const times = cornersIn(trail[0]);
    const manner = times ? { eachSide: false, amount: { times }, otherTimes: null } : null;
    seq.wrap(manner, at, star && star.index < items.length ? star.index : 0);
  }
  return true;
}

/** Stitches stand behind this place, so that words before them lead to them. */
function stitchesFollow(cursor: StepCursor): boolean {
  const { text } = cursor;
  let { i } = cursor;
  while (/[\s,;.:]/.test(text[i] ?? '')) i++;
  if (/^[([]\s*\d+\s*(?:sts?\b|stitches|[)\]])/.test(text.slice(i, i + 20))) return false;
  return (
    '*([{'.includes(text[i] ?? ' ') ||
    readStitch(text, i) !== null ||
    /^(?:work|knit|purl|dec|inc)/.test(text.slice(i, i + 5))
  );
}
