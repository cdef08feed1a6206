/**
 * The plan's editor. It lives in a shadow tree, where it can bring its own style sheets without
 * loosening the page's content security policy.
 *
 * Output: `onText` for every change, `onPlan` once the text has been read. Input: commands through
 * `PlanEditorHandle`; each edit by a command is one step of undo.
 */
import { autocompletion, closeBrackets, completionKeymap } from '@codemirror/autocomplete';
import {
  defaultKeymap,
  history,
  historyKeymap,
  redo,
  redoDepth,
  undo,
  undoDepth,
} from '@codemirror/commands';
import { bracketMatching } from '@codemirror/language';
import { lintGutter, lintKeymap, nextDiagnostic, setDiagnostics } from '@codemirror/lint';
import { EditorState } from '@codemirror/state';
import {
  drawSelection,
  EditorView,
  highlightActiveLine,
  highlightActiveLineGutter,
  keymap,
  lineNumbers,
  placeholder,
} from '@codemirror/view';
import type { Ref } from 'react';
import { useEffect, useImperativeHandle, useLayoutEffect, useRef } from 'react';
import { PlanReader } from '../../plan/parse.ts';
import type { Plan, TextPosition } from '../../plan/plan.ts';
import { wantsStill } from '../state/media.ts';
import { onceSettled } from '../state/once-settled.ts';
import { changeBetween } from '../state/text-change.ts';
import { caretInView } from './caret-in-view.ts';
import { planLanguage } from './plan-language.ts';
import { offsetOf, squiggleOf } from './plan-mistakes.ts';
import { countsByLine, roundCounts, showCounts } from './round-counts.ts';
import { completeStitches } from './stitch-completion.ts';

export interface PlanEditorHandle {
  /** Replaces the whole text as one undoable step that keeps what did not change. */
  replaceText(text: string): void;
  goTo(at: TextPosition, focus: boolean): void;
  undo(): void;
  redo(): void;
  nextMistake(): void;
  focus(): void;
}

export interface PlanEditorProps {
  readonly ref?: Ref<PlanEditorHandle>;
  readonly initialText: string;
  readonly onText: (text: string) => void;
  /** `typed`: read in a pause of typing, and not after a command or at the start. */
  readonly onPlan: (plan: Plan, typed: boolean) => void;
  /** The plan of the first text where something else reads it anyway; null where it is to be read here. */
  readonly firstPlan: (text: string) => Promise<Plan | null>;
  /** 1-based line of the caret after the user moved it. */
  readonly onCaretLine: (line: number) => void;
  /** Steps that can be undone and redone in the editor; `redone`: one has just been done again. */
  readonly onHistory: (undoable: number, redoable: number, redone: boolean) => void;
}

/** A text read elsewhere is read ahead so long after the fabric came to rest: its stitches are made first. Chosen. */
const READ_AHEAD_MS = 2500;

/** Reading waits for a pause this long; short enough to feel live. Chosen. */
const READING_PAUSE_MS = 140;

