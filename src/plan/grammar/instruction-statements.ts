import type { Token } from '../lex/tokens.ts';
import type { SetUp, Statement, Told } from './ast.ts';
import { setsUpLater } from './hidden-orders.ts';
import { keepsSome } from './limits.ts';
import { moodOf } from './mood.ts';
import { ordersBehind, ordersInOpening } from './out-of-place.ts';
import type { Passage } from './passage.ts';
import { sentencesBehind } from './prose-sentences.ts';
import type { Stretch } from './rules.ts';
import type { Progress, Start } from './start.ts';
import { readCastOn } from './statements/cast-on.ts';
import { readEnding } from './statements/ending.ts';
import { keepsOnly } from './statements/ending-kind.ts';
import { endsJoined } from './statements/opening/end-stitches.ts';
import { readSetUp } from './statements/set-up.ts';
import { closingStitches } from './stitch-sentences.ts';
import type { TokenCursor } from './token-cursor.ts';
import { leftoverWords, unreadWords } from './words-between.ts';

export function statementsOf(
  start: Exclude<Start, { kind: 'round' }>,
  end: number,
  passage: Passage,
  progress: Progress,
  item: number | undefined,
): Statement[] {
  const out: Statement[] = [];
  const at = passage.span(start.at, end);
  const numbered = item === undefined ? {} : { item };
  switch (start.kind) {
    case 'cast-on': {
      const { castOn, unread, parts } = followed(passage, 'cast-on', start.at, end, readCastOn);
      out.push({ kind: 'cast-on', castOn, ...at, ...numbered });
      const stop = passage.sentenceEnd(start.at, end, '.!?') + 1;
      const behind = Math.max(stop, start.at + parts);
      out.push(...beside(passage, unreadWords(passage, unread, start.at), behind, end));
      break;
    }
    case 'set-up': {
      const { setUp, unread } = followed(passage, 'set-up', start.at, end, readSetUp);
      const sentence = passage.tokens.slice(start.at, passage.sentenceEnd(start.at, end, '.!?'));
      if (
        setsUpLater(sentence, progress.worked) ||
        (progress.worked && ordersBeside(setUp, sentence))
      ) {
        out.push(order(passage, start.at, end));
        break;
      }
      out.push({ kind: 'set-up', setUp, ...at, ...numbered });
      out.push(...beside(passage, unreadWords(passage, unread, start.at), start.at, end));
      break;
    }
    case 'work':
      out.push({ ...toldBy(start), ...at, ...numbered });
      out.push(...behindClauses(passage, start.next, end));
      break;
    case 'going':
      out.push({ ...toldBy(start), ...at, ...numbered });
      out.push(...behindClauses(passage, start.next, end));
      break;
    case 'colour':
    case 'crossing':
    case 'edges':
    case 'ground':
    case 'passage':
    case 'pattern':
    case 'tally':
      out.push({ ...toldBy(start), ...at });
      out.push(...leftoverWords(passage, start.next, end));
      break;
    case 'refused':
      out.push({ ...toldBy(start), ...at });
      break;
    case 'end': {
      const stop = Math.min(end, passage.sentenceEnd(start.at, end, '.!?') + 1);
      const { words, unread } = followed(passage, 'ending', start.at, stop, readEnding);
      const drawing = words.binds || (words.draws && words.through) ? words : null;
      const { ended } = progress;
      const said = passage.tokens.slice(start.at, stop);
      const stray =
        ended && !ordersBehind(said) ? [] : unreadWords(passage, unread, start.at, drawing);
      out.push(...stray);
      const told = stray.some((w) => w.kind === 'prose' && w.instructs);
      const some = !told && !words.holds && !words.keeps && !words.thread;
      if (some && keepsSome(passage.text.slice(at.from, at.to)))
        out.push(order(passage, start.at, end));
      out.push({ kind: 'end', words, ...at, ...numbered });
      if (!keepsOnly(words)) progress.ended = true;
      out.push(...sentencesBehind(passage, stop, end, progress.ended));
      break;
    }
  }
  return out;
}

/** Words that ask for something and were not followed. */
function order(passage: Passage, from: number, end: number): Statement {
  return { kind: 'prose', heading: false, instructs: true, ...passage.span(from, end) };
}

/** Words of a cast-on or set-up that were not read, and orders that stand in it and set up nothing. */
function beside(
  passage: Passage,
  unread: readonly Statement[],
  from: number,
  end: number,
): Statement[] {
  const out = [...unread];
  for (let i = from; i < end; ) {
    const stop = passage.sentenceEnd(i, end, '.!?');
    const at = passage.span(i, Math.max(i + 1, stop));
    const told = unread.some((s) => s.from < at.to && at.from < s.to && asksOf(s));
    const joins = (): boolean => {
      const c = passage.cursor(i, stop);
      return endsJoined(c) !== null;
    };
    if (!told && ordersInOpening(passage.tokens.slice(i, stop)) && !joins())
      out.push(order(passage, i, Math.max(i + 1, stop)));
    i = stop + 1;
  }
  return out;
}

/** What stands behind an instruction up to the next one. */
function behindClauses(passage: Passage, from: number, end: number): readonly Statement[] {
  const last = closingStitches(passage, from, end);
  return last ? [last] : leftoverWords(passage, from, end);
}

/** A sentence whose every word is accounted for. */
function followed<T extends { readonly unread: readonly Stretch[] }>(
  passage: Passage,
  what: string,
  from: number,
  end: number,
  read: (c: TokenCursor) => T,
): T {
  const got = passage.followed(what, from, end, () => ({
    read: read(passage.cursor(from, end)),
    first: from,
  }));
  const by = from - got.first;
  const unread = got.read.unread.map((s) => ({
    first: s.first + by,
    end: s.end + by,
    core: s.core + by,
    apart: s.apart && { first: s.apart.first + by, end: s.apart.end + by },
  }));
  return { ...got.read, unread };
}

/** "Put in a round of eyelets", "make a loop on each side": no set-up, but more work. */
function ordersBeside(
  { joins, markers, totals, shares }: SetUp,
  sentence: readonly Token[],
): boolean {
  const joined =
    joins && sentence.some((t) => /^(?:join|clos|connect|link|form|knit|work)/.test(t.text));
  const told = joined || markers !== null || totals.length > 0 || shares.some((s) => s.each > 1);
  return !told && moodOf(sentence) === 'asks';
}

function asksOf(s: Statement): boolean {
  return s.kind === 'prose' && s.instructs;
}

/** The instruction without its place. */
function toldBy({ at: _at, next: _next, ...told }: Start & Told): Told {
  return told;
}
