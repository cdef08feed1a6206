/**
 * Rounds told by the words of a key: "dec = ssk, knit to last 2 sts, k2tog" and below it "2: dec = 72". In: the designer's
 * text, its tables made lines. Out: the key's words in place of each name, the key itself passed over; none where fewer than
 * two rounds are told so.
 */
import type { Replacement } from './numbers.ts';

const KEY =
  /^[ \t•*-]{0,8}["“]?([a-z]{1,12}(?: [a-z]{1,10})?)["”]?[ ]?(?:=|:| - | means )[ ]?((?=[^\n]*\b(?:k|p|knit|purl|ssk|skp|k2tog|yo|kfb)\b)[^\n|]{3,140}?)\.?[ \t]*$/gim;
const HEADING =
  /^[ \t]*(?:the )?(?:key|legend)(?: to (?:the )?(?:table|chart|rounds))?[ ]?:?[ \t]*$/gim;
const LABEL =
  '^[ \\t]{0,8}(?:(?:rounds?|rnds?|rds?|rows?|r) ?)?\\d{1,3}(?: ?(?:-|–|,|and) ?\\d{1,3})*[ \\t]{0,16}[:.)][ \\t]{0,4}';
/** Words of other lines of that form. */
const NO_NAME =
  /(?:^| )(?:rounds?|rnds?|rds?|rows?)$|^(?:cast on|co|gauge|tension|yarn|needles?|size|note|notes|round|row|rnd|next round|materials|abbreviations|join|finish|finishing|to finish|bo|set up|setup)$/i;

export function roundsByKey(text: string): Replacement[] {
  const out: Replacement[] = [];
  for (const m of text.matchAll(KEY)) {
    const [said, name, meaning] = m;
    if (NO_NAME.test(name)) continue;
    const cell = new RegExp(`(${LABEL})${name}(?=[ \\t]*(?:$|=|\\(|[-–→]))`, 'gim');
    const cells = [...text.matchAll(cell)];
    if (cells.length < 2) continue;
    // "dec = …" is a meaning that may be asked for elsewhere too.
    if (/^[^=]*:/.test(said)) out.push({ from: m.index, to: m.index + said.length, text: '' });
    for (const { index, 0: all, 1: label } of cells)
      out.push({ from: index + label.length, to: index + all.length, text: meaning });
  }
  if (out.length === 0) return [];
  for (const { index, 0: said } of text.matchAll(HEADING))
    out.push({ from: index, to: index + said.length, text: '' });
  return out;
}
