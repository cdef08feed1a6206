/**
 * Shaping told by the numbers of its rounds, or by how often at which distance: "dec on rnds 4, 6, 8 (k2tog beg of ea ndl, ssk
 * end), other rnds plain", "2 - 8 - 7 (every 2 rounds, 8 stitches, 7 times)". In: the designer's text. Out: places, and the
 * labels and clauses that they are read as.
 */
import { raw, regex } from '../lexicon/expression.ts';
import { UNIT } from '../lexicon/words.ts';
import type { Replacement } from './numbers.ts';
import { readAs } from './replaced.ts';

const LIST = '\\d{1,4}(?:(?:, ?and |, ?| ?& ?| and | ?[-–] ?| to )\\d{1,4}){0,40}';
const MANNER = raw`(?:exactly |just |work(?:ed)? )?(?:(?:as|like) (?:in |for |on )?(?:the )?(?:rounds?|rnds?|rds?|rows?|\d+(?:st|nd|rd|th))|in (?:the same|this) (?:way|manner))`;
const STITCH = `(?:${MANNER}|on (?:each|every|all)|at the|k2tog|ssk|skp|skpo|k ?\\d|p ?\\d|yo|m1|kfb|\\*)`;
const BEGINS = '(?<=^[ \\t•*-]{0,8}|[.;!] {1,3}|, (?:and )?)';
const SHAPE = '(?:decrease|dec|increase|inc)';

/** "dec on rnds 4, 6, 8 (k2tog …)", "Decrease 8 sts on rounds 2 and 4: on each needle …", "k all rnds but dec on rnds 4 & 6: …" */
const ON_ROUNDS = regex.gim`${BEGINS}((?:and |now |then )?(?:(?:k|knit|purl|p) (?:all|every) (?:other )?${UNIT},? (?:but|and|only)? ?)?(?:${SHAPE}(?: (\d{1,3}) (?:sts|stitches))? (?:on|in|at)(?: the)? ${UNIT}|${SHAPE} (?:rounds|rnds|rds|rows)(?= \d+ ?(?:[,&–-]|and |to ))|the (?:de|in)creases (?:come|stand|fall|are|lie)(?: worked| made)? (?:on|in) ${UNIT}) )(${LIST})([ :,-]{0,3}(?:(?:thus|like this|as follows|so)[ :,]{0,2})?)(\()?(?=${STITCH})`;
/** "Rounds 1-10: knit, but on rounds 2, 4 and 10 k2tog at …": the last of them is the last of all. */
const BUT_ON = regex.gim`^([ \t]*${UNIT} (?:1|one) ?(?:-|–|to) ?(\d{1,4}) ?:? ?(k|knit|p|purl),? (?:but|and|except that) (?:on|in)(?: the)? ${UNIT} )(${LIST})([ ,:]{1,3})(?=${STITCH})`;
/** "dec rnds: 3, 5, 7, 9-11." */
const LISTED = regex.gim`${BEGINS}(${SHAPE}(?:reasing|rease)? ${UNIT}(?: are|:| -) ?:?)[ ]*(${LIST})(?=[ ]?(?:[.;,]|$))`;
/** "Work the corner round on rounds 5, 7 and 9" */
const NAMED_ON = regex.gim`${BEGINS}((?:work|do|make) (?:(?:the|a|your) )?((?:(?!the |a |your )[a-z'-]+ ){1,3}(?:round|rnd|row))s? (?:on|in) ${UNIT} )(${LIST})(,? (?:and )?(?:knit|purl)(?:ting|ing)? (?:all )?(?:the )?(?:other ${UNIT}|${UNIT} ${LIST}))?(?=[ ]?(?:[.;]|$))`;
/** "other rnds all k", "knit all the other rounds" */
const OTHERS = regex.gim`${BEGINS}(?:(?:(?:all |the |on the |on all )*(?:other|remaining) ${UNIT}|(?:all|every) (?:the )?${UNIT} (?:not|without) (?:named|mentioned|listed|told|a number)(?: here| above| below)?|(?:the )?rest(?: of (?:the|your) ${UNIT})?)(?: are| is)?(?: all| just)?[ :=]{1,3}(k|knit|knitted|plain|p|purl|purled)|(knit|purl|k|p)(?: all| plain)?(?: on| in)? (?:all |the |all the )*(?:other|remaining) ${UNIT}(?: plain)?)(?: throughout)?(?=[ ]?(?:[.;,)]|$))`;
/** "all k" over "dec on rnds …" */
const ALL_KNIT = regex.gim`^([ \t]*)(?:all (k|knit|p|purl)|(k|knit|p|purl) all)\.?[ \t]*(?=\n[ \t]*${SHAPE} on )`;
/** "= -8)", ", -8" behind the stitches of a list. */
const CHANGE_BRACKETED = /\(([-–+−])(\d{1,3})(?: (?:sts|stitches))?\)/g;
const CHANGE = /[ ]?[=,;][ ]?([-–+−])(\d{1,3})(?: (?:sts|stitches))?(?=\)|[ ]*$)/gm;
const PLUS_AT =
  /\b(k2tog|ssk|skpo?|p2tog) (?:at )?(?:the )?(beg|beginning|start) \+ (k2tog|ssk|skpo?|p2tog)(?: at)?(?: the)? end/gi;

