/** The grid: press a place to lay the square in hand there, press it again to clear it. */
import { Fragment } from 'react';
import type { BlanketReport, BlanketSquare } from '../../report/blanket.ts';
import { changeProject, useProject } from '../state/project-store.ts';
import { ActionButton } from '../ui/action-button.tsx';
import type { SquareEntry } from './blanket-facts.ts';

export function BlanketGrid(props: {
  readonly entries: readonly SquareEntry[];
  readonly report: BlanketReport | null;
  readonly brush: string | null;
}) {
  const { entries, report, brush } = props;
  const blanket = useProject((state) => state.project.blanket);
  const { rows } = blanket;
  const columns = Math.max(1, ...rows.map((row) => row.length));
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  const lay = (done: string, place: (r: number, c: number) => string | null) =>
    changeProject(done, {
      blanket: { ...blanket, rows: rows.map((row, r) => row.map((_, c) => place(r, c))) },
    });
  const press = (row: number, column: number) =>
    lay('laid a square', (r, c) => {
      const there = rows[r][c];
      if (r !== row || c !== column) return there;
      return there === brush ? null : brush;
    });
  const squares = entries.filter((entry) => entry.measured.state !== 'rest' || entry.square);
  return (
    <div className="blanket-laying">
      <fieldset
        className="blanket-grid"
        aria-label="Layout of the blanket"
        ref={(element) => {
          element?.style.setProperty('--columns', String(columns));
        }}
      >
        {rows.map((row, r) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a place is where it is
          <Fragment key={r}>
            {row.map((id, c) => (
              <Place
                // biome-ignore lint/suspicious/noArrayIndexKey: a place is where it is
                key={c}
                where={`Row ${r + 1}, place ${c + 1}`}
                entry={id === null ? null : (byId.get(id) ?? null)}
                targetMm={report?.targetMm ?? null}
                fit={report?.squares.find((square) => square.id === id)?.fit ?? ''}
                onPress={() => press(r, c)}
              />
            ))}
          </Fragment>
        ))}
      </fieldset>
      <div className="panel-ready">
        <ActionButton
          className="button button-small"
          why={brush === null ? 'Choose a square in the list first' : ''}
          onClick={() => lay('filled the grid', () => brush)}
        >
          This square everywhere
        </ActionButton>
        <ActionButton
          className="button button-small"
          why={squares.length < 2 ? 'Keep two squares at least first' : ''}
          onClick={() =>
            lay('laid the squares in turn', (r, c) => squares[(r + c) % squares.length].id)
          }
        >
          All squares in turn
        </ActionButton>
        <button
          type="button"
          className="button button-small"
          onClick={() => lay('cleared the grid', () => null)}
        >
          Clear the grid
        </button>
      </div>
    </div>
  );
}

/** Bands from the rim to the centre, one square upon the other; the shade alone where there are none. */
function wornBackground(bands: NonNullable<BlanketSquare['bands']>, shade: string): string {
  let left = 1;
  const layers = bands.map(({ hex, share }) => {
    const percent = `${100 * left}%`;
    left -= share;
    return `linear-gradient(${hex}, ${hex}) center / ${percent} ${percent} no-repeat`;
  });
  return layers.length > 0 ? layers.toReversed().join(', ') : shade;
}

const FIT_SIGN: Readonly<Record<string, string>> = { meets: '', 'eased in': '~', adjust: '!' };

function Place(props: {
  readonly where: string;
  readonly entry: SquareEntry | null;
  readonly targetMm: number | null;
  readonly fit: string;
  readonly onPress: () => void;
}) {
  const { where, entry, targetMm, fit, onPress } = props;
  const share = entry?.square && targetMm ? entry.square.sideMm / targetMm : 1;
  return (
    <button
      type="button"
      className="place"
      aria-label={`${where}: ${entry ? `${entry.name}${fit ? `, ${fit}` : ''}` : 'empty'}`}
      title={entry?.name}
      onClick={onPress}
    >
      {entry && (
        <span
          className="place-square"
          data-fit={fit}
          ref={(element) => {
            if (!element) return;
            // As wide as it is beside the side wished for.
            const percent = 94 * Math.min(1.06, Math.max(0.6, share));
            element.style.width = `${percent}%`;
            element.style.height = `${percent}%`;
            element.style.background = wornBackground(entry.square?.bands ?? [], entry.shade);
          }}
        >
          {FIT_SIGN[fit] && <span className="place-sign">{FIT_SIGN[fit]}</span>}
        </span>
      )}
    </button>
  );
}
