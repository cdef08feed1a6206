/** Makes a film of the view that can be shown in a loop: chosen, drawn with a bar and a way out, and saved. */
import { Popover } from 'radix-ui';
import { type RefObject, useId, useRef, useState } from 'react';
import type { CameraHandle } from '../../view/camera/camera-rig.tsx';
import { drawPictures, type FilmWay, filmKind, recordFilm, zipPictures } from '../files/film.ts';
import { fileName, saveBlob } from '../files/save-files.ts';
import { useDark, useFilming } from '../state/media.ts';
import { notify } from '../state/page-store.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { FilmGlyph } from '../ui/icons.tsx';
import { Strip, StripItem } from '../ui/strip.tsx';

const LENGTHS = [4, 8, 16] as const;

type Saved = 'film' | 'pictures';

export function FilmMenu(props: {
  readonly camera: RefObject<CameraHandle | null>;
  readonly title: string;
}) {
  const { camera, title } = props;
  const [way, setWay] = useState<FilmWay>('round');
  const [seconds, setSeconds] = useState<number>(LENGTHS[1]);
  const [share, setShare] = useState<number | null>(null);
  const cancelled = useRef(false);
  const dark = useDark();
  const kind = filmKind();
  const name = useId();

  const make = async (as: Saved) => {
    cancelled.current = false;
    setShare(0);
    useFilming.setState({ filming: true });
    const onProgress = (at: number) => {
      setShare(at);
      return cancelled.current;
    };
    try {
      // The camera hears of it with the next frame.
      await new Promise((resolve) => requestAnimationFrame(resolve));
      const pictures =
        camera.current && (await drawPictures(camera.current, { way, seconds, dark, onProgress }));
      if (!pictures?.length) {
        if (!cancelled.current) throw new Error('there is no picture now');
        return;
      }
      const film =
        as === 'film' && kind
          ? await recordFilm(pictures, kind, onProgress)
          : await zipPictures(pictures, fileName(title, 'png').replace(/\.png$/, ''));
      if (film) saveBlob(film, fileName(title, as === 'film' ? 'webm' : 'pictures.zip'));
    } catch (error) {
      notify(
        'file',
        `The film could not be made: ${error instanceof Error ? error.message : error}`,
      );
    } finally {
      useFilming.setState({ filming: false });
      setShare(null);
    }
  };

  return (
    <Popover.Root
      onOpenChange={(open) => {
        if (!open) cancelled.current = true;
      }}
    >
      <Popover.Trigger
        className="button button-square"
        aria-label="Make a film"
        title="Make a film of this view, to show in a loop"
      >
        <FilmGlyph />
      </Popover.Trigger>
      <Popover.Portal>
        <Popover.Content
          className="popover film"
          aria-label="Film of the view"
          side="left"
          sideOffset={8}
          collisionPadding={8}
        >
          {share === null ? (
            <>
              <p>A film that ends where it begins.</p>
              <Strip
                aria-label="Movement"
                value={way}
                onValueChange={(value) => value && setWay(value as FilmWay)}
              >
                <StripItem value="round">Once round</StripItem>
                <StripItem value="swing">To and fro</StripItem>
              </Strip>
              <Strip
                aria-label="Length"
                value={String(seconds)}
                onValueChange={(value) => value && setSeconds(Number(value))}
              >
                {LENGTHS.map((length) => (
                  <StripItem key={length} value={String(length)}>
                    {length} s
                  </StripItem>
                ))}
              </Strip>
              <div className="film-save">
                <ActionButton
                  className="button button-primary button-small"
                  why={
                    kind === null ? 'This browser cannot record films: save pictures instead' : ''
                  }
                  onClick={() => void make('film')}
                >
                  Save as film (WebM)
                </ActionButton>
                <button
                  type="button"
                  className="button button-small"
                  onClick={() => void make('pictures')}
                >
                  Save as pictures (PNG)
                </button>
              </div>
              {kind === null && (
                <p className="soft">
                  This browser records no films; pictures in a zip work everywhere.
                </p>
              )}
            </>
          ) : (
            <>
              <p id={name}>Making the film…</p>
              <progress aria-labelledby={name} max={1} value={share} />
              <button
                type="button"
                className="button button-small"
                onClick={() => {
                  cancelled.current = true;
                }}
              >
                Cancel
              </button>
            </>
          )}
        </Popover.Content>
      </Popover.Portal>
    </Popover.Root>
  );
}