/** "Work 9 rounds in all." in front: how many there are with those between. */
const ANNOUNCED = regex.i`(?:work|knit)(?: a total of)? (\d{1,3}) ${UNIT}(?: (?:in all|altogether|in total|as follows|like this|in st ?st|in stocking stitch|in stockinette))?[.:;,]?[ ]*\n?[ \t]*$`;

function onRounds(text: string): Replacement[] {
  const out: Replacement[] = [];
  for (const m of text.matchAll(ON_ROUNDS)) {
    const [all, lead, count, , mark, open] = m;
    const first = m.index + all.length - (open ?? '').length;
    const close = open ? text.indexOf(')', first) : -1;
    const rest = text.slice(m.index, m.index + 500);
    if (open && (close < 0 || text.slice(first, close).includes('\n'))) continue;
    // "(k2tog, k8) 7 times" is one round's repeat.
    if (open && /^[ ]?(?:\d|x|twice|times)/i.test(text.slice(close + 1, close + 9))) continue;
    const before = ANNOUNCED.exec(text.slice(Math.max(0, m.index - 60), m.index));
    const most = Math.max(...(m[3].match(/\d+/g) ?? []).map(Number));
    if (before && Number(before[1]) >= most) {
      const from = m.index - before[0].length;
      const stop = text.slice(m.index).search(/[.;](?=\s|$)|\n|$/) + m.index;
      out.push({ from, to: m.index - (/\s*$/.exec(before[0])?.[0].length ?? 0), text: '' });
      if (Number(before[1]) > most)
        out.push({ from: stop, to: stop, text: `.\nRounds ${most + 1}-${before[1]}: knit` });
    }
    const plain = /^(?:and |now |then )?(k|knit|p|purl)\b/i.exec(lead)?.[1];
    const rule = plain ? `All other rounds: ${/^p/i.test(plain) ? 'purl' : 'knit'}.\n` : '';
    out.push({ from: m.index, to: m.index + lead.length, text: `${rule}Rounds ` });
    const at = m.index + all.length - (mark + (open ?? '')).length;
    out.push({ from: at, to: m.index + all.length, text: ': ' });
    if (close > 0) out.push({ from: close, to: close + 1, text: '. ' });
    if (count && !/\(/.test(rest.split('\n')[0])) {
      const stop = rest.search(/[.\n]|$/) + m.index;
      const way = /inc/i.test(lead) ? 'increased' : 'decreased';
      out.push({ from: stop, to: stop, text: ` (${count} sts ${way})` });
    }
  }
  return out;
}

/** Rounds that a list does not name are told apart from it. */
function listed(text: string): Replacement[] {
  const out: Replacement[] = [];
  for (const m of text.matchAll(BUT_ON)) {
    const [all, lead, last, verb, list, mark] = m;
    if (Number(/\d+$/.exec(list)?.[0]) !== Number(last)) continue;
    const rule = `All other rounds: ${/^p/i.test(verb) ? 'purl' : 'knit'}.\n`;
    out.push({ from: m.index, to: m.index + lead.length, text: `${rule}Rounds ` });
    const at = m.index + all.length - mark.length;
    out.push({ from: at, to: m.index + all.length, text: ': ' });
  }
  for (const m of text.matchAll(LISTED)) {
    const name = /^inc/i.test(m[1]) ? 'increase' : 'decrease';
    out.push({ from: m.index, to: m.index + m[1].length, text: 'Rounds ' });
    const to = m.index + m[0].length;
    out.push({ from: to, to, text: `: work ${name} round` });
  }
  for (const m of text.matchAll(NAMED_ON)) {
    const [all, lead, name, , others] = m;
    out.push({ from: m.index, to: m.index + lead.length, text: 'Rounds ' });
    const to = m.index + all.length;
    const verb = /purl/i.test(others ?? '') ? 'purl' : 'knit';
    const rule = others ? `. All other rounds: ${verb}` : '';
    out.push({ from: to - (others ?? '').length, to, text: `: work the ${name}${rule}` });
  }
  return out;
}

/** "2 - 8 - 7 (every 2 rounds, 8 stitches, 7 times)" */
const TRIPLE =
  /^([ \t]*)(\d{1,2}) ?[-–—] ?(\d{1,3}) ?[-–—] ?(\d{1,3})(?: times)?[ \t]*(?:\([^()\n]*\))?[ \t]*$/gm;
/** "every 2nd round, 8 sts, 3 times", "every round 8 sts 4 x" */
const SPELLED = regex.gim`^([ \t•*-]*)(?:on |in )?every (?:(\d{1,2})(?:st|nd|rd|th)? |(second|other|third|fourth) )?${UNIT},? ?[-–:]? ?(\d{1,3}) (?:sts|stitches),? ?(?:(\d{1,3}) ?(?:times|x)|x ?(\d{1,3}))\.?[ \t]*$`;
const EVERY: Readonly<Record<string, number>> = { second: 2, other: 2, third: 3, fourth: 4 };
/** "Decrease 8 stitches in one decrease round: …", "Decrease (on each needle …):" over such a list. */
const ONE_ROUND = regex.gim`${BEGINS}(decrease|increase) (\d{1,3}) (?:stitches|sts) (?:in|on|at) (?:one|1|each|every|a) (?:(?:de|in)crease|decreasing|increasing) ${UNIT} ?:`;
const BRACKETED = regex.gim`^([ \t]*(decrease|increase) )\((?=${STITCH})([^()\n]{5,120})\) ?:[ \t]*$`;
/** "Reduce as follows: on each needle …" over such a list. */
const AS_FOLLOWS = regex.gim`${BEGINS}(?:reduce|decrease|dec|narrow) (?:as follows|like this|thus) ?: ?(?=${STITCH})`;
/** What such a list is understood as anyhow. */
const EVEN_FIRST =
  /^[ \t]*(?:in|with) ["“]?every (?:2|two|\d) (?:rounds|rnds|rows)["”]?,? the first (?:round |rnd |row |one )?is (?:knitted |worked |purled )?(?:even|plain|straight|without decreas\w+)[^.\n]{0,80}\.?[ \t]*$/gim;

function distances(text: string): Replacement[] {
  const rows = [...text.matchAll(TRIPLE)].map((m) => ({
    m,
    every: Number(m[2]),
    count: Number(m[3]),
    times: Number(m[4]),
  }));
  const spelled = [...text.matchAll(SPELLED)].map((m) => ({
    m,
    every: Number(m[2]) || EVERY[m[3]?.toLowerCase()] || 1,
    count: Number(m[4]),
    times: Number(m[5] ?? m[6]),
  }));
  const all = [...(/\b(?:(?:de|in)creas|reduc|narrow)/i.test(text) ? rows : []), ...spelled];
  if (all.length === 0 || all.some((r) => r.every < 1 || r.times < 1 || r.every > 20)) return [];
  const heads = [...text.matchAll(ONE_ROUND), ...text.matchAll(BRACKETED)];
  const way = /\bincrease\b/i.test(heads[0]?.[0] ?? '') ? 'increase' : 'decrease';
  const out: Replacement[] = all.map(({ m, every, count, times }) => ({
    from: m.index + m[1].length,
    to: m.index + m[0].length,
    text: `Work a ${way} round ${every > 1 ? `every ${every} rounds` : 'every round'} ${times} times (${count} sts ${way}d each time).`,
  }));
  out.push(
    ...readAs(text, AS_FOLLOWS, `The ${way} round means: `),
    ...readAs(text, ONE_ROUND, (m) => `The ${way} round means (${m[2]} sts ${way}d):`),
    ...readAs(text, EVEN_FIRST, ''),
  );
  for (const m of text.matchAll(BRACKETED)) {
    const open = m.index + m[0].indexOf('(');
    out.push({ from: m.index, to: open + 1, text: `The ${way} round means: ` });
    const close = m.index + m[0].lastIndexOf(')');
    out.push({ from: close, to: m.index + m[0].length, text: '.' });
  }
  return out;
}

const ORDINALS = raw`\d{1,3}(?:st|nd|rd|th)(?:(?:, ?and |, ?| ?& ?| and )\d{1,3}(?:st|nd|rd|th)){0,40}`;
/** "Decrease 8 sts (k2tog at …) on the 3rd, 5th and 7th rounds", "Knit 12 rounds, decreasing 8 sts on rounds 4 and 8 (k2tog at …)" */
const SAID_AT_ONCE = [
  regex.gim`${BEGINS}(?:${SHAPE}(?: (\d{1,3}) (?:sts|stitches))?|shape) \(([^()\n]{5,140})\) (?:on|in|at)(?: the)? (?:(${ORDINALS}) ${UNIT}|${UNIT} (${LIST}))(?=[ ]?[.;,])`,
  regex.gim`${BEGINS}(?:knit|work) (?<all>\d{1,3}) ${UNIT}(?<plain> in [a-z ]{2,20})?,? (?:decreasing|increasing)(?: (\d{1,3}) (?:sts|stitches))? (?:on|in|at)(?: the)? (?:(${ORDINALS}) ${UNIT}|${UNIT} (${LIST})) \(([^()\n]{5,140})\)(?=[ ]?[.;,])`,
];

function saidAtOnce(text: string): Replacement[] {
  return SAID_AT_ONCE.flatMap((re, k) =>
    readAs(text, re, (m) => {
      const [count, steps, nths, list] = k === 0 ? m.slice(1) : [m[3], m[6], m[4], m[5]];
      const numbers = ((nths ?? list).match(/\d+/g) ?? []).map(Number);
      const last = Math.max(...numbers);
      const all = Number(m.groups?.all ?? last);
      if (!regex.i`^${STITCH}`.test(steps) || all < last) return null;
      const way = /\binc/i.test(m[0]) ? 'increased' : 'decreased';
      const told = count ? ` (${count} sts ${way})` : '';
      const more = all > last ? `. Rounds ${last + 1}-${all}: knit` : '';
      const rest = k === 1 ? `${more}. All other rounds: knit` : '';
      return `Rounds ${(list ?? numbers.join(', ')).trim()}: ${steps}${told}${rest}`;
    }),
  );
}

/** "Then on the foll. rnds, without a plain rnd between:" over rounds with numbers, which show as much. */
const LEADS_ON = regex.gim`${BEGINS}(?:then|now|after that)?,? ?(?:on|in) (?:the |all )?(?:following|foll\.?|next|coming) ${UNIT},? (?:without|with no) (?:an? |any )?(?:plain|knit|even|straight) ${UNIT}(?: in)?(?: between)?[ ]?:[ \t]*(?=\n+[ \t]*(?:${UNIT} \d|\d+(?:st|nd|rd|th) ))`;
/** "1 stitch at the beginning (k2tog) and 1 stitch at the end (ssk)" */
const ONE_AT =
  /\b(?:1|one|a) (?:stitch|st) (at the (?:beginning|start|end)) \((k2tog|ssk|skpo?|p2tog|k2tog tbl)\)/gi;
/** "ssk at start of each side, k2tog at end, k between" */
const KNIT_BETWEEN =
  /(?<=\b(?:start|beginning|beg|end)\b[^.\n]{0,60}),? (?:and )?k between(?=[ ]?(?:[.,;(=]|-|$))/gim;
/** "k2tog, k8, ssk (each needle)" */
const EACH_BRACKETED =
  /(?<=[a-z0-9]) \((?:on |at )?(each|every) (needle|side|ndl|dpn)\)(?=[ ]?(?:[-–=.,;(]|\d|$))/gim;

/** "To decrease: knit to …", "To do that I knit to …" behind an order to shape: how its rounds are worked, and none itself. */
const TO_SHAPE = regex.gim`(?:${BEGINS}to (?<way>decrease|increase)(?: (?:those|the) (?:sts|stitches))?|(?<=\b(?<back>de|in)creas[a-z]*\b[^\n]{0,160}[.;] )(?:to do (?:that|this|so|it)|for (?:that|this)|(?:you|i|we) do (?:that|this|so) by)) ?(?:[,:] ?)?(?:(?:you|i|we|simply|just|always) ){0,2}(?=${STITCH}|(?:knit|work|k) (?:to|until|till)\b)`;

/** Shaping is asked for, and how it is done told elsewhere. */
const ORDERED =
  /\b(?<!\bto )(?:(?:de|in)creas(?:e|ing)) (?:\d|one|two|four|six|eight|a|in|on|at|every|each|as|until)\b/i;

function otherWords(text: string): Replacement[] {
  const shaped = ({ groups }: RegExpExecArray): string | null => {
    const way = groups?.way?.toLowerCase() ?? `${groups?.back?.toLowerCase()}crease`;
    const asked = groups?.back ? true : ORDERED.test(text);
    return asked ? `The ${way} round stands for: ` : null;
  };
  return [
    ...readAs(text, TO_SHAPE, shaped),
    ...readAs(text, LEADS_ON, ''),
    ...readAs(text, KNIT_BETWEEN, ', knit in between'),
    ...readAs(text, ONE_AT, (m) => `${m[2]} ${m[1]}`),
    ...readAs(text, EACH_BRACKETED, (m) => ` on ${m[1]} ${m[2]}`),
  ];
}

/** The rounds that no list names. */
function others(how: string): string {
  return `All other rounds: ${/^p(?!lain)/i.test(how) ? 'purl' : 'knit'}`;
}

export function schedules(text: string): Replacement[] {
  const rounds = readAs(text, OTHERS, (m) => others(m[1] ?? m[2]));
  const out = [
    ...saidAtOnce(text),
    ...onRounds(text),
    ...listed(text),
    ...distances(text),
    ...rounds,
  ];
  const other = otherWords(text);
  if (out.length === 0) return other;
  const changed = (m: RegExpExecArray): string =>
    ` (${m[2]} sts ${m[1] === '+' ? 'in' : 'de'}creased)`;
  return [
    ...out,
    ...readAs(text, ALL_KNIT, (m) => `${others(m[2] ?? m[3])}.`, 1),
    ...readAs(text, CHANGE, changed),
    ...readAs(text, CHANGE_BRACKETED, changed),
    ...readAs(text, PLUS_AT, (m) => `${m[1]} at the start and ${m[3]} at the end`),
    ...other,
  ];
}
