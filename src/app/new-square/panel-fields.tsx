/** Panels on every side: their stitches, how often they cross, where they stand. */
import type { PanelEntry, PanelPlaceName } from './spec-form.ts';

const READY_MADE: readonly {
  name: string;
  stitches: string;
  crossEvery: string;
  place?: PanelPlaceName;
}[] = [
  { name: 'Cable of 4', stitches: 'p1 k4 p1', crossEvery: '6' },
  { name: 'Cable of 6', stitches: 'p2 k6 p2', crossEvery: '8' },
  { name: 'Mirrored cables', stitches: 'p1 2/2RC p1', crossEvery: '6', place: 'pair quarter' },
  { name: 'Twisted line', stitches: 'p1 ktbl p1', crossEvery: '' },
  { name: 'Rib', stitches: 'p1 k1 p1 k1 p1', crossEvery: '' },
  { name: 'Seed', stitches: 'seed7', crossEvery: '' },
];

/** More than a side has room for. Chosen. */
const MOST_PANELS = 6;

export function PanelFields(props: {
  readonly panels: readonly PanelEntry[];
  readonly onChange: (panels: readonly PanelEntry[]) => void;
}) {
  const { panels, onChange } = props;
  const change = (key: number, part: Partial<PanelEntry>) =>
    onChange(panels.map((panel) => (panel.key === key ? { ...panel, ...part } : panel)));
  const add = (stitches: string, crossEvery: string, place: PanelPlaceName) => {
    const key = 1 + Math.max(0, ...panels.map((panel) => panel.key));
    onChange([...panels, { key, stitches, crossEvery, place, fromRight: '' }]);
  };
  return (
    <fieldset className="wish">
      <legend>Panels on every side</legend>
      {panels.map((panel, i) => (
        <div className="panel-entry" key={panel.key}>
          <input
            className="entry panel-stitches"
            aria-label={`Stitches of panel ${i + 1}, from right to left`}
            autoComplete="off"
            autoCapitalize="off"
            spellCheck={false}
            value={panel.stitches}
            onChange={(event) => change(panel.key, { stitches: event.target.value })}
          />
          <label className="with-unit">
            crosses every
            <input
              className="entry entry-tiny"
              aria-label={`Rounds between crossings of panel ${i + 1}; empty for none`}
              inputMode="numeric"
              autoComplete="off"
              placeholder="–"
              value={panel.crossEvery}
              onChange={(event) => change(panel.key, { crossEvery: event.target.value })}
            />
            rounds
          </label>
          <select
            className="button button-small"
            aria-label={`Place of panel ${i + 1}`}
            value={panel.place}
            onChange={(event) =>
              change(panel.key, {
                place: event.target.value as PanelEntry['place'],
                fromRight: panel.fromRight || '4',
              })
            }
          >
            <option value="middle">in the middle</option>
            <option value="corner">along the corner</option>
            <option value="quarter">a quarter in</option>
            <option value="third">a third in</option>
            <option value="pair quarter">mirrored pair, at the quarters</option>
            <option value="pair third">mirrored pair, at the thirds</option>
            <option value="from right">from the right</option>
          </select>
          {panel.place === 'from right' && (
            <label className="with-unit">
              <input
                className="entry entry-tiny"
                aria-label={`Stitches to the right of panel ${i + 1}`}
                inputMode="numeric"
                autoComplete="off"
                value={panel.fromRight}
                onChange={(event) => change(panel.key, { fromRight: event.target.value })}
              />
              sts in
            </label>
          )}
          <button
            type="button"
            className="button button-small"
            aria-label={`Take away panel ${i + 1}`}
            onClick={() => onChange(panels.filter((other) => other.key !== panel.key))}
          >
            Take away
          </button>
        </div>
      ))}
      {panels.length < MOST_PANELS && (
        <div className="panel-ready">
          {READY_MADE.map(({ name, stitches, crossEvery, place = 'middle' }) => (
            <button
              key={name}
              type="button"
              className="button button-small"
              onClick={() => add(stitches, crossEvery, place)}
            >
              + {name}
            </button>
          ))}
        </div>
      )}
      {panels.length > 0 && (
        <p className="soft">
          Stitches as the right side shows them, from right to left: k, p, ktbl, seed and garter,
          each with a number, and cables such as 2/2RC, 3/3LC or C4F.
        </p>
      )}
    </fieldset>
  );
}
