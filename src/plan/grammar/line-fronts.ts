/**
 * What stands in front of a line's first instruction: marks of lists, captions. In: a passage, the tokens of the
 * line. Out: the place behind them.
 */
import type { Token } from '../lex/tokens.ts';
import { explainsFabric } from './explains.ts';
import { ledIn } from './lead-in.ts';
import type { Line } from './lines.ts';
import type { Passage } from './passage.ts';
import { isUnit } from './phrases.ts';
import { readRoundsTold } from './rounds-told.ts';
import type { StartFinder } from './starts.ts';
import { leadsToLabel } from './statements/label/holds.ts';
import { readLabel } from './statements/label/label.ts';
import { headsRounds } from './statements/work.ts';
import { leftToYou } from './telling.ts';
import { isStitchWord, tellsEachSide } from './word-law.ts';

/** Fewest lines that make a list of asterisks. Chosen: two may well be repeats. */
const FEWEST_BULLETS = 3;

/** Several lines begin with an asterisk and a space, and no "repeat" closes any of them: a list. */
export function starBullets(lines: readonly Line[], tokens: readonly Token[]): boolean {
  let bullets = 0;
  for (const { first, last } of lines) {
    if (last - first < 2 || tokens[first].text !== '*' || !tokens[first + 1].spaced) continue;
    let stars = 0;
    let repeats = 0;
    for (let i = first; i < last; i++) {
      if (tokens[i].text === '*') stars++;
      else if (/^rep(?:eat)?$/.test(tokens[i].text) && tokens[i + 1]?.text === 'from') repeats++;
    }
    if (stars < 1 + 2 * repeats) return false;
    bullets++;
  }
  return bullets >= FEWEST_BULLETS;
}

/** Marks of lists in front of a line; `starred`: asterisks are such marks. */
export function afterBullets(passage: Passage, from: number, end: number, starred = false): number {
  let i = from;
  while (i < end) {
    const t = passage.tokens[i];
    if (t.kind !== 'mark') break;
    const next = passage.tokens[i + 1];
    if (starred && i === from && t.text === '*' && next?.spaced) i++;
    else if (t.text === '•' || t.text === '>' || t.text === '#' || (t.text === '-' && next?.spaced))
      i++;
    else if (
      t.text === '*' &&
      next?.spaced &&
      /^(?:round|rnd|row|cast|co|bind|join|repeat|needles?|n|ndl)$/.test(next.text)
    )
      i++;
    else if (t.text === '[' && next?.text === ']') i += 2;
    else if (t.text === '*' && next?.spaced && readLabel(passage.cursor(i + 1, end))?.marked) i++;
    else if (t.text === '*' && next?.text === '*') i += 2;
    else break;
  }
  return i;
}

const PARTED = /^(?:part|section|stage|phase|half|chapter)$/;

/** "Edge: knit 3 rows": words before a colon that ask for nothing; gives the place behind them. */
export function afterCaption(
  passage: Passage,
  finder: StartFinder,
  first: number,
  last: number,
): number {
  if (isUnit(passage.cursor(first, last)) || leftToYou(passage.tokens.slice(first, last)))
    return first;
  const led = ledIn(passage, first, last);
  if (led > first && !finder.startAt(first, last) && finder.startAt(led, last)) return led;
  if (readRoundsTold(passage.cursor(first, last))) return first;
  const { text } = passage.tokens[first];
  let i = text === 'first' && passage.tokens[first + 1]?.kind === 'word' ? first + 1 : first;
  while (i < last && i - first < 7 && passage.tokens[i].text !== ':') {
    const t = passage.tokens[i];
    if (t.text === ',' && i > first) {
      // "Edging, rows 1-4: …"
      const label = passage.cursor(i + 1, last);
      return isUnit(label) && label.isNumber(1) && readLabel(label)?.marked ? i + 1 : first;
    }
    // "Edging - 1st row P., 2nd row K."
    if (t.text === '-' && t.spaced && leadsToLabel(passage.cursor(i + 1, last), last)) return i + 1;
    // "Part 1 (increase): …"
    const numbered = PARTED.test(text) && (t.kind === 'number' || '()'.includes(t.text));
    if (t.kind !== 'word' && !(t.kind === 'mark' && t.text === '-') && !numbered) return first;
    if (isStitchWord(t)) return first;
    i++;
  }
  if (i >= last - 1 || i === first || passage.tokens[i].text !== ':') return first;
  const c = passage.cursor(first, last);
  const sentence = passage.tokens.slice(first, passage.sentenceEnd(first, last, '.!?'));
  const behind = passage.cursor(i + 1, last);
  const over = leadsToLabel(behind, last) || headsRounds(passage.cursor(i + 1, last));
  if ((readLabel(c) && !over) || finder.startAt(first, last) || explainsFabric(sentence))
    return first;
  if (/^(?:needles?|ndl|side|section|n|front|back|on|each|every)$/.test(passage.tokens[first].text))
    return first;
  // "Now increase on each needle like this: …"
  if (tellsEachSide(passage.tokens.slice(first, i))) return first;
  return i + 1;
}
