/**
 * Works one round: Step tree + the stitches on the needles → the worked stitches one by one, the
 * markers afterwards, and what doesn't come out. The result always works exactly the stitches that are
 * there: what is asked beyond them is only counted, what is left over is knitted.
 */
import type { Remark } from '../diagnostics.ts';
import {
  type GroupStep,
  isTarget,
  type PatternStep,
  type SpreadStep,
  type Step,
  type StitchStep,
} from '../grammar/steps/steps.ts';
import { UNWORKED } from '../stitches/stitch-kind.ts';
import type { StitchRegistry } from '../stitches/stitch-registry.ts';
import { facesAfter, PatternStitches } from './established-pattern.ts';
import type { Needle } from './needle.ts';
import { nextNeedle } from './next-needle.ts';
import { sayNoRibbing } from './ribbing.ts';
import { MOST_STITCHES, RoundBuffer } from './round-buffer.ts';
import {
  arrive,
  type RoundContext,
  type RoundSetting,
  sayMisfit,
  stopOf,
} from './round-context.ts';
import { RoundMarkers } from './round-markers.ts';
import { hasError, RoundProblems, stitches } from './round-problems.ts';
import { workParts, workSides } from './side-shares.ts';
import { FixedCounts, hasEnd, isPart, isPure } from './step-extent.ts';

export interface WorkedRound {
  /** [stitches] ids of the plan's stitch kinds, in working order. */
  readonly works: Int16Array;
  readonly after: number;
  /** Stitches that the instruction works, whether or not they are on the needles. */
  readonly claimed: number;
  readonly markers: number[];
  readonly marked: number[];
  readonly roundMarker: boolean;
  readonly problems: readonly Remark[];
  /** Stitches worked before the row was turned early; null where it was not. */
  readonly turnedAt: number | null;
}

/** The round comes out over `count` stitches. */
export function fits(worked: WorkedRound, count: number): boolean {
  return worked.claimed === count && !hasError(worked.problems);
}

export class RoundExpander {
  readonly #list: StitchRegistry;
  readonly #tape: RoundBuffer;
  readonly #fixed: FixedCounts;
  #wrongSide = false;
  #turnedAt: number | null = null;

  constructor(list: StitchRegistry) {
    this.#list = list;
    this.#tape = new RoundBuffer(list);
    this.#fixed = new FixedCounts((name) => list.consumes[this.#idOf(name)]);
  }

  /** Set once a limit is passed; nothing more is worked then. */
  get tooBig(): boolean {
    return this.#tape.tooBig;
  }

