/**
 * Cables as patterns write them, read into canonical crossings.
 * a/b LC, RC, LPC, RPC name the result. C<n>F / C<n>B: n is the total, F held in front leans left
 * (knitting4knewbies.com 2018/10/14); C3L/C3R against C3F/C3B as in trantor.is, chapter 4.
 * T<n>F / T<n>B: the strand behind is PURLED (UK usage, "Abbreviations" PDF at static.squarespace.com
 * 1354627171008); a US page uses T for "without a cable needle", so a plan can redefine it.
 */

import { NUM } from '../../lex/numbers.ts';
import { cableKind, cableName } from '../../stitches/cables.ts';

export interface ReadCable {
  readonly name: string;
  readonly end: number;
  /** What is ambiguous about the wording, empty if nothing. */
  readonly doubt: string;
}

const EDGE = '(?![a-z0-9])';
const SLASHED = new RegExp(
  `(\\d{1,2})\\s*(?:/|-over-|\\s+over\\s+|x)\\s*(\\d{1,2})(?:\\s*/\\s*(\\d{1,2}))?[\\s-]*(?:st\\s+)?(?:(l|r)(?:h)?(k|p)?[\\s-]?(?:c|t|x)${EDGE}|(left|right)[\\s-]*(?:(purl|knit)[\\s-]*)?(?:cross|cable|twist|leaning)?(?:\\s*(?:cross|cable))?${EDGE})`,
  'y',
);
const TRAILING = new RegExp(
  `(l|r)(k|p)?[ct]\\s*\\(?\\s*(\\d{1,2})\\s*/\\s*(\\d{1,2})(?:\\s*/\\s*(\\d{1,2}))?\\s*\\)?${EDGE}`,
  'y',
);
const TOTAL = new RegExp(
  `(?:(c|t|cr|tw)\\s*(\\d{1,2})\\s*(?:st)?\\s*(f(?:ront|wd)?|b(?:ack)?|l(?:eft)?|r(?:ight)?)\\s*(p(?:url)?)?|cable\\s*(\\d{1,2})\\s*(?:sts?\\s*)?(front|back|forward|left|right|f|b))${EDGE}`,
  'y',
);
const SIZED = new RegExp(
  `(${NUM})[\\s-]*(?:st|stitch)[\\s-]*(?:(l|r)(k|p)?[ct]|(left|right)[\\s-]*(?:(purl)[\\s-]*)?(?:cross|cable|twist))${EDGE}`,
  'y',
);
const TWIST = new RegExp(
  `(?:(l|r)(p)?t|(left|right)\\s+(purl\\s+)?twist|tw(ist)?\\s*2?\\s*(l|r|left|right|f|b))${EDGE}`,
  'y',
);

/** "slip the next 4 sts to a cable needle and hold it in front, k4, k4 from the cable needle" */
const STS = '\\s*(?:sts?|stitch(?:es)?)?';
const CN = '(?:a\\s+|the\\s+)?(?:cable\\s+needle|cn)';
const THEN = '[\\s,;]*(?:and\\s+|then\\s+)*';
const WORKED = '(k|p|knit|purl)\\s*(?:the\\s+)?(?:next\\s+|first\\s+|held\\s+)?';
const IN_WORDS = new RegExp(
  `(?:sl(?:ip)?|put|place|leave|take|hold|transfer|move|keep)\\s*(?:the\\s+)?(?:next\\s+)?(\\d{1,2})${STS}\\s*(?:on\\s*to|onto|to|on)\\s+${CN}${THEN}(?:(?:hold|leave|place|keep|put|bring)(?:ing)?\\s*(?:it\\s+|them\\s+|these\\s+|this\\s+)?)?(?:in|at|to)\\s+(?:the\\s+)?(front|back)(?:\\s+of\\s+(?:the\\s+|your\\s+)?work)?${THEN}${WORKED}(\\d{1,2})${STS}(?:\\s+from\\s+(?:the\\s+|your\\s+)?(?:left|lh|main)(?:[-\\s]hand)?\\s+needle)?${THEN}${WORKED}(\\d{1,2})?${STS}\\s*(?:from|off|of|on)\\s+(?:the\\s+)?(?:cable\\s+needle|cn)`,
  'y',
);

function halves(total: number): [number, number] {
  const over = Math.ceil(total / 2);
  return [over, total - over];
}

function named(
  over: number,
  under: number,
  left: boolean,
  purl: boolean,
  middle: number,
  end: number,
  doubt = '',
): ReadCable | null {
  const name = cableName(over, under, left, purl, middle);
  return cableKind(name) ? { name, end, doubt } : null;
}

/** A crossing that starts exactly at `at` of the normalised text, or null. */
export function readCable(text: string, at: number): ReadCable | null {
  const run = (re: RegExp): RegExpExecArray | null => {
    re.lastIndex = at;
    return re.exec(text);
  };
  let m = run(SLASHED);
  if (m) {
    const left = (m[4] ?? m[6]).startsWith('l');
    const purl = m[5] === 'p' || m[7] === 'purl';
    const middle = m[3] ? Number(m[2]) : 0;
    return named(Number(m[1]), Number(m[3] ?? m[2]), left, purl, middle, SLASHED.lastIndex);
  }
  m = run(IN_WORDS);
  if (m) {
    const [held, other] = [Number(m[1]), Number(m[4])];
    const left = m[2] === 'front';
    const under = left ? m[3] : m[5];
    return named(
      left ? held : other,
      left ? other : held,
      left,
      under.startsWith('p'),
      0,
      IN_WORDS.lastIndex,
    );
  }
  m = run(TRAILING);
  if (m) {
    const middle = m[5] ? Number(m[4]) : 0;
    const under = Number(m[5] ?? m[4]);
    return named(Number(m[3]), under, m[1] === 'l', m[2] === 'p', middle, TRAILING.lastIndex);
  }
  m = run(TOTAL);
  if (m) {
    const total = Number(m[2] ?? m[5]);
    const way = (m[3] ?? m[6])[0];
    if (total < 2) return null;
    const left = way === 'f' || way === 'l';
    const purl = m[1] === 't' || m[4] !== undefined;
    let [over, under] = halves(total);
    // C3L and C3R carry the single stitch over the pair; C3F and C3B the pair over the single one.
    if (total === 3 && (way === 'l' || way === 'r')) [over, under] = [1, 2];
    const doubt =
      total % 2 && total > 3
        ? `${total} stitches can cross in two ways; read as ${over} over ${under}`
        : '';
    return named(over, under, left, purl, 0, TOTAL.lastIndex, doubt);
  }
  m = run(SIZED);
  if (m) {
    const total = Number(m[1]);
    if (total < 2) return null;
    const [over, under] = halves(total);
    const left = (m[2] ?? m[4]).startsWith('l');
    const doubt =
      total % 2 && total > 3
        ? `${total} stitches can cross in two ways; read as ${over} over ${under}`
        : '';
    return named(over, under, left, m[3] === 'p' || !!m[5], 0, SIZED.lastIndex, doubt);
  }
  m = run(TWIST);
  if (m) {
    const way = (m[1] ?? m[3] ?? m[6])[0];
    const purl = m[2] !== undefined || m[4] !== undefined;
    return named(1, 1, way === 'l' || way === 'f', purl, 0, TWIST.lastIndex);
  }
  return null;
}
