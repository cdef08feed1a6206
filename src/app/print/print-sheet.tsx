/**
 * A sheet for the printer beside the page: `styles/print.css` prints it and nothing else. It is filled
 * when the browser begins to print and emptied afterwards, with a picture of the stage as it stands.
 */
import {
  type ReactNode,
  type RefObject,
  useEffect,
  useLayoutEffect,
  useRef,
  useState,
} from 'react';
import { createPortal, flushSync } from 'react-dom';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { usePattern } from '../pattern/pattern-choices.ts';

export function PrintSheet(props: { readonly name: string; readonly children: ReactNode }) {
  const paper = usePattern((choices) => choices.paper);
  const [printing, setPrinting] = useState(false);
  useEffect(() => {
    // Now, not at the next frame: the printer takes the page as it stands when these return.
    const begin = () => flushSync(() => setPrinting(true));
    const end = () => setPrinting(false);
    window.addEventListener('beforeprint', begin);
    window.addEventListener('afterprint', end);
    return () => {
      window.removeEventListener('beforeprint', begin);
      window.removeEventListener('afterprint', end);
    };
  }, []);
  return createPortal(
    <div className={`print-sheet print-${props.name}`} data-paper={paper}>
      {printing && props.children}
    </div>,
    document.body,
  );
}

/** Width of the picture on paper: 186 mm at 200 dots to the inch, enough for a stitch to be told apart. */
const PICTURE_PX = 1480;

export function StagePicture(props: {
  readonly camera: RefObject<CameraHandle | null>;
  readonly words: string;
}) {
  const { camera, words } = props;
  const canvas = useRef<HTMLCanvasElement>(null);
  const [missing, setMissing] = useState(false);
  useLayoutEffect(() => {
    if (canvas.current && camera.current) camera.current.drawOn(canvas.current, PICTURE_PX);
    // Known before the printer takes the page.
    else setMissing(true);
  }, [camera]);
  if (missing) return <p>The picture was not drawn yet when this was printed: {words}</p>;
  return <canvas ref={canvas} className="print-picture" role="img" aria-label={words} />;
}
