/**
 * Words between instructions, which no rule has followed: counts, rounds of stitches, prose; the law
 * (`prose.ts`) says which of it could instruct. In: a passage and the tokens. Out: nodes that cover them.
 */
import type { EndWords, RoundBody, RoundLabel, Statement } from './ast.ts';
import { readChangeTold } from './change-told.ts';
import { explainsRound } from './explains.ts';
import {
  besideEndingInstructs,
  leftoverInstructs,
  limitsBinding,
  strayInstructs,
} from './leftovers.ts';
import { onlyTells } from './narration/only-tells.ts';
import type { Passage } from './passage.ts';
import { sentenceInstructs } from './prose.ts';
import { proseSentences } from './prose-sentences.ts';
import { isRemark } from './remarks.ts';
import type { Stretch } from './rules.ts';
import { isGaugeSentence } from './statements/gauge.ts';
import { readGoingOn } from './statements/going-on.ts';
import { declaredRepeats } from './steps/declared-repeats.ts';
import { readStatedCount, type StatedCount } from './steps/stated-counts.ts';
import { isLame, MOST_PARTS, sentenceBehind, stitchSentence } from './stitch-sentences.ts';
import { isStitchWord, limits } from './word-law.ts';

/** Words of a cast-on, set-up or ending that no rule follows, with what the law says of each stretch. */
export function unreadWords(
  passage: Passage,
  unread: readonly Stretch[],
  start: number,
  ending: EndWords | null = null,
): Statement[] {
  const apart = unread.filter((s, i) => s.apart && s.apart.first !== unread[i - 1]?.apart?.first);
  return [...unread.filter((s) => !s.apart), ...apart].map((stretch): Statement => {
    const { first: from, end, core } = stretch;
    const before = passage.tokens[from - 1];
    const words = passage.tokens.slice(from, end);
    const behind =
      from > start &&
      before?.kind !== 'mark' &&
      !/^(?:and|then)$/.test(before.text) &&
      passage.tokens[from].text !== '-';
    const whole = before?.kind === 'mark' && '.;!?:'.includes(before.text);
    const sentence = stretch.apart
      ? passage.tokens.slice(stretch.apart.first, stretch.apart.end)
      : passage.tokens.slice(
          passage.sentenceStart(from),
          passage.sentenceEnd(end - 1, Math.min(passage.tokens.length, end + 60)),
        );
    const [head, mark] = sentence;
    const said = passage.text.slice(head.from, sentence[sentence.length - 1].to);
    const clause = clauseAround(passage, from, end, start);
    // "s2kp: slip 2 together, …" explains a stitch.
    const defines = isStitchWord(head) && /^[:=]$/.test(mark?.text ?? '');
    // "Execution: with needles no. 4 cast on …"
    const headed =
      from === start &&
      end - from <= 3 &&
      passage.tokens[end]?.text === ':' &&
      words.every((t) => t.kind === 'word' && !isStitchWord(t));
    const idle =
      headed ||
      isGaugeSentence(said) ||
      declaredRepeats(said) !== null ||
      defines ||
      explainsRound(sentence) ||
      isRemark(passage.tokens.slice(clause.first, clause.end), clause.first > start);
    const told = !idle && onlyTells(passage.tokens.slice(clause.first, clause.end));
    const asks = (): boolean => {
      if (stretch.apart) return sentenceInstructs(sentence);
      if (ending && !besideEndingInstructs(words, ending, behind)) return false;
      if (ending?.binds && limitsBinding(words)) return true;
      return whole ? sentenceInstructs(words) : strayInstructs(words, behind, core - from);
    };
    const at = stretch.apart ?? (told ? clause : stretch);
    return {
      kind: 'prose',
      heading: false,
      instructs: !idle && !told && asks(),
      ...passage.span(at.first, at.end),
    };
  });
}

