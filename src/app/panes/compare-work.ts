/** Compared pieces worked out one after the other: how far each has come, stopped and gone on with as the reader wishes. */
import { useCallback, useEffect, useRef, useState } from 'react';
import { KnitClient } from '../../worker/client.ts';
import type { KnittedSheet } from '../../worker/messages.ts';
import { RelaxProgress } from '../state/relax-progress.ts';

export interface Candidate {
  readonly key: string;
  readonly words: string;
  /** The plan at this rate; null where it cannot be worked so. */
  readonly text: string | null;
}

export type Outcome =
  | { readonly state: 'waiting' }
  /** Being worked out. */
  | { readonly state: 'busy' }
  | { readonly state: 'rest'; readonly knitted: KnittedSheet }
  | { readonly state: 'stopped' }
  | { readonly state: 'failed'; readonly message: string };

export interface CompareWork {
  /** One for each candidate. */
  readonly outcomes: readonly Outcome[];
  /** How far the one that is worked out has come, 0 … 1; null until its stitches are laid out. */
  readonly share: number | null;
  /** Ends what is being worked out and what waits; what is at rest stays. */
  readonly stop: () => void;
  /** Takes up again what was stopped. */
  readonly goOn: () => void;
}

const WAITING: Outcome = { state: 'waiting' };
const BUSY: Outcome = { state: 'busy' };
const STOPPED: Outcome = { state: 'stopped' };

/** `knitted`: the plan's own fabric, which lies there at once. */
export function useCompareWork(
  candidates: readonly Candidate[],
  knitted: KnittedSheet,
): CompareWork {
  const [outcomes, setOutcomes] = useState<readonly Outcome[]>([]);
  // Apart from the outcomes: a step nearer to rest is no reason to draw the pieces anew.
  const [share, setShare] = useState<number | null>(null);
  const [begun, setBegun] = useState(0);
  // By text: advice that comes later moves one rate, and the pieces at the others stay.
  const known = useRef(new Map<string | null, Outcome>());
  const stopNow = useRef(() => {});

  // biome-ignore lint/correctness/useExhaustiveDependencies: what its advice changes is the candidates
  useEffect(() => {
    const client = new KnitClient();
    known.current.set(knitted.plan.text, { state: 'rest', knitted });
    const found = candidates.map(({ text }) => known.current.get(text) ?? WAITING);
    const show = () => {
      const lasting = found.flatMap((outcome, k) =>
        outcome.state === 'rest' || outcome.state === 'stopped'
          ? [[candidates[k].text, outcome] as const]
          : [],
      );
      known.current = new Map(lasting);
      setOutcomes([...found]);
    };
    const next = () => {
      const k = found.findIndex(({ state }) => state === 'waiting');
      if (k >= 0) {
        found[k] = BUSY;
        setShare(null);
        workOut(client, candidates[k].text, setShare, (outcome) => {
          found[k] = outcome;
          next();
        });
      }
      show();
    };
    stopNow.current = () => {
      client.close();
      found.forEach(({ state }, k) => {
        if (state === 'busy' || state === 'waiting') found[k] = STOPPED;
      });
      show();
    };
    next();
    return () => client.close();
  }, [candidates, begun]);

  return {
    outcomes,
    share,
    stop: useCallback(() => stopNow.current(), []),
    goOn: useCallback(() => {
      for (const [text, { state }] of known.current) {
        if (state === 'stopped') known.current.delete(text);
      }
      setBegun((times) => times + 1);
    }, []),
  };
}

function workOut(
  client: KnitClient,
  text: string | null,
  come: (share: number) => void,
  finish: (outcome: Outcome) => void,
): void {
  if (text === null) {
    finish({ state: 'failed', message: 'The plan cannot be worked at this rate.' });
    return;
  }
  const progress = new RelaxProgress();
  client.knit(
    text,
    null,
    {
      onProgress: ({ residual }) => come(progress.next(residual).share),
      onDone: (knitted) => finish({ state: 'rest', knitted }),
      onFailed: (message) => finish({ state: 'failed', message }),
    },
    false,
  );
}
