/**
 * What tabs that are gone had written ahead goes into the storage before anything is read from it: nothing is lost with a
 * browser that was killed. Out: this tab's id and, where the storage did not take it, what was left behind.
 */
import type { JournalRecord } from '../../worker/journal-record.ts';
import { type LeftJournal, leftJournals } from './journal.ts';
import { guarded, storage } from './kept.ts';
import { recoverProject } from './project-autosave.ts';
import { openTab, openTabs } from './tab.ts';

export interface Left {
  readonly tab: string;
  readonly left: readonly JournalRecord[];
  /** False where the storage failed: what is left is only in the journal. */
  readonly stored: boolean;
}

export async function recoverLeft(): Promise<Left> {
  const [tab, left] = await Promise.all([openTab(), leftJournals()]);
  const stored = await guarded(() => recover(tab, left));
  return { tab, left: left.map(({ record }) => record), stored };
}

async function recover(tab: string, left: readonly LeftJournal[]): Promise<void> {
  if (left.length === 0) return;
  const open = await openTabs();
  const changedAt = ({ record }: LeftJournal) => record.project?.changedAt ?? 0;
  const gone = left
    .filter(({ record }) => record.tab === tab || !open?.has(record.tab))
    // What a load wrote last holds what it wrote before.
    .sort((a, b) => changedAt(b) - changedAt(a));
  for (const { record, drop } of gone) {
    const { text, fileName, savedAt } = record;
    if (savedAt > 0) await storage.recoverPlan(record.tab, { text, fileName, savedAt });
    await recoverProject(record);
    await drop();
  }
}
