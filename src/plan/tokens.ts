/**
 * One line of plan text → coloured pieces for an editor. Works line by line without the rest of the
 * plan, so it stays instant while typing.
 */
import { readLabel } from './labels.ts';
import { readSource } from './source.ts';
import { readStatedCount } from './stated-counts.ts';
import { stitchKind } from './stitch-table.ts';
import { readStitch } from './stitch-words.ts';
import { readTarget, readTimes } from './targets.ts';

export type TokenClass =
  | 'header'
  | 'label'
  | 'stitch'
  | 'decrease'
  | 'increase'
  | 'cable'
  | 'repeat'
  | 'marker'
  | 'target'
  | 'count'
  | 'bracket'
  | 'number';

export interface LineToken {
  /** Offsets within the line; `to` is exclusive. */
  readonly from: number;
  readonly to: number;
  readonly class: TokenClass;
}

const HEADER =
  /^\s*(?:title|name|yarns?|gauge|tension|needles?|worked|join|seams?|sides|abbreviations?|notes?|materials?)\s*:/;
const MARKER =
  /(?:pm|sm|rm|slm|place\s+(?:a\s+)?marker|slip\s+(?:the\s+)?marker|sl\s+m|remove\s+(?:the\s+)?marker)(?![a-z0-9])/y;
const REPEAT =
  /(?:\*+|(?:rep(?:eat)?\.?\s+)?(?:from|between)\s+\*+s?|rep(?:eat)?(?![a-z])\.?|on\s+each\s+side|each\s+side)/y;
const LINE_WORDS =
  /^\s*(?:cast\s+on|co(?![a-z])|bind\s+off|cast\s+off|bo(?![a-z])|repeat|rep\.?|join|break|cut|fasten\s+off|work|next|continue)(?![a-z])/;
const NUMBER = /\d+/y;
const WORD = /[a-z][a-z0-9/&'-]*/y;

/** Longest line that is coloured; a longer one is no instruction that anybody reads. Chosen. */
const LONGEST_LINE = 20_000;

function stitchClass(name: string): TokenClass {
  const kind = stitchKind(name === 'sl1' || name === 'sl1k' ? `${name} wyib` : name);
  if (!kind) return 'stitch';
  if (kind.crossing) return 'cable';
  const change = kind.loops.length - kind.consumes;
  return change < 0 ? 'decrease' : change > 0 ? 'increase' : 'stitch';
}

/** Pieces of one line, ascending, without overlaps; plain text lies between them. */
export function tokenizeLine(line: string, ownNames: readonly string[] = []): LineToken[] {
  if (line.length > LONGEST_LINE) return [];
  const { norm, map } = readSource(line);
  const out: LineToken[] = [];
  const push = (from: number, to: number, tokenClass: TokenClass): void => {
    if (to > from) out.push({ from: map[from], to: map[to - 1] + 1, class: tokenClass });
  };
  const header = HEADER.exec(norm);
  if (header) {
    push(header[0].search(/\S/), header[0].length, 'header');
    return out;
  }
  const own = [...ownNames].sort((a, b) => b.length - a.length);
  const start = Math.max(0, norm.search(/\S/));
  let i = start;
  const label = readLabel(norm, start);
  if (label?.marked) {
    push(start, label.end - (/\s*$/.exec(norm.slice(start, label.end))?.[0].length ?? 0), 'label');
    i = label.end;
  } else {
    const words = LINE_WORDS.exec(norm);
    if (words && !readStitch(norm, start)?.name.startsWith('bo')) {
      push(start, words[0].length, 'label');
      i = words[0].length;
    }
  }
  while (i < norm.length) {
    const c = norm[i];
    if (c === ' ' || c === ',' || c === ';' || c === '.') {
      i++;
      continue;
    }
    if (c === '(' || c === '[' || c === '-' || c === '=') {
      const close = c === '(' ? ')' : c === '[' ? ']' : '';
      const end = close === '' ? norm.length : norm.indexOf(close, i);
      if (end > i && end - i < 120 && readStatedCount(norm.slice(i + 1, end))) {
        push(i, Math.min(norm.length, end + 1), 'count');
        i = end + 1;
        continue;
      }
    }
    if ('()[]{}'.includes(c)) {
      push(i, i + 1, 'bracket');
      i++;
      continue;
    }
    const next = readPiece(norm, i, own);
    if (next) {
      push(i, next.to, next.class);
      i = next.to;
      continue;
    }
    WORD.lastIndex = i;
    i = WORD.test(norm) ? WORD.lastIndex : i + 1;
  }
  return out;
}

function readPiece(
  text: string,
  at: number,
  own: readonly string[],
): { to: number; class: TokenClass } | null {
  for (const [re, tokenClass] of [
    [MARKER, 'marker'],
    [REPEAT, 'repeat'],
  ] as const) {
    re.lastIndex = at;
    if (re.test(text)) return { to: re.lastIndex, class: tokenClass };
  }
  for (const name of own) {
    if (text.startsWith(name, at) && !/[a-z0-9]/.test(text[at + name.length] ?? '')) {
      return { to: at + name.length, class: 'stitch' };
    }
  }
  const times = readTimes(text, at);
  if (times) return { to: times.end, class: 'number' };
  const target = readTarget(text, at);
  if (target) return { to: target.end, class: 'target' };
  const stitch = readStitch(text, at);
  if (stitch) return { to: stitch.end, class: stitchClass(stitch.name) };
  NUMBER.lastIndex = at;
  return NUMBER.test(text) ? { to: NUMBER.lastIndex, class: 'number' } : null;
}
