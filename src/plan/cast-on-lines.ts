/**
 * Cast-on sentences: `CO 120 sts (30 sts each side)`, `using the long-tail method, cast on 120`, `cast
 * on 30 sts on each of 4 needles`, `cast on 120, placing a marker every 30 sts, join, being careful not
 * to twist`.
 */

import { readStatedCount } from './grammar/steps/stated-counts.ts';
import { readTimes } from './grammar/steps/targets.ts';
import { readJoin } from './headers.ts';
import { NUM, toNumber } from './lex/numbers.ts';
import type { JoinMethod } from './plan.ts';

export interface CastOnLine {
  readonly count: number;
  readonly sides: number | null;
  readonly markers: number[];
  readonly roundMarker: boolean;
  readonly join: { method: JoinMethod; halfTurns: number } | null;
  /** Count said besides, which must agree. */
  readonly stated: number | null;
  readonly severalSizes: boolean;
}

const COUNT = new RegExp(
  `(?:(?:cast(?:ing)?[\\s-]*on|c\\/?o)(?![a-z])|pick\\s+up(?:\\s+and\\s+knit)?|begin\\s+with|start\\s+with)[\\s:]*(?:loosely\\s+|a\\s+total\\s+of\\s+|on\\s+)*(${NUM})((?:\\s*[([]\\s*\\d+(?:\\s*[,:;/]\\s*\\d+)+\\s*[)\\]])|(?:\\s*,\\s*\\d+){2,})?`,
);
const LATE_COUNT = new RegExp(`(${NUM})\\s*(?:sts?|stitch(?:es)?)(?![a-z])`);
const ON_EACH = new RegExp(
  `(?:sts?|stitch(?:es)?)?\\s*(?:on|onto|to|per|for|along)\\s+each\\s+(?:of\\s+)?(?:the\\s+)?(${NUM})\\s*(?:dpns?|needles?|sides?|double)`,
);
const PLACES = '(?:plac(?:e|ing)|put(?:ting)?|hang(?:ing)?|add(?:ing)?|with|pm(?![a-z]))';
const EVERY = new RegExp(
  `${PLACES}[^.]{0,40}?(?:every|each)\\s+(?:of\\s+the\\s+)?(${NUM})(?:th)?\\s*(?:sts?|stitch(?:es)?)`,
);
const LISTED = new RegExp(
  `(?:${PLACES}[^.\\d]{0,40}?)after\\s+(?:the\\s+)?(?:st(?:itche)?s?\\s+)?(${NUM}(?:th|st|nd|rd)?(?:\\s*,\\s*(?:and\\s+)?\\d+(?:th|st|nd|rd)?)*(?:\\s+(?:and|&)\\s+\\d+(?:th|st|nd|rd)?)?)(?:\\s*(?:sts?|stitch(?:es)?))?`,
);
const AT_CORNERS =
  /(?:plac(?:e|ing)|put(?:ting)?|hang(?:ing)?|pm(?![a-z])|mark(?:ing)?(?![a-z])|markers?)[^.]{0,50}?(?:(?:at|in|for|on|after|between|to\s+mark|mark(?:ing)?)\s+(?:each|every|all|the|both)?\s*(?:of\s+the\s+|the\s+)?(?:(?:\d+|two|three|four|five|six|eight)\s+)?(?:corners?|sides?|sections?|segments?|wedges?|needles?))(?![a-z])/;
const SIDES = new RegExp(
  `(?:over|on|onto|between|across|among)\\s+(${NUM})\\s*(?:dpns?|needles?|double)`,
);

/**
 * Markers that a set-up text places: "every 40 sts", "after 40, 80 and 120 sts", "at each corner"
 * (where the number of sides is known). Null where it places none, or only that of the round.
 */
export function markersIn(text: string, count: number, sides: number | null): number[] | null {
  const step = (by: number): number[] | null => {
    if (!(by > 0) || count / by > 1000) return null;
    const out: number[] = [];
    for (let at = by; at < count; at += by) out.push(at);
    return out;
  };
  const every = EVERY.exec(text);
  if (every) return step(toNumber(every[1]));
  const listed = LISTED.exec(text);
  if (listed) {
    const at = (listed[1].match(/[a-z]+(?:-[a-z]+)?|\d+/g) ?? [])
      .map(toNumber)
      .filter((n) => n > 0 && n < count);
    const ascending = at.every((n, i) => i === 0 || n > at[i - 1]);
    if (at.length > 0 && ascending) return at;
  }
  if (sides !== null && sides > 1 && count % sides === 0 && AT_CORNERS.test(text)) {
    return step(count / sides);
  }
  return null;
}

