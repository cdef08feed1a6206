/** A picture that takes the keys which turn it. In: what it is, in words; its camera; the view itself. */
import type { ReactNode, RefObject } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { handleViewKey } from '../../view/camera/view-keys.ts';
import { PictureGuard } from './webgl-boundary.tsx';

export function TurnedPicture(props: {
  readonly camera: RefObject<CameraHandle | null>;
  readonly label: string;
  /** Identifier of the words about its keys, where they are not in the label. */
  readonly describedBy?: string;
  /** Whether it shows a setting from before. */
  readonly stale?: boolean;
  readonly children: ReactNode;
}) {
  const { camera, label, describedBy, stale, children } = props;
  return (
    <div
      className="stage-focus"
      data-stale={stale}
      role="img"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the picture takes the keys that turn it
      tabIndex={0}
      aria-label={label}
      aria-describedby={describedBy}
      onKeyDown={(event) => {
        if (event.ctrlKey || event.metaKey || event.altKey) return;
        if (handleViewKey(event, camera.current)) event.preventDefault();
      }}
    >
      <PictureGuard>{children}</PictureGuard>
    </div>
  );
}
