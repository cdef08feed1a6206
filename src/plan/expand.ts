/**
 * Works one round: Step tree + the stitches on the needles → the worked stitches one by one, the
 * markers afterwards, and what doesn't come out. The result always works exactly the stitches that are
 * there: what is asked beyond them is only counted, what is left over is knitted.
 */
import type { KindList } from './kind-list.ts';
import {
  alternatesEverywhere,
  HISTORY_BITS,
  KNIT,
  type Needle,
  PURL,
  TWISTED_BIT,
} from './needle.ts';
import type { Severity } from './plan.ts';
import { type GroupStep, isTarget, type PatternRule, type Step, type Target } from './steps.ts';

/** Limit on stitches of a whole plan (DESIGN section 9: 200,000). */
export const MOST_STITCHES = 200_000;
/** Limit on steps worked for a whole plan, so that nested repeats of nothing come to an end. Chosen. */
const MOST_STEPS = 1_000_000;

export interface RoundSetting {
  readonly wrongSide: boolean;
  readonly inRound: boolean;
  /** Number of equal sides, or null where the plan does not say. */
  readonly sides: number | null;
}

export interface Problem {
  readonly severity: Severity;
  readonly code: string;
  readonly from: number;
  readonly to: number;
  readonly message: string;
  readonly hint: string;
}

export interface WorkedRound {
  readonly works: Int16Array;
  readonly after: number;
  /** Stitches that the instruction works, whether or not they are on the needles. */
  readonly claimed: number;
  readonly markers: number[];
  readonly roundMarker: boolean;
  readonly problems: readonly Problem[];
}

export function stitches(n: number): string {
  return n === 1 ? '1 stitch' : `${n} stitches`;
}

interface LeftMarker {
  readonly at: number;
  state: 'on' | 'slipped' | 'removed';
  reached: boolean;
}

export class RoundExpander {
  /** Set once a limit is passed; nothing more is worked then. */
  tooBig = false;
  readonly #list: KindList;
  #steps = 0;
  #total = 0;

  #out = new Int16Array(1024);
  #n = 0;
  #pos = 0;
  #used = 0;
  #made = 0;
  #before = 0;
  #needle: Needle = { count: 0, faces: new Uint8Array(0), markers: [], roundMarker: false };
  #setting: RoundSetting = { wrongSide: false, inRound: true, sides: null };
  #left: LeftMarker[] = [];
  #right: number[] = [];
  #roundMarker = false;
  #problems: Problem[] = [];
  #alternates: boolean | null = null;
  readonly #fixed = new WeakMap<Step, number>();

  constructor(list: KindList) {
    this.#list = list;
  }

  work(steps: readonly Step[], needle: Needle, setting: RoundSetting): WorkedRound {
    this.#needle = needle;
    this.#setting = setting;
    this.#before = needle.count;
    this.#n = 0;
    this.#pos = 0;
    this.#used = 0;
    this.#made = 0;
    this.#left = needle.markers.map((at) => ({ at, state: 'on', reached: false }));
    this.#right = [];
    this.#roundMarker = needle.roundMarker;
    this.#problems = [];
    this.#alternates = null;

    this.#sequence(steps, this.#before, 0);
    const claimed = this.#pos;
    if (this.#used < this.#before) this.#pad();
    const markers = this.#settleMarkers(steps);
    return {
      works: this.#out.slice(0, this.#n),
      after: this.#made,
      claimed,
      markers,
      roundMarker: this.#roundMarker,
      problems: this.#problems,
    };
  }

  /** Stitches that a step works if that does not depend on the round; null otherwise. */
  fixedOf(step: Step): number | null {
    const known = this.#fixed.get(step);
    if (known !== undefined) return known < 0 ? null : known;
    const value = this.#computeFixed(step);
    this.#fixed.set(step, value ?? -1);
    return value;
  }

  #computeFixed(step: Step): number | null {
    switch (step.kind) {
      case 'marker':
      case 'turn':
        return 0;
      case 'spread':
        return null;
      case 'stitch':
      case 'pattern': {
        const each = step.kind === 'stitch' ? this.#list.consumes[this.#idOf(step.name)] : 1;
        if (!isTarget(step.amount)) return step.amount.times * each;
        return step.amount.kind === 'next' ? step.amount.count : null;
      }
      case 'group': {
        if (step.eachSide || step.part) return null;
        const body = this.fixedOfAll(step.steps);
        if (!isTarget(step.amount)) return body === null ? null : body * step.amount.times;
        return step.amount.kind === 'next' ? step.amount.count : null;
      }
    }
  }

