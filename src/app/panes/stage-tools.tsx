/** Buttons that move the camera; every one has a key. */
import type { ReactNode, RefObject } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import {
  AboveGlyph,
  FitGlyph,
  MinusGlyph,
  PictureGlyph,
  PlusGlyph,
  ResetGlyph,
  SideGlyph,
} from '../ui/icons.tsx';
import { withCamera } from './camera-there.ts';
import { FilmMenu } from './film-menu.tsx';
import { drawsIn3d } from './webgl-boundary.tsx';

export function StageTools(props: {
  readonly camera: RefObject<CameraHandle | null>;
  readonly onSavePicture?: (there: CameraHandle) => void;
  /** Name of the film that can be made of the view; none without it. */
  readonly film?: string;
}) {
  const { camera, onSavePicture, film } = props;
  if (!drawsIn3d()) return null;
  const move = (act: (there: CameraHandle) => void) => withCamera(camera, act);
  return (
    <div className="stage-tools" role="toolbar" aria-label="Look" aria-orientation="vertical">
      <Tool name="Fit in" keys="F" onClick={() => move((there) => there.fit())}>
        <FitGlyph />
      </Tool>
      <Tool name="Start over" keys="R" onClick={() => move((there) => there.reset())}>
        <ResetGlyph />
      </Tool>
      <Tool name="From above" keys="T" onClick={() => move((there) => there.lookFrom('above'))}>
        <AboveGlyph />
      </Tool>
      <Tool name="From the side" keys="S" onClick={() => move((there) => there.lookFrom('side'))}>
        <SideGlyph />
      </Tool>
      <Tool name="Nearer" keys="+" onClick={() => move((there) => there.zoom(1 / 1.25))}>
        <PlusGlyph />
      </Tool>
      <Tool name="Further" keys="−" onClick={() => move((there) => there.zoom(1.25))}>
        <MinusGlyph />
      </Tool>
      {onSavePicture && (
        <Tool name="Save this picture" keys="PNG" onClick={() => move(onSavePicture)}>
          <PictureGlyph />
        </Tool>
      )}
      {film !== undefined && <FilmMenu camera={camera} title={film} />}
    </div>
  );
}

function Tool(props: {
  readonly name: string;
  readonly keys: string;
  readonly onClick: () => void;
  readonly children: ReactNode;
}) {
  return (
    <button
      type="button"
      className="button button-square"
      aria-label={props.name}
      title={`${props.name} (${props.keys})`}
      onClick={props.onClick}
    >
      {props.children}
    </button>
  );
}
