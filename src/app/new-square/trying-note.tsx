/** What is being tried, for how long, and the way to stop it. */
import { type ReactNode, useEffect, useState } from 'react';

/** From this time on it is said that it may take longer. Chosen. */
const LONG_S = 3;

export function TryingNote(props: {
  /** `Drafting…` */
  readonly now: string;
  /** The time is counted afresh when this changes. */
  readonly since: unknown;
  readonly stop: string;
  readonly onStop: () => void;
  readonly children: ReactNode;
}) {
  const { now, since, stop, onStop, children } = props;
  const [seconds, setSeconds] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: other wishes start the count afresh
  useEffect(() => {
    setSeconds(0);
    const clock = setInterval(() => setSeconds((s) => s + 1), 1000);
    return () => clearInterval(clock);
  }, [since]);
  return (
    <div className="drafting">
      <p className="drafting-now">
        <span className="pulse" /> {now}
        {seconds > 0 && ` ${seconds} s`}
      </p>
      {children}
      {seconds >= LONG_S && (
        <p className="soft">
          Every trial comes to rest and is measured: ten seconds is not unusual.
        </p>
      )}
      <button type="button" className="button button-small" onClick={onStop}>
        {stop}
      </button>
    </div>
  );
}
