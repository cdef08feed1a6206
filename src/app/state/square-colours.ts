/** Yarn colours as the page chooses them, and as a square of the project keeps them. */
import type { SquareColours } from '../../paper/project-file.ts';
import type { ShadeChoice } from '../../paper/yarn-shades.ts';
import { type Preferences, YARNS } from './preferences.ts';

/** One yarn, or two in stripes of so many rounds. */
export type ColourChoice = Pick<Preferences, 'mainColour' | 'stripeColour' | 'stripeRounds'>;

export function colourName(hex: string): string {
  return YARNS.find((yarn) => yarn.colour === hex.toLowerCase())?.name ?? hex;
}

/** Shades of the colours that a plan names, as the page shows them. */
export function shadeChoice({
  mainColour,
  stripeColour,
  namedYarns,
}: Pick<Preferences, 'mainColour' | 'stripeColour' | 'namedYarns'>): ShadeChoice {
  return { named: namedYarns, main: mainColour, second: stripeColour };
}

export function keptColours({
  mainColour,
  stripeColour,
  stripeRounds,
}: ColourChoice): SquareColours {
  const hexes = stripeRounds > 0 ? [mainColour, stripeColour] : [mainColour];
  return { yarns: hexes.map((hex) => ({ name: colourName(hex), hex })), stripeRounds };
}

/** What the page shows of a square's colours; the second yarn stays as it was where there is none. */
export function chosenColours(colours: SquareColours, before: ColourChoice): ColourChoice {
  const [main, second] = colours.yarns;
  return {
    mainColour: main.hex,
    stripeColour: second?.hex ?? before.stripeColour,
    stripeRounds: second ? colours.stripeRounds : 0,
  };
}
