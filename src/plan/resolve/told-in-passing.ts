/**
 * Counts and fabrics that a remark tells in passing, which must be as the text works them: "you have worked 10 rounds so
 * far", "there should be 16 sts", "the wrong-side rows are purled". In: the words of a remark where it stands in the piece.
 * Out: diagnostics where they are not so, some of them once all is worked.
 */
import type { RoundBody } from '../grammar/ast.ts';
import type { ChangeTold } from '../grammar/change-told.ts';
import { leavesToYou } from '../grammar/left-to-you.ts';
import type { RoundsTold } from '../grammar/rounds-told.ts';
import { isTarget } from '../grammar/steps/steps.ts';
import { atHand, type ToldCount, toldCounts } from '../grammar/told-counts.ts';
import { nthOf, ORDINALS } from '../lex/numbers.ts';
import { type Place, trimmed } from '../lex/source.ts';
import { raw, regex } from '../lexicon/expression.ts';
import { UNIT } from '../lexicon/words.ts';
import type { PlanRound } from '../plan.ts';
import { stitches } from '../work/round-problems.ts';
import type { WorkedPiece } from '../work/worked-piece.ts';
import { Narration } from './narration.ts';
import { denies, numberTold, shapes } from './rounds-told.ts';

/** Somebody else's piece, a size that is not this one, a time that is not now. */
const ELSEWHERE =
  /\b(?:if|when|whenever|until|till|once|unless|before|would|were|was|had|other|another|larger|bigger|smaller|wider|version|sizes?|sample|mine|i|my|people|some|readers?|knitters?|testers?|book|printing|leaflet|edition)\b/;
/** "If you started with 100": so it was, where that is what was cast on. */
const STARTED =
  /\bif (?:you|we) (?:have )?(?:started|began|begun|cast on)(?: (?:with|from|off with|on))? (\d+)(?: (?:sts?|stitches))?\b/;
/** Words without which nothing is told that could be checked. */
const CLAIMS =
  /\d|purl|knit|comes|slipped|twisted|crossed|cabled|reverse|moss|seed|rib|garter|plain/;
const NTHS = [...ORDINALS.keys()].slice(2);
const LIKE = raw`(?:(?:all|always|just|simply|now|then|only|better|again|to be|in|a|an|worked|done|made|the|ws row and is|wrong-side row and is|wrong side row and is) )*(?<how>purled|purl|knitted|knit|plain)\b(?! into| the| together)`;
/** "next comes a purl round", "begin with a RS row" */
const NEXT =
  /\b(?:now|next|first|here) comes (?:a|the) (purl|knit|plain) (?:round|row|rnd)\b|^\W*(?:begin|start)(?:s|ning|ing)? with (?:a|the) (purl|knit|plain) (?:round|row|rnd)\b|\b(?:a|the) (purl|knit|plain) (?:round|row|rnd) (?:now )?comes (?:first|now|next|here)\b(?! and)/;
/** "the wrong-side rows are purled": which rounds, and how they are worked. */
const ROUNDS_LIKE = regex.plain`\b(?:(?<side>wrong[ -]side|ws|right[ -]side|rs) ${UNIT}|(?:the |all |every )(?:other|plain|even|odd|in-between|intervening) ${UNIT}|the ${UNIT} (?:in )?between|(?:the )?(?<which>next|coming|following|first|last) ${UNIT}|(?<all>(?:all|every|each|the) (?:(?:the|further|following|remaining|coming|other) )*${UNIT})|every (?<nth>\d+(?:st|nd|rd|th)|${NTHS.join('|')}) ${UNIT})(?: (?:in )?between| from (?:here|now)(?: on)?)? (?:are|is|gets?|will be|must be|should be) ${LIKE}`;
/** "the middle stitches are in moss stitch from here": a way of working that must show somewhere. */
const HELD = regex.plain`\b(?:${UNIT}|sts?|stitch(?:es)?|repeats?|loops?|yarn overs|decreases?|edges?|edging|border|cent(?:re|er)|corners?|middle|square|piece|rest|sides?|half)(?: (?!not\b|never\b)[a-z]+){0,8}? (?:are|is|gets?|becomes?|will be|must be|should be) (?:(?:all|always|just|simply|now|then|only|again|to be|in|a|an|worked|done|knitted|made|the|of) )*(purled|purl|slipped|twisted|crossed|cabled|reverse|moss|seed|rib|ribbing|garter)\b`;
const AHEAD =
  /\bfrom (?:now|here|this)|\b(?:gets?|becomes?)\b|\b(?:further|remaining|coming|next|following|rest)\b|\blast \d+/;

