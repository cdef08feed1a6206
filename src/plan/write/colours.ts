/**
 * Colours of rounds, as plan text and charts name them. In: a colour as a Plan holds it (`MC`, `CC A`, `colour B`, `red`).
 * Out: words that read back as it (`contrast colour A`), a mark of a letter or two for a chart, rounds by colour.
 */
import type { Plan } from '../plan.ts';

/** `contrast colour A`: words that the reader takes for the same colour. */
export function colourInWords(colour: string): string {
  return colour.replace(/^CC (?=[A-D]$)/, 'contrast colour ');
}

/** Behind the label of a round: `, CC`; nothing where rounds have no colours. */
export function colourLabel(colour: string | undefined): string {
  return colour === undefined ? '' : `, ${colourInWords(colour)}`;
}

/** Colours that a piece is worked in, the one cast on with first; none where the text tells none. */
export function coloursOf({
  colours,
  rounds,
  ending,
}: Pick<Plan, 'colours' | 'rounds' | 'ending'>): string[] {
  if (!colours) return [];
  const last = ending === 'bound-off' ? [colours.ending] : [];
  return [...new Set([colours.castOn, ...rounds.flatMap((r) => r.colour ?? []), ...last])];
}

/** What each colour is marked by beside a chart's rounds: letters as the text has them, no two alike. */
export function colourMarks(colours: readonly string[]): ReadonlyMap<string, string> {
  const told = (colour: string) =>
    /^colour (.)$/.exec(colour)?.[1] ?? (/^(?:MC|CC\d?)$/.test(colour) ? colour : null);
  const taken = new Set(colours.flatMap((colour) => told(colour) ?? []));
  const marks = colours.map((colour): [string, string] => {
    const own = told(colour);
    if (own) return [colour, own];
    const word = colour.replace(/^.* /, '');
    const cut = Array.from(word, (_, i) => word[0].toUpperCase() + word.slice(1, i + 1));
    const mark = [...cut, ...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'].find((m) => !taken.has(m)) ?? colour;
    taken.add(mark);
    return [colour, mark];
  });
  return new Map(marks);
}

/** `MC is red; CC is cream`: what the colours look like, in a line that reads back; null where nothing was told. */
export function colourHeader({ colours }: Pick<Plan, 'colours'>): string | null {
  const told = Object.entries(colours?.words ?? {});
  if (told.length === 0) return null;
  return `Colours: ${told.map(([name, word]) => `${colourInWords(name)} = ${word}`).join(', ')}`;
}
