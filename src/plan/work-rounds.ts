/**
 * Works the statements of a plan in order: keeps the needles, the round numbers and what each number
 * means, fills in "all even rounds", follows repeats, and reports counts that do not come out.
 * Longer than most files because all of this is one state.
 */
import type { Abbreviations } from './abbreviations.ts';
import { BelievedCount, needleOf } from './believed-count.ts';
import type { DiagnosticList } from './diagnostics.ts';
import { RoundExpander, type WorkedRound } from './expand.ts';
import { fitSteps, nextInLine, shortened } from './fit-steps.ts';
import type { KindList } from './kind-list.ts';
import type { Parity, RoundLabel } from './labels.ts';
import { roundName } from './labels.ts';
import { castOnNeedle, type Needle, turnNeedle } from './needle.ts';
import type { Ending, PlanRound, TextPosition } from './plan.ts';
import { readSteps } from './read-steps.ts';
import { readCompound, readNamed, readRepeat } from './repeat-lines.ts';
import { type PlainRounds, readLike, readPlainRounds } from './round-bodies.ts';
import type { RoundSetting } from './round-in-hand.ts';
import { type Problem, stitches } from './round-problems.ts';
import { MOST_STITCHES } from './round-tape.ts';
import { readShape } from './shape-lines.ts';
import { endPositionAt, positionAt, type Source } from './source.ts';
import type { StatedCount } from './stated-counts.ts';
import type { Statement } from './statements.ts';
import type { Step } from './steps.ts';

/** Limit on rounds of one plan: each takes at least a stitch of the stitch limit. Chosen. */
const MOST_ROUNDS = 50_000;

/** Most parts of a round that are taken for its sides without being named. Chosen. */
const MOST_PARTS = 12;

export interface WorkSetting {
  readonly worked: 'round' | 'flat';
  /** First row faces the wrong side (flat only). */
  readonly firstWrongSide: boolean;
  readonly castOn: number;
  readonly markers: readonly number[];
  readonly roundMarker: boolean;
  /** Height of one round, mm, if the gauge says it. */
  readonly roundMm: number | null;
}

export interface WorkResult {
  readonly rounds: PlanRound[];
  readonly ending: Ending;
  readonly sides: number | null;
}

interface RoundDef {
  readonly steps: readonly Step[];
  readonly stated: StatedCount | null;
  readonly from: number;
  readonly to: number;
  readonly label: string;
  readonly side: 'RS' | 'WS' | null;
  /** The round binds everything off. */
  readonly ends: boolean;
  /** Some words could not be read, so a count that does not come out is no news. */
  readonly unread?: boolean;
  /** … and have been reported as errors. */
  readonly failed?: boolean;
  /** Repeated "as set": its plain stretches follow the count. The place that says so. */
  readonly follows?: { readonly from: number; readonly to: number };
}

interface Section {
  readonly defs: Map<number, RoundDef>;
  readonly pending: Set<number>;
  /** Numbers whose instruction could not be read, which has been said. */
  readonly failed: Set<number>;
  readonly rules: { parity: Parity; from: number; def: RoundDef }[];
  /** Number that the text should give next. */
  next: number;
  /** Rounds worked since the section began, repeats included. */
  worked: number;
  readonly startRound: number;
}

export class PlanWorker {
  readonly rounds: PlanRound[] = [];
  ending: Ending = 'live';
  sides: number | null;
  readonly #source: Source;
  readonly #abbreviations: Abbreviations;
  readonly #found: DiagnosticList;
  readonly #expander: RoundExpander;
  readonly #list: KindList;
  readonly #setting: WorkSetting;
  #needle: Needle;
  #history: RoundDef[] = [];
  #named = new Map<string, RoundDef>();
  #section: Section = this.#newSection();
  #statements: readonly Statement[] = [];
  #at = 0;
  #headingSince = true;
  #ended = false;
  #stopped = false;
  #sinceHeading = 0;
  readonly #believed = new BelievedCount();
  /** Rounds worked before each number of a numbered list. */
  readonly #items = new Map<number, number>();
  /** Equal parts that a round's repeat shows, where the text names no sides. */
  #parts: number | null = null;
  readonly #readings = new WeakMap<readonly Step[], readonly Step[]>();
  #askedAt: TextPosition = { line: 1, column: 1 };
  #lastNamed: { name: string; round: number } | null = null;

  constructor(
    source: Source,
    abbreviations: Abbreviations,
    found: DiagnosticList,
    list: KindList,
    setting: WorkSetting,
    sides: number | null,
  ) {
    this.#source = source;
    this.#abbreviations = abbreviations;
    this.#found = found;
    this.#list = list;
    this.#expander = new RoundExpander(list);
    this.#setting = setting;
    this.sides = sides;
    const start = castOnNeedle(setting.castOn, setting.markers, setting.roundMarker);
    // Flat work is turned before the first row: the last loop cast on is worked first.
    this.#needle = setting.worked === 'flat' ? turnNeedle(start) : start;
  }

