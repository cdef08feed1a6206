/**
 * A button that stays within reach while it cannot act, and says why: to the pointer, to a screen reader, and beside it
 * once it is pressed. In: `why`, empty where it can act.
 */
import { type ComponentProps, useId, useState } from 'react';

export interface ActionButtonProps extends Omit<ComponentProps<'button'>, 'disabled'> {
  readonly why: string;
}

export function ActionButton({ why, title, onClick, type = 'button', ...rest }: ActionButtonProps) {
  const reason = useId();
  const [pressedWhile, setPressedWhile] = useState('');
  return (
    <>
      <button
        {...rest}
        type={type}
        title={why || title}
        aria-disabled={why !== '' || undefined}
        aria-describedby={why ? reason : undefined}
        onClick={(event) => {
          if (why) {
            event.preventDefault();
            setPressedWhile(why);
          } else {
            setPressedWhile('');
            onClick?.(event);
          }
        }}
      />
      {why && (
        <span id={reason} className={pressedWhile === why ? 'why' : 'only-heard'} role="status">
          {pressedWhile === why ? `${why}.` : why}
        </span>
      )}
    </>
  );
}
