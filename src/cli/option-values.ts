/** Option values from their text, each with a message that names what would be right. */
import { InvalidArgumentError } from 'commander';
import type { SeamStitches } from '../draft/motif/seam-rows.ts';
import type { NeedleWay } from '../draft/needles.ts';
import type { Terms } from '../report/words/terms.ts';

export function parsePositive(text: string): number {
  const value = parseNumber(text);
  if (!(value > 0)) throw new InvalidArgumentError('It must be a number above 0.');
  return value;
}

/** Zero allowed. */
export function parseAmount(text: string): number {
  const value = parseNumber(text);
  if (!(value >= 0)) throw new InvalidArgumentError('It must be a number, 0 or more.');
  return value;
}

/** Residual at which the sheet counts as at rest; below 1e-12 rounding errors have the last word. */
export function parseTolerance(text: string): number {
  const value = parseNumber(text);
  if (!(value >= 1e-12 && value <= 1)) {
    throw new InvalidArgumentError('It must be a number from 1e-12 to 1, e.g. 1e-5.');
  }
  return value;
}

/** A whole number from 1. */
export function parseCount(text: string): number {
  if (!/^[1-9]\d{0,6}$/.test(text)) {
    throw new InvalidArgumentError('It must be a whole number from 1 to 9999999.');
  }
  return Number(text);
}

/** A whole number from 0 to 2³²−1. */
export function parseSeed(text: string): number {
  if (!/^\d{1,10}$/.test(text) || Number(text) > 0xffffffff) {
    throw new InvalidArgumentError('It must be a whole number from 0 to 4294967295.');
  }
  return Number(text);
}

/** A range of 1-based whole numbers: `3-9` or `3`. */
export function parseRange(text: string): { from: number; to: number } {
  const match = /^(\d{1,7})(?:\s*[-–]\s*(\d{1,7}))?$/.exec(text.trim());
  const from = Number(match?.[1]);
  const to = Number(match?.[2] ?? match?.[1]);
  if (!match || from < 1 || to < from) {
    throw new InvalidArgumentError('It must be a range such as 3-9.');
  }
  return { from, to };
}

/** One decrease rate: `over` rounds lose stitches out of every … ; `every` = rounds per decrease round. */
export interface Rate {
  /** As typed, e.g. `4/3`. */
  readonly text: string;
  /** Rounds a decrease round stands for: 1 = every round, 4/3 = three rounds of every four. */
  readonly every: number;
}

/** A comma-separated list of rates such as `1,4/3,3/2,2`. */
export function parseRates(text: string): Rate[] {
  const rates = text.split(',').map((part) => {
    const match = /^(\d{1,4}(?:\.\d{1,6})?)(?:\/(\d{1,4}))?$/.exec(part.trim());
    const every = match ? Number(match[1]) / Number(match[2] ?? 1) : Number.NaN;
    if (!(every >= 1 && every <= 100)) {
      throw new InvalidArgumentError(
        `"${part.trim()}" is no rate: write 2 for every 2nd round, 4/3 for three rounds of every four; 1 or more.`,
      );
    }
    return { text: part.trim(), every };
  });
  if (rates.length > 12) throw new InvalidArgumentError('At most 12 rates side by side.');
  return rates;
}

function parseNumber(text: string): number {
  const plain = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text.trim());
  const value = plain ? Number(text) : Number.NaN;
  return Number.isFinite(value) ? value : Number.NaN;
}

/** `22x30`: stitches and rounds in 10 cm. */
export function parseGauge(text: string): { stitchMm: number; roundMm: number } {
  const match = /^(\d+(?:\.\d+)?)\s*[x×*/]\s*(\d+(?:\.\d+)?)$/i.exec(text.trim());
  const stitches = Number(match?.[1]);
  const rounds = Number(match?.[2]);
  if (!(stitches > 0 && rounds > 0)) {
    throw new InvalidArgumentError('Write stitches x rounds in 10 cm, e.g. 22x30.');
  }
  return { stitchMm: 100 / stitches, roundMm: 100 / rounds };
}

export function parseTerms(text: string): Terms {
  const word = text.trim().toLowerCase();
  if (word !== 'american' && word !== 'british') {
    throw new InvalidArgumentError('Write american or british.');
  }
  return word;
}

/** Stitches that the seam of flat work takes. */
export function parseSeam(text: string): SeamStitches {
  const word = text.trim().toLowerCase();
  if (word === 'one' || word === '1') return 1;
  if (word === 'two' || word === '2') return 2;
  throw new InvalidArgumentError('Write one or two.');
}

const WAYS: Readonly<Record<string, NeedleWay>> = {
  five: { kind: 'double-pointed', hold: 4 },
  four: { kind: 'double-pointed', hold: 3 },
  'magic loop': { kind: 'magic loop' },
  circular: { kind: 'one circular' },
};

export const WAY_NAMES = 'five (a set of 4 + 1), four (3 + 1), "magic loop" or circular';

export function parseWay(text: string): NeedleWay {
  const way =
    WAYS[
      text
        .trim()
        .toLowerCase()
        .replace(/[\s-]+/g, ' ')
    ];
  if (!way) throw new InvalidArgumentError(`Write ${WAY_NAMES}.`);
  return way;
}
