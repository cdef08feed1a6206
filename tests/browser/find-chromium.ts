/** Where a Chromium is on this machine; one clear line where there is none. */
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome', 'chrome'];
const PLACES = [
  '/usr/bin',
  '/usr/local/bin',
  '/snap/bin',
  '/opt/google/chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
];

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

export function findChromium(
  environment: Readonly<Record<string, string | undefined>> = process.env,
): string {
  const asked = environment.LIEFLAT_CHROMIUM;
  if (asked) {
    if (isProgram(asked)) return asked;
    throw new Error(
      `LIEFLAT_CHROMIUM says ${asked}, but ${existsSync(asked) ? 'that is not a program' : 'there is nothing'}.`,
    );
  }
  const folders = [...(environment.PATH ?? '').split(delimiter).filter(Boolean), ...PLACES];
  for (const name of NAMES) {
    for (const folder of folders) {
      const path = join(folder, name);
      if (isProgram(path)) return path;
    }
  }
  for (const place of PLACES)
    if (place.startsWith('/Applications') && isProgram(place)) return place;
  throw new Error(
    'The page’s tests need a Chromium: `apt-get install chromium`, or set LIEFLAT_CHROMIUM to the path of one.',
  );
}