/** The clause that the words stand in: "as shown in photo 3", of which only the number is left. */
function clauseAround(
  passage: Passage,
  from: number,
  end: number,
  start: number,
): { readonly first: number; readonly end: number } {
  const { tokens } = passage;
  const parts = (i: number): boolean =>
    (tokens[i].kind === 'mark' && !'-\'"'.includes(tokens[i].text)) ||
    /^(?:and|then)$/.test(tokens[i].text);
  const dash = (i: number): boolean => tokens[i].text === '-' && tokens[i].spaced;
  let first = from;
  while (first > start && !parts(first - 1) && !dash(first)) first--;
  let last = end;
  while (last < tokens.length && last - end < 30 && !parts(last) && tokens[last].kind !== 'line')
    last++;
  return { first, end: last };
}

/** "(64 sts) Time to change needles": a count in brackets, and a sentence behind it. */
function countInFront(
  passage: Passage,
  from: number,
  end: number,
): { readonly stated: StatedCount; readonly next: number } | null {
  const c = passage.cursor(from, end);
  const close = c.mark('([') ? c.closing(12) : -1;
  if (close < 0 || close + 1 >= end) return null;
  const stated = readStatedCount(c.slice(from + 1, close));
  return stated && { stated, next: close + 1 };
}

/** What stands behind the words that an instruction took, up to the next one. */
export function leftoverWords(passage: Passage, from: number, end: number): Statement[] {
  const out: Statement[] = [];
  let i = from;
  let inSentence = true;
  let tried = 0;
  let full = -1;
  while (i < end) {
    const stop = passage.sentenceEnd(i, end);
    if (i > full) {
      full = passage.sentenceEnd(i, end, '.!?');
      tried = 0;
    }
    const round = inSentence || tried++ > MOST_PARTS ? null : stitchSentence(passage, i, full, end);
    if (round) {
      out.push(round.statement);
      i = round.next;
      continue;
    }
    const bracketed = inSentence ? null : countInFront(passage, i, stop);
    if (bracketed) {
      out.push({ kind: 'count', stated: bracketed.stated, ...passage.span(i, bracketed.next) });
      i = bracketed.next;
      continue;
    }
    const words = passage.tokens.slice(i, stop);
    if (words.length > 0) {
      const count = readStatedCount(
        passage.text
          .slice(words[0].from, words[words.length - 1].to)
          .replace(/^[\s([{=:-]+|[\s)\]}.]+$/g, ''),
      );
      const change = !inSentence && readChangeTold(passage.cursor(i, stop)) !== null;
      if (count && !inSentence && !change && !limits(words))
        out.push({ kind: 'count', stated: count, ...passage.span(i, stop) });
      else {
        const told = inSentence ? countBehind(passage, i, stop) : null;
        const to = told?.at ?? stop;
        const said = passage.tokens.slice(i, to);
        const alone = said.length > 0 && onlyTells(said);
        const instructs =
          !alone && (inSentence ? leftoverInstructs(said) : sentenceInstructs(said));
        if (said.length > 0)
          out.push({ kind: 'prose', heading: false, instructs, ...passage.span(i, to) });
        if (told) out.push({ kind: 'count', stated: told.stated, ...passage.span(to, stop) });
      }
    }
    inSentence = false;
    i = stop + 1;
  }
  return out;
}

/** "…, marking the corners - 104 sts": where a count of stitches begins at the end of a sentence; null where none stands. */
function countBehind(
  passage: Passage,
  from: number,
  stop: number,
): { readonly at: number; readonly stated: StatedCount } | null {
  const { tokens, text } = passage;
  for (let at = stop - 2; at > from && stop - at < 8; at--) {
    if (!/^[-=:(,]$/.test(tokens[at].text) || tokens[at + 1].kind !== 'number') continue;
    const words = text.slice(tokens[at + 1].from, tokens[stop - 1].to).replace(/[)\s]+$/, '');
    const stated = /\b(?:sts?|stitch(?:es)?)\b/.test(words) ? readStatedCount(words) : null;
    if (stated) return { at, stated };
  }
  return null;
}

/** Sentences behind a round's stitches that are looked at. Chosen: bounds the time. */
const MOST_SENTENCES = 12;

