/**
 * Plan → the squares of its chart: which symbol stands on which column of which round, right side facing.
 * In: a Plan. Out: column 0 is the rightmost, row 0 the first round worked, at the bottom; seam stitches stand
 * at the edges, beside the columns that are repeated. A square shows the stitch that the round leaves; columns
 * that do not exist (yet, or any more) or wait behind a short row are no-stitch squares. Wrong-side rows are told as the right side shows.
 */

import { decomposeColumns, type WorkedItem } from '../../draft/rework/column-model.ts';
import { hasShortRows, type Plan } from '../../plan/plan.ts';
import { UNWORKED } from '../../plan/stitches/stitch-kind.ts';
import { stitchKind } from '../../plan/stitches/table.ts';
import { smallestPeriod } from '../../plan/write/fold-stitches.ts';

export interface ChartSymbol {
  readonly name: string;
  /** First (rightmost) column and number of columns that the symbol takes. */
  readonly column: number;
  readonly width: number;
}

export interface ChartRow {
  /** Working order, 1-based. */
  readonly round: number;
  readonly wrongSide: boolean;
  readonly symbols: readonly ChartSymbol[];
  /** [columns] 1 where the column has a stitch after this round. */
  readonly stitches: Uint8Array;
  /** Stitches of the whole round or row afterwards. */
  readonly after: number;
}

export interface ChartLayout {
  readonly columns: number;
  readonly rows: readonly ChartRow[];
  /** How often the columns inside the outline are worked to make the round; 1 for the whole. */
  readonly repeats: number;
  /** Columns that are repeated, without the seam stitches beside them; end exclusive. */
  readonly outline: { readonly first: number; readonly end: number };
  /** Every stitch name shown, in order of appearance. */
  readonly names: readonly string[];
}

/** Most equal sides that are taken for sides rather than for a small pattern repeat. Chosen. */
const MOST_SIDES = 12;

export function layOutChart(plan: Plan, part: 'side' | 'whole'): ChartLayout {
  const worked = decomposeColumns(plan);
  const seam = plan.seam ?? { begin: 0, end: 0 };
  const repeats = part === 'whole' || hasShortRows(plan) ? 1 : sidesOf(worked.rounds, seam);
  // Columns in the first side, found by dividing the stitches of every round evenly.
  const place = new Map<number, number>();
  const shown = new Set<number>();
  const divide = (live: readonly number[]) => {
    const inside = live.slice(seam.begin, live.length - seam.end);
    for (const column of inside.slice(0, inside.length / repeats)) shown.add(column);
    for (const column of live.slice(0, seam.begin)) shown.add(column);
    for (const column of live.slice(live.length - seam.end)) shown.add(column);
  };
  divide(Array.from({ length: worked.castOn }, (_, i) => i));
  for (const round of worked.rounds) divide(liveAfter(round.items));
  const columns = [...shown].sort((a, b) => worked.order[a] - worked.order[b]);
  columns.forEach((column, i) => {
    place.set(column, i);
  });

  const names: string[] = [];
  const rows = worked.rounds.map((round, i): ChartRow => {
    const stitches = new Uint8Array(columns.length);
    const symbols: ChartSymbol[] = [];
    for (const item of round.items) {
      if (item.role === 'column' && item.name.endsWith(UNWORKED)) continue;
      for (const symbol of symbolsOf(item, place)) {
        symbols.push(symbol);
        if (!names.includes(symbol.name)) names.push(symbol.name);
      }
      for (const column of liveAfter([item])) {
        const at = place.get(column);
        if (at !== undefined) stitches[at] = 1;
      }
    }
    const { after } = plan.rounds[i];
    return { round: i + 1, wrongSide: round.wrongSide, symbols, stitches, after };
  });
  const outline = { first: seam.begin, end: columns.length - seam.end };
  return { columns: columns.length, rows, repeats, outline, names };
}

function liveAfter(items: readonly WorkedItem[]): number[] {
  return items.flatMap((item) =>
    item.role === 'column'
      ? [item.column]
      : item.role === 'block'
        ? [...item.columns]
        : [...item.after],
  );
}

function symbolsOf(item: WorkedItem, place: ReadonlyMap<number, number>): ChartSymbol[] {
  if (item.role === 'column') return at([item.name], [item.column], place);
  if (item.role === 'block') return at(item.names, item.columns, place);
  return at([item.name], item.after, place);
}

/** Symbols over the columns that each stitch makes, right to left; none for columns not shown. */
function at(
  names: readonly string[],
  columns: readonly number[],
  place: ReadonlyMap<number, number>,
): ChartSymbol[] {
  const symbols: ChartSymbol[] = [];
  let next = 0;
  for (const name of names) {
    const kind = stitchKind(name.replace(/^~/, ''));
    const makes = names.length === 1 ? columns.length : (kind?.loops.length ?? 1);
    const spots = columns.slice(next, next + makes).map((column) => place.get(column));
    next += makes;
    const known = spots.filter((spot) => spot !== undefined);
    if (known.length === 0 || known.length < spots.length) continue;
    const first = Math.min(...known);
    symbols.push({ name, column: first, width: Math.max(...known) - first + 1 });
  }
  return symbols;
}

type Rounds = ReturnType<typeof decomposeColumns>['rounds'];

/** Equal sides that every round is made of. */
function sidesOf(rounds: Rounds, seam: { begin: number; end: number }): number {
  let sides = 0;
  for (const round of rounds) {
    const names = round.items.flatMap((item) =>
      item.role === 'block' ? [...item.names] : [item.name],
    );
    const inside = names.slice(seam.begin, names.length - seam.end);
    sides = gcd(sides, inside.length / smallestPeriod(inside));
  }
  return sides > 1 && sides <= MOST_SIDES ? sides : 1;
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
