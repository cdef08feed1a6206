/** The squares of the project: which is in hand for laying, what each measures, and what to do to it. */
import type { BlanketReport } from '../../report/blanket.ts';
import { YarnColours } from '../panes/yarn-menu.tsx';
import { usePage } from '../state/page-store.ts';
import { colourSquare, openSquare, removeSquare, updateSquare } from '../state/project-actions.ts';
import { useProject } from '../state/project-store.ts';
import { chosenColours } from '../state/square-colours.ts';
import { lengthText, type Units } from '../state/units.ts';
import type { SquareEntry } from './blanket-facts.ts';

export function SquareList(props: {
  readonly entries: readonly SquareEntry[];
  readonly report: BlanketReport | null;
  readonly brush: string | null;
  readonly onBrush: (id: string) => void;
}) {
  const { entries, report, brush, onBrush } = props;
  const preferences = usePage((state) => state.preferences);
  const { units } = preferences;
  const text = usePage((state) => state.text);
  const plan = usePage((state) => state.plan);
  const atHand = useProject((state) => state.squareAtHand);
  const inOrder = plan?.diagnostics.every((d) => d.severity !== 'error') ?? false;
  return (
    <fieldset className="squares">
      <legend>Squares</legend>
      {entries.map((entry) => (
        <div className="square-entry" key={entry.id} data-chosen={entry.id === brush}>
          <label className="square-name">
            <input
              type="radio"
              name="square-in-hand"
              checked={entry.id === brush}
              onChange={() => onBrush(entry.id)}
            />
            <span>
              <b>{entry.name}</b>
              <span className="soft">{factsText(entry, report, units)}</span>
            </span>
          </label>
          <span className="square-tools">
            <YarnColours
              name={`Yarn colours of ${entry.name}`}
              colours={
                entry.colours
                  ? chosenColours(entry.colours, preferences)
                  : { ...preferences, mainColour: entry.shade, stripeRounds: 0 }
              }
              onChoose={(change) => colourSquare(entry.id, change)}
            />
            {entry.text === text ? (
              <span className="soft">in the editor</span>
            ) : (
              <button
                type="button"
                className="button button-small"
                aria-label={`Open ${entry.name}`}
                onClick={() => void openSquare(entry.id)}
              >
                Open
              </button>
            )}
            {(entry.id === atHand || entry.name === plan?.title) &&
              entry.text !== text &&
              inOrder && (
                <button
                  type="button"
                  className="button button-small"
                  aria-label={`Update ${entry.name} from the editor`}
                  onClick={() => updateSquare(entry.id)}
                >
                  Update
                </button>
              )}
            <button
              type="button"
              className="button button-small"
              aria-label={`Take away ${entry.name}`}
              onClick={() => removeSquare(entry.id)}
            >
              Take away
            </button>
          </span>
        </div>
      ))}
    </fieldset>
  );
}

export function Shade({ shade }: { readonly shade: string }) {
  return (
    <span
      className="shade"
      ref={(element) => {
        if (element) element.style.background = shade;
      }}
    />
  );
}

function factsText(entry: SquareEntry, report: BlanketReport | null, units: Units): string {
  const { measured, square } = entry;
  if (measured.state === 'waiting') return 'coming to rest…';
  if (measured.state === 'failed') return measured.message;
  if (!square) return `${measured.knitted.report.shape}: it has no four sides to join`;
  const fit = report?.squares.find(({ id }) => id === entry.id)?.fit;
  const { verdict } = measured.knitted.report;
  return `${lengthText(square.sideMm, units)}, ${square.sideStitches} sts a side, ${verdict}${fit ? `; ${fit}` : ''}`;
}