export function PlanEditor(props: PlanEditorProps) {
  const host = useRef<HTMLDivElement>(null);
  const view = useRef<EditorView | null>(null);
  const reader = useRef<(typed: boolean) => void>(() => {});
  const first = useRef<() => Promise<void>>(async () => {});
  const latest = useRef(props);
  latest.current = props;

  // Before the page is painted: the text that stood there must not vanish meanwhile.
  useLayoutEffect(() => {
    const element = host.current;
    if (!element) return;
    const root = element.shadowRoot ?? element.attachShadow({ mode: 'open' });
    const box = document.createElement('div');
    box.style.height = '100%';
    root.append(box);

    let pause: ReturnType<typeof setTimeout> | undefined;
    let ahead: ReturnType<typeof setTimeout> | undefined;
    const planReader = new PlanReader();
    const read = (typed: boolean) => {
      const editor = view.current;
      if (!editor) return;
      clearTimeout(pause);
      show(editor, planReader.read(editor.state.doc.toString()), typed);
    };
    const show = (editor: EditorView, written: Plan, typed: boolean) => {
      // Nothing written is no mistake.
      const plan = written.text.trim() === '' ? { ...written, diagnostics: [] } : written;
      editor.dispatch({ effects: showCounts.of(countsByLine(plan)) });
      const { doc } = editor.state;
      editor.dispatch(
        setDiagnostics(
          editor.state,
          plan.diagnostics
            .map((mistake) => squiggleOf(doc, mistake))
            .sort((a, b) => a.from - b.from || a.to - b.to),
        ),
      );
      editor.requestMeasure();
      latest.current.onPlan(plan, typed);
    };

    const editor = new EditorView({
      parent: box,
      root,
      state: EditorState.create({
        doc: latest.current.initialText,
        extensions: [
          lineNumbers(),
          history(),
          drawSelection(wantsStill() ? { cursorBlinkRate: 0 } : {}),
          bracketMatching(),
          closeBrackets(),
          highlightActiveLine(),
          highlightActiveLineGutter(),
          lintGutter(),
          autocompletion({ override: [completeStitches], icons: false }),
          roundCounts,
          planLanguage,
          EditorView.lineWrapping,
          caretInView,
          placeholder('Cast on 112 sts. Join to work in the round…'),
          EditorView.contentAttributes.of({
            'aria-label': 'Plan text',
            'aria-describedby': 'plan-help',
            // Editable text takes the focus without it; said for those who go by the attribute.
            tabindex: '0',
            spellcheck: 'false',
            autocapitalize: 'off',
            autocorrect: 'off',
          }),
          // Tab is left to the page: it moves on to the next control.
          keymap.of([...historyKeymap, ...completionKeymap, ...lintKeymap, ...defaultKeymap]),
          EditorView.updateListener.of((update) => {
            if (update.docChanged) {
              latest.current.onText(update.state.doc.toString());
              clearTimeout(pause);
              pause = setTimeout(read, READING_PAUSE_MS, true);
            }
            if (update.docChanged || update.selectionSet) {
              const redone = update.transactions.some((one) => one.isUserEvent('redo'));
              latest.current.onHistory(undoDepth(update.state), redoDepth(update.state), redone);
            }
            if (update.selectionSet && update.view.hasFocus) {
              const caret = update.state.selection.main.head;
              latest.current.onCaretLine(update.state.doc.lineAt(caret).number);
            }
          }),
        ],
      }),
    });
    view.current = editor;
    reader.current = read;
    first.current = async () => {
      const text = editor.state.doc.toString();
      const plan = await latest.current.firstPlan(text);
      // What was typed meanwhile is read in its own time.
      if (view.current !== editor || editor.state.doc.toString() !== text) return;
      if (!plan) {
        read(false);
        return;
      }
      show(editor, plan, false);
      // So that the first change is read as soon as those after it.
      onceSettled(() => {
        ahead = setTimeout(() => planReader.read(editor.state.doc.toString()), READ_AHEAD_MS);
      });
    };
    return () => {
      clearTimeout(pause);
      clearTimeout(ahead);
      view.current = null;
      editor.destroy();
      box.remove();
    };
  }, []);

  // The text is seen first, its counts a moment later.
  useEffect(() => void first.current(), []);

  useImperativeHandle(
    props.ref,
    () => ({
      replaceText: (text) => {
        const editor = view.current;
        if (!editor) return;
        const change = changeBetween(editor.state.doc.toString(), text);
        if (!change) return;
        editor.dispatch({
          changes: change,
          selection: { anchor: change.from },
          scrollIntoView: true,
          userEvent: 'input.replace',
        });
        // What was chosen is complete: nothing more is typed to it.
        reader.current(false);
      },
      goTo: (at, focus) => {
        const editor = view.current;
        if (!editor) return;
        const offset = offsetOf(editor.state.doc, at);
        editor.dispatch({
          selection: { anchor: offset },
          effects: EditorView.scrollIntoView(offset, { y: 'center' }),
        });
        if (focus) editor.focus();
      },
      undo: () => view.current && undo(view.current),
      redo: () => view.current && redo(view.current),
      nextMistake: () => view.current && nextDiagnostic(view.current),
      focus: () => view.current?.focus(),
    }),
    [],
  );

  return <div className="editor" ref={host} />;
}
