/** One picture of a lesson: moving while it is worked out, with its name and figures, and taken for the class sheet. */
import { type RefObject, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { DARK_ROOM, LIGHT_ROOM } from '../../view/fabric/surface.ts';
import { FabricView } from '../../view/scene/fabric-view.tsx';
import { useYarnRgb } from '../close-up/yarn-colours.ts';
import { YarnPicture } from '../close-up/yarn-picture.tsx';
import { BusyNote } from '../panes/busy-note.tsx';
import { FilmMenu } from '../panes/film-menu.tsx';
import { TurnedPicture } from '../panes/turned-picture.tsx';
import { drawsIn3d } from '../panes/webgl-boundary.tsx';
import { fabricColours, spunYarn } from '../state/fabric-colours.ts';
import { useDark, useStillMotion } from '../state/media.ts';
import { usePage } from '../state/page-store.ts';
import { MM_PER_INCH } from '../state/units.ts';
import type { Band, Found, Scene } from './lesson.ts';
import { sceneKey } from './lesson.ts';
import { figures } from './lesson-figures.ts';
import { stopLesson, useLessonWork } from './lesson-work.ts';

interface PictureProps {
  readonly scene: Scene;
  /** Takes the picture once it has come to rest; null while nobody wants it. */
  readonly onTaken: ((key: string, address: string) => void) | null;
}

export function LessonPicture({ scene, onTaken }: PictureProps) {
  const key = sceneKey(scene.shown);
  const camera = useRef<CameraHandle>(null);
  const found = useLessonWork((state) => state.found.get(key) ?? null);
  const failed = useLessonWork((state) => state.failed.get(key) ?? null);
  const working = useLessonWork((state) => state.working === key);
  const moving = useLessonWork((state) => (state.working === key ? state.moving : null));
  const stopped = useLessonWork((state) => state.stopped);
  const units = usePage((state) => state.preferences.units);
  const shown = found ?? moving;
  const words = found ? figures(found, units) : '';
  useTaking(camera, key, found ? onTaken : null);
  const [cornerPx, setCornerPx] = useState(0);
  const measured = useCallback((tools: HTMLElement | null) => {
    if (!tools) return;
    const { offsetLeft, offsetTop, offsetHeight, offsetParent } = tools;
    setCornerPx(Math.max((offsetParent?.clientWidth ?? 0) - offsetLeft, offsetTop + offsetHeight));
  }, []);
  return (
    <figure className="lesson-scene">
      <div className="lesson-stage">
        {shown && (
          <TurnedPicture
            camera={camera}
            label={`${scene.name}. ${words || 'Still on its way to rest.'} The arrow keys turn it.`}
          >
            <Drawn found={shown} camera={camera} restKey={found ? key : ''} cornerPx={cornerPx} />
          </TurnedPicture>
        )}
        {found && drawsIn3d() && (
          <div className="stage-tools" ref={measured}>
            <FilmMenu camera={camera} title={scene.name} />
          </div>
        )}
        {!found && <Note trouble={failed} stopped={stopped} working={working} />}
      </div>
      <figcaption>
        <b>{scene.name}</b>
        <span>{words}</span>
      </figcaption>
    </figure>
  );
}

function Note(props: { trouble: string | null; stopped: boolean; working: boolean }) {
  const { trouble, stopped, working } = props;
  const share = useLessonWork((state) => state.share);
  if (working && !trouble && !stopped) {
    return (
      <BusyNote
        words="Coming to rest…"
        name="How far the piece has come"
        share={share}
        onStop={stopLesson}
      />
    );
  }
  const words = stopped ? 'Stopped. Move the slider or the step to go on.' : 'Waits for its turn…';
  return (
    <div className="stage-note" data-state={trouble ? 'trouble' : 'busy'}>
      <span>{trouble ?? words}</span>
    </div>
  );
}

/** Frames until a picture that came to rest is fitted in, at the size of a class sheet's pictures, and painted. Chosen. */
const FRAMES = 8;
const TAKEN_PX = 900;
/** A picture that is not drawn in so many frames is left out. Chosen: ten seconds and more. */
const MOST_FRAMES = 600;

function useTaking(
  camera: RefObject<CameraHandle | null>,
  key: string,
  onTaken: PictureProps['onTaken'],
): void {
  const taken = useRef(onTaken);
  taken.current = onTaken;
  const wanted = onTaken !== null;
  useEffect(() => {
    if (!wanted) return;
    let waited = 0;
    let frame = 0;
    let left = FRAMES;
    const look = () => {
      if (camera.current && left-- <= 0) {
        const canvas = document.createElement('canvas');
        camera.current.drawOn(canvas, TAKEN_PX);
        taken.current?.(key, canvas.toDataURL('image/png'));
      } else if (!drawsIn3d() || ++waited > MOST_FRAMES) {
        // The sheet goes on without it, and says that it is missing.
        taken.current?.(key, '');
      } else frame = requestAnimationFrame(look);
    };
    frame = requestAnimationFrame(look);
    return () => cancelAnimationFrame(frame);
  }, [camera, key, wanted]);
}

interface DrawnProps {
  readonly camera: RefObject<CameraHandle | null>;
  readonly restKey: string;
}

function Drawn(
  props: DrawnProps & {
    readonly found: Found;
    /** What the film's button takes of the upper right corner, px. */
    readonly cornerPx: number;
  },
) {
  const { found, cornerPx, ...rest } = props;
  return found.kind === 'yarn' ? (
    <YarnPicture closeUp={found.closeUp} cornerPx={cornerPx} {...rest} />
  ) : (
    <Fabric band={found.knitted} {...rest} />
  );
}

const nobody = () => {};

function Fabric({ band, camera, restKey }: DrawnProps & { readonly band: Band }) {
  const preferences = usePage((state) => state.preferences);
  const dark = useDark();
  const still = useStillMotion();
  const [, toldRgb] = useYarnRgb();
  const spun = useMemo(
    () => spunYarn({ ...preferences, colourMode: 'fabric', stripeRounds: 0 }),
    [preferences],
  );
  const rgb = useMemo(() => {
    const colours = fabricColours(band, band.positions, {
      ...preferences,
      colourMode: 'fabric',
      stripeRounds: 0,
    }).rgb.slice();
    if (band.linked === null && band.graph.join.halfTurns === 0) return colours;
    // The edges of a band stand out, so that an eye can follow them.
    const { course, courses, loops } = band.graph;
    for (let loop = 0; loop < loops; loop++) {
      if (course[loop] <= 0 || course[loop] >= courses - 1) colours.set(toldRgb, 3 * loop);
    }
    return colours;
  }, [band, preferences, toldRgb]);
  return (
    <FabricView
      ref={camera}
      surface={band}
      positions={band.positions}
      rgb={rgb}
      spun={spun}
      relief={1}
      throughCourse={null}
      focus={null}
      cut={null}
      gridMm={preferences.units === 'cm' ? 10 : MM_PER_INCH}
      room={dark ? DARK_ROOM : LIGHT_ROOM}
      stillMotion={still}
      pieceKey={`${band.plan.castOn} ${band.graph.join.halfTurns}`}
      restKey={restKey}
      onPickCourse={nobody}
    />
  );
}
