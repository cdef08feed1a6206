/** The section as a chart: the fabric's profile along a line, both axes to the same scale. */
import { Slider } from 'radix-ui';
import { useLayoutEffect, useRef, useState } from 'react';
import { niceCeiling } from '../../view/colour/nice-ceiling.ts';
import type { SectionCut } from '../../view/marks/section-cut.ts';
import { page, usePage } from '../state/page-store.ts';
import { lengthText, MM_PER_INCH } from '../state/units.ts';

const HEIGHT = 118;
const MARGIN = { left: 40, right: 12, top: 8, bottom: 20 };

export function SectionPanel({ cut }: { readonly cut: SectionCut }) {
  const units = usePage((state) => state.preferences.units);
  const angle = usePage((state) => state.sectionAngleDeg);
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(520);
  useLayoutEffect(() => {
    const element = box.current;
    if (!element) return;
    const watcher = new ResizeObserver(([entry]) => setWidth(entry.contentRect.width));
    watcher.observe(element);
    return () => watcher.disconnect();
  }, []);
  const corners = usePage((state) => state.laid?.metric.ring.corners ?? 0);
  const spanMm = cut.alongMaxMm - cut.alongMinMm;
  return (
    <section className="section" aria-labelledby="section-name">
      <div className="section-chart" ref={box}>
        <Chart cut={cut} width={width} mmPerUnit={units === 'cm' ? 10 : MM_PER_INCH} unit={units} />
      </div>
      <div className="section-tools">
        <h3 id="section-name">Section</h3>
        <span>
          {lengthText(spanMm, units)} through the middle, {lengthText(cut.heightMaxMm, units)} high
        </span>
        <label id="section-angle" htmlFor="section-angle-thumb">
          Angle {angle}°{corners >= 3 && angle === 0 ? ', along a side' : ''}
        </label>
        <Slider.Root
          className="slider"
          min={0}
          max={175}
          step={5}
          value={[angle]}
          onValueChange={([value]) => page.set({ sectionAngleDeg: value })}
        >
          <Slider.Track className="slider-track">
            <Slider.Range className="slider-range" />
          </Slider.Track>
          <Slider.Thumb
            className="slider-thumb"
            aria-labelledby="section-angle"
            aria-valuetext={`${angle} degrees`}
          />
        </Slider.Root>
      </div>
    </section>
  );
}

interface ChartProps {
  readonly cut: SectionCut;
  readonly width: number;
  readonly mmPerUnit: number;
  readonly unit: string;
}

function Chart({ cut, width, mmPerUnit, unit }: ChartProps) {
  const wide = Math.max(60, width - MARGIN.left - MARGIN.right);
  const high = HEIGHT - MARGIN.top - MARGIN.bottom;
  const reach = Math.max(10, cut.alongMaxMm, -cut.alongMinMm) * 1.03;
  // One scale for both axes, or the fabric would look steeper than it is.
  const scale = Math.min(wide / (2 * reach), high / Math.max(cut.heightMaxMm * 1.1, 10));
  const middle = MARGIN.left + wide / 2;
  const floor = MARGIN.top + high;
  const x = (alongMm: number) => middle + alongMm * scale;
  const y = (heightMm: number) => floor - heightMm * scale;

  let path = '';
  for (let k = 0; k < cut.profile.length; k += 4) {
    const [a, h, b, g] = [0, 1, 2, 3].map((d) => cut.profile[k + d]);
    path += `M${x(a).toFixed(1)} ${y(h).toFixed(1)}L${x(b).toFixed(1)} ${y(g).toFixed(1)}`;
  }
  const step = niceCeiling(50 / scale / mmPerUnit);
  const ticks: number[] = [];
  const most = Math.floor(wide / 2 / scale / mmPerUnit / step);
  for (let k = -most; k <= most; k++) ticks.push(k * step);
  const heightStep = niceCeiling(24 / scale / mmPerUnit);
  const levels: number[] = [];
  for (let h = 0; h * mmPerUnit * scale <= high; h += heightStep) levels.push(h);
  const label = `Section: the fabric is ${(cut.heightMaxMm / mmPerUnit).toFixed(1)} ${unit} high over ${((cut.alongMaxMm - cut.alongMinMm) / mmPerUnit).toFixed(1)} ${unit}.`;
  return (
    <svg
      width={width}
      height={HEIGHT}
      viewBox={`0 0 ${width} ${HEIGHT}`}
      role="img"
      aria-label={label}
    >
      {levels.map((level) => (
        <g key={level}>
          <path
            className={level === 0 ? 'axis-strong' : 'axis'}
            d={`M${MARGIN.left} ${y(level * mmPerUnit)}h${wide}`}
          />
          <text x={MARGIN.left - 6} y={y(level * mmPerUnit) + 4} textAnchor="end">
            {Number(level.toFixed(3))}
          </text>
        </g>
      ))}
      {ticks.map((tick) => (
        <g key={tick}>
          <path className="axis-strong" d={`M${x(tick * mmPerUnit)} ${floor}v4`} />
          <text x={x(tick * mmPerUnit)} y={floor + 15} textAnchor="middle">
            {Number(tick.toFixed(3)).toString().replace('-', '−')}
          </text>
        </g>
      ))}
      <text x={MARGIN.left + wide} y={MARGIN.top + 6} textAnchor="end">
        {unit}
      </text>
      <path d={path} fill="none" stroke="var(--section)" strokeWidth="2.2" strokeLinecap="round" />
    </svg>
  );
}
