/**
 * What stands behind a round's label, and plain instructions for several rounds: `as round 3`,
 * `repeat rounds 1-4`, `knit 4 rounds`, `work 6 rounds in garter st`, `work 5 cm even`. Gives either
 * the steps of one round or what to fetch.
 */

import type { DiagnosticList } from './diagnostics.ts';
import type { StatedCount } from './grammar/steps/stated-counts.ts';
import { readSteps } from './grammar/steps/step-reader.ts';
import type { PatternRule, Step } from './grammar/steps/steps.ts';
import { UNIT } from './labels.ts';
import {
  LENGTH,
  NUM,
  NUMBER_LIST,
  ORDINAL_LIST,
  toLength,
  toNumber,
  toNumberList,
  toOrdinalList,
} from './lex/numbers.ts';
import type { Abbreviations } from './lexicon/abbreviations.ts';

const LIKE = new RegExp(
  `^[\\s"']*(?:(?:work|knit|rep(?:eat)?\\.?|same|exactly)\\s+){0,3}(?:(?:the\\s+)?(?:same\\s+)?(?:as|like)(?:\\s+(?:for|in|on|given\\s+for))?\\s+|(?=(?:(?:${UNIT})|r)\\s*\\d)|(?<=rep(?:eat)?\\.?\\s+)(?=(?:the\\s+)?(?:${ORDINAL_LIST})\\s+(?:${UNIT})))(?:the\\s+)?(?:(?:(?:${UNIT})|r(?=\\s*\\d))\\s*#?(${NUMBER_LIST})|(${ORDINAL_LIST})\\s+(?:${UNIT})|(last|previous|prev\\.?|preceding|set-?\\s*up|[a-z]+)\\s+(?:${UNIT}))\\s*(.*)$`,
  's',
);

export interface LikeRounds {
  /** Numbers of the rounds to work again; empty where `name` says which. */
  readonly numbers: readonly number[];
  readonly name: string;
  readonly rest: string;
}

/** `as round 3`, `as 2nd round`, `repeat rounds 1-4`: null where the text is something else. */
export function readLike(text: string): LikeRounds | null {
  const m = LIKE.exec(text);
  if (!m) return null;
  const rest = m[4];
  if (/\bexcept|\bbut\b/.test(rest)) return null;
  const numbers = m[1] ? toNumberList(m[1]) : m[2] ? toOrdinalList(m[2]) : [];
  if (!numbers) return null;
  return { numbers, name: (m[3] ?? '').replace(/^prev\.?$/, 'previous'), rest };
}

export interface PlainRounds {
  /** Number of rounds, or null where a length says so. */
  readonly rounds: number | null;
  readonly lengthMm: number | null;
  /** The length counts from the cast-on. */
  readonly fromStart: boolean;
  /** Steps of each round in turn, repeated as needed. */
  readonly cycle: readonly (readonly Step[])[];
  readonly stated: StatedCount | null;
  /** Stitches named besides, such as an even decrease in the last of these rounds. */
  readonly last: readonly Step[] | null;
}

/** Steps of round `i` of a plain instruction, from 0. */
export function cycleSteps({ cycle }: PlainRounds, i: number): readonly Step[] {
  return cycle[Math.min(i, cycle.length - 1)];
}

const EACH = new RegExp(
  `(?:^|[\\s,;]|(?<=[\\s,;]))(?:(work(?:ing)?|knit|purl|k|p|cont(?:inue)?\\.?|rib)(?![a-z0-9]))?((?:[^,;.:\\d]|k\\s*\\d+(?:\\s*tbl)?\\s*[,x/]?\\s*p\\s*\\d+(?:\\s*tbl)?|\\d+\\s*(?:x|by|/)\\s*\\d+(?=\\s*rib))*?)(?:for\\s+)?(?:(?:the|a|another|next|following)\\s+)*(${LENGTH}(?=[\\s-]*(?:cm|mm|ins?|inch))|${NUM}|next|following|another|a)[\\s-]+((?:(?:more|further|additional|plain|straight|even|complete|full|next)\\s+)*)(${UNIT}|cm|mm|ins?|inch(?:es)?)(?![a-z])([^;.]*?)(?=(?:,|;|\\.|\\band\\b|\\bthen\\b|$))`,
  'y',
);
const MEASURES = new RegExp(
  `(?:measures?|is|reaches)\\s+(?:about\\s+|approx\\.?\\s+|approximately\\s+)?(${LENGTH})\\s*(cm|mm|ins?|inch(?:es)?|")`,
);
const MM: Record<string, number> = { c: 10, m: 1, i: 25.4, '"': 25.4 };

function patternRule(words: string): PatternRule | null {
  if (/rev(?:erse|\.)?\s+(?:stoc?k|st\.?\s*st)/.test(words)) return 'reverse';
  if (/garter|\bg\s?st\b/.test(words)) return 'garter';
  if (/stoc?k(?:inette|ing)|\bst\.?\s*st\b|stst/.test(words)) return 'stockinette';
  if (/seed|moss/.test(words)) return 'seed';
  return null;
}

function rib(words: string): readonly [number, number] | null {
  const named = /k\s*(\d{1,2})(\s*tbl)?\s*[,x/]?\s*p\s*(\d{1,2})/.exec(words);
  if (named) return [Number(named[1]), Number(named[3])];
  const crossed = /(\d{1,2})\s*(?:x|by|\/)\s*(\d{1,2})\s*rib/.exec(words);
  if (crossed) return [Number(crossed[1]), Number(crossed[2])];
  const after = /rib\s*(\d{1,2})\s*(?:x|by|\/)\s*(\d{1,2})/.exec(words);
  if (after) return [Number(after[1]), Number(after[2])];
  if (/single\s+rib/.test(words)) return [1, 1];
  if (/double\s+rib/.test(words)) return [2, 2];
  return null;
}