  #newSection(): Section {
    return {
      defs: new Map(),
      pending: new Set(),
      failed: new Set(),
      rules: [],
      next: 1,
      worked: 0,
      startRound: 0,
    };
  }

  get #inRound(): boolean {
    return this.#setting.worked === 'round';
  }

  /** Works everything after the cast-on. */
  run(statements: readonly Statement[]): void {
    this.#statements = statements;
    for (this.#at = 0; this.#at < statements.length && !this.#stopped; this.#at++) {
      const s = statements[this.#at];
      if (this.#ended) {
        if (
          s.kind === 'shape' ||
          s.kind === 'round' ||
          s.kind === 'plain' ||
          s.kind === 'repeat' ||
          s.kind === 'named'
        ) {
          this.#found.add(
            'warning',
            'rounds-after-ending',
            s.from,
            s.to,
            'the piece has ended before this; it is not worked',
            'Only one piece is followed. Move the bind-off below its last round, or make this a plan of its own.',
          );
          break;
        }
        continue;
      }
      this.#askedAt = endPositionAt(this.#source, this.#trimEnd(s.to));
      this.#noteItem(s);
      this.#statement(s);
    }
    if (!this.#stopped) this.#flush();
    if (this.#expander.tooBig) this.#sayTooBig();
  }

  /** `3. Knit 2 rounds`: "repeat step 3" will mean the rounds of that line. */
  #noteItem(s: Statement): void {
    const start = this.#source.norm.lastIndexOf('\n', s.from - 1) + 1;
    if (s.from - start > 12) return;
    const m = /^\s*(?:step\s*)?\(?(\d{1,3})[.):]\s*$/.exec(this.#source.norm.slice(start, s.from));
    if (m) this.#items.set(Number(m[1]), this.rounds.length);
  }

  /** The rounds of numbered lines; says so where a number is unknown. */
  #fetchItems(numbers: readonly number[], from: number, to: number): RoundDef[] {
    const out: RoundDef[] = [];
    for (const n of numbers) {
      const start = this.#items.get(n);
      const def = this.#section.defs.get(n);
      if (start === undefined && def) {
        out.push(def);
        continue;
      }
      if (start === undefined) {
        this.#believed.begin(null);
        const message = `there is no step ${n} before this`;
        this.#found.add('error', 'unknown-round', from, to, message);
        return [];
      }
      const later = [...this.#items.values()].filter((at) => at > start);
      out.push(...this.#history.slice(start, later.length > 0 ? Math.min(...later) : undefined));
    }
    return out;
  }

  #statement(s: Statement): void {
    switch (s.kind) {
      case 'round':
        this.#round(s.label, s.from, s.to);
        break;
      case 'repeat':
        this.#flushFor(s.from, s.to);
        this.#repeat(s.from, s.to);
        break;
      case 'plain':
        this.#flush();
        this.#plain(s.from, s.to);
        break;
      case 'named':
        this.#flush();
        this.#workNamed(s.from, s.to);
        break;
      case 'shape':
        this.#flush();
        this.#shape(s.from, s.to);
        break;
      case 'end':
        this.#flush();
        this.#end(this.#sentence(s.from, s.to), s.from, s.to);
        break;
      case 'count':
        this.#flush();
        this.#checkStated(s.stated, s.from, s.to);
        break;
      case 'heading':
        if (/^\s*(?:rounds?|rnds?|rows?)\b[^:\n]{0,40}:\s*\S/.test(this.#sentence(s.from, s.to))) {
          this.#found.add(
            'warning',
            'line-not-followed',
            s.from,
            this.#trimEnd(s.to),
            'this line looks like a round, but its label could not be read, so it is not worked',
            'Write for example: Round 5: knit.',
          );
        } else this.#heading(s.from, s.to);
        this.#headingSince = true;
        this.#sinceHeading = this.rounds.length;
        break;
      default:
        break;
    }
  }

  /** Text of a sentence that is no list of stitches, as much of it as can matter. */
  #sentence(from: number, to: number): string {
    return this.#source.norm.slice(from, Math.min(to, from + 1000));
  }

  #text(from: number, to: number): string {
    return this.#source.norm.slice(from, to);
  }

  /** Prose is left alone, but an instruction among it must not go unnoticed. */
  #heading(from: number, to: number): void {
    const text = this.#sentence(from, to).trim();
    if (!ASKS.test(text) || AFTERWARDS.test(text) || text.split(/\s+/).length < 3) return;
    const words = text.length > 60 ? `${text.slice(0, 60).replace(/\s+\S*$/, '')} …` : text;
    this.#found.add(
      'warning',
      'words-not-followed',
      from,
      this.#trimEnd(to),
      `"${words}" is not followed`,
      'Say it round by round, or as for example: Repeat rounds 1 and 2 until 8 sts remain.',
    );
  }

  // ---- one labelled round -------------------------------------------------------------------------

  #round(label: RoundLabel | null, from: number, to: number): void {
    const bodyFrom = label?.end ?? from;
    const body = this.#text(bodyFrom, to);
    if (label === null || (label.numbers.length === 0 && label.rule === null)) {
      this.#flush();
      this.#unnumbered(label, body, bodyFrom, from, to);
      return;
    }
    if (label.again) {
      for (const n of label.numbers) {
        for (const def of this.#defsOf(label, body, bodyFrom, from, to, 1)) {
          this.#work({ ...def, label: `${this.#labelFor(n, label)} (repeat)` });
        }
      }
      this.#section.worked += label.numbers.length;
      return;
    }
    if (label.rule !== null && label.numbers.length === 0) return; // Collected when its section began.

    const section = this.#sectionFor(label.numbers[0], from, to);
    const defs = this.#defsOf(label, body, bodyFrom, from, to, label.numbers.length);
    const numbers = label.numbers;
    const first = numbers[0];
    if (defs.length === 0) {
      for (const n of numbers) section.failed.add(n);
      return;
    }
    if (first > section.next && section.worked + 1 !== first) this.#fillGap(first, from, to);
    if (first > section.next && section.worked + 1 === first && section.pending.size === 0) {
      section.next = first;
    }
    for (let i = 0; i < numbers.length; i++) {
      const n = numbers[i];
      if (section.defs.has(n) && n < section.next && i > 0) continue;
      const def = { ...defs[i % defs.length], label: this.#labelFor(n, label) };
      // A count behind a range is that of its last round.
      const last = i + 1 === numbers.length;
      section.defs.set(n, last ? def : { ...def, stated: null });
      if (n >= section.next) section.pending.add(n);
    }
    this.#drain();
  }

  #labelFor(n: number, label: RoundLabel): string {
    const word = (label.unit ?? (this.#inRound ? 'round' : 'row')) === 'round' ? 'Round' : 'Row';
    const side = label.side && !this.#inRound ? ` (${label.side})` : '';
    return `${word} ${n}${side}`;
  }

  /** Text of the body → one definition for each number of the label (or a cycle of them). */
  #defsOf(
    label: RoundLabel | null,
    body: string,
    bodyFrom: number,
    from: number,
    to: number,
    count: number,
  ): RoundDef[] {
    const side = label?.side ?? null;
    const base = {
      stated: label?.stated ?? null,
      from,
      to: this.#trimEnd(to),
      label: '',
      side,
      ends: false,
    };
    if (
      /^[\s"']*(?:bind(?:ing)?[\s-]*off|cast[\s-]*off|b\/?o(?![a-z]))(?!\s*(?:first\s+|next\s+)?\d+\s*(?:sts?|stitches)?\s*(?:,|;|at\s|then\s|and\s|[kp]))/.test(
        body,
      )
    ) {
      return [{ ...base, steps: [], ends: true }];
    }
    const like = readLike(body);
    if (like) {
      const found = this.#fetch(like.numbers, like.name, from, to);
      if (found.length > 0) {
        const rest = readSteps(
          like.rest,
          bodyFrom + body.length - like.rest.length,
          this.#abbreviations,
          null,
        );
        return found.map((d) => ({ ...base, steps: d.steps, stated: rest.stated ?? base.stated }));
      }
      return [];
    }
    if (/\b(?:rounds?|rnds?|rows?)\b/.test(body)) {
      const plain = readPlainRounds(body.slice(0, 2000), bodyFrom, this.#abbreviations, null);
      if (plain.length > 0 && plain.every((p) => p.rounds !== null)) {
        const total = plain.reduce((sum, p) => sum + (p.rounds ?? 0), 0);
        if (total === count || (plain.length === 1 && count > 1)) {
          const defs: RoundDef[] = [];
          for (const p of plain) {
            for (let i = 0; i < Math.min(count, p.rounds ?? 1); i++) {
              defs.push({
                ...base,
                steps: this.#cycleSteps(p, i),
                stated: p.stated ?? base.stated,
              });
            }
          }
          return defs;
        }
      }
    }
    const read = readSteps(body, bodyFrom, this.#abbreviations, this.#found);
    if (read.steps.length === 0 && read.unread === 0) {
      this.#found.add(
        'warning',
        'round-empty',
        from,
        to,
        'nothing is said about what to work here',
        'Write the stitches after the label, for example: knit.',
      );
      return [];
    }
    if (!read.hasStitches && read.unread > 0) {
      // Nothing could be read: the count stays as it is, and only the words are reported.
      const plain: Step = {
        kind: 'pattern',
        rule: 'set',
        amount: { kind: 'rest', count: 0 },
        from,
        to,
      };
      const { failed } = read;
      return [
        { ...base, steps: [plain], stated: read.stated ?? base.stated, unread: true, failed },
      ];
    }
    const unread = read.unread > 0;
    const { failed } = read;
    return [{ ...base, steps: read.steps, stated: read.stated ?? base.stated, unread, failed }];
  }

  #trimEnd(to: number): number {
    let end = to;
    while (end > 0 && /\s/.test(this.#source.norm[end - 1])) end--;
    return end;
  }

  #unnumbered(
    label: RoundLabel | null,
    body: string,
    bodyFrom: number,
    from: number,
    to: number,
  ): void {
    const repeat = Math.min(label?.repeat ?? 1, MOST_ROUNDS);
    const defs = this.#defsOf(label, body, bodyFrom, from, to, repeat);
    const name = label?.name || 'next';
    const word = (label?.unit ?? (this.#inRound ? 'round' : 'row')) === 'round' ? 'round' : 'row';
    const side = label?.side && !this.#inRound ? ` (${label.side})` : '';
    const suffix = label?.suffix ?? [];
    for (let i = 0; i < repeat && defs.length > 0 && !this.#stopped && !this.#ended; i++) {
      const number = suffix[i] === undefined ? '' : ` ${suffix[i]}`;
      const text = `${name[0].toUpperCase()}${name.slice(1)} ${word}${number}${side}`;
      const def = { ...defs[i % defs.length], label: text };
      if (name !== 'next') {
        this.#named.set(`${name}${number}`, def);
        this.#lastNamed = { name, round: this.rounds.length + 1 };
      }
      this.#work(i + 1 < repeat ? { ...def, stated: null } : def);
      this.#section.worked++;
    }
  }

  // ---- numbers ------------------------------------------------------------------------------------

  /** The section that a round number belongs to; starts a new one where numbers begin again. */
  #sectionFor(first: number, from: number, to: number): Section {
    const section = this.#section;
    const fresh = section.next === 1 && section.defs.size === 0;
    const again = first === 1 && !fresh && !section.pending.has(1);
    const restart = first < section.next && this.#headingSince && !fresh;
    if (again || restart) {
      this.#flush();
      this.#section = { ...this.#newSection(), next: first, startRound: this.rounds.length };
    } else if (fresh) {
      // "Row 2" after a set-up row, or where the cast-on counts as row 1.
      if (first > 1 && first <= section.worked + 2) section.next = first;
    } else if (first < section.next) {
      this.#found.add(
        'error',
        section.defs.has(first) ? 'round-described-twice' : 'round-out-of-order',
        from,
        to,
        section.defs.has(first)
          ? `round ${first} has been described already`
          : `round ${first} comes after round ${section.next - 1}`,
        `Number it ${section.next}, or put a heading above if counting starts anew.`,
      );
      section.next = first;
    }
    if (this.#section !== section || fresh) this.#collectRules();
    this.#headingSince = false;
    return this.#section;
  }

  /** Rules such as "all even rounds: knit" hold for the whole section, wherever they stand in it. */
  #collectRules(): void {
    const section = this.#section;
    for (let i = this.#at; i < this.#statements.length; i++) {
      const s = this.#statements[i];
      if (s.kind !== 'round' || s.label === null) continue;
      if (i > this.#at && s.label.numbers[0] === 1) {
        if (section.defs.size > 0 || i > this.#at) break;
      }
      this.#collectRule(s.label, s.from, s.to);
    }
    // A rule that stands before the section's first number.
    for (let i = this.#at - 1; i >= 0; i--) {
      const s = this.#statements[i];
      if (s.kind !== 'round' || s.label === null) continue;
      if (s.label.numbers.length > 0 || s.label.rule === null) break;
      this.#collectRule(s.label, s.from, s.to);
    }
  }

  #collectRule(label: RoundLabel, from: number, to: number): void {
    if (label.rule === null) return;
    const body = this.#text(label.end, to);
    const [def] = this.#defsOf(label, body, label.end, from, to, 1);
    if (!def) return;
    const start = label.numbers[0] ?? 1;
    let parity = label.rule;
    // "Row 1 and every WS row" says itself which rows those are.
    if (label.numbers.length > 0 && (parity === 'ws' || parity === 'rs')) parity = 'other';
    if (parity === 'other') parity = (label.numbers[0] ?? 2) % 2 === 0 ? 'even' : 'odd';
    this.#section.rules.push({
      parity,
      from: start,
      def: { ...def, label: label.unit ?? (this.#inRound ? 'round' : 'row') },
    });
  }

  #ruleFor(n: number): RoundDef | null {
    for (const rule of this.#section.rules) {
      if (n < rule.from) continue;
      const wrong = this.#wrongSideNow();
      const holds =
        rule.parity === 'even'
          ? n % 2 === 0
          : rule.parity === 'odd'
            ? n % 2 === 1
            : rule.parity === 'ws'
              ? wrong || (this.#inRound && n % 2 === 0)
              : !wrong;
      if (!holds) continue;
      const word = rule.def.label === 'round' ? 'Round' : 'Row';
      const side = rule.def.side && !this.#inRound ? ` (${rule.def.side})` : '';
      return { ...rule.def, label: `${word} ${n}${side}` };
    }
    return null;
  }

  #wrongSideNow(): boolean {
    if (this.#inRound) return false;
    return (this.rounds.length % 2 === 1) !== this.#setting.firstWrongSide;
  }

  /** Works the pending rounds that come next. */
  #drain(): void {
    const section = this.#section;
    while (section.pending.has(section.next) && !this.#stopped && !this.#ended) {
      this.#workNumber(section.next);
    }
  }

  #workNumber(n: number): void {
    const section = this.#section;
    const def = section.defs.get(n);
    section.pending.delete(n);
    section.next = n + 1;
    section.worked++;
    if (def) this.#work(def);
  }

  /** Works what lies between the last round and round `first`. */
  #fillGap(first: number, from: number, to: number): void {
    const section = this.#section;
    while (section.next < first && !this.#stopped && !this.#ended) {
      const n = section.next;
      if (section.failed.has(n)) {
        section.next = n + 1;
        continue;
      }
      if (!section.pending.has(n)) {
        const rule = this.#ruleFor(n);
        if (!rule) {
          this.#believed.begin(null);
          this.#found.add(
            'error',
            'round-missing',
            from,
            to,
            `round ${n} is not described: round ${n - 1} is followed by round ${first}`,
            `Describe round ${n}${first - n > 1 ? ` to ${first - 1}` : ''}, or number this one ${n}.`,
          );
          for (const p of [...section.pending]) if (p < first) section.pending.delete(p);
          section.next = first;
          return;
        }
        section.defs.set(n, rule);
      }
      this.#workNumber(n);
    }
  }

  #flush(): void {
    const section = this.#section;
    this.#drain();
    while (section.pending.size > 0 && !this.#stopped && !this.#ended) {
      const first = Math.min(...section.pending);
      const def = section.defs.get(first);
      this.#fillGap(first, def?.from ?? 0, def?.to ?? 1);
      this.#drain();
    }
  }

  /** Before a repeat: rounds that it names and a rule describes are worked first. */
  #flushFor(from: number, to: number): void {
    this.#flush();
    const line = readRepeat(this.#sentence(from, to));
    if (!line || line.numbers.length === 0) return;
    const most = Math.max(...line.numbers);
    const section = this.#section;
    while (section.next <= most && !this.#stopped && !this.#ended) {
      const rule = this.#ruleFor(section.next);
      if (!rule) return;
      section.defs.set(section.next, rule);
      this.#workNumber(section.next);
    }
  }

  /** Definitions of earlier rounds by number or name; says so where one is unknown. */
  #fetch(numbers: readonly number[], name: string, from: number, to: number): RoundDef[] {
    const out: RoundDef[] = [];
    if (numbers.length === 0) {
      if (/^(?:last|previous|preceding)$/.test(name)) {
        const def = this.#history[this.#history.length - 1];
        if (def) out.push(def);
      } else {
        const def = this.#named.get(roundName(name));
        if (def) out.push(def);
      }
      if (out.length === 0) {
        this.#believed.begin(null);
        this.#found.add(
          'error',
          'unknown-round',
          from,
          to,
          `there is no ${name} round before this`,
        );
      }
      return out;
    }
    let failed = false;
    for (const n of numbers) {
      const def = this.#section.defs.get(n) ?? this.#ruleFor(n);
      if (!def && this.#section.failed.has(n)) {
        failed = true;
        continue;
      }
      if (!def) {
        this.#believed.begin(null);
        this.#found.add(
          'error',
          'unknown-round',
          from,
          to,
          `round ${n} is not described before this`,
          'Repeats can only name rounds that stand above.',
        );
        return [];
      }
      out.push(def);
    }
    return failed ? [] : out;
  }

  // ---- repeats ------------------------------------------------------------------------------------

  #repeat(from: number, to: number): void {
    // "rep rows 1-8 once more, then rows 1-4 once"
    const text = this.#sentence(from, to);
    let start = 0;
    for (const m of text.matchAll(THEN_ROUNDS)) {
      const before = text.slice(start, m.index);
      if (before.trim() !== '') this.#repeatOne(before, from, to);
      start = m.index + m[1].length;
    }
    const last = text.slice(start);
    this.#repeatOne(start === 0 || /^\s*rep/.test(last) ? last : `rep ${last}`, from, to);
  }

  #repeatOne(text: string, from: number, to: number): void {
    const line = readRepeat(text);
    if (!line) {
      this.#found.add(
        'warning',
        'repeat-not-read',
        from,
        to,
        'it is not clear what is repeated here',
      );
      return;
    }
    let defs: RoundDef[];
    if (line.steps) {
      defs = this.#fetchItems(line.numbers, from, to);
    } else if (line.numbers.length > 0) {
      let numbers = line.numbers;
      if (numbers.length === 1 && /\bfrom\s+(?:the\s+)?(?:rounds?|rnds?|rows?)/.test(text)) {
        // "repeat from round 3": everything since then.
        const n: number[] = [];
        for (let i = numbers[0]; i < this.#section.next; i++) n.push(i);
        numbers = n.length > 0 ? n : numbers;
      }
      defs = this.#fetch(numbers, '', from, to);
      if (defs.length < numbers.length) return;
    } else if (line.these) {
      defs = this.#history.slice(Math.max(this.#sinceHeading, this.#section.startRound));
    } else {
      defs = this.#history.slice(-line.last);
      if (line.last > this.#history.length) {
        this.#found.add(
          'error',
          'unknown-round',
          from,
          to,
          `the last ${line.last} rounds are repeated, but only ${this.#history.length} have been worked`,
        );
      }
    }
    if (defs.length === 0) return;
    if (line.untilStitches === null && line.untilMm === null && line.times === null) {
      this.#sayNoEnd(from, to);
      return;
    }
    const follows = FOLLOWS.test(text) ? { from, to } : null;
    const again = defs.map((d) => ({
      ...d,
      stated: null,
      label: repeated(d.label),
      ...(follows ? { follows } : null),
    }));
    const before = this.rounds.length;
    if (line.untilStitches !== null) {
      this.#repeatUntil(
        again,
        line.untilStitches * (line.perSide ? this.#sections() : 1),
        line.endWith,
        line.numbers,
        from,
        to,
      );
    } else if (line.untilMm !== null) {
      this.#repeatToLength(again, line.untilMm, from, to);
    } else {
      let times = line.times ?? 1;
      if (line.forRounds !== null) times = Math.max(1, Math.floor(line.forRounds / defs.length));
      if (line.total && this.#justWorked(defs)) times -= 1;
      for (let i = 0; i < times && !this.#stopped; i++) {
        for (const def of again) {
          if (this.#stopped) break;
          this.#work(def);
        }
      }
    }
    this.#section.worked += this.rounds.length - before;
    if (line.stated) this.#checkStated(line.stated, from, to);
  }

  /** Sections of the round: between markers if there are any, else the sides. */
  #sections(): number {
    const { markers } = this.#needle;
    return markers.length > 0 ? markers.length + 1 : (this.sides ?? 1);
  }

  // ---- shaping told in prose ----------------------------------------------------------------------

  #shape(from: number, to: number): void {
    const text = this.#sentence(from, to);
    const line = readShape(text, from);
    if (!line) return;
    const last = this.#lastShaping();
    const { rows } = line;
    if (!rows && !last) {
      this.#found.add(
        'error',
        'unknown-round',
        from,
        to,
        'this goes on with the shaping, but no round before it decreases or increases',
      );
      return;
    }
    const word = this.#inRound ? 'Next round' : 'Next row';
    const base = {
      stated: null,
      from,
      to: this.#trimEnd(to),
      label: word,
      side: null,
      ends: false,
    };
    const set: Step = {
      kind: 'pattern',
      rule: 'set',
      amount: { kind: 'rest', count: 0 },
      from,
      to: this.#trimEnd(to),
    };
    const every = line.every ?? (line.rows ? 1 : (last?.period ?? 1));
    // Plain rounds in between are those between the last two shaped ones, if there are as many.
    const between =
      line.rows === null && last && last.between.length === every - 1
        ? last.between.map((d) => ({ ...d, stated: null, label: word, side: null }))
        : Array.from({ length: every - 1 }, () => ({ ...base, steps: [set] }));
    let skip = line.rows === null && last ? Math.min(last.since, every - 1) : 0;
    const target =
      line.untilStitches === null
        ? null
        : line.untilStitches * (line.perSide ? this.#sections() : 1);
    const start = this.#needle.count;
    const before = this.rounds.length;
    const times = line.times ?? Number.POSITIVE_INFINITY;
    for (let i = 0; i < times && !this.#stopped; i++) {
      if (target !== null && this.#needle.count === target) break;
      const count = this.#needle.count;
      if (!(i === 0 && line.atOnce)) {
        for (const plain of between.slice(skip))
          if (!this.#stopped) this.#work(this.#between(plain));
      }
      skip = 0;
      if (this.#stopped) break;
      const steps = rows
        ? rows[i % rows.length]
        : last
          ? this.#goOn(last, i + 1, line.fewer)
          : null;
      if (!steps) {
        this.#addOnce(
          target,
          'repeat-never-ends',
          from,
          to,
          `going on like this never leaves ${target === null ? 'a round that works out' : stitches(target)}: no plain stitches are left between the decreases at ${this.#needle.count}`,
          'Check the number that should remain, or write the last rounds out.',
        );
        break;
      }
      this.#work({ ...base, steps });
      const change = this.#needle.count - count;
      if (target === null) continue;
      if (change === 0 || change > 0 !== target > start) {
        this.#addOnce(
          target,
          'repeat-never-ends',
          from,
          to,
          `going on like this never leaves ${stitches(target)}`,
        );
        break;
      }
      const past = target > start ? this.#needle.count > target : this.#needle.count < target;
      if (past) {
        this.#addOnce(
          target,
          'repeat-misses-count',
          from,
          to,
          `going on like this never leaves ${stitches(target)}: the count goes past it to ${this.#needle.count}`,
          'Check the count before it, or the number that should remain.',
        );
        break;
      }
    }
    this.#section.worked += this.rounds.length - before;
    if (line.stated) this.#checkStated(line.stated, from, to);
  }

  /**
   * The shaping round `by` after the last one. Plain runs go on changing as they did between the last
   * two, or as the text says; else what the last one shortens takes whatever is left.
   */
  #goOn(
    last: { def: RoundDef; earlier: RoundDef | null },
    by: number,
    fewer: number | null,
  ): readonly Step[] | null {
    const fixed = this.#expander.fixedOfAll(last.def.steps);
    const shifted = last.earlier ? nextInLine(last.earlier.steps, last.def.steps, by) : null;
    if (shifted && shifted.length > 0 && !sameSteps(shifted, last.def.steps)) return shifted;
    const inLine = last.earlier ? nextInLine(last.earlier.steps, last.def.steps, 1) : null;
    if (inLine && !sameSteps(inLine, last.def.steps)) return null;
    if (fewer !== null) {
      const less = shortened(last.def.steps, fewer * by);
      if (less) return less;
      if (shortened(last.def.steps, fewer)) return null;
    }
    if (fixed !== null && fixed !== this.#needle.count) {
      const fitted = this.#fitted(last.def.steps);
      if (fitted) return fitted;
    }
    return generalised(last.def.steps);
  }

  /** A round between two shaping rounds, its plain stretches made to fit. */
  #between(def: RoundDef): RoundDef {
    if (this.#expander.fixedOfAll(def.steps) === this.#needle.count) return def;
    const steps = this.#fitted(def.steps);
    return steps ? { ...def, steps } : def;
  }

  /** The steps with their plain stretches made to fit the needles; null where that can't be told. */
  #fitted(steps: readonly Step[]): readonly Step[] | null {
    return fitSteps(steps, this.#needle.count, this.sides, (s) => this.#expander.fixedOfAll(s));
  }

  #sayNoEnd(from: number, to: number): void {
    this.#found.add(
      'error',
      'repeat-end-not-read',
      from,
      this.#trimEnd(to),
      "it can't be told from this how long to go on",
      'Say for example: until 8 sts remain, until the piece measures 12 cm, or 5 more times.',
    );
    this.#believed.begin(null);
  }

  /** Reports a count that is never reached, unless a mistake before it may be the cause. */
  #addOnce(
    target: number | null,
    code: string,
    from: number,
    to: number,
    message: string,
    hint = '',
  ): void {
    if (!this.#believed.active) this.#found.add('error', code, from, to, message, hint);
    this.#believed.beginWith(target, this.#needle);
  }

  /** The last round that changed the count, how far apart such rounds were, and what lay between. */
  #lastShaping(): {
    def: RoundDef;
    earlier: RoundDef | null;
    period: number;
    between: RoundDef[];
    since: number;
  } | null {
    const changed = (i: number): boolean => this.rounds[i].after !== this.rounds[i].before;
    let at = this.rounds.length - 1;
    while (at >= 0 && !changed(at)) at--;
    if (at < 0) return null;
    let earlier = at - 1;
    while (earlier >= 0 && !changed(earlier)) earlier--;
    const between = earlier < 0 ? [] : this.#history.slice(earlier + 1, at);
    const since = this.rounds.length - 1 - at;
    const period = earlier < 0 ? since + 1 : at - earlier;
    const first = earlier < 0 ? null : this.#history[earlier];
    return { def: this.#history[at], earlier: first, period, between, since };
  }

  #justWorked(defs: readonly RoundDef[]): boolean {
    const tail = this.#history.slice(-defs.length);
    return tail.length === defs.length && tail.every((d, i) => d.steps === defs[i].steps);
  }

  #repeatUntil(
    defs: readonly RoundDef[],
    target: number,
    endWith: number | null,
    numbers: readonly number[],
    from: number,
    to: number,
  ): void {
    const start = this.#needle.count;
    const up = target > start;
    const reached = (): boolean =>
      up ? this.#needle.count >= target : this.#needle.count <= target;
    if (start === target) return;
    const stopAt = endWith === null ? -1 : numbers.indexOf(endWith);
    for (;;) {
      const before = this.#needle.count;
      for (let i = 0; i < defs.length; i++) {
        if (this.#stopped) return;
        this.#work(defs[i]);
        if (reached() && (stopAt < 0 || stopAt === i)) break;
      }
      if (reached()) break;
      const change = this.#needle.count - before;
      if (change === 0 || change > 0 !== up) {
        this.#addOnce(
          target,
          'repeat-never-ends',
          from,
          to,
          `these rounds take the count from ${before} to ${this.#needle.count}: ${target} would never be reached`,
          'Check that the repeated rounds decrease (or increase) as meant.',
        );
        return;
      }
    }
    if (this.#needle.count !== target) {
      this.#addOnce(
        target,
        'repeat-misses-count',
        from,
        to,
        `repeating these rounds never leaves ${stitches(target)}: the count goes past it to ${this.#needle.count}`,
        'Check the count before the repeat, or the number that should remain.',
      );
    }
  }

  #repeatToLength(defs: readonly RoundDef[], mm: number, from: number, to: number): void {
    const rounds = this.#roundsFor(mm, from, to);
    if (rounds === null) return;
    while (this.rounds.length < rounds && !this.#stopped) {
      for (const def of defs) {
        if (this.#stopped) break;
        this.#work(def);
      }
    }
  }

  /** Rounds that are `mm` high, or null (and said so) without a gauge. */
  #roundsFor(mm: number, from: number, to: number): number | null {
    const { roundMm } = this.#setting;
    if (roundMm === null) {
      this.#found.add(
        'error',
        'length-without-gauge',
        from,
        to,
        'a length is given, but no gauge says how many rounds that is',
        'Add a line such as: Gauge: 22 sts and 30 rounds = 10 cm.',
      );
      return null;
    }
    return Math.max(1, Math.round(mm / roundMm));
  }

  /** `Work dec rnd, then knit 3 rnds, 5 times in all`; false where the sentence is none such. */
  #workCompound(from: number, to: number): boolean {
    const line = readCompound(this.#sentence(from, to).replace(/\.\s[\s\S]*$/, ''));
    if (!line) return false;
    const word = this.#inRound ? 'Next round' : 'Next row';
    const defs: RoundDef[] = [];
    for (const part of line.parts) {
      if ('name' in part) {
        const def = this.#named.get(part.name);
        if (!def) return false;
        defs.push({ ...def, stated: null });
        continue;
      }
      const plain = readPlainRounds(part.text, from, this.#abbreviations, null);
      if (plain.length === 0 || plain.some((p) => p.rounds === null)) return false;
      for (const p of plain) {
        for (let i = 0; i < Math.min(p.rounds ?? 0, MOST_ROUNDS); i++) {
          const base = { stated: null, from, to: this.#trimEnd(to), label: word, side: null };
          defs.push({ ...base, steps: this.#cycleSteps(p, i), ends: false });
        }
      }
    }
    const before = this.rounds.length;
    const { tail } = line;
    if (tail.untilStitches !== null) {
      const target = tail.untilStitches * (tail.perSide ? this.#sections() : 1);
      this.#repeatUntil(defs, target, null, [], from, to);
    } else {
      let times = tail.times ?? 1;
      const done = this.#history.slice(-defs.length);
      const first = this.rounds.length - defs.length;
      const again =
        done.length === defs.length &&
        defs.every((d, i) => {
          const { before: had, after } = this.rounds[first + i];
          return d.steps === done[i].steps || (had === after && !this.#isNamed(d));
        });
      if (tail.total && again) times -= 1;
      for (let i = 0; i < times && !this.#stopped; i++) for (const d of defs) this.#work(d);
    }
    this.#section.worked += this.rounds.length - before;
    if (tail.stated) this.#checkStated(tail.stated, from, to);
    return true;
  }

  #isNamed(def: RoundDef): boolean {
    for (const named of this.#named.values()) if (named.steps === def.steps) return true;
    return false;
  }

  #workNamed(from: number, to: number): void {
    if (this.#workCompound(from, to)) return;
    for (const line of readNamed(this.#sentence(from, to))) {
      const def = this.#named.get(line.name) ?? this.#named.get(roundName(line.name));
      if (!def) {
        if (/\b(?:pattern|chart|same|plain|even|more|lace|cable)\b/.test(line.name)) {
          this.#heading(from, to);
          continue;
        }
        this.#found.add(
          'error',
          'unknown-round',
          from,
          to,
          `there is no ${line.name} round before this`,
          `Describe it first: ${line.name[0].toUpperCase()}${line.name.slice(1)} round: …`,
        );
        return;
      }
      const plain: RoundDef = {
        ...def,
        steps: [{ kind: 'pattern', rule: 'set', amount: { kind: 'rest', count: 0 }, from, to }],
        stated: null,
        label: this.#inRound ? 'Next round' : 'Next row',
        side: null,
      };
      const again = { ...def, stated: null };
      const before = this.rounds.length;
      // "Decrease round: …" then "work decrease round every 4th round 5 times": the first is done.
      const first =
        !line.more && this.#lastNamed?.name === line.name && this.#lastNamed.round === before;
      if (line.times === null && line.untilStitches === null) {
        this.#sayNoEnd(from, to);
        return;
      }
      const times = line.times === null ? Number.POSITIVE_INFINITY : line.times - (first ? 1 : 0);
      const target = line.untilStitches;
      const start = this.#needle.count;
      for (let i = 0; i < times && !this.#stopped; i++) {
        if (target !== null && this.#needle.count === target) break;
        const count = this.#needle.count;
        for (let j = 1; j < line.every && !this.#stopped; j++) this.#work(plain);
        if (!this.#stopped) this.#work(again);
        const change = this.#needle.count - count;
        if (target !== null && (change === 0 || change > 0 !== target > start)) {
          this.#addOnce(
            target,
            'repeat-never-ends',
            from,
            to,
            `this never leaves ${stitches(target)}`,
          );
          break;
        }
        if (target !== null && this.#needle.count > target === start < target) break;
      }
      this.#section.worked += this.rounds.length - before;
      if (line.stated) this.#checkStated(line.stated, from, to);
    }
  }

  // ---- plain rounds -------------------------------------------------------------------------------

  #cycleSteps(plain: PlainRounds, i: number): readonly Step[] {
    const { cycle } = plain;
    if (i < cycle.length) return cycle[i];
    return cycle[cycle.length - 1];
  }

  #plain(from: number, to: number): void {
    const parts = readPlainRounds(this.#sentence(from, to), from, this.#abbreviations, this.#found);
    if (parts.length === 0) {
      const read = readSteps(this.#sentence(from, to), from, this.#abbreviations, null);
      if (!read.hasStitches && read.unread > 0) {
        this.#heading(from, to);
        return;
      }
      this.#unnumbered(null, this.#text(from, to), from, from, to);
      return;
    }
    const before = this.rounds.length;
    for (const part of parts) {
      let rounds = part.rounds;
      if (rounds === null) {
        const n = this.#roundsFor(part.lengthMm ?? 0, from, to);
        if (n === null) return;
        rounds = part.fromStart ? n - this.rounds.length : n;
      }
      for (let i = 0; i < rounds && !this.#stopped; i++) {
        const last = i + 1 === rounds;
        this.#work({
          steps: last && part.last ? part.last : this.#cycleSteps(part, i),
          stated: last ? part.stated : null,
          from,
          to: this.#trimEnd(to),
          label: this.#inRound ? 'Next round' : 'Next row',
          side: null,
          ends: false,
        });
      }
    }
    this.#section.worked += this.rounds.length - before;
  }

  // ---- the ending ---------------------------------------------------------------------------------

  #end(text: string, from: number, to: number): void {
    if (
      /\b(?:holder|waste|live|needles?|scrap)\b/.test(text) &&
      !/bind|cast|\bbo\b|\bthrough\b/.test(text)
    ) {
      this.ending = 'live';
    } else if (/bind|cast|\bb\/?o\b/.test(text)) this.ending = 'bound-off';
    else if (
      /draw|thread|run|pull|pass|through|fasten|gather/.test(text) ||
      this.ending === 'live'
    ) {
      // Broken yarn alone: the next sentence says how the loops are held.
      const next = this.#statements[this.#at + 1];
      if (/^(?:break|cut)/.test(text) && !/through|draw|gather/.test(text) && next?.kind === 'end')
        return;
      this.ending = 'drawn-up';
    }
    this.#ended = true;
    const m =
      /(?:remaining|rem\.?|last|all|these|the)\s+(\d{1,6})\s*(?:live\s+|remaining\s+)?(?:sts?|stitch|loops)/.exec(
        text,
      );
    if (m && Number(m[1]) !== this.#needle.count && !this.#believed.active) {
      this.#found.add(
        'error',
        'ending-count-wrong',
        from,
        this.#trimEnd(to),
        `this ends with ${stitches(Number(m[1]))}, but ${this.#needle.count} are on the needles`,
        'Check the counts of the last rounds.',
      );
    }
  }

  // ---- working one round --------------------------------------------------------------------------

  #work(asked: RoundDef): void {
    if (this.#stopped) return;
    const def = asked.follows ? this.#followed(asked, asked.follows) : asked;
    if (!def) return;
    if (def.ends) {
      this.ending = 'bound-off';
      this.#ended = true;
      return;
    }
    if (this.rounds.length >= MOST_ROUNDS || this.#expander.tooBig) {
      this.#sayTooBig();
      return;
    }
    if (this.#needle.count === 0) {
      this.#found.add(
        'error',
        'nothing-on-needles',
        def.from,
        def.to,
        'no stitches are left on the needles to work this',
        'Check the decreases before this round.',
      );
      this.#stopped = true;
      return;
    }
    const wrongSide = this.#wrongSideNow();
    if (def.side !== null && !this.#inRound && (def.side === 'WS') !== wrongSide) {
      this.#found.add(
        'warning',
        'side-mismatch',
        def.from,
        def.to,
        `this is called a ${def.side} row, but the ${wrongSide ? 'wrong' : 'right'} side faces here`,
        'A row seems to be missing, or one too many is worked before it.',
      );
    }
    const needle = this.#needle;
    const setting = { wrongSide, inRound: this.#inRound, sides: this.sides ?? this.#parts };
    const { steps, worked } = this.#bestReading(def, needle, setting);
    if (this.#expander.tooBig) {
      this.#sayTooBig();
      return;
    }
    this.#expander.keep(worked);
    const good = this.#judge(def, steps, worked, needle, setting);
    const round: PlanRound = {
      n: this.rounds.length + 1,
      label: def.label,
      wrongSide,
      before: needle.count,
      after: worked.after,
      works: worked.works,
      stated: this.#statedTotal(def.stated),
      markers: Int32Array.from(
        worked.roundMarker && this.#inRound && worked.after > 0
          ? [0, ...worked.markers]
          : worked.markers,
      ),
      from: positionAt(this.#source, def.from),
      to: endPositionAt(this.#source, def.to),
      askedAt: this.#askedAt,
      steps,
    };
    this.rounds.push(round);
    this.#history.push(def);
    this.#needle = this.#after(worked, needle, wrongSide);
    if (!good) return;
    if (def.stated) this.#checkStated(def.stated, def.from, def.to);
    if (this.sides === null && !this.#believed.active) this.#parts ??= partsOf(steps, needle.count);
  }

  #after(worked: WorkedRound, needle: Needle, wrongSide: boolean): Needle {
    const next: Needle = {
      count: worked.after,
      faces: this.#expander.facesAfter(worked, needle, wrongSide),
      markers: worked.markers,
      roundMarker: worked.roundMarker,
    };
    return this.#inRound ? next : turnNeedle(next);
  }

  /**
   * Reports what doesn't come out in a round, unless it only follows from a mistake reported before.
   * True where the count afterwards can be trusted so far that a stated count is worth comparing.
   */
  #judge(
    def: RoundDef,
    steps: readonly Step[],
    worked: WorkedRound,
    needle: Needle,
    setting: RoundSetting,
  ): boolean {
    const believed = this.#believed;
    const stated = this.#statedTotal(def.stated);
    const fits = (w: WorkedRound, count: number): boolean =>
      w.claimed === count && !w.problems.some((p) => p.severity === 'error');
    const ok = fits(worked, needle.count) && !def.failed;
    if (believed.active && believed.needle?.count === needle.count) believed.end();
    if (!believed.active) {
      this.#report(def, needle, worked.claimed, worked.problems);
      const said = worked.problems.some((p) => p.severity === 'error');
      if (ok || (def.unread && !def.failed && !said)) return true;
      believed.begin(this.#believedAfter(def, steps, worked, needle, setting, stated));
      return false;
    }
    for (const p of worked.problems) {
      if (p.severity === 'note')
        this.#found.add(p.severity, p.code, p.from, p.to, p.message, p.hint);
    }
    const agrees = ok && (stated === null || stated === worked.after);
    if (agrees && stated !== null) {
      believed.end();
      return true;
    }
    const other = believed.needle;
    if (other && !def.failed) {
      const second = this.#expander.work(steps, other, setting);
      if (fits(second, other.count)) {
        if (stated !== null && stated !== second.after) this.#believeStated(stated, worked);
        else believed.begin(this.#after(second, other, setting.wrongSide));
        return false;
      }
      if (agrees) {
        believed.end();
        return true;
      }
      if (!ok) {
        // Fits neither count: a mistake of its own.
        this.#report(def, other, second.claimed, second.problems);
        believed.begin(this.#believedAfter(def, steps, worked, needle, setting, stated));
      }
      return false;
    }
    if (stated !== null) this.#believeStated(stated, worked);
    else believed.begin(null);
    return false;
  }

  #believeStated(stated: number, worked: WorkedRound): void {
    const { after: count, markers, roundMarker } = worked;
    const like = { count, faces: new Uint8Array(0), markers, roundMarker };
    this.#believed.begin(stated === count ? null : needleOf(stated, like));
  }

  /** The needles as the text counts them after a round that didn't come out; null if nothing tells. */
  #believedAfter(
    def: RoundDef,
    steps: readonly Step[],
    worked: WorkedRound,
    needle: Needle,
    setting: RoundSetting,
    stated: number | null,
  ): Needle | null {
    if (stated !== null) {
      if (stated === worked.after) return this.#after(worked, needle, setting.wrongSide);
      return needleOf(stated, { ...needle, count: worked.after, markers: worked.markers });
    }
    if (def.failed) return null;
    if (this.#expander.fixedOfAll(steps) === null) {
      const plain = worked.after === needle.count;
      return plain ? this.#after(worked, needle, setting.wrongSide) : null;
    }
    const meant = needleOf(worked.claimed, needle);
    if (!meant || meant.count === needle.count) return null;
    return this.#after(this.#expander.work(steps, meant, setting), meant, setting.wrongSide);
  }

  /** A round repeated "as set", made to fit; null (and said so) where that can't be told. */
  #followed(def: RoundDef, said: { from: number; to: number }): RoundDef | null {
    const fixed = this.#expander.fixedOfAll(def.steps);
    const open = fixed === null && def.steps.some((s) => s.kind === 'group');
    if (fixed === this.#needle.count || (fixed === null && !open)) return def;
    const fitted = this.#fitted(def.steps);
    if (fitted) return { ...def, steps: fitted };
    if (open) return def;
    this.#found.add(
      'error',
      'repeat-not-followed',
      said.from,
      said.to,
      `${def.label.replace(/ \(repeat\)$/, '')} is written for ${stitches(fixed ?? 0)}, and it can't be told how it goes over ${this.#needle.count}`,
      'Write it with "k to last 2 sts" instead of a number, or write these rounds out.',
    );
    this.#stopped = true;
    return null;
  }

  /** "repeat from * 3 times" can mean 3 or 4 in all: the counts decide, once for every use. */
  #bestReading(
    def: RoundDef,
    needle: Needle,
    setting: RoundSetting,
  ): { steps: readonly Step[]; worked: WorkedRound } {
    const settled = this.#readings.get(def.steps);
    const first = settled ?? def.steps;
    const other = settled ? null : otherReading(def.steps, this.sides);
    const worked = this.#expander.work(first, needle, setting);
    if (!other) return { steps: first, worked };
    const stated = this.#statedTotal(def.stated);
    const fits = (w: WorkedRound): number =>
      w.claimed !== needle.count || w.problems.some((p) => p.severity === 'error')
        ? 0
        : stated === null || stated === w.after
          ? 2
          : 1;
    const second = this.#expander.work(other.steps, needle, setting);
    const better = other.preferred ? fits(second) >= fits(worked) : fits(second) > fits(worked);
    if (!better || fits(second) === 0) return { steps: first, worked };
    this.#readings.set(def.steps, other.steps);
    return { steps: other.steps, worked: second };
  }

  #sayTooBig(): void {
    this.#stopped = true;
    this.#found.add(
      'error',
      'plan-too-big',
      0,
      1,
      `this plan is larger than can be followed: more than ${MOST_STITCHES.toLocaleString('en-US')} stitches or ${MOST_ROUNDS.toLocaleString('en-US')} rounds`,
      'Check the numbers of repeats, or write the plan for a part of the piece.',
    );
  }

  #report(def: RoundDef, needle: Needle, claimed: number, problems: readonly Problem[]): void {
    let fatal = false;
    for (const p of problems) {
      // What follows the first mistake of a round is mostly its consequence.
      if (fatal || (p.severity === 'error' && def.failed)) continue;
      if (p.severity === 'error') fatal = true;
      this.#found.add(p.severity, p.code, p.from, p.to, p.message, p.hint);
    }
    if (fatal || def.unread || claimed === needle.count) return;
    const what = this.#inRound ? 'round' : 'row';
    const d = claimed - needle.count;
    const are = needle.count === 1 ? 'is' : 'are';
    if (d > 0) {
      this.#found.add(
        'error',
        'too-many-stitches-worked',
        def.from,
        def.to,
        `this ${what} works ${stitches(claimed)} but ${needle.count} ${are} on the needles: ${d} too many`,
        this.#cause(def, needle.count, claimed),
      );
    } else {
      this.#found.add(
        'error',
        'stitches-left-unworked',
        def.from,
        def.to,
        `this ${what} works ${stitches(claimed)} but ${needle.count} ${are} on the needles: ${-d} left over`,
        this.#cause(def, needle.count, claimed),
      );
    }
  }

  /** The most likely cause of a count that does not come out. */
  #cause(def: RoundDef, before: number, claimed: number): string {
    const groups = def.steps.filter((s) => s.kind === 'group');
    for (const group of groups) {
      if (group.kind !== 'group' || !('times' in group.amount) || group.amount.times < 2) continue;
      const each = this.#expander.fixedOfAll(group.steps);
      if (!each) continue;
      const missing = before - claimed;
      if (missing % each === 0) {
        const times = group.amount.times + missing / each;
        if (times > 0) return `The repeat fits ${times} times instead of ${group.amount.times}.`;
      }
    }
    const run = changedRun(def.steps, this.#fitted(def.steps) ?? def.steps);
    if (run) return `It would fit with ${run.to} instead of ${run.from}.`;
    const crossing = def.steps.some((s) => s.kind === 'stitch' && s.name.includes('/'));
    const last = this.rounds[this.rounds.length - 1];
    if (last && last.before === claimed && last.before !== last.after) {
      const lost = last.before - last.after;
      return `It would fit the ${claimed} stitches before ${last.label}, which ${
        lost > 0 ? `decreased ${lost}` : `increased ${-lost}`
      }.`;
    }
    if (crossing) return 'Count the stitches that the crossing takes: 2/2 works 4.';
    if (claimed > before)
      return 'Check the numbers in this round and the count of the round before.';
    return 'If the rest is worked plain, add for example ", k to end".';
  }

  // ---- stated counts ------------------------------------------------------------------------------

  #statedTotal(stated: StatedCount | null): number | null {
    if (!stated) return null;
    if (stated.total !== null) return stated.total;
    if (stated.perSide !== null && this.sides !== null) return stated.perSide * this.sides;
    return null;
  }

  #checkStated(stated: StatedCount, from: number, to: number): void {
    const { count } = this.#needle;
    if (stated.total !== null && stated.perSide !== null && stated.perSide > 0) {
      const sides = stated.total / stated.perSide;
      if (this.sides === null && Number.isInteger(sides)) this.sides = sides;
    }
    if (stated.total === null && stated.perSide !== null && this.sides === null) {
      if (stated.perSide > 0 && count % stated.perSide === 0) this.sides = count / stated.perSide;
    }
    const total = this.#statedTotal(stated);
    const last = this.rounds[this.rounds.length - 1];
    if (total === null && stated.change !== null && last) {
      this.#checkChange(stated.change, last, from, to);
    }
    if (total === null) return;
    const believed = this.#believed;
    if (total === count) {
      believed.end();
      return;
    }
    if (believed.active) {
      if (believed.needle?.count !== total) believed.beginWith(total, this.#needle);
      return;
    }
    believed.beginWith(total, this.#needle);
    const hint =
      last && total === last.before
        ? 'That is the count before this round.'
        : total > count
          ? `${stitches(total - count)} fewer than stated: check the decreases, or correct the number.`
          : `${stitches(count - total)} more than stated: check the decreases, or correct the number.`;
    this.#found.add(
      'error',
      'stated-count-wrong',
      from,
      this.#trimEnd(to),
      `the text says ${stitches(total)}, but ${count} ${count === 1 ? 'is' : 'are'} on the needles after this`,
      hint,
    );
  }

  /** "(8 sts decreased)": wrong unless the round, or each of its sides, changes by so many. */
  #checkChange(change: number, last: PlanRound, from: number, to: number): void {
    const real = last.after - last.before;
    if (change === 0 || real === change || real === change * (this.sides ?? 1)) return;
    const word = change < 0 ? 'decreased' : 'increased';
    this.#found.add(
      'error',
      'stated-change-wrong',
      from,
      this.#trimEnd(to),
      `the text says ${stitches(Math.abs(change))} are ${word}, but the count goes from ${last.before} to ${last.after}`,
      'Count the decreases and increases of this round.',
    );
  }

  get kinds(): KindList {
    return this.#list;
  }
}

