/**
 * The piece on the needles: works one round after the other and keeps what has come of it. Input: the
 * meaning of each round in turn. Output: the plan's rounds, the needles after them, how the piece ends,
 * and diagnostics for rounds that do not come out.
 */
import type { DiagnosticList } from '../diagnostics.ts';
import type { EndRound, Tail } from '../grammar/ast.ts';
import { ribbingTold } from '../grammar/steps/pattern-steps.ts';
import type { Fabric } from '../grammar/steps/patterns.ts';
import type { StatedCount } from '../grammar/steps/stated-counts.ts';
import type { Step } from '../grammar/steps/steps.ts';
import { endPositionAt, type Place, type Source, trimmed } from '../lex/source.ts';
import type { Ending, PlanRound, TextPosition } from '../plan.ts';
import { partsOf, Readings } from '../resolve/ambiguity.ts';
import type { Follows, RoundDef } from '../resolve/round-defs.ts';
import type { StitchRegistry } from '../stitches/stitch-registry.ts';
import { CountCheck } from './count-check.ts';
import { RoundExpander } from './expand.ts';
import { fitSteps } from './fit-steps.ts';
import { fittedTo, noteFitted } from './fitted-round.ts';
import { endsWith, isLike } from './last-round.ts';
import { castOnNeedle, type Needle, turnNeedle } from './needle.ts';
import { atTurns, planRound } from './plan-round.ts';
import { columnsOf, lastRibbing } from './ribbing.ts';
import { MOST_STITCHES } from './round-buffer.ts';
import {
  checkSide,
  type RoundCase,
  RoundCheck,
  saidWhereAsked,
  sayOverAgain,
} from './round-check.ts';
import { RoundColours } from './round-colours.ts';
import type { RoundSetting } from './round-context.ts';
import { RoundCrossings } from './round-crossings.ts';
import { stitches } from './round-problems.ts';
import { RowEdges } from './row-edges.ts';

/** Limit on rounds of one plan: each takes at least a stitch of the stitch limit. Chosen. */
export const MOST_ROUNDS = 50_000;

export interface WorkSetting {
  readonly worked: 'round' | 'flat';
  /** First row faces the wrong side (flat only). */
  readonly firstWrongSide: boolean;
  readonly castOn: number;
  readonly markers: readonly number[];
  /** Stitches cast on that hold a marker, counted from 1. */
  readonly hungIn: readonly number[];
  readonly roundMarker: boolean;
  /** Height of one round, mm, if the gauge says it. */
  readonly roundMm: number | null;
  /** Colour cast on with, if the text says it. */
  readonly castOnColour?: string | null;
}

export class WorkedPiece {
  readonly rounds: PlanRound[] = [];
  /** [rounds] what each round was worked from. */
  readonly history: RoundDef[] = [];
  ending: Ending = 'live';
  /** The piece has ended; what follows is not worked. */
  ended = false;
  readonly inRound: boolean;
  readonly counts: CountCheck;
  readonly found: DiagnosticList;
  readonly source: Source;
  readonly #setting: WorkSetting;
  readonly #list: StitchRegistry;
  readonly #expander: RoundExpander;
  readonly #judge: RoundCheck;
  readonly #readings: Readings;
  #needle: Needle;
  /** The needles before the last round. */
  #before: { needle: Needle; setting: RoundSetting } | null = null;
  #stopped = false;
  /** Rounds told for one of their equal parts, as they are worked. */
  readonly #wholeRounds = new WeakMap<readonly Step[], readonly Step[]>();
  /** Places whose repeats were made to fit, which has been said. */
  readonly #fittedAt = new Set<number>();
  #askedAt: TextPosition = { line: 1, column: 1 };
  /** Equal parts that a round's repeat shows, where the text names no sides. */
  #parts: number | null = null;
  /** Equal parts that the last round's repeat showed which changed the count. */
  #divisions: number | null = null;

  /** What rounds are worked in that name no stitches, as a sentence has told; null where none has. */
  ground: Fabric | null = null;

  constructor(
    source: Source,
    found: DiagnosticList,
    list: StitchRegistry,
    setting: WorkSetting,
    sides: number | null,
  ) {
    this.source = source;
    this.found = found;
    this.inRound = setting.worked === 'round';
    this.counts = new CountCheck(source, found, sides, setting.castOn);
    this.#setting = setting;
    this.colours = new RoundColours(setting.castOnColour);
    this.#list = list;
    this.#expander = new RoundExpander(list);
    this.#judge = new RoundCheck(found, this.#expander, this.counts);
    this.#readings = new Readings(this.#expander);
    const start = castOnNeedle(
      setting.castOn,
      setting.markers,
      setting.roundMarker,
      setting.hungIn,
    );
    // Flat work is turned before the first row: the last loop cast on is worked first.
    this.#needle = setting.worked === 'flat' ? turnNeedle(start) : start;
  }

