/**
 * Rounds asked for by the names that the text gives them: "do two shrinky rounds", "one more corner round", "A once". In: a
 * cursor at the words. Out: the clause, the cursor behind it; null where none is named here.
 */
import { LEADS } from '../../../lexicon/words.ts';
import type { WorkClause } from '../../ast.ts';
import { ownRound } from '../../round-names.ts';
import { says, saysAny } from '../../rules.ts';
import { emptyTail, type OpenTail, stopOf } from '../../tail/open-tail.ts';
import { readTimesPart } from '../../tail/times.ts';
import { readUntil } from '../../tail/until.ts';
import { readTailPart } from '../../tail.ts';
import type { TokenCursor } from '../../token-cursor.ts';
import { overStitches } from './told-beside.ts';

const VERBS = [
  'finish|finishing|end|ending|close|begin|start|follow off|up|on|that? with|by|on',
  'followed by',
  'work|working|do|doing|knit|make|making|repeat|repeating|rep|use|add|insert just|in|on|over?',
  'it|that is now? just?',
  'it|that is now? time for|to',
  "it's|that's|time|here|now|next|then|last|first|finally,* time|comes|come|follows for|to|now*",
  'follow|following|use|apply|insert|go|going through|with|by?',
];
const HOW_MANY = [
  '# more|further|additional|extra|other|last|final|such|of|the|these|those*',
  'a|an|one|the|another|your|my|this|that|our|more|further|last|final|single|same|first|very*',
];

/** Most rounds by one name and number. Chosen. */
const MOST = 400;

export function ownRounds(c: TokenCursor): WorkClause | null {
  if (!c.own?.roundNames.size) return null;
  return c.attempt<WorkClause>(() => {
    const start = c.i;
    const listed = /^(?:[,+&]|and|then|by)$/.test(c.here(-1));
    c.skip(LEADS);
    const led = c.i > start && /^(?:then|finally|now)$/.test(c.here(-1));
    const verb = saysAny(c, VERBS);
    // "A + B": a letter, and no article
    const lettered = /^[a-h]$/.test(c.word()) ? ownRound(c, true) : null;
    const { i } = c;
    const many = lettered ? null : saysAny(c, HOW_MANY);
    // "…, the pinch round" only says its name.
    const said = /^(?:the|my|your|our|this|that)$/.test(c.slice(i, c.i));
    if (said && !(listed || led || verb)) return null;
    const asked = listed || led || verb !== null || many !== null;
    const name = lettered ?? ownRound(c, asked || listsMore(c));
    if (name === null) return null;
    const tail = emptyTail();
    says(c, 'once? again|more') ?? says(c, 'only|alone');
    says(
      c,
      ',? as|just|exactly|was|is|we|i|have* described|told|given|explained|above|below|before|earlier|written above|below|before|earlier|out|here?',
    );
    readTails(c, tail);
    if (
      !(
        c.done ||
        c.mark('.,;!&+()*[]-') ||
        /^(?:and|then|so|which|before|followed)$/.test(c.word())
      )
    )
      return null;
    const at = c.span(start);
    const n = many?.[0] ?? 1;
    if (!Number.isInteger(n) || n < 1 || n > MOST) return null;
    if (n > 1 && tail.every !== null)
      return { kind: 'named', name, repeats: true, tail: { ...tail, times: n }, ...at };
    if (n === 1) return { kind: 'named', name, repeats: true, tail, ...at };
    const one = { kind: 'named', name, repeats: true, tail: { ...emptyTail(), times: 1 } } as const;
    const parts = Array.from({ length: n }, () => ({ ...one, ...at }));
    return {
      kind: 'sequence',
      parts,
      tail: stopOf(tail) === null ? { ...tail, times: 1 } : tail,
      ...at,
    };
  });
}

/** ", once more", ": 4 times", ". 32 sts" */
function readTails(c: TokenCursor, tail: OpenTail): void {
  for (let n = 0; n < 8; n++) {
    if (readTailPart(c, tail) || overStitches(c, { tail })) continue;
    const behind = c.takes(
      () => c.eatMark(':,') !== null && (readTimesPart(c, tail) || readUntil(c, tail)),
    );
    if (!behind) return;
  }
}

/** "A + B, …", "ridge, cutting, …": another name follows behind a mark. */
function listsMore(c: TokenCursor): boolean {
  return c.ahead(
    () =>
      ownRound(c, true) !== null &&
      says(c, ',|+|&|and|then*') !== null &&
      ownRound(c, true) !== null,
  );
}
