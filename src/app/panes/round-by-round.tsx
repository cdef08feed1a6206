/**
 * Round by round: how many stitches each round loses (or gains) against what would lie flat.
 * A chart to see the guilty rounds at once, and the same figures as a table.
 */
import { useLayoutEffect, useRef, useState } from 'react';
import type { Plan } from '../../plan/plan.ts';
import type { Report, RoundReport } from '../../report/report.ts';
import { courseName } from '../../report/words/course-name.ts';
import { courseWords } from '../../report/words/course-words.ts';
import { turnsRound } from '../../report/words/verdict-words.ts';
import { niceCeiling } from '../../view/colour/nice-ceiling.ts';
import { focusCourse, usePage } from '../state/page-store.ts';

const HEIGHT = 150;
const MARGIN = { left: 26, right: 4, top: 10, bottom: 22 };

const PACE: Record<RoundReport['pace'], { readonly words: string; readonly colour: string }> = {
  right: { words: 'right', colour: 'var(--flat)' },
  slow: { words: 'too slow', colour: 'var(--cups)' },
  fast: { words: 'too fast', colour: 'var(--ruffles)' },
};

export function RoundByRound(props: { readonly plan: Plan; readonly report: Report }) {
  const { plan, report } = props;
  const rounds = report.rounds;
  if (rounds.length === 0 || !rounds.some((round) => round.decreases || round.increases)) {
    return null;
  }
  const outward = plan.castOn < report.last;
  const verb = outward ? 'gained' : 'lost';
  const { one, many } = courseWords(report);
  // A tube or an open piece has no pace to keep.
  const paced = turnsRound(report);
  return (
    <section className="verdict-part rounds-chart" aria-labelledby="rounds-name">
      <h3 id="rounds-name">{plan.worked === 'flat' ? 'Row by row' : 'Round by round'}</h3>
      {paced && (
        <>
          <p className="soft">
            Stitches {verb} a {one}, evened out over the {many} beside it (bars), and what would lie
            flat (line).
          </p>
          <Chart rounds={rounds} verb={verb} />
          <Key rounds={rounds} many={many} />
        </>
      )}
      <details>
        <summary>Table of all {many}</summary>
        <table className="rounds-table">
          <thead>
            <tr>
              <th scope="col">{one === 'row' ? 'Row' : 'Round'}</th>
              <th scope="col">Stitches</th>
              {paced ? (
                <>
                  <th scope="col">{outward ? 'Gains' : 'Loses'}</th>
                  <th scope="col">Should</th>
                  <th scope="col">Pace</th>
                </>
              ) : (
                <th scope="col">{outward ? 'Gains' : 'Loses'}</th>
              )}
            </tr>
          </thead>
          <tbody>
            {rounds.map((round) => (
              <tr key={round.n}>
                <td>
                  <button type="button" onClick={() => focusCourse(round.n, true)}>
                    {courseName(plan, round.n)}
                  </button>
                </td>
                <td>{round.stitches}</td>
                {paced ? (
                  <>
                    <td>{round.rate.toFixed(1)}</td>
                    <td>{round.budget.toFixed(1)}</td>
                    <td>{PACE[round.pace].words}</td>
                  </>
                ) : (
                  <td>{Math.abs(round.increases - round.decreases)}</td>
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </section>
  );
}

function Key({ rounds, many }: { readonly rounds: readonly RoundReport[]; readonly many: string }) {
  const used = (['slow', 'right', 'fast'] as const).filter((pace) =>
    rounds.some((round) => round.pace === pace),
  );
  return (
    <ul className="chart-key">
      {used.map((pace) => (
        <li className="chart-key-item" key={pace}>
          <svg width="12" height="12" aria-hidden="true">
            <rect width="12" height="12" rx="2" fill={PACE[pace].colour} />
          </svg>
          {PACE[pace].words}: {rounds.filter((round) => round.pace === pace).length} {many}
        </li>
      ))}
    </ul>
  );
}

function Chart({
  rounds,
  verb,
}: {
  readonly rounds: readonly RoundReport[];
  readonly verb: string;
}) {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(300);
  const focus = usePage((state) => state.focus);
  useLayoutEffect(() => {
    const element = box.current;
    if (!element) return;
    const watcher = new ResizeObserver(([entry]) =>
      setWidth(Math.max(120, entry.contentRect.width)),
    );
    watcher.observe(element);
    return () => watcher.disconnect();
  }, []);

  const wide = width - MARGIN.left - MARGIN.right;
  const high = HEIGHT - MARGIN.top - MARGIN.bottom;
  const finite = (value: number) => (Number.isFinite(value) ? Math.max(0, value) : 0);
  const top = Math.max(
    1,
    ...rounds.map((round) => Math.min(finite(round.rate), 3 * Math.max(1, finite(round.budget)))),
    ...rounds.map((round) => finite(round.budget)),
  );
  const step = niceCeiling(top / 3);
  const most = Math.ceil((top * 1.05) / step) * step;
  const x = (n: number) => MARGIN.left + ((n - 1) / rounds.length) * wide;
  const y = (value: number) => MARGIN.top + high * (1 - Math.min(1, value / most));
  const bar = wide / rounds.length;
  const levels = Array.from({ length: Math.floor(most / step + 1e-9) + 1 }, (_, k) => k * step);
  const every = Math.max(1, niceCeiling(rounds.length / 6));
  const budget = rounds
    .map((round, k) => {
      const level = y(finite(round.budget)).toFixed(1);
      return `${k ? 'H' : 'M'}${x(round.n).toFixed(1)}${k ? '' : ` ${level}`}${k ? `V${level}` : ''}`;
    })
    .join('');
  const guilty = rounds.filter((round) => round.pace !== 'right').length;
  return (
    <div ref={box}>
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: the table below has a button for every round */}
      <svg
        height={HEIGHT}
        viewBox={`0 0 ${width} ${HEIGHT}`}
        role="img"
        aria-label={`Stitches ${verb} round by round. ${guilty} of ${rounds.length} rounds are off their pace.`}
        onClick={(event) => {
          const place = event.currentTarget.getBoundingClientRect();
          const at = ((event.clientX - place.left) * width) / place.width - MARGIN.left;
          const n = Math.floor((at / wide) * rounds.length) + 1;
          if (n >= 1 && n <= rounds.length) focusCourse(n);
        }}
      >
        {levels.map((level) => (
          <g key={level}>
            <path
              className={level === 0 ? 'axis-strong' : 'axis'}
              d={`M${MARGIN.left} ${y(level)}h${wide}`}
            />
            <text x={MARGIN.left - 5} y={y(level) + 4} textAnchor="end">
              {Number(level.toFixed(2))}
            </text>
          </g>
        ))}
        {rounds.map((round) => (
          <rect
            key={round.n}
            x={x(round.n) + bar * 0.1}
            y={y(finite(round.rate))}
            width={bar * 0.8}
            height={Math.max(0, y(0) - y(finite(round.rate)))}
            fill={PACE[round.pace].colour}
            opacity={focus && (round.n < focus.from || round.n > focus.to) ? 0.5 : 0.85}
          />
        ))}
        <path
          d={`${budget}H${MARGIN.left + wide}`}
          fill="none"
          stroke="var(--ink)"
          strokeWidth="1.8"
        />
        {rounds
          .filter((round) => round.n % every === 0)
          .map((round) => (
            <text key={round.n} x={x(round.n) + bar / 2} y={HEIGHT - 6} textAnchor="middle">
              {round.n}
            </text>
          ))}
      </svg>
    </div>
  );
}
