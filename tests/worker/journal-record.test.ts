import fc from 'fast-check';
import { expect, it } from 'vitest';
import { decodeRecord, encodeRecord } from '../../src/worker/journal-record.ts';
import { runs } from '../runs.ts';

const record = fc.record({
  tab: fc.string(),
  number: fc.nat(),
  text: fc.string({ unit: 'binary', maxLength: 200 }),
  fileName: fc.string(),
  savedAt: fc.nat(),
  project: fc.option(
    fc.record({
      load: fc.string(),
      changedAt: fc.nat(),
      mine: fc.record({ title: fc.string() }),
      base: fc.record({ title: fc.string() }),
      revision: fc.nat(),
    }),
  ),
});

it('reads back what was written, over a longer record too', () => {
  fc.assert(
    fc.property(record, record, (earlier, later) => {
      const file = encodeRecord(earlier);
      const bytes = encodeRecord(later);
      const both = new Uint8Array(Math.max(file.length, bytes.length));
      both.set(file);
      both.set(bytes);
      expect(decodeRecord(both)).toEqual(later);
    }),
    { seed: 1, numRuns: runs(100) },
  );
});

it('takes no record that was cut off, on its own or over another', () => {
  fc.assert(
    fc.property(
      record,
      record,
      fc.double({ min: 0, max: 1, noNaN: true }),
      (earlier, later, at) => {
        const bytes = encodeRecord(later);
        const cut = bytes.subarray(0, Math.floor(at * (bytes.length - 1)));
        expect(decodeRecord(cut)).toBeNull();
        const file = new Uint8Array(encodeRecord(earlier));
        if (file.length <= cut.length) return;
        file.set(cut);
        const read = decodeRecord(file);
        // What the cut did not reach is the earlier one; what it reached in part is neither.
        if (read) expect([earlier, later]).toContainEqual(read);
      },
    ),
    { seed: 1, numRuns: runs(200) },
  );
});

it('takes nothing else for a record', () => {
  for (const bytes of [
    new Uint8Array(),
    new Uint8Array(16),
    new TextEncoder().encode('x'.repeat(99)),
  ]) {
    expect(decodeRecord(bytes)).toBeNull();
  }
});
