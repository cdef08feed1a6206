/**
 * A part of the page that breaks, or cannot be loaded, leaves the rest as it is and can be tried again.
 * In: the part's name for the message, its content, and what stands in its place meanwhile, if not only words.
 */
import type { ComponentType, ReactNode } from 'react';
import { Component, createElement, lazy, useEffect, useState } from 'react';

interface BoundaryProps {
  /** As the message calls it, e.g. `The pattern`. */
  readonly name: string;
  readonly children: ReactNode;
  /** Stands under the message: something plain to go on with. */
  readonly instead?: ReactNode;
}

interface BoundaryState {
  readonly trouble: string | null;
}

export class PaneBoundary extends Component<BoundaryProps, BoundaryState> {
  override state: BoundaryState = { trouble: null };

  static getDerivedStateFromError(error: unknown): BoundaryState {
    return { trouble: error instanceof Error ? error.message : String(error) };
  }

  override render(): ReactNode {
    const { trouble } = this.state;
    const { name, children, instead } = this.props;
    if (trouble === null) return children;
    return (
      <>
        <div className={instead ? 'broken broken-slim' : 'broken'} role="alert">
          <p>
            {name} {reasonOf(trouble)} The plan is unharmed.
          </p>
          <button
            type="button"
            className="button"
            onClick={() => {
              reloadFailedParts();
              this.setState({ trouble: null });
            }}
          >
            Try again
          </button>
        </div>
        {instead}
      </>
    );
  }
}

function reasonOf(trouble: string): string {
  if (/dynamically imported module|importing a module|module script/i.test(trouble)) {
    return 'could not be loaded: is the network gone?';
  }
  const short = trouble.length > 120 ? `${trouble.slice(0, 119)}…` : trouble;
  return `broke off (${short}).`;
}

const failed = new Set<() => void>();

function reloadFailedParts(): void {
  for (const reload of failed) reload();
  failed.clear();
}

/** React's `lazy`, but a part that could not be loaded is asked for again when its boundary is tried again. */
export function lazyPart<Props extends object>(
  load: () => Promise<{ default: ComponentType<Props> }>,
): ComponentType<Props> {
  const attempt = () =>
    lazy(() =>
      load().catch((error) => {
        failed.add(() => {
          part = attempt();
        });
        throw error;
      }),
    );
  let part = attempt();
  return (props) => createElement(part, props);
}

/**
 * A part that is shown as soon as it is there, `meanwhile` before. React holds back what `lazy` reveals until 0.3 s after
 * the last such reveal, and one part would wait for another. One that could not be loaded breaks, and is asked for again
 * when its boundary is tried again. `load` must stay the same function.
 */
export function PromptPart(props: {
  readonly load: () => Promise<{ default: ComponentType }>;
  readonly meanwhile: ReactNode;
}) {
  const { load, meanwhile } = props;
  const [part, setPart] = useState<ComponentType | null>(null);
  const [trouble, setTrouble] = useState<unknown>(null);
  useEffect(() => {
    let gone = false;
    load().then(
      (found) => {
        if (!gone) setPart(() => found.default);
      },
      (error) => {
        if (!gone) setTrouble(error ?? new Error('no reason given'));
      },
    );
    return () => {
      gone = true;
    };
  }, [load]);
  if (trouble !== null) throw trouble;
  return part ? createElement(part) : meanwhile;
}