  /** Stitches on the needles. */
  get count(): number {
    return this.#needle.count;
  }

  /** Colour that rounds are worked in, where the text says so. */
  readonly colours: RoundColours;

  /** What the stitches at the edges of rows are told to be. */
  readonly edges = new RowEdges();

  /** Cables that only some rounds cross. */
  readonly crossings = new RoundCrossings();

  /** Height of one round, mm; null where no gauge says it. */
  get roundMm(): number | null {
    return this.#setting.roundMm;
  }

  /** Nothing more can be worked, which has been said. */
  get stopped(): boolean {
    return this.#stopped;
  }

  /** More can be worked. */
  get goesOn(): boolean {
    return !this.#stopped && !this.ended;
  }

  get wrongSideNow(): boolean {
    if (this.inRound) return this.#needle.turned?.back ?? false;
    return (this.rounds.length % 2 === 1) !== this.#setting.firstWrongSide;
  }

  /** Rounds worked from here on are asked for by the words that end at `at`. */
  askedBy(at: Place): void {
    this.#askedAt = endPositionAt(this.source, trimmed(this.source, at).to);
  }

  work(told: RoundDef): void {
    // "Turn, knit the three together": every row ends with a turn.
    const [first] = told.steps;
    const turned = !this.inRound && first?.kind === 'turn' && first.style === 'plain';
    const whole = this.#wholeRounds.get(told.steps) ?? told.steps;
    const steps = turned ? whole.slice(1) : whole;
    const asked = steps === told.steps ? told : { ...told, steps };
    if (turned && asked.steps.length === 0) return;
    if (!asked.ends && asked.steps.some((s) => s.kind === 'turn')) {
      for (const part of atTurns(asked)) this.#work(part);
    } else this.#work(asked);
  }

  #work(asked: RoundDef): void {
    if (this.#stopped || this.ended) return;
    const told = asked.follows ? this.#followed(asked, asked.follows) : asked;
    if (!told) return;
    const crossed = this.crossings.of(told.steps, this.rounds.length, asked.follows !== undefined);
    const steps = this.inRound ? crossed : this.edges.of(crossed, this.wrongSideNow);
    const def = steps === told.steps ? told : { ...told, steps };
    if (def.ends) {
      this.ending = 'bound-off';
      this.ended = true;
      return;
    }
    if (this.rounds.length >= MOST_ROUNDS || this.#expander.tooBig) {
      this.#sayTooBig();
      return;
    }
    if (this.count === 0) {
      this.#stop(
        def,
        'nothing-on-needles',
        'no stitches are left on the needles to work this',
        'Check the decreases before this round.',
      );
      return;
    }
    this.colours.takeUp(def.colour ?? null, this.rounds.length);
    const needle = this.#needle;
    const wrongSide = this.wrongSideNow;
    if (!this.inRound) checkSide(def, wrongSide, this.found);
    const { sides } = this.counts;
    const setting = {
      wrongSide,
      inRound: this.inRound,
      sides: sides ?? this.#parts,
      lastRib: () =>
        lastRibbing(this.rounds, this.#list) ?? columnsOf(ribbingTold(this.source.norm)),
    };
    this.#before = { needle, setting };
    const stated = this.counts.total(def.stated);
    const read = this.#readings.best(def.steps, needle, setting, stated, sides);
    if (read.otherwise !== undefined)
      sayOverAgain(this.found, def, read.worked.after, read.otherwise);
    if (this.#expander.tooBig) {
      this.#sayTooBig();
      return;
    }
    this.#expander.keep(read.worked);
    const { follows } = def;
    const again = follows && this.history.some((d) => d.steps === def.steps);
    if (read.parts !== undefined && !again)
      this.found.note(
        'told-for-one-part',
        def,
        `this works the ${needle.count / read.parts} stitches of one of ${read.parts} equal parts, and the count told is that of all: it is worked ${read.parts} times`,
      );
    const round: RoundCase = { def, ...read, needle, setting };
    const trusted = this.#judge.judge(
      again ? saidWhereAsked(round, trimmed(this.source, follows)) : round,
      {
        inRound: this.inRound,
        last: this.rounds[this.rounds.length - 1],
        fixedOfAll: (steps) => this.fixedOfAll(steps),
        fitted: (steps) => this.fitted(steps),
      },
    );
    this.rounds.push(this.#planRound(round));
    this.colours.note(def.steps, this.rounds[this.rounds.length - 1]);
    this.crossings.note(def.steps);
    if (read.parts !== undefined) this.#wholeRounds.set(told.steps, read.steps);
    this.history.push(read.parts === undefined ? told : { ...told, steps: read.steps });
    this.#needle = this.#expander.needleAfter(read.worked, needle, setting);
    if (!trusted) return;
    if (def.stated) this.checkStated(def.stated, def);
    if (this.counts.believed.active) return;
    const parts = partsOf(read.steps, needle.count, (s) => this.fixedOfAll(s));
    if (needle.count !== this.count) this.#divisions = parts ?? this.#divisions;
    if (this.counts.sides === null) this.#parts ??= parts;
  }

