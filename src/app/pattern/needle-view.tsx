/** How the stitches lie on the needles, round by round: picture, what to do, and every count. */
import { Slider } from 'radix-ui';
import { useMemo } from 'react';
import type { NeedleRound, NeedleTable } from '../../draft/needles.ts';
import { drawNeedles } from '../../paper/pattern/needle-picture.ts';
import { MOST_MOVES, needleAdvice } from '../../paper/pattern/needle-words.ts';
import { inTerms } from '../../report/words/terms.ts';
import { useSmall } from '../state/media.ts';
import { page, usePage } from '../state/page-store.ts';
import { choosePattern, usePattern, type WayName } from './pattern-choices.ts';
import type { PatternFacts } from './pattern-facts.ts';
import { SvgPicture } from './svg-picture.tsx';

const WAY_WORDS: readonly (readonly [WayName, string])[] = [
  ['whatever suits', 'Whatever suits the plan'],
  ['set of five', '5 double-pointed (4 + 1)'],
  ['set of four', '4 double-pointed (3 + 1)'],
  ['magic loop', 'Magic loop'],
  ['one circular', 'One circular'],
];

export function NeedleView({ facts }: { readonly facts: PatternFacts }) {
  const way = usePattern((choices) => choices.way);
  const small = useSmall();
  const { plan, needles } = facts;
  if (plan.worked === 'flat') {
    return (
      <p className="wait">
        Worked flat, all stitches stay on one needle. Choose “In the round”
        {small ? ' under “Choices”' : ' above'} to divide them.
      </p>
    );
  }
  if (!needles) return <p className="wait">The needles follow once the fabric is laid out.</p>;
  return (
    <>
      <div className="sheet-tools">
        <span className="with-unit">
          <label htmlFor="needle-way">On</label>
          <select
            id="needle-way"
            className="button button-small"
            value={way}
            onChange={(event) => choosePattern({ way: event.target.value as WayName })}
          >
            {WAY_WORDS.map(([value, words]) => (
              <option key={value} value={value}>
                {words}
              </option>
            ))}
          </select>
        </span>
      </div>
      <NeedleRounds table={needles} lines={needleLines(facts)} />
    </>
  );
}

function NeedleRounds({ table, lines }: NeedleWordsProps) {
  const throughCourse = usePage((state) => state.throughCourse);
  const last = table.rounds.length;
  const shown = Math.min(throughCourse ?? 0, last);
  const svg = useMemo(() => drawNeedles(table, shown), [table, shown]);
  const counts = shown === 0 ? table.castOn : table.rounds[shown - 1].counts;
  const words = shown === 0 ? 'Cast-on' : `After round ${shown}`;
  return (
    <div className="needles">
      <div>
        <SvgPicture svg={svg} name="paper needle-picture" />
        <div className="needle-slider">
          <span id="needle-round">{words}</span>
          <Slider.Root
            className="slider"
            min={0}
            max={last}
            step={1}
            value={[shown]}
            onValueChange={([value]) => page.set({ throughCourse: value })}
          >
            <Slider.Track className="slider-track">
              <Slider.Range className="slider-range" />
            </Slider.Track>
            <Slider.Thumb
              className="slider-thumb"
              aria-label="Needles after round"
              aria-valuetext={`${words}: ${counts.join(', ')} stitches`}
            />
          </Slider.Root>
        </div>
        <output className="needle-counts">{counts.join(' + ')} sts</output>
      </div>
      <NeedleWords table={table} lines={lines} />
    </div>
  );
}

interface NeedleWordsProps {
  readonly table: NeedleTable;
  /** Which needles when, as the pattern says it, and what to mind. */
  readonly lines: readonly string[];
}

/** The needle plan of the written pattern, and what to mind. */
export function needleLines({ written, plan, needles, terms }: PatternFacts): readonly string[] {
  const lines = written.sections.find(({ heading }) => heading === 'Needle plan')?.lines ?? [];
  const advice = needles ? needleAdvice(plan, lines) : [];
  return [...lines, ...advice.map((line) => inTerms(line, terms))];
}

export function NeedleWords({ table, lines }: NeedleWordsProps) {
  return (
    <div className="needle-words">
      <ul className="dotted">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      {table.straddles.length > MOST_MOVES && (
        <details>
          <summary>Stitches to move between needles</summary>
          <ul className="dotted">
            {table.straddles.map((straddle) => (
              <li key={`${straddle.round}:${straddle.needle}`}>{straddle.words}</li>
            ))}
          </ul>
        </details>
      )}
      <details>
        <summary>Every round in figures</summary>
        <NeedleFigures table={table} />
      </details>
      <p className="soft">
        Needles have points: keep them, and pieces on them, away from small children.
      </p>
    </div>
  );
}

export function NeedleFigures({ table }: { readonly table: NeedleTable }) {
  const rows = runsOf([{ n: 0, counts: table.castOn }, ...table.rounds]);
  const needles = Math.max(...rows.map(({ counts }) => counts.length));
  return (
    <table className="rounds-table">
      <thead>
        <tr>
          <th scope="col">Round</th>
          {Array.from({ length: needles }, (_, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: needles are their places
            <th scope="col" key={i}>
              {needles === 1 ? 'Stitches' : `Needle ${i + 1}`}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ from, to, counts }) => (
          <tr key={from}>
            <td>{roundsWords(from, to)}</td>
            {counts.length < needles ? (
              <td colSpan={needles}>{counts[0]} on the circular needle</td>
            ) : (
              counts.map((count, i) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: needles are their places
                <td key={i}>{count}</td>
              ))
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

interface Run {
  readonly from: number;
  to: number;
  readonly counts: readonly number[];
}

/** Rounds in a row that leave the same stitches on every needle; 0 is the cast-on. */
function runsOf(rows: readonly NeedleRound[]): Run[] {
  const runs: Run[] = [];
  for (const { n, counts } of rows) {
    const last = runs.at(-1);
    if (last && last.counts.join() === counts.join()) last.to = n;
    else runs.push({ from: n, to: n, counts });
  }
  return runs;
}

function roundsWords(from: number, to: number): string {
  const first = from === 0 ? 'Cast-on' : String(from);
  return from === to ? first : `${first} – ${to}`;
}
