/** A close-up on paper: its picture with the marks, and what was measured in words. A sheet for students. */
import type { RefObject } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { usePage } from '../state/page-store.ts';
import { PrintSheet, StagePicture } from './print-sheet.tsx';

export function CloseUpPrint(props: {
  readonly camera: RefObject<CameraHandle | null>;
  /** What was measured; empty where nothing is. */
  readonly words: string;
}) {
  const { camera, words } = props;
  const title = usePage((state) => state.plan?.title ?? '');
  return (
    <PrintSheet name="close-up">
      <h1 className="written-title">{title ? `${title}: close-up` : 'Close-up'}</h1>
      <StagePicture camera={camera} words={words || 'A place of the piece in yarn'} />
      {words && <p>{words}</p>}
    </PrintSheet>
  );
}
