/** Small choices of the user, kept in localStorage where the browser allows it. */
import type { ColourMode } from '../../view/colour/colour-scale.ts';
import type { Spin } from '../../view/colour/yarn-spin.ts';
import type { Units } from './units.ts';

export type Theme = 'system' | 'light' | 'dark';

export interface Preferences {
  readonly units: Units;
  readonly theme: Theme;
  readonly colourMode: ColourMode;
  readonly mainColour: string;
  /** How the yarn in the picture is spun. */
  readonly spin: Spin;
  readonly stripeColour: string;
  /** Rounds of each stripe; 0 knits with one yarn. */
  readonly stripeRounds: number;
  /** Shades for colours that a plan names, by name, where they were chosen. */
  readonly namedYarns: Readonly<Record<string, string>>;
}

/** Dye names of the trade's old plants and undyed fleeces; the shades are chosen here. */
export const YARNS: readonly { readonly name: string; readonly colour: string }[] = [
  { name: 'Fleece', colour: '#e4dccb' },
  { name: 'Oat', colour: '#c9b38e' },
  { name: 'Weld', colour: '#cfa03a' },
  { name: 'Madder', colour: '#b04a42' },
  { name: 'Heather', colour: '#9a7ba0' },
  { name: 'Woad', colour: '#5787a3' },
  { name: 'Moss', colour: '#76854f' },
  { name: 'Walnut', colour: '#735a49' },
  { name: 'Slate', colour: '#5a626b' },
];

/** How a yarn may be spun, in spinners' words. */
export const SPINS: readonly { readonly spin: Spin; readonly name: string }[] = [
  { spin: 'smooth', name: 'Smooth' },
  { spin: 'heather', name: 'Heathered' },
  { spin: 'tweed', name: 'Tweed' },
  { spin: 'marl', name: 'Marled' },
];

const DEFAULTS: Preferences = {
  units: 'cm',
  theme: 'system',
  colourMode: 'fabric',
  mainColour: '#5787a3',
  spin: 'smooth',
  stripeColour: '#e4dccb',
  stripeRounds: 0,
  namedYarns: {},
};

const KEY = 'lieflat preferences';
const MODES: readonly ColourMode[] = ['fabric', 'rounds', 'strain', 'bend'];
const isColour = (value: unknown): value is string =>
  typeof value === 'string' && /^#[0-9a-f]{6}$/i.test(value);

export function loadPreferences(): Preferences {
  let found: Record<string, unknown> = {};
  try {
    found = JSON.parse(localStorage.getItem(KEY) ?? '{}') ?? {};
  } catch {
    // Blocked or damaged storage: the defaults do.
  }
  return {
    units: found.units === 'in' ? 'in' : 'cm',
    theme: found.theme === 'light' || found.theme === 'dark' ? found.theme : 'system',
    colourMode: MODES.find((mode) => mode === found.colourMode) ?? DEFAULTS.colourMode,
    mainColour: isColour(found.mainColour) ? found.mainColour : DEFAULTS.mainColour,
    spin: SPINS.find(({ spin }) => spin === found.spin)?.spin ?? DEFAULTS.spin,
    stripeColour: isColour(found.stripeColour) ? found.stripeColour : DEFAULTS.stripeColour,
    stripeRounds:
      typeof found.stripeRounds === 'number'
        ? Math.max(0, Math.min(20, Math.round(found.stripeRounds)))
        : 0,
    namedYarns: colourRecord(found.namedYarns),
  };
}

function colourRecord(found: unknown): Record<string, string> {
  const entries = typeof found === 'object' && found !== null ? Object.entries(found) : [];
  return Object.fromEntries(
    entries.filter((entry): entry is [string, string] => isColour(entry[1])),
  );
}

export function savePreferences(preferences: Preferences): void {
  try {
    localStorage.setItem(KEY, JSON.stringify(preferences));
  } catch {
    // Blocked storage: the choice lasts as long as the page.
  }
}
