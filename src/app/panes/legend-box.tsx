/** What the colours on the fabric mean, with units. */
import { useId } from 'react';
import type { Legend } from '../../view/colour/colour-scale.ts';

const WIDTH = 276;
const BAR = 12;

export function LegendBox({ legend }: { readonly legend: Legend }) {
  const ramp = useId();
  const text = `${legend.title}: from ${legend.low} (${legend.ticks[0]?.text}) to ${legend.high} (${legend.ticks.at(-1)?.text})`;
  const inset = 14;
  const across = (at: number) => inset + at * (WIDTH - 2 * inset);
  return (
    <figure className="legend">
      <figcaption className="legend-title">
        <b>{legend.title}</b>
        <span>
          {legend.low} – {legend.high}
        </span>
      </figcaption>
      <svg viewBox={`0 0 ${WIDTH} 32`} role="img" aria-label={text}>
        <defs>
          <linearGradient id={ramp}>
            {legend.stops.map((colour, k) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: the stops are a fixed scale
              <stop key={k} offset={k / (legend.stops.length - 1)} stopColor={colour} />
            ))}
          </linearGradient>
        </defs>
        <rect
          x={inset}
          y="1"
          width={WIDTH - 2 * inset}
          height={BAR}
          rx="3"
          fill={`url(#${ramp})`}
          stroke="var(--line-strong)"
          strokeWidth="0.7"
        />
        {legend.ticks.map((tick) => (
          <g key={tick.at}>
            <path
              d={`M${across(tick.at)} ${BAR + 1}v4`}
              stroke="var(--line-strong)"
              strokeWidth="1"
            />
            <text
              x={tick.at === 0 ? 0 : tick.at === 1 ? WIDTH : across(tick.at)}
              y={BAR + 17}
              // The outer ones may be long, e.g. “≤ −0.50”, and must not be cut off.
              textAnchor={tick.at === 0 ? 'start' : tick.at === 1 ? 'end' : 'middle'}
            >
              {tick.text}
            </text>
          </g>
        ))}
      </svg>
    </figure>
  );
}
