/** The material that draws strands from textures (shaders/yarn.*.glsl), and those textures. */
import {
  Color,
  DataTexture,
  DoubleSide,
  FloatType,
  RGBAFormat,
  ShaderMaterial,
  UnsignedByteType,
  Vector2,
  Vector3,
} from 'three';
import woolShader from '../../../shaders/wool.glsl?raw';
import fragmentShader from '../../../shaders/yarn.frag.glsl?raw';
import vertexShader from '../../../shaders/yarn.vert.glsl?raw';

/** Texels of a row of the textures. */
const WIDE = 2048;
/** Over the viewer's left shoulder, as light falls on hand work: chosen. In the eye's frame. */
const EYE_LIGHT = new Vector3(-0.48, 0.52, 0.7).normalize();
/** Width of the fringe of loose fibres, radii, and how strongly neighbouring yarn darkens. By eye. */
const FUZZ = 0.4;
export const SHELTERING = 0.33;

export function createYarnMaterial(): ShaderMaterial {
  return new ShaderMaterial({
    vertexShader,
    fragmentShader: woolShader + fragmentShader,
    side: DoubleSide,
    uniforms: {
      opacity: { value: 1 },
      under: { value: 0 },
      centre: { value: null },
      shelter: { value: null },
      dye: { value: null },
      wide: { value: WIDE },
      points: { value: 0 },
      stride: { value: 1 },
      finer: { value: 1 },
      radiusMm: { value: 0.5 },
      yarnMm: { value: 1 },
      fuzz: { value: FUZZ },
      plies: { value: 3 },
      layMm: { value: 4 },
      sheltering: { value: SHELTERING },
      lightTowards: { value: EYE_LIGHT },
      lightInEye: { value: 1 },
      relief: { value: 1 },
      spin: { value: new Vector3() },
      focusPoints: { value: new Vector2(-1, -1) },
      cut: { value: new Vector3(1e9, 0, 1) },
      focusColour: { value: new Color() },
    },
  });
}

function rowsFor(points: number): number {
  return Math.max(1, Math.ceil(points / WIDE));
}

/** [4·points] as a texture. */
export function floatTexture(values: Float32Array, points: number): DataTexture {
  const rows = rowsFor(points);
  const padded = new Float32Array(4 * WIDE * rows);
  padded.set(values);
  const texture = new DataTexture(padded, WIDE, rows, RGBAFormat, FloatType);
  texture.needsUpdate = true;
  return texture;
}

/** What is taken off a strand's mark where it has come apart: less than tells two strands apart. */
const FRAYED = 48;

/** [points] strand, [3·points] linear RGB and, where yarn ends, [points] how much of it is there, as a texture. */
export function dyeTexture(
  points: number,
  strand: Int32Array,
  rgb: ArrayLike<number>,
  whole: Float32Array | null = null,
): DataTexture {
  const rows = rowsFor(points);
  const texels = new Uint8Array(4 * WIDE * rows);
  for (let i = 0; i < points; i++) {
    for (let c = 0; c < 3; c++) {
      texels[4 * i + c] = Math.round(255 * Math.sqrt(rgb[3 * i + c] ?? 0));
    }
    const frayed = whole ? Math.round(FRAYED * (1 - whole[i])) : 0;
    texels[4 * i + 3] = strand[i] % 2 === 0 ? 255 - frayed : frayed;
  }
  const texture = new DataTexture(texels, WIDE, rows, RGBAFormat, UnsignedByteType);
  texture.needsUpdate = true;
  return texture;
}