function stitchSteps(name: string, from: number, to: number): Step[] {
  return [{ kind: 'stitch', name, amount: { kind: 'rest', count: 0 }, from, to }];
}

/** A pattern over the whole round. */
export function patternSteps(rule: PatternRule, from: number, to: number): Step[] {
  return [{ kind: 'pattern', rule, amount: { kind: 'rest', count: 0 }, from, to }];
}

/** Rounds that a verb and its words mean. */
function cycleOf(verb: string, words: string, from: number, to: number): Step[][] {
  if (verb === 'purl' || verb === 'p') return [stitchSteps('p', from, to)];
  const ribs = rib(words);
  if (ribs && ribs[0] + ribs[1] > 0) {
    const steps: Step[] = [
      { kind: 'stitch', name: 'k', amount: { times: ribs[0] }, from, to },
      { kind: 'stitch', name: 'p', amount: { times: ribs[1] }, from, to },
    ];
    const first: Step[] = [
      {
        kind: 'group',
        steps,
        amount: { kind: 'rest', count: 0 },
        otherTimes: null,
        eachSide: false,
        from,
        to,
      },
    ];
    return [first, patternSteps('knits', from, to)];
  }
  const rule = patternRule(words);
  if (rule) return [patternSteps(rule, from, to)];
  const knits = verb === 'knit' || verb === 'k';
  if (knits && !/\b(?:pat|as\s+(?:set|est)|even)/.test(words)) return [stitchSteps('k', from, to)];
  if (/\bplain\b/.test(words) && !/\bpat/.test(words)) return [stitchSteps('k', from, to)];
  return [patternSteps('set', from, to)];
}

/**
 * Plain instructions at the start of `text`, one after the other ("knit 1 round, purl 1 round").
 * Empty where there are none.
 */
export function readPlainRounds(
  text: string,
  base: number,
  abbreviations: Abbreviations,
  found: DiagnosticList | null,
): PlainRounds[] {
  return plainRounds(
    text.replace(EXPLAINED, (m) => ' '.repeat(m.length)),
    base,
    abbreviations,
    found,
  );
}

/** "(1 round knit, 1 round purl)" only explains what garter stitch is. */
const EXPLAINED = new RegExp(`\\((?![^()]*\\bst)[^()]*(?:${UNIT})[^()]*\\)`, 'g');

function plainRounds(
  text: string,
  base: number,
  abbreviations: Abbreviations,
  found: DiagnosticList | null,
): PlainRounds[] {
  const out: PlainRounds[] = [];
  let at = 0;
  let verb = '';
  // "until the piece measures 10 cm" counts from the beginning.
  const measured = /\buntil\b/.test(text) && MEASURES.test(text);
  while (!measured && at < text.length && out.length < 50) {
    const gap =
      /[\s,;.]*(?:(?:and|then|now)\s+){0,3}(?:working\s+in\s+(?:the\s+)?(?:rounds?|rows),\s*)?/y;
    gap.lastIndex = at;
    gap.exec(text);
    EACH.lastIndex = gap.lastIndex;
    const m = EACH.exec(text);
    if (!m) break;
    if (m[1]) verb = m[1];
    else if (verb === '') break;
    const length = !/^r/.test(m[5]);
    const one = /^(?:next|following|another|a)$/.test(m[3]);
    const n = one ? 1 : length ? toLength(m[3]) : toNumber(m[3]);
    const rest = remainder(text, EACH.lastIndex);
    const words = `${m[2]} ${m[4]} ${m[6]} ${/^\s*,?\s*(?:in|even|straight|without|as)\b/.test(rest) ? rest : ''}`;
    const from = base + gap.lastIndex;
    const to = base + EACH.lastIndex;
    // "knit 1 round, decreasing 8 sts evenly (56 sts)"
    const extra = readSteps(`${m[6]} ${rest}`, to - m[6].length, abbreviations, null);
    const spread = extra.steps.filter((s) => s.kind === 'spread');
    out.push({
      rounds: length ? null : n,
      lengthMm: length ? n * MM[m[5][0]] : null,
      fromStart: false,
      cycle: cycleOf(verb, words, from, to),
      stated: extra.stated,
      last: spread.length > 0 ? spread : null,
    });
    at = EACH.lastIndex;
  }
  if (out.length === 0) {
    const measured = MEASURES.exec(text);
    if (measured) {
      const v = /^\s*(?:and\s+|then\s+|now\s+){0,3}(work|knit|purl|cont)/.exec(text)?.[1] ?? 'work';
      const words = text.slice(0, measured.index);
      const every =
        v === 'knit' && !/\b(?:pat|as\s+(?:set|est)|even)/.test(words) ? 'knit' : 'work';
      out.push({
        rounds: null,
        lengthMm: toLength(measured[1]) * MM[measured[2][0]],
        fromStart: true,
        cycle: cycleOf(every, words, base, base + text.length),
        stated: null,
        last: null,
      });
    }
  }
  void found;
  return out;
}

/** The text up to the next plain instruction or the end of the sentence. */
function remainder(text: string, at: number): string {
  const rest = text.slice(at, at + 200);
  const stop = rest.search(
    /\.\s|[,;]\s*(?:then\s+|and\s+){0,3}(?:knit|purl|k|p|work)\s+(?:\d|one|two)|\band\s+(?:knit|purl)\s/,
  );
  return stop < 0 ? rest : rest.slice(0, stop);
}
