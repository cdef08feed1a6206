/**
 * How plan text is coloured in the editor: headers, round labels, stitches, repeats, counts.
 *
 * For the eye only, by the words that the reader knows; what the text means is decided by the parser in src/plan.
 */
import { HighlightStyle, StreamLanguage, syntaxHighlighting } from '@codemirror/language';
import { EditorView } from '@codemirror/view';
import { tags } from '@lezer/highlight';
import { HEADING } from '../../plan/grammar/statements/header.ts';
import { ROUND_LABEL, roleAt, STATED_COUNT, type WordRole } from '../../plan/lexicon/word-roles.ts';

interface LineState {
  header: boolean;
}

/** Names of the editor's colours by what the words are. */
const COLOURS: Readonly<Record<WordRole, string>> = {
  decrease: 'keyword',
  increase: 'typeName',
  cable: 'className',
  plain: 'atom',
  marker: 'annotation',
  extent: 'controlKeyword',
  edge: 'definitionKeyword',
};

/** Places stay where they are: a few letters of other scripts have no small letter of one character. */
function lowerCase(line: string): string {
  const lower = line.toLowerCase();
  return lower.length === line.length ? lower : line;
}

const language = StreamLanguage.define<LineState>({
  name: 'knitting plan',
  startState: () => ({ header: false }),
  copyState: (state) => ({ ...state }),
  token(stream, state) {
    if (stream.sol()) {
      state.header = false;
      if (stream.match(ROUND_LABEL)) return 'labelName';
      const heading = HEADING.exec(lowerCase(stream.string));
      if (heading) {
        state.header = true;
        stream.pos = heading[0].trimEnd().length;
        return 'heading';
      }
    }
    if (stream.eatSpace()) return null;
    if (state.header) {
      if (stream.match(/^[\d.,½¼¾]+/)) return 'number';
      stream.next();
      stream.eatWhile(/[^\d.,½¼¾]/);
      return 'string';
    }
    if (stream.match(STATED_COUNT)) return 'meta';
    const words = roleAt(lowerCase(stream.string), stream.pos);
    if (words) {
      stream.pos = words.end;
      return COLOURS[words.role];
    }
    if (stream.match(/^\d+/)) return 'number';
    if (stream.match(/^[*;,.:]/)) return 'punctuation';
    if (stream.match(/^[[\](){}]/)) return 'bracket';
    stream.match(/^[A-Za-z'’-]+/) || stream.next();
    return null;
  },
  languageData: {
    closeBrackets: { brackets: ['(', '['] },
    wordChars: '/',
  },
});

const style = HighlightStyle.define([
  { tag: tags.heading, color: 'var(--ink-soft)', fontWeight: '600' },
  { tag: tags.labelName, color: 'var(--accent)', fontWeight: '600' },
  { tag: tags.string, color: 'var(--ink)' },
  { tag: tags.number, color: 'var(--code-number)' },
  { tag: tags.atom, color: 'var(--ink)' },
  { tag: tags.keyword, color: 'var(--code-decrease)', fontWeight: '600' },
  { tag: tags.typeName, color: 'var(--code-increase)', fontWeight: '600' },
  { tag: tags.className, color: 'var(--code-cable)', fontWeight: '600' },
  { tag: tags.controlKeyword, color: 'var(--code-repeat)', fontStyle: 'italic' },
  { tag: tags.definitionKeyword, color: 'var(--ink)', fontWeight: '600' },
  { tag: tags.annotation, color: 'var(--code-marker)' },
  { tag: tags.meta, color: 'var(--ink-soft)' },
  { tag: tags.punctuation, color: 'var(--ink-soft)' },
  { tag: tags.bracket, color: 'var(--code-repeat)' },
]);

/** Look of the editor. Colours come from the page's custom properties, which reach into shadow trees. */
const look = EditorView.theme({
  '&': { height: '100%', fontSize: '12.75px', color: 'var(--ink)', backgroundColor: 'transparent' },
  '&.cm-focused': { outline: '1.5px solid var(--accent)', outlineOffset: '-1.5px' },
  '.cm-scroller': { fontFamily: 'var(--font-code)', lineHeight: '1.62', overflow: 'auto' },
  '.cm-content': { padding: '10px 0 40px', caretColor: 'var(--accent)' },
  // Lines that wrap hang under their first stitches.
  '.cm-line': { padding: '0 12px 0 26px', textIndent: '-18px' },
  '.cm-gutters': {
    backgroundColor: 'transparent',
    color: 'var(--ink-faint)',
    border: 'none',
  },
  '.cm-lineNumbers .cm-gutterElement': { padding: '0 4px 0 8px', minWidth: '24px' },
  '.cm-activeLine': { backgroundColor: 'var(--line-active)' },
  '.cm-activeLineGutter': { backgroundColor: 'transparent', color: 'var(--ink)' },
  '.cm-cursor': { borderLeftColor: 'var(--accent)', borderLeftWidth: '2px' },
  '&.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground, .cm-selectionBackground':
    { backgroundColor: 'var(--selection)' },
  '.cm-ledger': { fontFamily: 'var(--font-body)', fontVariantNumeric: 'tabular-nums' },
  '.cm-gutters.cm-gutters-after': { borderLeft: '1px solid var(--line)', minWidth: '0' },
  '.cm-ledger .cm-gutterElement': { padding: '0 12px 0 8px', textAlign: 'right' },
  '.cm-count': { display: 'inline-flex', gap: '7px', fontSize: '12.5px', whiteSpace: 'nowrap' },
  '.cm-total': { minWidth: '2.1em', color: 'var(--ink)', fontWeight: '600' },
  '.cm-loss': { color: 'var(--code-decrease)' },
  '.cm-gain': { color: 'var(--code-increase)' },
  '.cm-lintRange-error': {
    backgroundImage: 'none',
    textDecoration: 'underline wavy var(--error) 1.5px',
    textUnderlineOffset: '3px',
  },
  '.cm-lintRange-warning': {
    backgroundImage: 'none',
    textDecoration: 'underline wavy var(--warning) 1.5px',
    textUnderlineOffset: '3px',
  },
  '.cm-lintRange-info': {
    backgroundImage: 'none',
    textDecoration: 'underline dotted var(--ink-soft) 1.5px',
    textUnderlineOffset: '3px',
  },
  '.cm-lint-marker': { width: '0.8em', height: '0.8em' },
  '.cm-tooltip': {
    backgroundColor: 'var(--panel-raised)',
    color: 'var(--ink)',
    border: '1px solid var(--line-strong)',
    borderRadius: '8px',
    boxShadow: 'var(--shadow-float)',
    overflow: 'hidden',
    fontFamily: 'var(--font-body)',
    fontSize: '12.75px',
    lineHeight: '1.45',
    maxWidth: '340px',
  },
  '.cm-diagnostic': { padding: '8px 12px', borderLeft: '4px solid var(--line-strong)', margin: 0 },
  '.cm-diagnostic-error': { borderLeftColor: 'var(--error)' },
  '.cm-diagnostic-warning': { borderLeftColor: 'var(--warning)' },
  '.cm-diagnostic-info': { borderLeftColor: 'var(--ink-soft)' },
  '.cm-mistake-hint': { color: 'var(--ink-soft)', marginTop: '3px' },
  '.cm-tooltip.cm-tooltip-autocomplete > ul': {
    fontFamily: 'var(--font-body)',
    maxHeight: '15em',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul > li': { padding: '4px 12px' },
  '.cm-tooltip-autocomplete ul li[aria-selected]': {
    backgroundColor: 'var(--accent)',
    color: 'var(--on-accent)',
  },
  '.cm-completionLabel': { fontFamily: 'var(--font-code)', fontWeight: '600' },
  '.cm-completionMatchedText': { textDecoration: 'none', fontWeight: '800' },
  '.cm-completionDetail': { fontStyle: 'normal', opacity: 0.85, marginLeft: '0.8em' },
  '.cm-completionInfo': { padding: '8px 12px', maxWidth: '260px' },
  '.cm-panels': { backgroundColor: 'var(--panel)', color: 'var(--ink)' },
  '.cm-placeholder': { color: 'var(--ink-soft)' },
  '.cm-matchingBracket': {
    backgroundColor: 'var(--line-active)',
    outline: '1px solid var(--line-strong)',
  },
});

export const planLanguage = [language, syntaxHighlighting(style), look];
