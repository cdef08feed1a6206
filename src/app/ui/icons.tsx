/** The page's own small drawings: the profile of a piece seen from the side, and plain tool signs. */
import type { ReactNode } from 'react';

interface GlyphProps {
  readonly size?: number;
}

function Drawing(props: {
  readonly size: number;
  readonly box: string;
  readonly children: ReactNode;
}) {
  return (
    <svg
      width={props.size}
      height={props.size}
      viewBox={props.box}
      fill="none"
      stroke="currentColor"
      strokeWidth="2"
      strokeLinecap="round"
      strokeLinejoin="round"
      aria-hidden="true"
    >
      {props.children}
    </svg>
  );
}

/** The mark: fabric settling on a table. */
export function MarkGlyph() {
  return (
    <svg width="30" height="30" viewBox="0 0 32 32" aria-hidden="true">
      <rect width="32" height="32" rx="8" fill="var(--accent)" />
      <path
        d="M5.5 22.5h21"
        stroke="var(--on-accent)"
        strokeWidth="2.6"
        strokeLinecap="round"
        fill="none"
      />
      <path
        d="M6.5 17c3.4-6.6 15.600-6.6 19 0"
        stroke="var(--on-accent)"
        strokeOpacity=".62"
        strokeWidth="2.2"
        strokeLinecap="round"
        strokeDasharray="0.1 3.6"
        fill="none"
      />
    </svg>
  );
}

const PROFILES: Record<string, string> = {
  flat: 'M5 24h38',
  'flat after blocking': 'M5 24c6 0 7-3 12-3s6 3 13 3 8-2 13-2',
  cups: 'M6 15c3 15 33 15 36 0',
  ruffles: 'M4 24c4-13 8-13 12-1s7 12 11 1 7-13 11-3 4 7 6 5',
  saddle: 'M5 10c6 16 32 16 38 0M14 29c6-5 14-5 20 0',
  'cup inside, ruffled rim': 'M3 22c3-5 5-5 8 1 5 10 21 10 26 0 3-6 5-6 8-1',
  'ruffled inside, cupped rim': 'M5 13c1 10 5 13 9 9s7-6 10 0 7 5 10 0 8-1 9-9',
  buckles: 'M4 25h12c4 0 4-11 8-11s4 11 8 11h12',
  tube: 'M12 10v20M36 10v20M12 10c0 5 24 5 24 0s-24-5-24 0',
  'twisted band': 'M6 14c14 0 22 14 36 14M6 28c14 0 22-14 36-14',
};

/** A side view of the verdict, over the table line. */
export function VerdictGlyph({ word }: { readonly word: string }) {
  return (
    <svg width="60" height="48" viewBox="0 0 48 40" fill="none" aria-hidden="true">
      <path d="M3 34h42" stroke="var(--line-strong)" strokeWidth="1.4" strokeLinecap="round" />
      <path
        d={PROFILES[word] ?? PROFILES.flat}
        stroke="currentColor"
        strokeWidth="3.6"
        strokeLinecap="round"
      />
    </svg>
  );
}

export const FitGlyph = ({ size = 18 }: GlyphProps) => (
  <Drawing size={size} box="0 0 20 20">
    <path d="M3 7V3h4M13 3h4v4M17 13v4h-4M7 17H3v-4" />
    <path d="M7 10h6" />
  </Drawing>
);

export const AboveGlyph = ({ size = 18 }: GlyphProps) => (
  <Drawing size={size} box="0 0 20 20">
    <path d="M10 2v6M7.500 5.500 10 8l2.500-2.500" />
    <rect x="4" y="11" width="12" height="6.500" rx="1.500" />
  </Drawing>
);

export const SideGlyph = ({ size = 18 }: GlyphProps) => (
  <Drawing size={size} box="0 0 20 20">
    <path d="M1.500 10h5.500M4.500 7.500 7 10l-2.500 2.500" />
    <path d="M10.500 4.500c4.500 1.500 7 4 7.500 6-1 2.500-3 4-7.500 5" />
  </Drawing>
);

export const ResetGlyph = ({ size = 18 }: GlyphProps) => (
  <Drawing size={size} box="0 0 20 20">
    <path d="M4 10a6 6 0 1 0 2-4.500L4 7.300" />
    <path d="M4 3.300v4h4" />
  </Drawing>
);

export const PlusGlyph = ({ size = 18 }: GlyphProps) => (
  <Drawing size={size} box="0 0 20 20">
    <path d="M10 4v12M4 10h12" />
  </Drawing>
);

export const MinusGlyph = ({ size = 18 }: GlyphProps) => (
  <Drawing size={size} box="0 0 20 20">
    <path d="M4 10h12" />
  </Drawing>
);

export const PictureGlyph = ({ size = 18 }: GlyphProps) => (
  <Drawing size={size} box="0 0 20 20">
    <path d="M10 3v9M6.500 8.500 10 12l3.500-3.500" />
    <path d="M3.500 12.500v4h13v-4" />
  </Drawing>
);

export const FilmGlyph = ({ size = 18 }: GlyphProps) => (
  <Drawing size={size} box="0 0 20 20">
    <path d="M4 10a6 3 0 1 0 6-3H7" />
    <path d="m9.500 4-3 3 3 3" />
    <path d="M10 16.500h6" />
  </Drawing>
);

export const UndoGlyph = ({ size = 18 }: GlyphProps) => (
  <Drawing size={size} box="0 0 20 20">
    <path d="M7 4 3 8l4 4" />
    <path d="M3 8h9a4.500 4.500 0 0 1 0 9H9" />
  </Drawing>
);

export const RedoGlyph = ({ size = 18 }: GlyphProps) => (
  <Drawing size={size} box="0 0 20 20">
    <path d="m13 4 4 4-4 4" />
    <path d="M17 8H8a4.500 4.500 0 0 0 0 9h3" />
  </Drawing>
);

export const DownGlyph = ({ size = 12 }: GlyphProps) => (
  <Drawing size={size} box="0 0 12 12">
    <path d="m2.500 4.500 3.500 3.500 3.500-3.500" />
  </Drawing>
);
