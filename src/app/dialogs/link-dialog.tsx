/** A link to the plan at hand, to copy. The plan is in the link itself; nothing goes to a server. */
import { useEffect, useRef, useState } from 'react';
import { planFragment } from '../files/plan-link.ts';
import { page } from '../state/page-store.ts';
import { firstText } from '../state/start.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { Dialog } from '../ui/dialog.tsx';

export default function LinkDialog({ onClose }: { readonly onClose: () => void }) {
  const field = useRef<HTMLTextAreaElement>(null);
  const [link, setLink] = useState('');
  const [copied, setCopied] = useState('');

  useEffect(() => {
    let gone = false;
    const fragmentNow = firstText().then(() => planFragment(page.get().text));
    void fragmentNow.then((fragment) => {
      if (!gone) setLink(`${location.origin}${location.pathname}${fragment}`);
    });
    return () => {
      gone = true;
    };
  }, []);

  const copy = async () => {
    field.current?.select();
    try {
      await navigator.clipboard.writeText(link);
      setCopied('Copied.');
    } catch {
      // Not allowed here; the user's own copy works.
      setCopied('This browser does not let the page copy: the link is selected, copy it yourself.');
    }
  };

  return (
    <Dialog id="link-name" name="A link to this plan" onClose={onClose}>
      <div className="dialog-body">
        <p>
          The plan is in the link itself, after the #. Nothing is sent to a server; whoever has the
          link can read the plan.
        </p>
        <textarea
          ref={field}
          className="entry link-text"
          aria-label="Link"
          readOnly
          rows={5}
          value={link}
        />
        <div className="wish-row">
          <ActionButton
            className="button button-primary"
            why={link === '' ? 'Once the link is made' : ''}
            onClick={() => void copy()}
          >
            Copy the link
          </ActionButton>
          <span className="soft" role="status">
            {copied || (link && `${link.length.toLocaleString('en')} characters`)}
            {link.length > LONG &&
              ' Some programs cut links as long as this: send the file instead.'}
          </span>
        </div>
      </div>
    </Dialog>
  );
}

/** Longest address that common mail and chat programs pass on whole (from memory). */
const LONG = 2000;
