/** Lengths, shares and lists as a knitter reads them; cm unless inches are asked for. */
import type { ReportedDiagnostic } from '../report/report.ts';

const MM_PER_INCH = 25.4;

export interface Units {
  readonly inches: boolean;
}

/** A length of the piece: `20.1 cm` or `7.9 in`. */
export function length(mm: number, { inches }: Units, digits = 1): string {
  return inches ? `${fixed(mm / MM_PER_INCH, digits)} in` : `${fixed(mm / 10, digits)} cm`;
}

/** A length that may be small: millimetres below a centimetre. */
export function smallLength(mm: number, { inches }: Units): string {
  if (inches) return `${fixed(mm / MM_PER_INCH, 2)} in`;
  return Math.abs(mm) < 10 ? `${fixed(mm, 0)} mm` : `${fixed(mm / 10, 1)} cm`;
}

/** Without the minus sign of a rounded zero. */
export function fixed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : text;
}

export function plural(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}

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
