/**
 * The ledger: the live stitch count at the end of each line of the plan that has rounds worked, in a
 * column of its own beside the text. Rounds worked again stand at the line that asks for them again.
 *
 * Input: the Plan. Output: a count and its change for each line.
 */
import type { Extension } from '@codemirror/state';
import { RangeSet, RangeSetBuilder, StateEffect, StateField } from '@codemirror/state';
import { GutterMarker, gutter } from '@codemirror/view';
import type { Plan } from '../../plan/plan.ts';

export interface LineCount {
  /** 1-based line. */
  readonly line: number;
  /** Stitches on the needles after the line. */
  readonly stitches: number;
  /** Gained (+) or lost (−) by the line. */
  readonly change: number;
  /** Rounds that the line has worked; 0 for the cast-on. */
  readonly rounds: number;
}

export function countsByLine(plan: Plan): LineCount[] {
  const lines = new Map<number, { before: number; after: number; rounds: number }>();
  for (const round of plan.rounds) {
    const ends = round.askedAt ?? round.to;
    // A span that ends at a line's beginning belongs to the line before.
    const line = ends.column <= 1 && ends.line > round.from.line ? ends.line - 1 : ends.line;
    const known = lines.get(line);
    if (known) {
      known.after = round.after;
      known.rounds++;
    } else {
      lines.set(line, { before: round.before, after: round.after, rounds: 1 });
    }
  }
  if (plan.castOn > 0 && !lines.has(plan.castOnAt.line)) {
    lines.set(plan.castOnAt.line, { before: plan.castOn, after: plan.castOn, rounds: 0 });
  }
  return [...lines]
    .sort(([a], [b]) => a - b)
    .map(([line, { before, after, rounds }]) => ({
      line,
      stitches: after,
      change: after - before,
      rounds,
    }));
}

class CountMarker extends GutterMarker {
  constructor(readonly count: LineCount) {
    super();
  }

  override eq(other: CountMarker): boolean {
    const { stitches, change, rounds } = this.count;
    const theirs = other.count;
    return stitches === theirs.stitches && change === theirs.change && rounds === theirs.rounds;
  }

  override toDOM(): HTMLElement {
    const { stitches, change, rounds } = this.count;
    const box = document.createElement('span');
    box.className = 'cm-count';
    const over = rounds > 1 ? ` in ${rounds} rounds` : '';
    const words = change === 0 ? '' : `, ${change > 0 ? 'gains' : 'loses'} ${Math.abs(change)}`;
    box.title = `${stitches} stitches${words}${over}`;
    if (change !== 0) {
      const by = document.createElement('span');
      by.className = change > 0 ? 'cm-gain' : 'cm-loss';
      by.textContent = `${change > 0 ? '+' : '−'}${Math.abs(change)}`;
      box.append(by);
    }
    const total = document.createElement('span');
    total.className = 'cm-total';
    total.textContent = String(stitches);
    box.append(total);
    return box;
  }
}

export const showCounts = StateEffect.define<readonly LineCount[]>();

const countField = StateField.define<RangeSet<GutterMarker>>({
  create: () => RangeSet.empty,
  update(shown, transaction) {
    let next = shown.map(transaction.changes);
    for (const effect of transaction.effects) {
      if (!effect.is(showCounts)) continue;
      const builder = new RangeSetBuilder<GutterMarker>();
      const { doc } = transaction.state;
      for (const count of effect.value) {
        if (count.line < 1 || count.line > doc.lines) continue;
        const { from } = doc.line(count.line);
        builder.add(from, from, new CountMarker(count));
      }
      next = builder.finish();
    }
    return next;
  },
});

export const roundCounts: Extension = [
  countField,
  gutter({
    class: 'cm-ledger',
    side: 'after',
    markers: (view) => view.state.field(countField),
    // A column of one width: the text beside it never wraps anew while counts come and go.
    initialSpacer: () => new CountMarker({ line: 0, stitches: 888, change: -88, rounds: 1 }),
  }),
];
