/**
 * Words among the stitches that ask for no stitch: facings, joins, "ending with", the round's colour, the
 * count that the stitches behind it come to. In: a cursor at the words. Out: true and the cursor behind them,
 * with what they say of the round kept; false otherwise.
 */
import { COLOUR_SHADES, COLOUR_WORDS } from '../../lexicon/colour-words.ts';
import { regex } from '../../lexicon/expression.ts';
import { AROUND_STITCHES, IDLE_PHRASES } from '../../lexicon/idle-phrases.ts';
import type { StepCursor } from './step-cursor.ts';
import { wording } from './wording.ts';

const IDLE = wording(`{ ${IDLE_PHRASES.join(' | ')} }`, '(?![a-z0-9])\\s*:?');
const AROUND = wording(`{ ${AROUND_STITCHES.join(' | ')} }`, '(?![a-z0-9])');
/** "decrease 8 sts: …" before the stitches that do so. */
const PROMISED = wording(
  'dec|decrease|inc|increase # @sts :',
  '\\s*(?=(?:at|on|each|every|for)\\s+(?:each|every|all|the|needle|side)|[*([]|[kp]\\d|ssk|skp)',
);

export function readIdleWords(cursor: StepCursor): boolean {
  if (cursor.match(AROUND)) return true;
  const promised = cursor.match(PROMISED);
  if (promised) {
    cursor.promised ??= (promised[0][0] === 'd' ? -1 : 1) * Number(promised[1]);
    return true;
  }
  const noise = cursor.match(IDLE);
  if (noise) cursor.colour ??= colourIn(noise[0]);
  return noise !== null;
}

const PLAIN = regex.plain`\b((?:(?:${[...COLOUR_SHADES].join('|')}) )?(?:${[...COLOUR_WORDS].join('|')}))\b`;

/** "with CC", "using colour B", "in dark red" */
function colourIn(words: string): string | null {
  const m =
    /\b(mc|cc\d?)\b|\b(main|first)\b(?=\s+[a-z])|\bcontrast|\bsecond (?=[a-z])|(?:colou?r|yarn|with|using|in)\s+([a-h])\b/.exec(
      words,
    );
  if (!m) return PLAIN.exec(words)?.[1] ?? null;
  if (m[1]) return m[1].toUpperCase();
  if (m[2])
    return words.includes('first') && !/first\s+(?:colou?r|yarn|shade)/.test(words) ? null : 'MC';
  return m[3] ? `colour ${m[3].toUpperCase()}` : 'CC';
}
