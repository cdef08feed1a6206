/** The frame of every dialog: shown when it is there, with its name, a way to close it, and its content. */
import { type ReactNode, useLayoutEffect, useRef } from 'react';

export function Dialog(props: {
  /** Identifier of the heading. */
  readonly id: string;
  readonly name: string;
  readonly wide?: boolean;
  readonly onClose: () => void;
  readonly children: ReactNode;
}) {
  const { id, name, wide, onClose, children } = props;
  const dialog = useRef<HTMLDialogElement>(null);
  useLayoutEffect(() => {
    const shown = dialog.current;
    shown?.showModal();
    // Closed rather than only taken away: the focus goes back to where it was.
    return () => shown?.close();
  }, []);
  return (
    <dialog
      ref={dialog}
      className={wide ? 'dialog dialog-wide' : 'dialog'}
      aria-labelledby={id}
      onClose={onClose}
    >
      <div className="dialog-head">
        <h2 id={id}>{name}</h2>
        <button type="button" className="button button-small" onClick={onClose}>
          Close
        </button>
      </div>
      {children}
    </dialog>
  );
}
