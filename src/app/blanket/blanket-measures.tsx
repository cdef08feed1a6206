/** Size of the grid, the side that every square should have, and how much a seam eases in. */
import { useEffect, useState } from 'react';
import { plainNumber, positiveNumber, wholeNumber } from '../state/number-entry.ts';
import { usePage } from '../state/page-store.ts';
import { changeProject, useProject } from '../state/project-store.ts';
import { MM_PER_INCH } from '../state/units.ts';

/** Rows and columns of the grid at most. Chosen: a blanket of 6 m. */
const MOST_PLACES = 30;

export function BlanketMeasures() {
  const blanket = useProject((state) => state.project.blanket);
  const units = usePage((state) => state.preferences.units);
  const perMm = units === 'cm' ? 1 / 10 : 1 / MM_PER_INCH;
  const rows = blanket.rows.length;
  const columns = Math.max(0, ...blanket.rows.map((row) => row.length));

  const resize = (toRows: number, toColumns: number) =>
    changeProject('changed the grid', {
      blanket: {
        ...blanket,
        rows: Array.from({ length: toRows }, (_, r) =>
          Array.from({ length: toColumns }, (__, c) => blanket.rows[r]?.[c] ?? null),
        ),
      },
    });
  const count = (text: string) => {
    const value = wholeNumber(text, 1);
    return value !== null && value <= MOST_PLACES ? value : null;
  };

  return (
    <>
      <span className="with-unit">
        <Entry
          name="Rows of the grid"
          value={String(rows)}
          read={count}
          onRead={(value) => resize(value, Math.max(1, columns))}
        />
        ×
        <Entry
          name="Columns of the grid"
          value={String(columns)}
          read={count}
          onRead={(value) => resize(Math.max(1, rows), value)}
        />
        squares
      </span>
      <span className="with-unit">
        side
        <Entry
          name={`Side of every square, ${units}; empty for the middle size`}
          value={blanket.targetMm === null ? '' : plainNumber(blanket.targetMm * perMm, 2)}
          placeholder="middle size"
          wide
          read={(text) => {
            if (text.trim() === '') return 0;
            const value = positiveNumber(text);
            return value === null ? null : value / perMm;
          }}
          onRead={(targetMm) =>
            changeProject('changed the side wished for', {
              blanket: { ...blanket, targetMm: targetMm > 0 ? targetMm : null },
            })
          }
        />
        {units}; a seam may gather
        <Entry
          name="Seams ease, %"
          value={plainNumber(100 * blanket.easeShare, 1)}
          read={(text) => {
            const value = text.trim() === '0' ? 0 : positiveNumber(text);
            return value !== null && value <= 20 ? value : null;
          }}
          onRead={(percent) =>
            changeProject('changed how much seams ease', {
              blanket: { ...blanket, easeShare: percent / 100 },
            })
          }
        />
        %
      </span>
    </>
  );
}

/** Text as typed until it is left or entered; then what it says, or back to what it was. */
function Entry(props: {
  readonly name: string;
  readonly value: string;
  readonly placeholder?: string;
  readonly wide?: boolean;
  readonly read: (text: string) => number | null;
  readonly onRead: (value: number) => void;
}) {
  const { value, read, onRead } = props;
  const [typed, setTyped] = useState(value);
  useEffect(() => setTyped(value), [value]);
  const leave = () => {
    const found = read(typed);
    if (found === null) setTyped(value);
    else if (typed.trim() !== value) onRead(found);
  };
  return (
    <input
      className={`entry ${props.wide ? 'entry-medium' : 'entry-tiny'}`}
      aria-label={props.name}
      inputMode="decimal"
      autoComplete="off"
      placeholder={props.placeholder}
      value={typed}
      onChange={(event) => setTyped(event.target.value)}
      onBlur={leave}
      onKeyDown={(event) => {
        if (event.key === 'Enter') leave();
      }}
    />
  );
}