/** Null where the sentence holds no number of stitches. */
export function readCastOn(text: string): CastOnLine | null {
  const m = COUNT.exec(text) ?? LATE_COUNT.exec(text);
  if (!m) return null;
  let count = toNumber(m[1]);
  if (!(count > 0)) return null;
  const rest = text.slice(m.index + m[0].length);
  const outside = rest.replace(/[([][^()[\]]*[)\]]/g, ' ');
  let sides: number | null = null;

  const each = ON_EACH.exec(outside);
  if (each) {
    sides = toNumber(each[1]);
    // "144 sts, 36 on each of 4 needles" has its total before it.
    if (/\d/.test(outside.slice(0, each.index))) {
      if (count % sides !== 0) sides = null;
    } else count *= sides;
  }
  // "CO 30, pm, CO 30, pm, …"
  const markers: number[] = [];
  let roundMarker = false;
  const parts = [...text.matchAll(new RegExp(`(?:cast\\s*-?on|co)\\s+(${NUM})`, 'g'))];
  if (parts.length > 1 && /\bpm\b|place\s+(?:a\s+)?marker/.test(text)) {
    let sum = 0;
    // "CO 40 sts: CO 20, pm, CO 20" gives the total first.
    const shares = parts.slice(1).reduce((all, part) => all + toNumber(part[1]), 0);
    if (parts.length > 2 && toNumber(parts[0][1]) === shares) parts.shift();
    for (const part of parts) {
      if (sum > 0) markers.push(sum);
      sum += toNumber(part[1]);
    }
    count = sum;
    if (/(?:pm|marker)\b[^\d]*$/.test(text)) roundMarker = true;
  }
  // "(CO 40, pm) 4 times", "*CO 40, pm; rep from * 3 more times"
  if (parts.length === 1 && /\bpm\b|marker/.test(text)) {
    const part = toNumber(parts[0][1]);
    const again = /[)\]]\s*(?=\S)/.exec(rest);
    const star = /rep(?:eat)?\.?\s+(?:from\s+)?\*\s*/.exec(rest);
    const opened = /[([]\s*$/.test(text.slice(0, m.index));
    const at = opened && again ? again : star;
    const times = at ? readTimes(rest, at.index + at[0].length) : null;
    if (times) {
      const n = times.times + (at === star && !times.total ? 1 : 0);
      if (n > 1 && n <= 1000) {
        for (let i = 1; i < n; i++) markers.push(i * part);
        count = n * part;
        sides = n;
        roundMarker = true;
      }
    }
  }
  if (markers.length === 0) {
    const set = markersIn(rest, count, null);
    if (set) {
      markers.push(...set);
      roundMarker = true;
    }
  }
  if (markers.length > 0) {
    // Placed already.
  } else if (
    parts.length <= 1 &&
    /\bpm\b|plac(?:e|ing)\s+(?:a\s+)?(?:stitch\s+)?marker/.test(rest)
  ) {
    roundMarker = true;
  }

  let stated: number | null = null;
  for (const b of rest.matchAll(/[([]([^()[\]]*)[)\]]/g)) {
    const said = readStatedCount(b[1]);
    if (!said || !/st|side|needle|all|total/.test(b[1])) continue;
    const four = ON_EACH.exec(b[1]);
    if (four && (said.perSide ?? said.total ?? 0) * toNumber(four[1]) === count) {
      sides ??= toNumber(four[1]);
      continue;
    }
    if (said.perSide !== null && count % said.perSide === 0) sides ??= count / said.perSide;
    if (said.total !== null && /total|in\s+all|altogether/.test(b[1])) stated ??= said.total;
    if (said.perSide !== null && count % said.perSide !== 0) stated ??= said.perSide;
  }
  const loose = new RegExp(
    `[,;-]\\s*(${NUM})\\s*(?:sts?|stitch(?:es)?)?\\s*(?:on\\s+|per\\s+|for\\s+|along\\s+)?(?:each|every|per)?\\s*(?:side|needle|edge)`,
  ).exec(rest);
  if (loose && !each) {
    const per = toNumber(loose[1]);
    if (per > 0 && count % per === 0) sides ??= count / per;
  }
  const over = SIDES.exec(rest);
  if (over && sides === null && /even|equal|divid|distribut|spread|arrang/.test(rest)) {
    const n = toNumber(over[1]);
    if (n > 0 && count % n === 0) sides = n;
  }
  const join = /\bjoin|twist|möbius|mobius|moebius/.test(rest) ? readJoin(rest) : null;
  if (/(?:plus|\+|and)\s+(?:1|one)\s+extra/.test(rest)) {
    return {
      count,
      sides,
      markers,
      roundMarker,
      join: join ?? { method: 'extra', halfTurns: 0 },
      stated,
      severalSizes: m[2] !== undefined,
    };
  }
  if (/\b(?:1|one)\s+extra|\bextra\s+(?:1|one|st)/.test(rest) && join?.method !== 'crossed') {
    return {
      count: count - 1,
      sides,
      markers,
      roundMarker,
      join: join ?? { method: 'extra', halfTurns: 0 },
      stated,
      severalSizes: m[2] !== undefined,
    };
  }
  return { count, sides, markers, roundMarker, join, stated, severalSizes: m[2] !== undefined };
}
