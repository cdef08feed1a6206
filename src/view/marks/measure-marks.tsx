/** Measures drawn over yarn: circles of holes and widths, each with its words on a plate. */
import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import {
  BufferGeometry,
  CanvasTexture,
  DoubleSide,
  Float32BufferAttribute,
  LinearFilter,
  MeshBasicMaterial,
  SpriteMaterial,
} from 'three';
import { placeWords, type WordsRoom } from './place-words.ts';

export type MeasureMark = {
  readonly words: string;
  /** CSS colour. */
  readonly colour: string;
  readonly dashed: boolean;
  /** Where the words stand, mm. */
  readonly wordsAt: readonly [number, number];
} & (
  | {
      readonly kind: 'circle';
      readonly x: number;
      readonly y: number;
      readonly diameterMm: number;
    }
  | { readonly kind: 'width'; readonly y: number; readonly fromX: number; readonly toX: number }
);

export interface MeasureMarksProps {
  readonly marks: readonly MeasureMark[];
  /** Half width and half height that are in view, mm: with the canvas they set the size of the words. */
  readonly view: readonly [number, number];
  readonly plate: string;
  /** What a control takes of the upper right corner, px: no words lie under it. */
  readonly cornerPx: number;
}

export function MeasureMarks({ marks, view, plate, cornerPx }: MeasureMarksProps) {
  const size = useThree((state) => state.size);
  const halfHeight = Math.max(view[1], (view[0] * size.height) / Math.max(1, size.width));
  // Words are some 19 pixels high, whatever the canvas; on a small one a little less.
  const scaleMm = (halfHeight * 2 * Math.min(26, 12 + size.height / 32)) / Math.max(1, size.height);
  const halfWidth = (halfHeight * size.width) / Math.max(1, size.height);
  const cornerMm = (2 * halfHeight * cornerPx) / Math.max(1, size.height);
  const room = { halfWidth, halfHeight, cornerMm };
  return marks.map((mark) => (
    <Mark key={mark.words} told={mark} scaleMm={scaleMm} plate={plate} {...room} />
  ));
}

interface MarkProps extends WordsRoom {
  readonly told: MeasureMark;
  /** Height of the words, mm. */
  readonly scaleMm: number;
  readonly plate: string;
}

function Mark({ told, scaleMm, plate, halfWidth, halfHeight, cornerMm }: MarkProps) {
  const invalidate = useThree((state) => state.invalidate);
  const words = useMemo(() => paintWords(told.words, told.colour, plate), [told, plate]);
  const mark = useMemo((): MeasureMark => {
    const size = [scaleMm * words.aspect, scaleMm] as const;
    return {
      ...told,
      wordsAt: placeWords(told.wordsAt, size, { halfWidth, halfHeight, cornerMm }),
    };
  }, [told, words, scaleMm, halfWidth, halfHeight, cornerMm]);
  const line = useMemo(() => {
    const geometry = new BufferGeometry();
    const flat = lineStrips(mark, scaleMm * 0.055);
    geometry.setAttribute('position', new Float32BufferAttribute(flat, 3));
    return geometry;
  }, [mark, scaleMm]);
  const ink = useMemo(
    () =>
      new MeshBasicMaterial({
        color: mark.colour,
        side: DoubleSide,
        depthTest: false,
        transparent: true,
      }),
    [mark.colour],
  );
  const sprite = useMemo(
    () => new SpriteMaterial({ map: words.texture, depthTest: false, transparent: true }),
    [words],
  );
  useEffect(() => {
    invalidate();
    return () => {
      line.dispose();
      ink.dispose();
      words.texture.dispose();
      sprite.dispose();
    };
  }, [line, ink, words, sprite, invalidate]);
  return (
    <>
      <mesh geometry={line} material={ink} renderOrder={2} frustumCulled={false} />
      <sprite
        material={sprite}
        renderOrder={3}
        position={[mark.wordsAt[0], mark.wordsAt[1], 0]}
        scale={[scaleMm * words.aspect, scaleMm, 1]}
      />
    </>
  );
}

/** Triangles of the mark's lines, up to `widest` mm to either side. */
function lineStrips(mark: MeasureMark, widest: number): number[] {
  const out: number[] = [];
  let half = widest;
  const stroke = (ax: number, ay: number, bx: number, by: number) => {
    const length = Math.hypot(bx - ax, by - ay) || 1;
    const nx = (-(by - ay) / length) * half;
    const ny = ((bx - ax) / length) * half;
    const corners = [
      [ax + nx, ay + ny],
      [ax - nx, ay - ny],
      [bx - nx, by - ny],
      [bx + nx, by + ny],
    ];
    for (const k of [0, 1, 2, 0, 2, 3]) out.push(corners[k][0], corners[k][1], 0);
  };
  if (mark.kind === 'circle') {
    const r = mark.diameterMm / 2;
    const steps = 48;
    half = Math.min(half, 0.14 * r);
    for (let k = 0; k < steps; k++) {
      if (mark.dashed && k % 4 > 1) continue;
      const a = (2 * Math.PI * k) / steps;
      const b = (2 * Math.PI * (k + 1)) / steps;
      stroke(
        mark.x + r * Math.cos(a),
        mark.y + r * Math.sin(a),
        mark.x + r * Math.cos(b),
        mark.y + r * Math.sin(b),
      );
    }
    // A line from the rim of the circle to its words.
    const dx = mark.wordsAt[0] - mark.x;
    const dy = mark.wordsAt[1] - mark.y;
    const away = Math.hypot(dx, dy);
    if (away > r) {
      stroke(mark.x + (dx / away) * r, mark.y + (dy / away) * r, mark.wordsAt[0], mark.wordsAt[1]);
    }
  } else {
    const { fromX, toX, y } = mark;
    const steps = mark.dashed ? 15 : 1;
    for (let k = 0; k < steps; k += 2) {
      const at = (i: number) => fromX + ((toX - fromX) * i) / steps;
      stroke(at(k), y, at(k + 1), y);
    }
    for (const x of [fromX, toX]) stroke(x, y - 8 * half, x, y + 8 * half);
  }
  return out;
}

const TEXT_PIXELS = 44;

function paintWords(
  words: string,
  colour: string,
  plate: string,
): { texture: CanvasTexture; aspect: number } {
  const canvas = document.createElement('canvas');
  const context = canvas.getContext('2d');
  const font = `600 ${TEXT_PIXELS}px "Avenir Next", "Segoe UI", "Helvetica Neue", Arial, "Liberation Sans", sans-serif`;
  if (context) {
    context.font = font;
    const pad = TEXT_PIXELS * 0.45;
    canvas.width = Math.ceil(context.measureText(words).width + 2 * pad);
    canvas.height = Math.ceil(TEXT_PIXELS * 1.6);
    context.font = font;
    context.fillStyle = plate;
    context.beginPath();
    context.roundRect(0, 0, canvas.width, canvas.height, canvas.height / 2);
    context.fill();
    context.fillStyle = colour;
    context.textBaseline = 'middle';
    context.fillText(words, pad, canvas.height / 2 + 2);
  }
  const texture = new CanvasTexture(canvas);
  texture.minFilter = LinearFilter;
  texture.generateMipmaps = false;
  texture.colorSpace = 'srgb';
  return { texture, aspect: canvas.width / Math.max(1, canvas.height) };
}
