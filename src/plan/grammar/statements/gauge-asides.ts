/**
 * Gauges told within a line of something else: "Cast on 41 sts (20 sts and 40 rows = 10 cm in garter stitch)". In: the
 * tokens and lines. Out: the tokens without them, the lines moved, and where each of them stands.
 */
import type { Token } from '../../lex/tokens.ts';
import {
  BESIDE_GAUGE,
  BETWEEN_GAUGE,
  FABRIC_OF_GAUGE,
  LEADS_TO_GAUGE,
  NAMES_GAUGE,
} from '../../lexicon/gauge-words.ts';
import type { Line } from '../lines.ts';
import { says } from '../rules.ts';
import { TokenCursor } from '../token-cursor.ts';

/** A gauge among the words of a line, and the words that go with it. */
export interface GaugeAside {
  readonly text: string;
  readonly from: number;
  readonly to: number;
}

/** Most gauges that are looked for in one text. Chosen: a pattern has a few; bounds the time. */
const MOST = 40;
/** Most tokens before the figures that may lead to them. Chosen. */
const MOST_LEADING = 14;

const BOTH = [
  '# -? @sts and|,|x|/|&|+|by|;|to|in|for* # -? @unit|ridges',
  '# -? @unit|ridges and|,|x|/|&|+|by|;|to|in|for* # -? @sts',
];
const ONE = ['# -? @sts', '# -? @unit|ridges'];
const SHORT = '# / #';
const LENGTHS = [
  '# -? @length|" x|by # -? @length|"',
  '# x|by # -? @length|"',
  '# -? @length|"',
  '@length',
];
const OTHER_LENGTHS = ['( # -? @length|" )', '/|or # -? @length|"', '( # x|by # -? @length|" )'];
const NEEDLES = ['on|with|using? # mm @tool*', 'on|with|using us|uk|size|a* # @tool*'];
/** A word that leads to figures in the same sentence. */
function leads({ text: word, to }: Token, text: string): boolean {
  return (LEADS_TO_GAUGE.has(word) || BESIDE_GAUGE.has(word)) && text[to - 1] !== '.';
}

/** Takes the gauges that stand within other lines out of the tokens. */
export function liftGauges(
  tokens: readonly Token[],
  lines: readonly Line[],
  text: string,
): { tokens: readonly Token[]; lines: Line[]; asides: readonly GaugeAside[] } {
  const asides: GaugeAside[] = [];
  const kept: Token[] = [];
  const moved = lines.map((line): Line => {
    const first = kept.length;
    let i = line.first;
    while (i < line.last) {
      const found = asides.length >= MOST ? null : asideAt(tokens, text, line, i, kept, first);
      if (!found || line.taken) {
        // A line of its own such as "Yarn: …" has been read, but for a gauge in it.
        if (found) asides.push(found.aside);
        kept.push(tokens[i++]);
        continue;
      }
      kept.length = found.keep;
      if (found.stop >= 0) kept.push(tokens[found.stop]);
      asides.push(found.aside);
      i = found.next;
    }
    return { ...line, first, last: kept.length };
  });
  return asides.length === 0
    ? { tokens, lines: [...lines], asides }
    : { tokens: kept, lines: moved, asides };
}

/** The gauge whose figures begin at token `i`; `keep`: how many of the tokens kept so far stay; `stop`: a full stop to keep, or -1. */
function asideAt(
  tokens: readonly Token[],
  text: string,
  line: Line,
  i: number,
  kept: readonly Token[],
  first: number,
): {
  readonly aside: GaugeAside;
  readonly keep: number;
  readonly stop: number;
  readonly next: number;
} | null {
  if (tokens[i].kind !== 'number') return null;
  const c = new TokenCursor(tokens, text, i, line.last);
  // "tension 22/44": to 10 cm (common practice)
  const short = /^(?:gauge|tension)$/.test(tokens[i - 1]?.text ?? '') && says(c, SHORT) !== null;
  const stitches = short || figures(c);
  if (stitches === null) return null;
  let keep = kept.length;
  let named = false;
  let fabric = true;
  while (keep > first && kept.length - keep < MOST_LEADING && leads(kept[keep - 1], text)) {
    keep--;
    named ||= NAMES_GAUGE.has(kept[keep].text);
    fabric &&= FABRIC_OF_GAUGE.has(kept[keep].text);
  }
  const before = keep > first ? kept[keep - 1] : null;
  // "Cast on 21 sts. 20 sts and 32 rows = 10 cm": the full stop went to the shortened word.
  const stopped = before !== null && before.kind === 'word' && text[before.to - 1] === '.';
  const apart =
    before === null || stopped || (before.kind === 'mark' && '.,;:!?(['.includes(before.text));
  if (!named && (!apart || !stitches || (keep < kept.length && !fabric))) return null;
  const from = keep < kept.length ? kept[keep].from : tokens[i].from;
  const aside = { text: text.slice(from, tokens[c.i - 1].to), from, to: tokens[c.i - 1].to };
  // What stood around it: brackets, a sentence of its own, or one of two commas.
  let stop = -1;
  if (before && '(['.includes(before.text)) {
    if (c.eatMark('.')) stop = c.i - 1;
    if (!c.eatMark(')]')) return null;
    keep--;
  } else if (before === null || stopped || '.!?:'.includes(before.text)) {
    if (c.eatMark('.;!')) {
      if (stopped) stop = c.i - 1;
    } else {
      c.eatMark(',');
      c.phrase('and|so|then');
    }
  } else if (before.kind === 'mark' && (c.done || c.mark('.,;:!)'))) keep--;
  return { aside, keep, stop, next: c.i };
}

/** "20 sts = 10 cm, 32 rows = 10 cm in garter stitch": whether stitches are among them; null where no gauge stands here. */
function figures(c: TokenCursor): boolean | null {
  let stitches: boolean | null = null;
  for (;;) {
    const { i } = c;
    if (stitches !== null) while (c.eatMark(',;&') || c.phrase('and|by'));
    const both = BOTH.some((rule) => says(c, rule));
    const one = both ? null : ONE.findIndex((rule) => says(c, rule));
    if (one === -1) {
      c.i = i;
      return stitches;
    }
    const behind = c.i;
    while (!c.done && (BETWEEN_GAUGE.has(c.here()) || BESIDE_GAUGE.has(c.here()))) c.i++;
    if (c.i === behind || !LENGTHS.some((rule) => says(c, rule))) {
      c.i = i;
      return stitches;
    }
    while (OTHER_LENGTHS.some((rule) => says(c, rule)));
    behindFigures(c);
    stitches = stitches === true || both || one === 0;
  }
}

/** ", in garter stitch": over what the gauge was measured; behind a comma up to the next mark only. */
function behindFigures(c: TokenCursor): void {
  const pass = (): void => {
    while (!c.done && (NEEDLES.some((rule) => says(c, rule)) || passed(c)));
  };
  pass();
  const { i } = c;
  if (!c.eatMark(',')) return;
  pass();
  if (c.i === i + 1 || !(c.done || c.mark('.,;:)]'))) c.i = i;
}

function passed(c: TokenCursor): boolean {
  if (!BESIDE_GAUGE.has(c.here())) return false;
  c.i++;
  return true;
}
