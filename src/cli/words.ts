/** Units and lists as the terminal tells them; lengths are worded in `report/words`. */
import type { ReportedDiagnostic } from '../report/report.ts';
import type { LengthUnit } from '../report/words/length.ts';

export { counted as plural } from '../report/words/counts.ts';
export { fixed } from '../report/words/length.ts';

/** cm unless inches are asked for. */
export function unitOf({ inches }: { readonly inches?: boolean }): LengthUnit {
  return inches ? 'inch' : 'cm';
}

/** Of a text without a word, which is no mistake: there is only nothing to follow. */
export const NOTHING_WRITTEN =
  'Nothing is written in this plan yet. Begin with a line such as: Cast on 120 sts.\n';

/** One mistake a line, its hint below. */
export function diagnosticLines(list: readonly ReportedDiagnostic[]): string {
  return list
    .map((d) => {
      const place = `line ${d.line}, column ${d.column}`;
      const hint = d.hint ? `\n    ${d.hint}` : '';
      return `  ${place}: ${d.severity}: ${d.message}${hint}\n`;
    })
    .join('');
}