  fixedOfAll(steps: readonly Step[]): number | null {
    let sum = 0;
    for (const step of steps) {
      const one = this.fixedOf(step);
      if (one === null) return null;
      sum += one;
    }
    return sum;
  }

  #idOf(name: string): number {
    // A plain slip carries the yarn on the wrong side of the fabric.
    if (name === 'sl1' || name === 'sl1k') {
      return this.#list.idOf(`${name} ${this.#setting.wrongSide ? 'wyif' : 'wyib'}`);
    }
    return this.#list.idOf(name);
  }

  #say(step: { from: number; to: number }, code: string, message: string, hint = ''): void {
    this.#problems.push({ severity: 'error', code, from: step.from, to: step.to, message, hint });
  }

  #warn(step: { from: number; to: number }, code: string, message: string, hint = ''): void {
    this.#problems.push({ severity: 'warning', code, from: step.from, to: step.to, message, hint });
  }

  #reserve(more: number): boolean {
    if (this.#total + this.#made + more > MOST_STITCHES || this.#n + more > 2 * MOST_STITCHES) {
      this.tooBig = true;
      return false;
    }
    if (this.#n + more > this.#out.length) {
      const grown = new Int16Array(Math.max(this.#n + more, this.#out.length * 2));
      grown.set(this.#out.subarray(0, this.#n));
      this.#out = grown;
    }
    return true;
  }

  #emit(id: number, times: number): void {
    const consumes = this.#list.consumes[id];
    const makes = this.#list.makes[id];
    let fit = times;
    if (this.#pos > this.#before) fit = 0;
    else if (consumes > 0) fit = Math.min(times, Math.floor((this.#before - this.#pos) / consumes));
    this.#pos += consumes * times;
    if (fit === 0) return;
    if (fit * Math.max(1, makes) > 2 * MOST_STITCHES || !this.#reserve(fit * Math.max(1, makes))) {
      this.tooBig = true;
      return;
    }
    this.#out.fill(id, this.#n, this.#n + fit);
    this.#n += fit;
    this.#used += consumes * fit;
    this.#made += makes * fit;
  }

  /** Knits what the instruction leaves, so that the counts of later rounds stay consistent. */
  #pad(): void {
    const rest = this.#before - this.#used;
    const id = this.#list.idOf('k');
    if (!this.#reserve(rest)) return;
    this.#out.fill(id, this.#n, this.#n + rest);
    this.#n += rest;
    this.#used += rest;
    this.#made += rest;
  }

  #busy(): boolean {
    if (++this.#steps > MOST_STEPS) this.tooBig = true;
    return this.tooBig;
  }

  /** `limit`: where this scope ends. `tail`: stitches within it that steps after this sequence need. */
  #sequence(steps: readonly Step[], limit: number, tail: number): void {
    let suffix: Float64Array | null = null;
    const after = (i: number): number => {
      if (!suffix) {
        suffix = new Float64Array(steps.length + 1);
        for (let j = steps.length - 1; j >= 0; j--) {
          suffix[j] = suffix[j + 1] + (this.fixedOf(steps[j]) ?? 0);
        }
      }
      return suffix[i + 1] + tail;
    };
    for (let i = 0; i < steps.length; i++) {
      if (this.#busy()) return;
      const step = steps[i];
      switch (step.kind) {
        case 'stitch':
          this.#stitch(step, limit, isTarget(step.amount) ? after(i) : 0);
          break;
        case 'pattern':
          this.#pattern(step, limit, isTarget(step.amount) ? after(i) : 0);
          break;
        case 'marker':
          this.#marker(step);
          break;
        case 'turn':
          this.#turn(step, limit);
          break;
        case 'spread':
          this.#spread(step, limit - after(i));
          break;
        case 'group':
          if (step.part) {
            let end = i;
            while (end + 1 < steps.length && isPart(steps[end + 1])) end++;
            this.#parts(steps.slice(i, end + 1) as GroupStep[], limit - after(end));
            i = end;
          } else this.#group(step, limit, after(i));
          break;
      }
    }
  }

  #stitch(step: Extract<Step, { kind: 'stitch' }>, limit: number, after: number): void {
    const id = this.#idOf(step.name);
    if (!isTarget(step.amount)) {
      this.#emit(id, step.amount.times);
      return;
    }
    const stop = this.#stopOf(step.amount, limit, after, step);
    if (stop === null) return;
    const consumes = this.#list.consumes[id];
    const room = stop - this.#pos;
    if (consumes === 0) {
      this.#say(
        step,
        'makes-without-end',
        `${step.name} works no stitch, so it never gets there`,
        `Say how many times: ${step.name} 3 times.`,
      );
      return;
    }
    const times = Math.floor(room / consumes);
    this.#emit(id, times);
    if (times * consumes < room) this.#misfit(step, consumes, room);
    this.#arrive(step.amount);
  }

  #pattern(step: Extract<Step, { kind: 'pattern' }>, limit: number, after: number): void {
    let stop = this.#pos;
    if (!isTarget(step.amount)) stop += step.amount.times;
    else {
      const target = this.#stopOf(step.amount, limit, after, step);
      if (target === null) return;
      stop = target;
    }
    const end = Math.min(stop, this.#before);
    while (this.#pos < end) {
      const id = this.#list.idOf(this.#patternStitch(step.rule, this.#pos));
      let next = this.#pos + 1;
      while (next < end && this.#list.idOf(this.#patternStitch(step.rule, next)) === id) next++;
      this.#emit(id, next - this.#pos);
      if (this.tooBig) return;
    }
    if (stop > this.#pos) this.#pos = stop;
    if (isTarget(step.amount)) this.#arrive(step.amount);
  }

  /** The stitch that a pattern asks for on top of loop `at`. */
  #patternStitch(rule: PatternRule, at: number): string {
    const { wrongSide, inRound } = this.#setting;
    const h = this.#needle.faces[at] ?? 0;
    const newest = h & 3;
    const older = (h >> 2) & 3;
    const oldest = (h >> 4) & 3;
    const opposite = newest === KNIT ? PURL : KNIT;
    let face = newest === 0 ? KNIT : newest;
    let twisted = false;
    switch (rule) {
      case 'knits':
        break;
      case 'seed':
        // On top of a purl bump as it faces comes a knit, so each column alternates as it faces.
        face = newest === 0 ? (at % 2 === 0 ? KNIT : PURL) : opposite;
        break;
      case 'garter':
        if (!inRound) return 'k';
        face = newest === 0 ? KNIT : opposite;
        break;
      case 'stockinette':
        face = KNIT;
        break;
      case 'reverse':
        face = PURL;
        break;
      case 'set': {
        this.#alternates ??= alternatesEverywhere(this.#needle);
        const alternating = older !== 0 && newest !== older && newest === oldest;
        if (this.#alternates || alternating) face = opposite;
        else twisted = (h & TWISTED_BIT) !== 0;
        break;
      }
    }
    const knit = (face === KNIT) !== wrongSide;
    return twisted ? (knit ? 'ktbl' : 'ptbl') : knit ? 'k' : 'p';
  }

  /** Place where a run stops; null (and said so) where it lies behind. */
  #stopOf(
    target: Target,
    limit: number,
    after: number,
    step: { from: number; to: number },
  ): number | null {
    let stop: number;
    switch (target.kind) {
      case 'next':
        return this.#pos + target.count;
      case 'rest':
        stop = limit - after;
        break;
      case 'end':
        stop = limit - target.count;
        if (target.count === 0 && after > 0) {
          this.#warn(
            step,
            'stitches-after-end',
            `this goes to the end, but ${stitches(after)} more ${after === 1 ? 'is' : 'are'} worked afterwards`,
            `Read as "to last ${after === 1 ? 'st' : `${after} sts`}".`,
          );
          stop -= after;
        }
        break;
      case 'centre':
        stop = Math.floor(this.#before / 2) - target.count;
        break;
      case 'marker':
        stop = this.#nextMarker(target.count, step) - target.count;
        break;
    }
    if (stop < this.#pos) {
      if (this.#pos <= this.#before) {
        const left = Math.max(0, limit - this.#pos);
        this.#say(
          step,
          'nothing-left-for-run',
          target.kind === 'marker'
            ? `the marker is only ${stitches(Math.max(0, stop + target.count - this.#pos))} away here`
            : `only ${stitches(left)} ${left === 1 ? 'is' : 'are'} left here, fewer than what must remain`,
          'Check the count of the round before.',
        );
      }
      return null;
    }
    return stop;
  }

  #nextMarker(count: number, step: { from: number; to: number }): number {
    for (const marker of this.#left) {
      if (marker.state !== 'on' || marker.at < this.#pos) continue;
      if (marker.reached && marker.at === this.#pos) {
        // Named again without having been slipped in words: it is the one behind us now.
        marker.state = 'slipped';
        this.#right.push(this.#made);
        continue;
      }
      if (marker.at - count < this.#pos) continue;
      return marker.at;
    }
    if (this.#left.length === 0 && !this.#needle.roundMarker && this.#right.length === 0) {
      this.#say(
        step,
        'marker-missing',
        'there is no marker on the needles',
        'Place it in an earlier round (pm), or count from the end: k to last 2 sts.',
      );
    }
    return this.#before;
  }

  #arrive(target: Target): void {
    if (target.kind !== 'marker' || target.count !== 0) return;
    for (const marker of this.#left) {
      if (marker.state === 'on' && marker.at === this.#pos) {
        marker.reached = true;
        return;
      }
    }
  }

  #misfit(step: { from: number; to: number }, each: number, room: number): void {
    const over = room % each;
    const short = each - over;
    this.#say(
      step,
      'repeat-does-not-fit',
      `each repeat works ${stitches(each)}, and ${room} can't be divided by ${each}: ` +
        `the last repeat comes out ${stitches(short)} short`,
      `It would fit over ${room - over} or ${room + short} stitches.`,
    );
  }

  #marker(step: Extract<Step, { kind: 'marker' }>): void {
    if (this.#pos > this.#before) return;
    if (step.action === 'place') {
      this.#right.push(this.#made);
      return;
    }
    const found = this.#left.find((m) => m.state === 'on' && m.at === this.#pos);
    if (found) {
      found.state = step.action === 'slip' ? 'slipped' : 'removed';
      if (step.action === 'slip') this.#right.push(this.#made);
      return;
    }
    const atTurn = this.#pos === 0 || this.#pos === this.#before;
    if (atTurn && (this.#setting.inRound || this.#needle.roundMarker)) {
      if (step.action === 'remove') this.#roundMarker = false;
      return;
    }
    const verb = step.action === 'slip' ? 'slip' : 'remove';
    const next = this.#left.find((m) => m.state === 'on' && m.at > this.#pos);
    if (next) {
      this.#warn(
        step,
        'marker-elsewhere',
        `there is no marker to ${verb} here: the next one is ${stitches(next.at - this.#pos)} further on`,
        'Check the stitches before it, or where the marker was placed.',
      );
    } else {
      this.#warn(
        step,
        'marker-missing',
        `there is no marker to ${verb} here`,
        'Place it in an earlier round (pm).',
      );
    }
  }

  #turn(step: Extract<Step, { kind: 'turn' }>, limit: number): void {
    if (this.#pos >= limit || limit < this.#before) return;
    const left = this.#before - this.#pos;
    this.#say(
      step,
      'short-row',
      `turning here leaves ${stitches(left)} unworked, and short rows cannot be followed`,
      'Work every row to its end.',
    );
    this.#pos = this.#before;
  }

  #spread(step: Extract<Step, { kind: 'spread' }>, stop: number): void {
    const { wrongSide } = this.#setting;
    const name = wrongSide && step.name === 'k2tog' ? 'p2tog' : step.name;
    const id = this.#list.idOf(name);
    const plain = this.#list.idOf(wrongSide ? 'p' : 'k');
    const room = stop - this.#pos - this.#list.consumes[id] * step.times;
    if (room < 0 || step.times > MOST_STITCHES) {
      this.#say(
        step,
        'too-many-spread',
        `${step.times} × ${name} need ${stitches(this.#list.consumes[id] * step.times)}, but ${Math.max(0, stop - this.#pos)} are here`,
      );
      return;
    }
    // Every second time half a gap earlier: evenly spread decreases are not to stand in columns
    // (common practice). The count tells which time it is, since it falls by one a section.
    const gap = room / Math.max(1, step.times);
    const earlier = Math.floor(gap) % 2 === 1 ? gap / 2 : 0;
    let placed = 0;
    for (let i = 0; i < step.times && !this.tooBig; i++) {
      const upTo = Math.floor((i + 1) * gap - earlier + 1e-9);
      this.#emit(plain, upTo - placed);
      this.#emit(id, 1);
      placed = upTo;
    }
    this.#emit(plain, room - placed);
  }

  /** `Needle 1: … Needle 2: …`: equal shares, one after the other. */
  #parts(groups: readonly GroupStep[], stop: number): void {
    const room = Math.max(0, stop - this.#pos);
    const start = this.#pos;
    for (let i = 0; i < groups.length; i++) {
      const limit = start + Math.floor(((i + 1) * room) / groups.length);
      this.#sequence(groups[i].steps, limit, 0);
    }
    if (room % groups.length) {
      this.#say(
        { from: groups[0].from, to: groups[groups.length - 1].to },
        'sides-unequal',
        `${stitches(room)} can't be shared equally by ${groups.length} needles`,
      );
    }
  }

  #group(step: GroupStep, limit: number, after: number): void {
    if (step.steps.length === 0) return;
    const scoped = hasEnd(step.steps);
    if (step.eachSide) {
      this.#sides(step, null, limit - after);
      return;
    }
    const { amount } = step;
    if (!isTarget(amount)) {
      if (amount.times === 1) this.#sequence(step.steps, limit, after);
      else if (scoped) this.#sides(step, amount.times, limit - after);
      else this.#repeat(step, amount.times, limit);
      return;
    }
    const stop = this.#stopOf(amount, limit, after, step);
    if (stop === null) return;
    if (scoped) {
      this.#sides(step, null, stop);
      return;
    }
    const each = this.fixedOfAll(step.steps);
    if (each === null) {
      while (this.#pos < stop && !this.#busy()) {
        const start = this.#pos;
        this.#sequence(step.steps, limit, 0);
        if (this.#pos <= start) break;
      }
      return;
    }
    if (each === 0) {
      this.#say(
        step,
        'makes-without-end',
        'this repeat works no stitch, so it never gets there',
        'Say how many times to repeat it.',
      );
      return;
    }
    const room = stop - this.#pos;
    this.#repeat(step, Math.floor(room / each), limit);
    if (room % each) this.#misfit(step, each, room);
    this.#arrive(amount);
  }

  /** The same steps `times` times, none of which looks for an end. */
  #repeat(step: GroupStep, times: number, limit: number): void {
    const each = this.fixedOfAll(step.steps);
    if (times <= 0) return;
    if (each === null || !isPure(step.steps)) {
      for (let i = 0; i < times && !this.#busy(); i++) {
        if (each !== null && this.#pos > this.#before) {
          this.#pos += each * (times - i);
          return;
        }
        this.#sequence(step.steps, limit, 0);
      }
      return;
    }
    const n0 = this.#n;
    const made0 = this.#made;
    const start = this.#pos;
    this.#sequence(step.steps, limit, 0);
    if (this.tooBig || times === 1) return;
    if (this.#pos > this.#before) {
      this.#pos = start + each * times;
      return;
    }
    const length = this.#n - n0;
    const made = this.#made - made0;
    const room = each > 0 ? Math.floor((this.#before - this.#pos) / each) : times - 1;
    const copies = Math.min(times - 1, room);
    if (copies * Math.max(length, made) > 2 * MOST_STITCHES) {
      this.tooBig = true;
      return;
    }
    if (!this.#reserve(copies * Math.max(length, made))) return;
    for (let i = 0; i < copies; i++) {
      this.#out.copyWithin(this.#n, n0, n0 + length);
      this.#n += length;
    }
    this.#pos += copies * each;
    this.#used += copies * each;
    this.#made += copies * made;
    if (copies < times - 1) {
      // What no longer fits is worked as far as it goes, then only counted.
      this.#sequence(step.steps, limit, 0);
      this.#pos = start + each * times;
    }
  }

  /** A bracket with "to last 2 sts" in it: each time to the end of one side. */
  #sides(step: GroupStep, times: number | null, stop: number): void {
    const sections = this.#sectionEnds(stop);
    const slips = step.steps.some((s) => s.kind === 'marker' && s.action === 'slip');
    const byMarkers = sections.length > 1 && (times === null || sections.length === times || slips);
    const n = times ?? (byMarkers ? sections.length : this.#setting.sides);
    if (n === null) {
      this.#say(
        step,
        'sides-unknown',
        'it is not said how many sides the round has',
        'Say it once: "Sides: 4", "Cast on 120 sts (30 sts each side)", or place a marker at every corner.',
      );
      this.#sequence(step.steps, stop, 0);
      return;
    }
    if (byMarkers) {
      for (let i = 0; i < n && !this.#busy(); i++) {
        const end = this.#sectionEnds(stop)[0] ?? stop;
        this.#sequence(step.steps, end, 0);
        this.#checkSideEnd(step, end);
      }
      return;
    }
    const start = this.#pos;
    const room = Math.max(0, stop - start);
    const share = Math.floor(room / n);
    if (room % n) {
      const over = room % n;
      this.#say(
        step,
        'sides-unequal',
        `${stitches(room)} can't be shared equally by ${n} sides: ${over} too many or ${n - over} too few`,
        `${n} sides of ${share} would be ${share * n}, of ${share + 1} would be ${(share + 1) * n}.`,
      );
    }
    for (let i = 0; i < n && !this.#busy(); i++) {
      if (this.#pos > this.#before) break;
      const end = start + (i + 1) * share;
      this.#sequence(step.steps, end, 0);
      if (!this.#checkSideEnd(step, end)) break;
    }
  }

  #checkSideEnd(step: GroupStep, end: number): boolean {
    if (this.#pos === end) return true;
    const d = this.#pos - end;
    if (this.#pos <= this.#before && !this.#problems.some((p) => p.severity === 'error')) {
      this.#say(
        step,
        'side-does-not-fit',
        d > 0
          ? `each side works ${stitches(d)} too many`
          : `each side leaves ${stitches(-d)} unworked`,
        'The number after "to last" must be the stitches that the steps behind it work.',
      );
    }
    return false;
  }

  /** Ends of the marked sections from here to `stop`. */
  #sectionEnds(stop: number): number[] {
    const ends: number[] = [];
    for (const m of this.#left) {
      if (m.state === 'on' && m.at > this.#pos && m.at < stop) ends.push(m.at);
    }
    ends.push(stop);
    return ends;
  }

  /** Where the markers are afterwards: those not named in words stay in their gap. */
  #settleMarkers(steps: readonly Step[]): number[] {
    const carried = this.#left.filter((m) => m.state === 'on');
    const places = [...this.#right];
    if (carried.length > 0) {
      const { consumes, makes } = this.#list;
      let used = 0;
      let made = 0;
      let next = 0;
      for (let i = 0; i < this.#n && next < carried.length; i++) {
        const id = this.#out[i];
        while (next < carried.length && consumes[id] > 0 && carried[next].at <= used) {
          places.push(made);
          next++;
        }
        used += consumes[id];
        made += makes[id];
        while (next < carried.length && carried[next].at < used) {
          const from = steps[0]?.from ?? 0;
          const to = steps[steps.length - 1]?.to ?? from + 1;
          this.#warn(
            { from, to },
            'marker-inside-stitch',
            'a stitch of this round works across a marker; the marker goes behind it',
            'Remove the marker first, or place it anew.',
          );
          places.push(made);
          next++;
        }
      }
      for (; next < carried.length; next++) places.push(this.#made);
    }
    const inside: number[] = [];
    for (const at of places.sort((a, b) => a - b)) {
      if (at === 0 || at === this.#made) this.#roundMarker ||= this.#setting.inRound;
      else if (inside[inside.length - 1] !== at) inside.push(at);
    }
    return inside;
  }

  /** Counts a round towards the limit of the plan, once it is decided upon. */
  keep(round: WorkedRound): void {
    this.#total += round.after;
  }

  /** Face history of the new loops, in working order of this round. */
  facesAfter(round: WorkedRound, needle: Needle, wrongSide: boolean): Uint8Array {
    const { kinds, consumes } = this.#list;
    const out = new Uint8Array(round.after);
    let used = 0;
    let made = 0;
    for (let i = 0; i < round.works.length; i++) {
      const id = round.works[i];
      const { loops } = kinds[id];
      for (let j = 0; j < loops.length; j++) {
        const loop = loops[j];
        const below = loop.parents.length > 0 ? needle.faces[used + loop.parents[0]] : 0;
        if (loop.origin === 'slipped') out[made] = below;
        else {
          const knit = loop.face > 0 !== wrongSide;
          const twisted = loop.twisted && consumes[id] === 1 && loops.length === 1;
          out[made] =
            (((below << 2) | (knit ? KNIT : PURL)) & HISTORY_BITS) | (twisted ? TWISTED_BIT : 0);
        }
        made++;
      }
      used += consumes[id];
    }
    return out;
  }
}

function isPart(step: Step): boolean {
  return step.kind === 'group' && step.part === true;
}

// Answers are kept for each list of steps: abbreviations within abbreviations share their lists, and
// walking such a tree again and again would take forever.
const withEnd = new WeakMap<readonly Step[], boolean>();
const pure = new WeakMap<readonly Step[], boolean>();

function kept(
  answers: WeakMap<readonly Step[], boolean>,
  steps: readonly Step[],
  ask: () => boolean,
): boolean {
  const known = answers.get(steps);
  if (known !== undefined) return known;
  const answer = ask();
  answers.set(steps, answer);
  return answer;
}

/** Some step looks for the end of the scope. */
function hasEnd(steps: readonly Step[]): boolean {
  return kept(withEnd, steps, () =>
    steps.some((step) => {
      if (step.kind === 'marker' || step.kind === 'turn' || step.kind === 'spread') return false;
      if (isTarget(step.amount)) return step.amount.kind === 'end' || step.amount.kind === 'rest';
      return step.kind === 'group' && step.amount.times === 1 && hasEnd(step.steps);
    }),
  );
}

/** The stitches do not depend on where in the round they are worked. */
function isPure(steps: readonly Step[]): boolean {
  return kept(pure, steps, () =>
    steps.every(
      (step) =>
        (step.kind === 'stitch' && !isTarget(step.amount)) ||
        (step.kind === 'group' &&
          !isTarget(step.amount) &&
          !step.eachSide &&
          !step.part &&
          isPure(step.steps)),
    ),
  );
}
