/** On the picture: what is being worked out, how far it has come, and the way to stop it. */
import type { ReactNode } from 'react';

export function BusyNote(props: {
  readonly words: string;
  /** What has come so far, as the bar is named. */
  readonly name: string;
  /** 0 … 1; null while it is not known. */
  readonly share: number | null;
  readonly onStop: () => void;
  readonly children?: ReactNode;
}) {
  const { words, name, share, onStop, children } = props;
  return (
    <div className="stage-note stage-busy" data-state="busy">
      <span className="pulse" />
      <span>{words}</span>
      <button type="button" onClick={onStop}>
        Stop
      </button>
      <progress aria-label={name} max={1} {...(share === null ? {} : { value: share })} />
      {children}
    </div>
  );
}