/** A remark with what the grammar read in it. */
type Remark = Place & { readonly told?: RoundsTold; readonly change?: ChangeTold };

interface Claim {
  readonly at: Place;
  /** Rounds that were worked before it. */
  readonly from: number;
  /** A round that is otherwise, or true where nothing is as told. */
  readonly denied: (behind: readonly PlanRound[]) => PlanRound | true | undefined;
}

export class ToldInPassing {
  readonly #piece: WorkedPiece;
  readonly #claims: Claim[] = [];
  /** Rounds that were worked before each of the last sentences. */
  readonly #starts: number[] = [];

  readonly #settle: () => void;
  /** Numbers that are told in free words. */
  readonly narration: Narration;

  /** `settle`: works what the text has told up to here. */
  constructor(piece: WorkedPiece, settle: () => void) {
    this.#piece = piece;
    this.#settle = settle;
    this.narration = new Narration(piece, settle, this.#starts);
  }

  /** A sentence that asks begins here. */
  begin(): void {
    this.#starts.push(this.#piece.rounds.length);
    if (this.#starts.length > 4) this.#starts.shift();
  }

  /** A remark at place `at`: what it counts is checked, what it says of rounds to come is kept. `behindWork`: right behind an instruction. */
  note(at: Remark, behindWork: boolean): void {
    const piece = this.#piece;
    if (piece.ended) return;
    const { told: rules, change } = at;
    if (change) {
      this.#claim(at, () => this.#changesOtherwise(change));
      return;
    }
    if (rules) {
      const sorts = {
        sort: (r: PlanRound) => this.#sort(r),
        mixed: (r: PlanRound) => this.#shows(r, 'rib'),
        number: numberTold,
      };
      const before = piece.rounds.length;
      this.#claim(at, () => denies(rules, piece.rounds, before, sorts));
      return;
    }
    const words = piece.source.norm.slice(at.from, at.to);
    const left = leavesToYou(words);
    if (left === 'without' || (left === 'done' && behindWork)) this.#noteLeft(at, left);
    // "…, which brings you down to 8:" leads to what is told below.
    if (/:\s*$/.test(words)) return;
    this.narration.side(words, at);
    const started = STARTED.exec(words);
    if (started && Number(started[1]) !== (piece.rounds[0]?.before ?? piece.count)) return;
    const told = toldCounts(words);
    this.narration.numbers(at, told);
    if (!CLAIMS.test(words)) return;
    const own = atHand(words)
      .replace(STARTED, ' ')
      .split(/\b(?:because|since|so that|as)\b/)[0];
    if (ELSEWHERE.test(own.replace(/\b(?:was|were|had)\b/g, ''))) return;
    if (told.length > 0) this.#settle();
    for (const t of told) this.#checkTold(t, at);
    if (ELSEWHERE.test(own)) return;
    const next = NEXT.exec(words);
    const manner = HELD.exec(words)?.[1];
    const held = manner && !manner.startsWith('purl');
    const like = next || held ? null : ROUNDS_LIKE.exec(words);
    if (next) this.#claim(at, ([r]) => this.#other(r, next[1] ?? next[2] ?? next[3]));
    else if (like) this.#claimRounds(at, like);
    else if (manner) {
      const all = AHEAD.test(words) ? null : this.#piece.rounds;
      this.#claim(
        at,
        (behind) => !(all ?? behind).some((r) => this.#shows(r, manner)) || undefined,
      );
    }
  }

  #claim(at: Place, denied: Claim['denied']): void {
    this.#settle();
    this.#claims.push({ at, from: this.#piece.rounds.length, denied });
  }

  /** "the wrong-side rows are purled", "the first round is a purl one", "every 10th round is purled" */
  #claimRounds(at: Place, { groups }: RegExpExecArray): void {
    const { side, which, all, nth, how } = groups as Record<string, string | undefined>;
    const { rounds } = this.#piece;
    const other = (r: PlanRound | undefined): PlanRound | undefined => this.#other(r, how ?? '');
    this.#claim(at, (behind) => {
      if (all) return how === 'plain' ? undefined : behind.find((r) => other(r));
      if (nth) {
        const n = nthOf(nth);
        const runs = behind.slice(0, n).map((_, o) => behind.filter((_r, i) => i % n === o));
        return runs.every((run) => run.some((r) => other(r))) ? behind[n - 1] : undefined;
      }
      if (which === 'first') return other(rounds[0]) && other(behind[0]);
      if (which === 'last')
        return other(rounds.at(-1)) && other(rounds[rounds.length - behind.length - 1]);
      if (which) return other(behind[0]);
      const wrong = side?.startsWith('w');
      return other(behind.find((r) => this.#sort(r) && (!side || r.wrongSide === wrong)));
    });
  }

