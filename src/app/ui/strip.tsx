/** One choice of a few, drawn as a strip of buttons: one Tab to the chosen one, arrow keys from there. */
import { ToggleGroup } from 'radix-ui';
import type { ComponentProps } from 'react';

type StripProps = Omit<
  Extract<ComponentProps<typeof ToggleGroup.Root>, { type: 'single' }>,
  'type'
>;

export const StripItem = ToggleGroup.Item;

export function Strip({ className = 'strip', ...rest }: StripProps) {
  return (
    <ToggleGroup.Root
      {...rest}
      type="single"
      className={className}
      onMouseDown={(event) => {
        // The group would wait for a focus that is there already, and at the next Tab keep it to itself, unseen.
        const pressed = (event.target as Element).closest('button');
        if (pressed === document.activeElement) event.preventDefault();
      }}
    />
  );
}