const THEN_ROUNDS =
  /(,?\s*(?:(?:and|,)\s*)?then\s+(?:work\s+)?)(?=(?:rep(?:eat)?\s+)?(?:the\s+)?(?:rounds?|rnds?|rds?|rows?|r)\.?\s*\d)/g;

/** Words that ask for stitches to be worked. */
const ASKS =
  /^(?:(?:and|then|now|next)\b[\s,]*)*(?:rep(?:eat)?|cont(?:inue)?|work|knit|purl|dec(?:rease)?|inc(?:rease)?|bind|slip|turn|pick\s+up|k|p|keep|carry|go\s+on)\b|\buntil\b|\b(?:dec|inc)(?:reas)?(?:e|ing)\b|\bevery\s+(?:other|alt|foll|\d)|\d\s+times\b|\bby\s+(?:working|knitting)\b|\btog(?:ether)?\b/;
/** Sentences about the work rather than of it. */
const AFTERWARDS =
  /^working\s+(?:in\s+(?:the\s+)?(?:rounds?|rows)|back\s+and\s+forth|flat)[\s,.]*$|\bas\s+follows\b|:\s*$|\bshould\b|\bmeasures?\b(?!.*\buntil\b)|\bnote\b|\bblock(?:ing)?\b|\bweave\s+in\b|\bpattern\s+(?:is|was)\b|\byou\s+(?:will|can|may|should)\b/;