  /** "These decreases are worked in every round": so many rounds from one that shapes to the next. */
  shapedEvery(at: Place, every: number): void {
    const { rounds } = this.#piece;
    const before = rounds.length;
    this.#claim(at, () => {
      const shaped = rounds.flatMap((r, i) => (shapes(r) ? [i] : []));
      const first = shaped.findLastIndex((i) => i < before);
      const [one, next] = shaped.slice(Math.max(0, first));
      return next === undefined || next - one === every ? undefined : rounds[one + 1];
    });
  }

  /** A rule such as "purl all even rounds": where it comes to be used by none, rounds that are told otherwise deny it. */
  rule(rule: string, body: RoundBody, at: Place): void {
    const [step, ...more] = body.kind === 'steps' ? body.steps : [];
    if (step?.kind !== 'stitch' || more.length > 0 || !isTarget(step.amount)) return;
    if (!/^[kp]$/.test(step.name) || !/^(?:ws|rs|even|odd|other|rest)$/.test(rule)) return;
    const how = step.name === 'p' ? 'purl' : 'knit';
    const { history, rounds } = this.#piece;
    this.#claims.push({
      at,
      from: rounds.length,
      denied: (behind) => {
        if (history.some((h) => h.from >= at.from && h.to <= at.to)) return undefined;
        const ruled = (r: PlanRound): boolean =>
          /s$/.test(rule)
            ? r.wrongSide === (rule === 'ws')
            : rule === 'other' ||
              rule === 'rest' ||
              numberTold(r) % 2 === (rule === 'even' ? 0 : 1);
        const those = (behind.length > 0 ? behind : rounds).filter(ruled);
        return those.every((r) => this.#sort(r) !== how) ? those[0] : undefined;
      },
    });
  }

  /** What all its plain stitches are; null where they are of both sorts, or others. */
  #sort(r: PlanRound): 'knit' | 'purl' | null {
    const [knit, purl] = [this.#piece.isLike(r, 'knit'), this.#piece.isLike(r, 'purl')];
    return knit === purl ? null : knit ? 'knit' : 'purl';
  }

  /** The round where it is not as told. */
  #other(r: PlanRound | undefined, how: string): PlanRound | undefined {
    const sort = r && this.#sort(r);
    const told = how.slice(0, 4);
    const holds = told === 'plai' ? sort : sort === told || (!sort && r && this.#shows(r, told));
    return r && !holds ? r : undefined;
  }

  /** Some of the round is worked in this way. */
  #shows(r: PlanRound, manner: string): boolean {
    const names = this.#piece.namesOf(r);
    const purls = names.includes('p');
    switch (manner) {
      case 'knit':
        return names.some((n) => !n.startsWith('p'));
      case 'purl':
      case 'purled':
      case 'reverse':
        return names.some((n) => n.startsWith('p'));
      case 'garter':
        return this.#piece.inRound ? purls : r.wrongSide && names.includes('k');
      case 'slipped':
        return names.some((n) => n.startsWith('sl'));
      case 'twisted':
        return names.some((n) => n.endsWith('tbl'));
      case 'crossed':
      case 'cabled':
        return names.some((n) => n.includes('/'));
      default:
        return names.filter((n, i) => (n === 'p') !== (names[i - 1] === 'p')).length > 4;
    }
  }

  /** Work that the text leaves to the knitter is told, whether or not it is done here. */
  #noteLeft(at: Place, left: 'without' | 'done'): void {
    this.#piece.found.note(
      'left-to-you',
      trimmed(this.#piece.source, at),
      `this is left to you; the piece here is worked ${left === 'done' ? 'with' : 'without'} it`,
      left === 'done'
        ? 'Take it out to see the piece without it.'
        : 'Write it without a condition to see it worked.',
    );
  }

  #checkTold(t: ToldCount, at: Place): void {
    const piece = this.#piece;
    const { rounds, count } = piece;
    if (piece.counts.believed.active) return;
    switch (t.kind) {
      case 'now':
        piece.checkStated({ total: t.count, perSide: null, change: null }, at);
        return;
      case 'each':
        piece.checkStated({ total: null, perSide: t.count, change: null }, at);
        return;
      case 'parts': {
        // Beside them there may be an edge stitch at either end.
        const over = count - t.parts * t.count;
        if (over < 0 || over > (piece.inRound ? 0 : 2))
          this.#sayCount(at, `that makes ${t.parts * t.count}, but ${count} are on the needles`);
        return;
      }
      case 'share': {
        const wholes = [count, rounds.at(-1)?.before ?? count, rounds[0]?.before ?? count];
        if (!wholes.some((n) => t.count * t.of === n * t.part))
          this.#sayCount(at, `${t.count} is no such part of the ${stitches(count)} on the needles`);
        return;
      }
      case 'sum':
        if (t.count !== t.is) this.#sayCount(at, `that makes ${t.count}, not ${t.is}`);
        return;
      case 'purled':
      case 'ridges':
        this.#checkPurled(t.count, t.kind, at);
        return;
      case 'list':
        this.#claim(at, () => {
          const made = [rounds[0]?.before ?? 0, ...rounds.filter(shapes).map((r) => r.after)];
          return t.counts.reduce((a, b) => a + b, 0) === count ||
            made.some((_, i) => t.counts.every((n, k) => made[i + k] === n))
            ? undefined
            : true;
        });
        return;
    }
  }

  /** No round loses or gains as many, all told or on each side. */
  #changesOtherwise({ count, perSide, every }: ChangeTold): true | undefined {
    const { rounds, counts } = this.#piece;
    const sides = counts.sides ?? 1;
    const wanted = perSide === null ? [count, count * sides] : [count * perSide * sides];
    const like = (r: PlanRound): boolean => wanted.includes(Math.abs(r.after - r.before));
    const shaped = rounds.flatMap((r, i) => (shapes(r) && like(r) ? [i] : []));
    const so =
      every === null ? shaped.length > 0 : shaped.some((i, k) => shaped[k + 1] - i === every);
    return so ? undefined : true;
  }

  #checkPurled(told: number, what: 'purled' | 'ridges', at: Place): void {
    const { rounds, inRound } = this.#piece;
    const purls = (from: number): number =>
      rounds.slice(from).filter((r) => this.#sort(r) === 'purl').length;
    // Flat, two knit rows make a ridge; either side may begin it.
    const flat = what === 'ridges' && !inRound;
    const rows = flat ? [rounds.length, rounds.length + 1].map((n) => Math.floor(n / 2)) : [];
    if ([...rows, purls(0), ...this.#starts.map(purls)].includes(told)) return;
    const name = what === 'purled' ? 'purl rounds' : 'ridges';
    this.#sayCount(at, `${name} so far: ${rows[0] ?? purls(0)}`);
  }

  #sayCount(at: Place, message: string): void {
    const { found, source } = this.#piece;
    found.error('stated-change-wrong', trimmed(source, at), message, 'Check the count.');
  }

  /** All is worked: what was said of its rounds against them. */
  check(): void {
    const { rounds, found, source } = this.#piece;
    this.narration.check();
    for (const { at, from, denied } of this.#claims) {
      const by = denied(rounds.slice(from));
      if (!by) continue;
      const round = by === true ? null : by;
      const sort = round && this.#sort(round);
      const what = sort === 'purl' ? 'purled' : sort ? 'knitted' : 'not plain';
      found.error(
        'told-otherwise',
        trimmed(source, at),
        round
          ? `this says otherwise than ${round.label || `round ${round.n}`}, which is ${what}`
          : 'no round here is worked as this says',
        'Change the one or the other.',
      );
    }
  }
}
