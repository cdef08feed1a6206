/** Outline of each shape, with one side's shaping lines to the centre. */
import type { MotifShape } from '../../draft/spec/draft-spec.ts';
import { SEGMENTS } from '../../draft/spec/draft-spec.ts';

export function ShapeGlyph({ shape }: { readonly shape: MotifShape }) {
  const corners = shape === 'disc' ? [] : cornersOf(SEGMENTS[shape]);
  return (
    <svg
      width="30"
      height="30"
      viewBox="-1.2 -1.2 2.4 2.4"
      fill="none"
      stroke="currentColor"
      strokeWidth="0.11"
      strokeLinejoin="round"
      aria-hidden="true"
    >
      {shape === 'disc' ? (
        <>
          <circle r="1" />
          <circle r="0.62" strokeOpacity="0.5" strokeWidth="0.08" />
          <circle r="0.25" strokeOpacity="0.5" strokeWidth="0.08" />
        </>
      ) : (
        <>
          <path d={`M${corners.join('L')}Z`} />
          <path
            d={corners.map((at) => `M0 0L${at}`).join('')}
            strokeOpacity="0.5"
            strokeWidth="0.08"
          />
        </>
      )}
    </svg>
  );
}

/** A side at the bottom. */
function cornersOf(sides: number): string[] {
  return Array.from({ length: sides }, (_, k) => {
    const angle = Math.PI / 2 + ((2 * k + 1) * Math.PI) / sides;
    return `${Math.cos(angle).toFixed(3)} ${Math.sin(angle).toFixed(3)}`;
  });
}
