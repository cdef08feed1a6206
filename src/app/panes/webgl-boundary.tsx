/** Keeps the page going where the browser cannot draw in 3D, and says so. */
import type { ReactNode } from 'react';
import { Component } from 'react';

interface PictureGuardProps {
  readonly children: ReactNode;
}

interface PictureGuardState {
  readonly trouble: string | null;
}

function drawsIn3d(): boolean {
  try {
    return document.createElement('canvas').getContext('webgl2') !== null;
  } catch {
    return false;
  }
}

let able: boolean | null = null;

export class PictureGuard extends Component<PictureGuardProps, PictureGuardState> {
  override state: PictureGuardState = { trouble: null };

  static getDerivedStateFromError(error: unknown): PictureGuardState {
    return { trouble: error instanceof Error ? error.message : String(error) };
  }

  override render(): ReactNode {
    able ??= drawsIn3d();
    if (!able) {
      return (
        <p className="wait">
          This browser draws nothing in 3D (WebGL 2 is missing or switched off). The plan, its
          counts and the verdict work without the picture.
        </p>
      );
    }
    if (this.state.trouble !== null) {
      return (
        <div className="wait">
          <p>The picture broke off: {this.state.trouble}. The plan and the verdict are unharmed.</p>
          <button type="button" className="button" onClick={() => this.setState({ trouble: null })}>
            Draw it again
          </button>
        </div>
      );
    }
    return this.props.children;
  }
}