/**
 * A round with words in it that were not followed: its stitches up to some sentence, and what stands behind them, where
 * all of that is prose or a count by itself. Null where no sentence parts the two.
 */
export function parted(
  passage: Passage,
  label: RoundLabel | null,
  from: number,
  end: number,
): { readonly body: RoundBody; readonly at: number; readonly behind: readonly Statement[] } | null {
  let i = from;
  for (let n = 0; n < MOST_SENTENCES; n++) {
    i = sentenceBehind(passage, i, end);
    if (i >= end) return null;
    // "Every row is k1, k2tog, k to end, until you have 3 stitches. Knit those 3 together"
    const every = label?.every ? passage.body(label, from, i) : null;
    if (every?.kind === 'steps' && every.until && !isLame(every))
      return { body: every, at: i, behind: leftoverWords(passage, i - 1, end) };
    if (label?.every) {
      const stopped = stoppedLater(passage, label, from, i, end);
      if (stopped) return stopped;
    }
    const first = passage.sentenceEnd(i, end, '.!?');
    const next = passage.tokens.slice(i, first);
    // "You just added 8 stitches."
    const told =
      next.length > 0 &&
      readStatedCount(passage.text.slice(next[0].from, next[next.length - 1].to));
    if (!told && sentenceInstructs(next)) continue;
    const body = passage.body(label, from, i);
    if (body.kind === 'steps' && (isLame(body) || body.steps.length === 0)) continue;
    const behind = proseSentences(passage, i, end);
    if (behind.some((s) => s.kind === 'prose' && s.instructs)) continue;
    return { body, at: i, behind };
  }
  return null;
}

/** Marks of a round at which a telling tail is looked for. Chosen: bounds the time. */
const MOST_MARKS = 24;

/** "…, repeat from * on each needle; eight have gone, so the needles carry 18 apiece": the round, and what the tail of its sentence tells. */
export function toldTail(
  passage: Passage,
  label: RoundLabel | null,
  from: number,
  end: number,
): ReturnType<typeof parted> {
  const { tokens } = passage;
  for (let i = from + 1, n = 0; i + 1 < end && n < MOST_MARKS; i++) {
    const { text, spaced } = tokens[i];
    if (!/^[,;:(-]$/.test(text) || (text === '-' && !spaced)) continue;
    n++;
    const stop = passage.sentenceEnd(i + 1, end, '.!?');
    if (!onlyTells(tokens.slice(i + 1, stop))) continue;
    const body = passage.body(label, from, i);
    if (body.kind !== 'steps' || isLame(body) || body.steps.length === 0) continue;
    const behind = proseSentences(passage, i + 1, end);
    if (behind.some((s) => s.kind === 'prose' && s.instructs)) return null;
    return { body, at: i, behind };
  }
  return null;
}

/** "Every row: knit 2, yo, knit to end. That adds 1 stitch. When 4 are left, …": its stitches, and the stop that a later sentence tells. */
function stoppedLater(
  passage: Passage,
  label: RoundLabel,
  from: number,
  at: number,
  end: number,
): ReturnType<typeof parted> {
  const body = passage.body(label, from, at);
  if (body.kind !== 'steps' || isLame(body) || !body.hasStitches) return null;
  for (let i = at, n = 0; i < end && n < MOST_SENTENCES; n++) {
    const stop = passage.sentenceEnd(i, end, '.!?');
    const c = passage.cursor(i, stop);
    const going = readGoingOn(c);
    if (
      going?.stop &&
      !going.asks &&
      going.tail.untilStitches !== null &&
      (c.done || c.mark(','))
    ) {
      const prose = { kind: 'prose', heading: false, instructs: false } as const;
      const behind: Statement[] = [{ ...prose, ...passage.span(at, c.i) }];
      if (c.i + 1 < end) behind.push(...leftoverWords(passage, c.i, end));
      return { body: { ...body, until: going.tail }, at, behind };
    }
    if (sentenceInstructs(passage.tokens.slice(i, stop))) return null;
    i = stop + 1;
  }
  return null;
}
