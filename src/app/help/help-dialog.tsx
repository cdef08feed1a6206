/** Help: how to begin, keys, and a glossary of every stitch and figure, all to be searched. */
import { useState } from 'react';
import { Dialog } from '../ui/dialog.tsx';
import { EXPLAINED_FIGURES } from './figure-glossary.ts';
import { soughtStitches, stitchWords } from './stitch-glossary.ts';
import { startTour } from './tour-state.ts';

const KEYS: readonly (readonly [keys: string, words: string])[] = [
  ['Ctrl Z, Ctrl Y', 'In the plan: undo and redo, also what a button or the menu changed in it'],
  ['Ctrl Space', 'In the plan: complete a stitch'],
  ['F8', 'In the plan: the next mistake'],
  ['Arrows', 'On the picture: turn it'],
  ['+ and −', 'On the picture: nearer and further'],
  ['F, R', 'On the picture: fit it in, start over'],
  ['T, S, B', 'On the picture: from above, from the side, from below'],
];

export default function HelpDialog({ onClose }: { readonly onClose: () => void }) {
  const [sought, setSought] = useState('');
  const has = (...words: string[]) =>
    words.join(' ').toLowerCase().includes(sought.trim().toLowerCase());
  const stitches = soughtStitches(sought);
  const figures = EXPLAINED_FIGURES.filter(({ name, words }) => has(name, words));
  return (
    <Dialog id="help-name" name="Help" onClose={onClose}>
      <div className="dialog-body help">
        <p>
          Write the square in “Plan” as you would for knitters; its fabric and its verdict follow by
          themselves. What the verdict advises can be put into the plan with one button, and undone
          with “Undo” at the top.
        </p>
        <button
          type="button"
          className="button button-small"
          onClick={() => {
            onClose();
            startTour();
          }}
        >
          Show me round once more
        </button>
        <label className="help-search">
          Look for a stitch or a word
          <input
            className="entry"
            type="search"
            value={sought}
            onChange={(event) => setSought(event.target.value)}
          />
        </label>
        {stitches.length + figures.length === 0 && <p>Nothing here is called so.</p>}
        {figures.length > 0 && (
          <>
            <h3>Figures and words</h3>
            <dl className="glossary">
              {figures.map(({ name, words }) => (
                <div key={name}>
                  <dt>{name}</dt>
                  <dd>{words}</dd>
                </div>
              ))}
            </dl>
          </>
        )}
        {stitches.length > 0 && (
          <>
            <h3>Stitches</h3>
            <dl className="glossary">
              {stitches.map((kind) => (
                <div key={kind.name}>
                  <dt>{kind.name}</dt>
                  <dd>{stitchWords(kind)}</dd>
                </div>
              ))}
            </dl>
          </>
        )}
        {sought === '' && (
          <>
            <h3>Keys</h3>
            <dl className="glossary">
              {KEYS.map(([keys, words]) => (
                <div key={keys}>
                  <dt>{keys}</dt>
                  <dd>{words}</dd>
                </div>
              ))}
            </dl>
          </>
        )}
      </div>
    </Dialog>
  );
}
