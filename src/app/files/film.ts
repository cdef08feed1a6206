/**
 * A film of the view that ends where it begins: the piece turned once round, or swung to and fro.
 * In: the camera, which way and how long. Out: pictures as PNG, and from them a WebM film or a zip of pictures.
 * All pictures are drawn first and then played to the recorder, so that a slow machine makes no uneven film.
 */
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { paintStage } from './save-picture.ts';

export type FilmWay = 'round' | 'swing';

export interface FilmAsked {
  readonly way: FilmWay;
  readonly seconds: number;
  readonly dark: boolean;
  /** Hears of every picture, 0 … 1; ends the work by returning true. */
  readonly onProgress: (share: number) => boolean;
}

/** Pictures a second: common for films on the web. */
const PICTURES_PER_SECOND = 25;
const SWING_RAD = 0.45;
/** Shares of the work: drawing takes longer than playing. */
const DRAWING_SHARE = 0.7;
const BITS_PER_SECOND = 8_000_000;

/** Angle round the vertical at a moment of the loop, 0 … 1. */
export function loopAngle(way: FilmWay, at: number): number {
  return way === 'round' ? 2 * Math.PI * at : SWING_RAD * Math.sin(2 * Math.PI * at);
}

/** Null where it was ended on the way. The camera comes back to where it was. */
export async function drawPictures(
  camera: CameraHandle,
  { way, seconds, dark, onProgress }: FilmAsked,
): Promise<Blob[] | null> {
  const count = Math.round(seconds * PICTURES_PER_SECOND);
  const drawn = document.createElement('canvas');
  const canvas = document.createElement('canvas');
  const pictures: Blob[] = [];
  let angle = 0;
  const turnTo = (next: number) => {
    camera.rotate(next - angle, 0);
    angle = next;
  };
  for (let k = 0; k < count; k++) {
    turnTo(loopAngle(way, k / count));
    camera.filmOn(drawn);
    // Video wants even sides.
    canvas.width = drawn.width & ~1;
    canvas.height = drawn.height & ~1;
    paintStage(canvas, drawn, dark);
    const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/png'));
    if (blob) pictures.push(blob);
    if (onProgress((DRAWING_SHARE * (k + 1)) / count)) {
      turnTo(0);
      return null;
    }
  }
  turnTo(way === 'round' ? 2 * Math.PI : 0);
  return pictures;
}

/** Kinds of film that browsers record, the best first. */
const KINDS = ['video/webm;codecs=vp9', 'video/webm;codecs=vp8', 'video/webm'];

/** Null where this browser records no film. */
export function filmKind(): string | null {
  if (typeof MediaRecorder === 'undefined') return null;
  return KINDS.find((kind) => MediaRecorder.isTypeSupported(kind)) ?? null;
}

/** Plays the pictures to the browser's recorder at their own pace. */
export async function recordFilm(
  pictures: readonly Blob[],
  kind: string,
  onProgress: (share: number) => boolean,
): Promise<Blob | null> {
  const first = await createImageBitmap(pictures[0]);
  const canvas = document.createElement('canvas');
  canvas.width = first.width;
  canvas.height = first.height;
  const context = canvas.getContext('2d');
  if (!context) return null;
  context.drawImage(first, 0, 0);
  // Every picture is handed over by name: a busy machine would leave out some.
  const stream = canvas.captureStream(0);
  const track = stream.getVideoTracks()[0] as CanvasCaptureMediaStreamTrack;
  const recorder = new MediaRecorder(stream, {
    mimeType: kind,
    videoBitsPerSecond: BITS_PER_SECOND,
  });
  const parts: Blob[] = [];
  recorder.ondataavailable = ({ data }) => parts.push(data);
  const ended = new Promise((resolve) => {
    recorder.onstop = resolve;
  });
  recorder.start();
  const from = performance.now();
  let cancelled = false;
  for (let k = 0; k < pictures.length && !cancelled; k++) {
    const picture = await createImageBitmap(pictures[k]);
    const due = from + (1000 * k) / PICTURES_PER_SECOND - performance.now();
    if (due > 0) await new Promise((resolve) => setTimeout(resolve, due));
    context.drawImage(picture, 0, 0);
    track.requestFrame();
    picture.close();
    cancelled = onProgress(DRAWING_SHARE + ((1 - DRAWING_SHARE) * (k + 1)) / pictures.length);
  }
  // The last picture stays as long as every other.
  await new Promise((resolve) => setTimeout(resolve, 1000 / PICTURES_PER_SECOND));
  recorder.stop();
  await ended;
  track.stop();
  return cancelled ? null : new Blob(parts, { type: 'video/webm' });
}

/** The pictures numbered in one zip, for programs that cut films. */
export async function zipPictures(pictures: readonly Blob[], stem: string): Promise<Blob> {
  const { zipSync } = await import('fflate');
  const files: Record<string, Uint8Array> = {};
  for (let k = 0; k < pictures.length; k++) {
    const name = `${stem}-${String(k + 1).padStart(4, '0')}.png`;
    files[name] = new Uint8Array(await pictures[k].arrayBuffer());
  }
  // Pictures are packed already.
  return new Blob([zipSync(files, { level: 0 }) as Uint8Array<ArrayBuffer>], {
    type: 'application/zip',
  });
}