/** Words of a repeat that have its plain stretches follow the count. */
const FOLLOWS =
  /\bas\s+(?:set|est|before)|\bin\s+(?:this|the\s+same)\s+(?:way|manner)|\b(?:less|fewer)\b|\bmore\s+(?:sts?|stitch)|\b(?:keep|maintain|shorten|dec(?:r?eas)?)ing\b|\bin\s+pat(?:t|tern)\b/;

/** Equal parts of a round that is one repeat with shaping in it; null where it is something else. */
function partsOf(steps: readonly Step[], count: number): number | null {
  const groups = steps.filter((s) => s.kind === 'group');
  const [group] = groups;
  if (groups.length !== 1 || group?.kind !== 'group') return null;
  if (steps.some((s) => s.kind !== 'group' && s.kind !== 'marker')) return null;
  if (!('times' in group.amount)) return null;
  const { times } = group.amount;
  return times >= 3 && times <= MOST_PARTS && count % times === 0 ? times : null;
}

/** The first plain run that differs between two versions of a round, in a knitter's words. */
function changedRun(
  was: readonly Step[],
  is: readonly Step[],
): { from: string; to: string } | null {
  for (let i = 0; i < was.length; i++) {
    const [a, b] = [was[i], is[i]];
    if (a.kind === 'group' && b?.kind === 'group') {
      const inner = changedRun(a.steps, b.steps);
      if (inner) return inner;
    }
    if (a.kind !== 'stitch' || b?.kind !== 'stitch') continue;
    if (!('times' in a.amount) || !('times' in b.amount) || a.amount.times === b.amount.times)
      continue;
    return { from: `${a.name}${a.amount.times}`, to: `${b.name}${b.amount.times}` };
  }
  return null;
}

