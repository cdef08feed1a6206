/**
 * Keeps the page going where the browser cannot draw in 3D, and says so; where the graphics card drops the picture,
 * it is drawn anew by itself.
 */
import type { ReactNode } from 'react';
import { Component, Fragment } from 'react';

interface PictureGuardProps {
  readonly children: ReactNode;
}

interface PictureGuardState {
  readonly trouble: string | null;
  /** The picture was dropped and is not yet back. */
  readonly dropped: boolean;
  /** Grows with every picture drawn anew. */
  readonly drawing: number;
}

/** The card is given a moment to come back before the picture is drawn on another canvas, ms. Chosen. */
const REDRAW_AFTER_MS = 600;
/** So often within a minute; then only when asked. Chosen: a card that keeps dropping it is not to be pressed. */
const MOST_REDRAWS = 3;

let able: boolean | null = null;

/** False where there is no picture to turn, save or film. */
export function drawsIn3d(): boolean {
  try {
    able ??= document.createElement('canvas').getContext('webgl2') !== null;
  } catch {
    able = false;
  }
  return able;
}

export class PictureGuard extends Component<PictureGuardProps, PictureGuardState> {
  override state: PictureGuardState = { trouble: null, dropped: false, drawing: 0 };
  private frame: HTMLElement | null = null;
  private waiting: ReturnType<typeof setTimeout> | undefined;
  private redraws: number[] = [];

  static getDerivedStateFromError(error: unknown): Partial<PictureGuardState> {
    return { trouble: error instanceof Error ? error.message : String(error), dropped: false };
  }

  override componentWillUnmount(): void {
    clearTimeout(this.waiting);
    this.watch(null);
  }

  /** The event does not rise from the canvas, but is seen on its way down. */
  private readonly watch = (frame: HTMLElement | null): void => {
    this.frame?.removeEventListener('webglcontextlost', this.drop, true);
    this.frame = frame;
    frame?.addEventListener('webglcontextlost', this.drop, true);
  };

  private readonly drop = (event: Event): void => {
    event.preventDefault();
    const now = performance.now();
    this.redraws = this.redraws.filter((at) => now - at < 60_000);
    if (this.redraws.length >= MOST_REDRAWS) {
      this.setState({ trouble: 'the graphics card keeps dropping it', dropped: false });
      return;
    }
    this.redraws.push(now);
    this.setState({ dropped: true });
    clearTimeout(this.waiting);
    this.waiting = setTimeout(this.redraw, REDRAW_AFTER_MS);
  };

  private readonly redraw = (): void => {
    this.setState(({ drawing }) => ({ trouble: null, dropped: false, drawing: drawing + 1 }));
  };

  override render(): ReactNode {
    if (!drawsIn3d()) {
      return (
        <p className="wait">
          This browser draws nothing in 3D (WebGL 2 is missing or switched off). The plan, its
          counts and the verdict work without the picture.
        </p>
      );
    }
    const { trouble, dropped, drawing } = this.state;
    if (trouble !== null) {
      return (
        <div className="wait" role="alert">
          <p>The picture broke off: {trouble}. The plan and the verdict are unharmed.</p>
          <button type="button" className="button" onClick={this.redraw}>
            Draw it again
          </button>
        </div>
      );
    }
    return (
      <div className="picture" ref={this.watch}>
        <Fragment key={drawing}>{this.props.children}</Fragment>
        {dropped && (
          <p className="picture-dropped" role="status">
            The graphics card dropped the picture; it is drawn again…
          </p>
        )}
      </div>
    );
  }
}
