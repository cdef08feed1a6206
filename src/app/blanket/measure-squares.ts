/**
 * Relaxes the squares of the blanket one after another in a worker of their own and remembers what
 * came out, so that a square is worked out once however often it is laid.
 */
import { useEffect, useState, useSyncExternalStore } from 'react';
import { KnitClient } from '../../worker/client.ts';
import type { KnittedSheet } from '../../worker/messages.ts';
import { page } from '../state/page-store.ts';

export type Measured =
  | { readonly state: 'waiting' }
  | { readonly state: 'rest'; readonly knitted: KnittedSheet }
  | { readonly state: 'failed'; readonly message: string };

/** By plan text, the oldest first. */
const known = new Map<string, Measured>();
/** Sheets remembered. Chosen: about 1 MB each. */
const REMEMBERED = 60;

function remember(text: string, measured: Measured): void {
  known.delete(text);
  known.set(text, measured);
  for (const oldest of known.keys()) {
    if (known.size <= REMEMBERED) break;
    known.delete(oldest);
  }
  version++;
  for (const tell of listeners) tell();
}

let version = 0;
const listeners = new Set<() => void>();

function listen(tell: () => void): () => void {
  listeners.add(tell);
  return () => listeners.delete(tell);
}

/** What another part of the page has had measured of these texts, as it comes to be known; nothing is begun for it. */
export function useAlreadyMeasured(texts: readonly string[]): readonly Measured[] {
  useSyncExternalStore(listen, () => version);
  return texts.map((text) => known.get(text) ?? WAITING);
}

const WAITING: Measured = { state: 'waiting' };

/** What is known of each text; more follows. */
export function useMeasured(texts: readonly string[]): (text: string) => Measured {
  const [, setCount] = useState(0);
  const key = [...new Set(texts)].join('\u0000');
  useEffect(() => {
    const { knitted } = page.get();
    if (knitted) remember(knitted.plan.text, { state: 'rest', knitted });
    const client = new KnitClient();
    const left = key === '' ? [] : key.split('\u0000').filter((text) => !known.has(text));
    const next = () => {
      setCount((count) => count + 1);
      const text = left.shift();
      if (text === undefined) {
        client.close();
        return;
      }
      client.knit(
        text,
        null,
        {
          onDone: (done) => {
            remember(text, { state: 'rest', knitted: done });
            next();
          },
          onFailed: (message) => {
            remember(text, { state: 'failed', message });
            next();
          },
        },
        false,
      );
    };
    next();
    return () => client.close();
  }, [key]);
  return (text) => known.get(text) ?? WAITING;
}
