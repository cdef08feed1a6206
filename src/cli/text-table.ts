/**
 * Plain text tables for the terminal: columns as wide as their widest cell, numbers to the right.
 * Without any heads there is no head line.
 */

export interface Column {
  readonly head: string;
  /** Default: left. */
  readonly align?: 'left' | 'right';
}

export function textTable(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
): string {
  const widths = columns.map((column, i) =>
    Math.max(column.head.length, ...rows.map((row) => row[i].length)),
  );
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, i) =>
        columns[i].align === 'right' ? cell.padStart(widths[i]) : cell.padEnd(widths[i]),
      )
      .join('  ')
      .trimEnd();
  const body = rows.map(line);
  if (columns.every((c) => c.head === '')) return body.join('\n') + '\n';
  const rule = widths.map((w) => '-'.repeat(w)).join('  ');
  return [line(columns.map((c) => c.head)), rule, ...body].join('\n') + '\n';
}
