/**
 * The picture of the fabric from the last visit, shown where the page will draw its own until it has, and the
 * keeping of it once the fabric lies still.
 */
import { type RefObject, useEffect, useRef, useState } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { isPictureKept, keepPicture, markOf } from '../state/kept-fabric.ts';
import { page, usePage } from '../state/page-store.ts';

export function KeptPicture() {
  const picture = usePage((state) => state.keptPicture);
  if (!picture) return null;
  return <img className="kept-picture" src={picture} alt="The fabric as it was drawn last time" />;
}

function dropKeptPicture(): void {
  const { keptPicture } = page.get();
  if (!keptPicture) return;
  page.set({ keptPicture: null });
  URL.revokeObjectURL(keptPicture);
}

/** Takes the kept picture away when the scene has drawn its own. */
export function useDrawn(camera: RefObject<CameraHandle | null>, ready: boolean): boolean {
  const [drawn, setDrawn] = useState(false);
  useEffect(() => {
    if (!ready || drawn) return;
    let frame = 0;
    let after = 0;
    const look = () => {
      // The second frame after the scene stands has been painted.
      if (camera.current && ++after > 2) {
        setDrawn(true);
        dropKeptPicture();
      } else frame = requestAnimationFrame(look);
    };
    frame = requestAnimationFrame(look);
    return () => cancelAnimationFrame(frame);
  }, [camera, ready, drawn]);
  return drawn;
}

/** The view is kept when it has not been turned for so long. Chosen. */
const STILL_MS = 2500;

/**
 * Keeps the picture of a fabric at rest for the next visit. `of`: the text it belongs to, or null; `shown`: what else decides
 * how it looks.
 */
export function useKeepingPicture(
  camera: RefObject<CameraHandle | null>,
  of: string | null,
  shown: readonly unknown[],
): void {
  const now = useRef(shown);
  now.current = shown;
  useEffect(() => {
    if (of === null) return;
    const take = () => {
      const there = camera.current;
      if (!there) return;
      const mark = markOf(of, there.view(), ...now.current);
      // Without a graphics card the same picture once more would take half a second of drawing and packing.
      if (isPictureKept(mark)) return;
      there.picture().toBlob((blob) => {
        if (blob && page.get().text === of) void keepPicture({ text: of, picture: blob, mark });
      }, 'image/webp');
    };
    const pause = setTimeout(take, STILL_MS);
    // As it was last turned, where the browser leaves the time for it.
    const hidden = () => document.visibilityState === 'hidden' && take();
    document.addEventListener('visibilitychange', hidden);
    return () => {
      clearTimeout(pause);
      document.removeEventListener('visibilitychange', hidden);
    };
  }, [camera, of]);
}
