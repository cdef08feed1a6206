import { describe, expect, it } from 'vitest';
import { findChromium } from './find-chromium.ts';

describe('looking for a browser', () => {
  it('takes the one that the environment names', () => {
    expect(findChromium({ LIEFLAT_CHROMIUM: process.execPath })).toBe(process.execPath);
  });

  it('says in one line what is wrong with the one that it names', () => {
    expect(() => findChromium({ LIEFLAT_CHROMIUM: '/no/such/browser' })).toThrow(
      /^LIEFLAT_CHROMIUM says \/no\/such\/browser, but there is nothing\.$/,
    );
  });
});
