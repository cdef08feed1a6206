/** The smallest single replacement that turns one text into another, so that undo, carets and marks survive. */

export interface TextChange {
  /** 0-based offsets into the old text. */
  readonly from: number;
  readonly to: number;
  readonly insert: string;
}

export function changeBetween(before: string, after: string): TextChange | null {
  if (before === after) return null;
  const shorter = Math.min(before.length, after.length);
  let from = 0;
  while (from < shorter && before[from] === after[from]) from++;
  let tail = 0;
  while (
    tail < shorter - from &&
    before[before.length - 1 - tail] === after[after.length - 1 - tail]
  ) {
    tail++;
  }
  return { from, to: before.length - tail, insert: after.slice(from, after.length - tail) };
}

/** Lines that differ, counted as the lines of the changed part of the new text. */
export function changedLines(before: string, after: string): number {
  const change = changeBetween(before, after);
  if (!change) return 0;
  const removed = before.slice(change.from, change.to).split('\n').length;
  const added = change.insert.split('\n').length;
  return Math.max(removed, added);
}