  /** Markers put between the stitches on the needles, besides those there. */
  placeMarkers(places: readonly number[]): void {
    this.#needle = {
      ...this.#needle,
      markers: inOrder([...this.#needle.markers, ...places]),
      roundMarker: this.inRound || this.#needle.roundMarker,
    };
  }

  /** Stitches on the needles marked, counted from 1. */
  markStitches(numbers: readonly number[]): void {
    const { marked, count } = this.#needle;
    const here = numbers.filter((n) => n <= count).map((n) => n - 1);
    this.#needle = { ...this.#needle, marked: inOrder([...(marked ?? []), ...here]) };
  }

  /** Works the rounds in turn, as far as that goes. */
  workAll(defs: readonly RoundDef[]): void {
    for (const def of defs) this.work(def);
  }

  #planRound(round: RoundCase): PlanRound {
    return planRound(round, {
      source: this.source,
      n: this.rounds.length + 1,
      inRound: this.inRound,
      stated: this.counts.total(round.def.stated),
      askedAt: this.#askedAt,
      colour: this.colours.of(this.rounds.length),
    });
  }

  /** A round repeated "as set", made to fit; null (and said so) where that can't be told. */
  #followed(def: RoundDef, said: Follows): RoundDef | null {
    const fit = fittedTo(def, this, this.#needle.turned);
    if (fit && fit.writtenFor !== null && !said.told && !this.#fittedAt.has(said.from)) {
      this.#fittedAt.add(said.from);
      noteFitted(this, def, trimmed(this.source, said), fit.writtenFor);
    }
    if (fit) return fit.def;
    const fixed = this.fixedOfAll(def.steps);
    this.#stop(
      said,
      'repeat-not-followed',
      `${def.label.replace(/ \(repeat\)$/, '')} is written for ${stitches(fixed ?? 0)}, and it can't be told how it goes over ${this.count}`,
      'Write it with "k to last 2 sts" instead of a number, or write these rounds out.',
    );
    return null;
  }

  /** Stitches that the steps work wherever they stand; null where that depends on the round. */
  fixedOfAll(steps: readonly Step[]): number | null {
    return this.#expander.fixedOfAll(steps);
  }

  /** The steps with their plain stretches made to fit the needles; null where that can't be told. */
  fitted(steps: readonly Step[]): readonly Step[] | null {
    return fitSteps(steps, this.count, this.counts.sides, (s) => this.fixedOfAll(s));
  }

  /** Stitches of the whole round that "until 8 sts remain" asks for; null where it doesn't. */
  targetOf(until: Pick<Tail, 'untilStitches' | 'perSide' | 'parts'>): number | null {
    const { untilStitches, perSide, parts } = until;
    if (untilStitches === null || !perSide) return untilStitches;
    const shown = parts === 'repeat' ? this.#divisions : parts;
    const sections = this.sections();
    // "[yo, k5, yo] 4 times" alone has shown how many sides there are.
    return untilStitches * (shown ?? (sections > 1 ? sections : (this.#divisions ?? 1)));
  }

  /** Sections of the round: between markers if there are any, else the sides, else one for each marked stitch. */
  sections(): number {
    const { markers, marked } = this.#needle;
    return markers.length > 0 ? markers.length + 1 : (this.counts.sides ?? (marked?.length || 1));
  }

  /** Edge stitches that the sides of a row lie between: as told, or those that are over beside equal sides. */
  edgeCounts(): readonly [number, number] {
    if (this.inRound) return [0, 0];
    const told = this.edges.counts;
    const { sides } = this.counts;
    if (told[0] + told[1] > 0 || sides === null || this.#needle.markers.length > 0) return told;
    return this.count % sides === 2 && sides > 2 ? [1, 1] : told;
  }

  /** Equal parts that repeats of rounds have shown; null where none has. */
  partings(): readonly (number | null)[] {
    return [this.#parts, this.#divisions];
  }

  /** Stitches between one marker, or marked stitch, and the next. */
  gaps(): number[] {
    const { markers, marked, count } = this.#needle;
    const between = [0, ...markers, count];
    const inner = (marked ?? []).slice(1).map((m, i) => m - (marked?.[i] ?? 0) - 1);
    return [...between.slice(1).map((m, i) => m - between[i]), ...inner];
  }

  /** Compares a count stated at `at` with the needles now. */
  checkStated(stated: StatedCount, at: Place): void {
    const last = this.rounds[this.rounds.length - 1];
    const asked = this.rounds.find((r) => r.askedAt === last?.askedAt);
    this.counts.check(stated, at, this.#needle, last, asked?.before);
  }

  /** Reports that `target` stitches are never reached, unless a mistake before it may be the cause. */
  sayMissed(target: number | null, at: Place, code: string, message: string, hint = ''): void {
    this.counts.reportOnce(target, this.#needle, at, code, message, hint);
  }

  /** Reports words that cannot be followed; counts after them are no news. */
  sayLost(code: string, at: Place, message: string, hint = ''): void {
    this.counts.believed.begin(null);
    this.found.error(code, at, message, hint);
  }

  /** Reports a sentence that could instruct and that nothing has followed. */
  sayNotFollowed(at: Place): void {
    const place = trimmed(this.source, at);
    const { norm } = this.source;
    let { from } = place;
    const { to } = place;
    while (from < to && /[\s,;]/.test(norm[from])) from++;
    const words = norm.slice(from, to).replace(/\s+/g, ' ');
    const shown = words.length > 60 ? `${words.slice(0, 60).replace(/\s+\S*$/, '')} …` : words;
    this.sayLost(
      'words-not-followed',
      { from, to },
      `this sentence was not followed: "${shown}"`,
      'Say it round by round, or as for example: Repeat rounds 1 and 2 until 8 sts remain.',
    );
  }

  /** The round is what it is called. */
  isLike(round: PlanRound, said: 'knit' | 'purl' | 'RS' | 'WS'): boolean {
    return isLike(round, said, this.inRound, this.#list);
  }

  /** The names of a round's stitches, in working order. */
  namesOf({ works }: PlanRound): string[] {
    return Array.from(works, (w) => this.#list.kinds[w]?.name ?? '');
  }

  /** The last round works what these steps work. */
  lastIs(steps: readonly Step[]): boolean {
    const last = this.rounds.at(-1);
    if (!last || !this.#before) return true;
    const { works } = this.#expander.work(steps, this.#before.needle, this.#before.setting);
    return works.length === last.works.length && works.every((w, i) => w === last.works[i]);
  }

  /** The last round is as the text wants it. */
  endsWith(end: EndRound): boolean {
    return endsWith(this.rounds, this.history, end, this.#list);
  }

  sayNoEnd(at: Place): void {
    this.sayLost(
      'repeat-end-not-read',
      trimmed(this.source, at),
      "it can't be told from this how long to go on",
      'Say for example: until 8 sts remain, until the piece measures 12 cm, or 5 more times.',
    );
  }

  #stop(at: Place, code: string, message: string, hint: string): void {
    this.#stopped = true;
    this.found.error(code, at, message, hint);
  }

  /** Says so where a limit has been passed in the last round. */
  checkSize(): void {
    if (this.#expander.tooBig) this.#sayTooBig();
  }

  #sayTooBig(): void {
    this.#stop(
      { from: 0, to: 1 },
      'plan-too-big',
      `this plan is larger than can be followed: more than ${MOST_STITCHES.toLocaleString('en-US')} stitches or ${MOST_ROUNDS.toLocaleString('en-US')} rounds`,
      'Check the numbers of repeats, or write the plan for a part of the piece.',
    );
  }
}

/** Each place once, from the first to the last. */
function inOrder(places: readonly number[]): number[] {
  return [...new Set(places)].sort((a, b) => a - b);
}