  work(steps: readonly Step[], needle: Needle, setting: RoundSetting): WorkedRound {
    this.#wrongSide = setting.wrongSide;
    const tape = this.#tape;
    tape.begin(needle.count);
    const problems = new RoundProblems();
    const markers = new RoundMarkers(needle, setting.inRound, tape, problems);
    const round: RoundContext = {
      setting,
      tape,
      markers,
      turns: needle.turned?.turns ?? [],
      patterns: new PatternStitches(needle, setting),
      problems,
      work: (list, limit, tail) => this.#sequence(list, limit, tail, round),
    };
    this.#turnedAt = null;
    const { turned } = needle;
    if (turned && turned.passed > 0) tape.work(this.#list.idOf(UNWORKED), turned.passed);
    // Back at the beginning of the round, what lies beyond stays for the next one; so do rows that turn back, unless
    // they begin there.
    const bor = turned?.bor ?? null;
    const limit = bor === null || (turned?.back && bor === 0) ? needle.count : bor;
    this.#sequence(steps, limit, 0, round);
    if (limit < needle.count && this.#turnedAt === null && tape.at === limit) {
      tape.work(this.#list.idOf(UNWORKED), needle.count - limit);
    }
    const claimed = tape.at;
    if (tape.unworked > 0) tape.fillUp(this.#list.idOf('k'));
    const from = steps[0]?.from ?? 0;
    const to = steps[steps.length - 1]?.to ?? from + 1;
    const placed = markers.settle(this.#list, { from, to });
    return {
      works: tape.works.slice(),
      after: tape.made,
      claimed,
      markers: placed,
      marked: markers.settleMarked(this.#list),
      roundMarker: markers.roundMarker,
      problems: problems.all,
      turnedAt: this.#turnedAt,
    };
  }

  /** Stitches that the steps work if that does not depend on the round; null otherwise. */
  fixedOfAll(steps: readonly Step[]): number | null {
    return this.#fixed.ofAll(steps);
  }

  /** Counts a round towards the limit of the plan, once it is decided upon. */
  keep(round: WorkedRound): void {
    this.#tape.keep(round.after);
  }

  /** The needles after a round, ready for the next one: turned in flat work. */
  needleAfter(worked: WorkedRound, needle: Needle, setting: RoundSetting): Needle {
    const faces = facesAfter(worked.works, worked.after, needle, setting.wrongSide, this.#list);
    return nextNeedle(worked, faces, needle, setting.inRound);
  }

  #idOf(name: string): number {
    // A plain slip carries the yarn on the wrong side of the fabric.
    if (name === 'sl1' || name === 'sl1k') {
      return this.#list.idOf(`${name} ${this.#wrongSide ? 'wyif' : 'wyib'}`);
    }
    return this.#list.idOf(name);
  }

  #sequence(steps: readonly Step[], limit: number, tail: number, round: RoundContext): void {
    let suffix: Float64Array | null = null;
    const after = (i: number): number => {
      if (!suffix) {
        suffix = new Float64Array(steps.length + 1);
        for (let j = steps.length - 1; j >= 0; j--) {
          suffix[j] = suffix[j + 1] + (this.#fixed.of(steps[j]) ?? 0);
        }
      }
      return suffix[i + 1] + tail;
    };
    for (let i = 0; i < steps.length; i++) {
      if (this.#tape.busy()) return;
      const step = steps[i];
      switch (step.kind) {
        case 'stitch':
          this.#stitch(step, limit, isTarget(step.amount) ? after(i) : 0, round);
          break;
        case 'pattern':
          this.#pattern(step, limit, isTarget(step.amount) ? after(i) : 0, round);
          break;
        case 'marker':
          round.markers.work(step);
          break;
        case 'turn':
          if (round.tape.at >= round.tape.before) break;
          this.#turnedAt = round.tape.made;
          round.tape.work(this.#list.idOf(UNWORKED), round.tape.before - round.tape.at);
          return;
        case 'spread':
          this.#spread(step, limit - after(i), round);
          break;
        case 'group':
          if (step.part) {
            let end = i;
            while (end + 1 < steps.length && isPart(steps[end + 1])) end++;
            workParts(steps.slice(i, end + 1) as GroupStep[], limit - after(end), round);
            i = end;
          } else this.#group(step, limit, after(i), round);
          break;
      }
    }
  }

  #stitch(step: StitchStep, limit: number, after: number, round: RoundContext): void {
    const { tape, problems } = round;
    const id = this.#idOf(step.name);
    if (!isTarget(step.amount)) {
      tape.work(id, step.amount.times);
      return;
    }
    const stop = stopOf(step.amount, limit, after, step, round);
    if (stop === null) return;
    const consumes = this.#list.consumes[id];
    const room = stop - tape.at;
    if (consumes === 0) {
      problems.error(
        step,
        'makes-without-end',
        `${step.name} works no stitch, so it never gets there`,
        `Say how many times: ${step.name} 3 times.`,
      );
      return;
    }
    const times = Math.floor(room / consumes);
    tape.work(id, times);
    if (times * consumes < room) sayMisfit(step, consumes, room, problems);
    arrive(step.amount, round);
  }

  #pattern(step: PatternStep, limit: number, after: number, round: RoundContext): void {
    const { tape, patterns } = round;
    let stop = tape.at;
    if (!isTarget(step.amount)) stop += step.amount.times;
    else {
      const target = stopOf(step.amount, limit, after, step, round);
      if (target === null) return;
      stop = target;
    }
    if (tape.at > 0 && stop === tape.at && isTarget(step.amount))
      this.#sayContradicted(step, round);
    const end = Math.min(stop, tape.before);
    const names = patterns.namesFor(step, tape.at, end);
    if (typeof names === 'string') sayNoRibbing(step, end - tape.at, round.problems);
    const idAt = (at: number): number =>
      this.#list.idOf(typeof names === 'string' ? 'k' : names(at));
    while (tape.at < end) {
      const id = idAt(tape.at);
      let next = tape.at + 1;
      while (next < end && idAt(next) === id) next++;
      tape.work(id, next - tape.at);
      if (tape.tooBig) return;
    }
    if (stop > tape.at) tape.countTo(stop);
    if (isTarget(step.amount)) arrive(step.amount, round);
  }

  /** "Knit in garter stitch": a fabric told behind all the stitches has to be what they make. */
  #sayContradicted(step: PatternStep, { tape, patterns, problems }: RoundContext): void {
    if (step.rule === 'set' || tape.at < tape.before) return;
    const plain = [this.#list.idOf('k'), this.#list.idOf('p')];
    const names = patterns.namesFor(step, 0, tape.before);
    if (typeof names === 'string') return;
    const asked = Array.from({ length: tape.before }, (_, i) => this.#list.idOf(names(i)));
    // Stitch by stitch where nothing is shaped.
    const even = tape.works.length === asked.length && tape.works.every((id) => plain.includes(id));
    const other = even
      ? tape.works.find((id, i) => id !== asked[i])
      : tape.works.find((id) => plain.includes(id) && !asked.includes(id));
    if (other === undefined) return;
    problems.error(
      step,
      'nothing-left-to-work',
      'what stands before this goes to the end and is no such fabric',
      'Tell the stitches of this round, or the fabric.',
    );
  }

  #spread(step: SpreadStep, stop: number, round: RoundContext): void {
    const { tape, problems, setting } = round;
    const { wrongSide } = setting;
    const run = step.plain ?? (wrongSide ? 'p' : 'k');
    const name = run === 'p' && step.name === 'k2tog' ? 'p2tog' : step.name;
    const id = this.#list.idOf(name);
    const plain = this.#list.idOf(run);
    const needed = this.#list.consumes[id] * step.times;
    const room = stop - tape.at - needed;
    if (room < 0 || step.times > MOST_STITCHES) {
      problems.error(
        step,
        'too-many-spread',
        `${step.times} × ${name} need ${stitches(needed)}, but ${Math.max(0, stop - tape.at)} are here`,
      );
      return;
    }
    // Every second time half a gap earlier: evenly spread decreases are not to stand in columns
    // (common practice). The count tells which time it is, since it falls by one a section.
    const gap = room / Math.max(1, step.times);
    const earlier = Math.floor(gap) % 2 === 1 ? gap / 2 : 0;
    let placed = 0;
    for (let i = 0; i < step.times && !tape.tooBig; i++) {
      const upTo = Math.floor((i + 1) * gap - earlier + 1e-9);
      tape.work(plain, upTo - placed);
      tape.work(id, 1);
      placed = upTo;
    }
    tape.work(plain, room - placed);
  }

  #group(step: GroupStep, limit: number, after: number, round: RoundContext): void {
    if (step.steps.length === 0) return;
    const scoped = hasEnd(step.steps);
    if (step.eachSide) {
      workSides(step, null, limit - after, round);
      return;
    }
    const { amount } = step;
    if (!isTarget(amount)) {
      if (amount.times === 1) this.#sequence(step.steps, limit, after, round);
      else if (scoped) workSides(step, amount.times, limit - after, round);
      else this.#repeat(step, amount.times, limit, round);
      return;
    }
    const stop = stopOf(amount, limit, after, step, round);
    if (stop === null) return;
    if (scoped) {
      workSides(step, null, stop, round);
      return;
    }
    const { tape, problems } = round;
    const each = this.fixedOfAll(step.steps);
    if (each === null) {
      while (tape.at < stop && !tape.busy()) {
        const start = tape.at;
        this.#sequence(step.steps, limit, 0, round);
        if (tape.at <= start) break;
      }
      return;
    }
    if (each === 0) {
      problems.error(
        step,
        'makes-without-end',
        'this repeat works no stitch, so it never gets there',
        'Say how many times to repeat it.',
      );
      return;
    }
    const room = stop - tape.at;
    this.#repeat(step, Math.floor(room / each), limit, round);
    if (room % each) sayMisfit(step, each, room, problems);
    arrive(amount, round);
  }

  /** The same steps `times` times, none of which looks for an end. */
  #repeat(step: GroupStep, times: number, limit: number, round: RoundContext): void {
    const { tape } = round;
    const each = this.fixedOfAll(step.steps);
    if (times <= 0) return;
    if (each === null || !isPure(step.steps)) {
      for (let i = 0; i < times && !tape.busy(); i++) {
        if (each !== null && tape.beyond) {
          tape.countTo(tape.at + each * (times - i));
          return;
        }
        this.#sequence(step.steps, limit, 0, round);
      }
      return;
    }
    const mark = tape.mark();
    const end = mark.at + each * times;
    this.#sequence(step.steps, limit, 0, round);
    if (tape.tooBig || times === 1) return;
    if (tape.beyond) {
      tape.countTo(end);
      return;
    }
    const copies = tape.again(mark, times - 1);
    if (copies === null || copies === times - 1) return;
    // What no longer fits is worked as far as it goes, then only counted.
    this.#sequence(step.steps, limit, 0, round);
    tape.countTo(end);
  }
}
