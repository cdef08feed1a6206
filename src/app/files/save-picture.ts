/** The view of the fabric as a PNG, on the table it lies on. */
import { notify } from '../state/page-store.ts';
import { fileName, saveBlob } from './save-files.ts';

/** Near and far colour of the stage; the same as in styles/tokens.css. */
const LIGHT = ['#f4f1ea', '#dcd6c9'] as const;
const DARK = ['#2a2f31', '#131617'] as const;

export async function savePicture(
  drawn: HTMLCanvasElement,
  dark: boolean,
  title: string,
): Promise<void> {
  const canvas = document.createElement('canvas');
  canvas.width = drawn.width;
  canvas.height = drawn.height;
  paintStage(canvas, drawn, dark);
  const blob = await new Promise<Blob | null>((resolve) => {
    canvas.toBlob(resolve, 'image/png');
  });
  if (blob) saveBlob(blob, fileName(title, 'png'));
  else notify('picture', 'The picture could not be saved: it is too large for this browser.');
}

/** The view on the ground that it has on the page. */
export function paintStage(
  canvas: HTMLCanvasElement,
  drawn: HTMLCanvasElement,
  dark: boolean,
): void {
  const context = canvas.getContext('2d');
  if (!context) return;
  const { width, height } = canvas;
  const radius = 0.75 * Math.max(width, height);
  const ground = context.createRadialGradient(
    width / 2,
    0.46 * height,
    0,
    width / 2,
    0.46 * height,
    radius,
  );
  const [near, far] = dark ? DARK : LIGHT;
  ground.addColorStop(0, near);
  ground.addColorStop(1, far);
  context.fillStyle = ground;
  context.fillRect(0, 0, width, height);
  context.drawImage(drawn, 0, 0);
}
