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
import { FilmMenu } from './film-menu.tsx';

export function StageTools(props: {
  readonly camera: RefObject<CameraHandle | null>;
  readonly onSavePicture?: () => void;
  /** Name of the film that can be made of the view; none without it. */
  readonly film?: string;
}) {
  const { camera, onSavePicture, film } = props;
  return (
    <div className="stage-tools" role="toolbar" aria-label="Look" aria-orientation="vertical">
      <Tool name="Fit in" keys="F" onClick={() => camera.current?.fit()}>
        <FitGlyph />
      </Tool>
      <Tool name="Start over" keys="R" onClick={() => camera.current?.reset()}>
        <ResetGlyph />
      </Tool>
      <Tool name="From above" keys="T" onClick={() => camera.current?.lookFrom('above')}>
        <AboveGlyph />
      </Tool>
      <Tool name="From the side" keys="S" onClick={() => camera.current?.lookFrom('side')}>
        <SideGlyph />
      </Tool>
      <Tool name="Nearer" keys="+" onClick={() => camera.current?.zoom(1 / 1.25)}>
        <PlusGlyph />
      </Tool>
      <Tool name="Further" keys="−" onClick={() => camera.current?.zoom(1.25)}>
        <MinusGlyph />
      </Tool>
      {onSavePicture && (
        <Tool name="Save this picture" keys="PNG" onClick={onSavePicture}>
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
