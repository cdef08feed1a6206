/** Earlier versions of the plan, newest first; any of them can be brought back. */
import { useEffect, useState } from 'react';
import { loadFormerProjects, loadVersions } from '../state/autosave.ts';
import { usePage } from '../state/page-store.ts';
import { bringBack } from '../state/plan-actions.ts';
import { titleOf } from '../state/plan-title.ts';
import { bringBackProject, saveFormerProject } from '../state/project-actions.ts';
import type { FormerProject, PlanVersion } from '../state/storage.ts';
import { changedLines } from '../state/text-change.ts';
import { ActionButton } from '../ui/action-button.tsx';
import { Dialog } from '../ui/dialog.tsx';

const TIME = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });

export default function VersionsDialog({ onClose }: { readonly onClose: () => void }) {
  const [versions, setVersions] = useState<PlanVersion[] | 'awaited' | null>('awaited');
  const [projects, setProjects] = useState<FormerProject[]>([]);
  const text = usePage((state) => state.text);
  const shown = versions === 'awaited' ? [] : (versions ?? []);

  useEffect(() => {
    void loadVersions().then(setVersions);
    void loadFormerProjects().then(setProjects);
  }, []);

  return (
    <Dialog id="versions-name" name="Earlier versions" onClose={onClose}>
      <div className="dialog-body">
        {versions === 'awaited' && <p className="soft">Looking…</p>}
        {versions === null && (
          <p className="soft">
            The browser’s storage does not give them now. What is kept there stays there.
          </p>
        )}
        {versions?.length === 0 && (
          <p className="soft">
            Nothing yet. A version is kept in this browser before every bigger change and after each
            minute of typing.
          </p>
        )}
        {projects.length > 0 && <FormerProjects projects={projects} onClose={onClose} />}
        {projects.length > 0 && <h3>Plans</h3>}
        <ul className="versions">
          {shown.map((version) => (
            <li className="version" key={version.id}>
              <div>
                <div>{titleOf(version.text) || 'Untitled plan'}</div>
                <div className="soft">
                  {TIME.format(version.savedAt)}, {version.occasion} ·{' '}
                  {differenceText(changedLines(version.text, text))}
                </div>
              </div>
              <ActionButton
                className="button button-small"
                why={version.text === text ? 'The plan in the editor is this one' : ''}
                onClick={() => {
                  onClose();
                  void bringBack(version.text, version.fileName);
                }}
              >
                Bring back
              </ActionButton>
            </li>
          ))}
        </ul>
      </div>
    </Dialog>
  );
}

/** Projects that another one took the place of. */
function FormerProjects(props: {
  readonly projects: readonly FormerProject[];
  readonly onClose: () => void;
}) {
  return (
    <>
      <h3>Whole projects</h3>
      <ul className="versions">
        {props.projects.map((former) => (
          <li className="version" key={former.id}>
            <div>
              <div>{former.name}</div>
              <div className="soft">
                {TIME.format(former.savedAt)}, {former.occasion}
              </div>
            </div>
            <span>
              <button
                type="button"
                className="button button-small"
                onClick={() => saveFormerProject(former)}
              >
                Save as a file
              </button>{' '}
              <button
                type="button"
                className="button button-small"
                onClick={() => {
                  props.onClose();
                  void bringBackProject(former);
                }}
              >
                Bring back
              </button>
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}

function differenceText(lines: number): string {
  if (lines === 0) return 'the same as now';
  return lines === 1 ? '1 line differs' : `${lines} lines differ`;
}