function sameSteps(a: readonly Step[], b: readonly Step[]): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

function repeated(label: string): string {
  return /\d/.test(label) && !label.endsWith('(repeat)') ? `${label} (repeat)` : label;
}

/**
 * Steps whose longest plain run takes what is left, so that they also fit the next, shorter round: the
 * 26 of `(ssk, k26, k2tog) 4 times` becomes "to the last 2 sts".
 */
function generalised(steps: readonly Step[]): Step[] {
  const timesOf = (s: Step): number =>
    (s.kind === 'stitch' && (s.name === 'k' || s.name === 'p')) || s.kind === 'pattern'
      ? 'times' in s.amount
        ? s.amount.times
        : 0
      : 0;
  const flexible = steps.some((s) => 'amount' in s && !('times' in s.amount));
  if (flexible) return [...steps];
  let longest = -1;
  steps.forEach((s, i) => {
    if (timesOf(s) > (longest < 0 ? 0 : timesOf(steps[longest]))) longest = i;
  });
  const groups = steps.filter((s) => s.kind === 'group');
  if (groups.length === 1 && (longest < 0 || timesOf(steps[longest]) < 3)) {
    return steps.map((s) => (s.kind === 'group' ? { ...s, steps: generalised(s.steps) } : s));
  }
  return steps.map((s, i) =>
    i === longest && (s.kind === 'stitch' || s.kind === 'pattern')
      ? { ...s, amount: { kind: 'rest', count: 0 } }
      : s,
  );
}

/**
 * The steps with every ambiguous number of repeats taken the other way; null where none is. Preferred
 * if that number is the number of sides.
 */
function otherReading(
  steps: readonly Step[],
  sides: number | null,
): { steps: readonly Step[]; preferred: boolean } | null {
  let changed = false;
  let preferred = false;
  // Abbreviations within abbreviations share their lists of steps: each is turned once.
  const done = new Map<readonly Step[], readonly Step[]>();
  const turned = (list: readonly Step[]): readonly Step[] => {
    const known = done.get(list);
    if (known) return known;
    const out = list.map((step): Step => {
      if (step.kind !== 'group') return step;
      const inner = turned(step.steps);
      if (step.otherTimes === null || step.otherTimes < 1) {
        return inner === step.steps ? step : { ...step, steps: inner };
      }
      changed = true;
      preferred ||= step.otherTimes === sides;
      return { ...step, steps: inner, amount: { times: step.otherTimes }, otherTimes: null };
    });
    const result = out.every((step, i) => step === list[i]) ? list : out;
    done.set(list, result);
    return result;
  };
  const out = turned(steps);
  return changed ? { steps: out, preferred } : null;
}
