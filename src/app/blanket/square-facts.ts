/** Shade of a square in the layout: as it was chosen, else as its yarn line says. */
import type { SquareColours } from '../../paper/project-file.ts';
import { YARNS } from '../state/preferences.ts';

/** Without a colour that is chosen or named, one by the square's place in the list. */
export function shadeOf(colours: SquareColours | null, yarnText: string, place: number): string {
  if (colours) return colours.yarns[0].hex;
  const words = yarnText.toLowerCase();
  const named = YARNS.find(({ name }) => words.includes(name.toLowerCase()));
  return (named ?? YARNS[(place * 2 + 5) % YARNS.length]).colour;
}
