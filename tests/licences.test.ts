/** What the page and the command are made of may be given away with them: every package that they ship says so. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '..');

interface Package {
  readonly license?: string;
  readonly dev?: boolean;
  readonly optional?: boolean;
  readonly version?: string;
}

const lock = JSON.parse(readFileSync(join(ROOT, 'package-lock.json'), 'utf8')) as {
  packages: Record<string, Package>;
};

/** Licences that ask for no more than their text (SPDX identifiers, spdx.org/licenses). */
const SHIPPED =
  /^(MIT|ISC|0BSD|BSD-[23]-Clause|Apache-2\.0|Zlib|CC0-1\.0|Unlicense|BlueOak-1\.0\.0)$/;
/** Tools that are only run may also ask for their own changes back. */
const RUN_ONLY = /^(MPL-2\.0|CC-BY-4\.0|Python-2\.0|Artistic-2\.0)$/;

const packages = Object.entries(lock.packages).filter(([path]) => path !== '');

function allowed(expression: string, list: RegExp[]): boolean {
  // An OR leaves the choice, an AND asks for all.
  return expression
    .replace(/[()]/g, '')
    .split(' OR ')
    .some((choice) => choice.split(' AND ').every((one) => list.some((r) => r.test(one.trim()))));
}

it('every shipped package has a licence that asks for its text only', () => {
  const others = packages
    .filter(([, { dev, license = 'none' }]) => !dev && !allowed(license, [SHIPPED]))
    .map(([path, { license }]) => `${path}: ${license}`);
  expect(others).toEqual([]);
  expect(packages.filter(([, { dev }]) => !dev).length).toBeGreaterThan(20);
});

it('every tool has a licence that lets it be run', () => {
  const others = packages
    .filter(([, { dev, license = 'none' }]) => dev && !allowed(license, [SHIPPED, RUN_ONLY]))
    .map(([path, { license }]) => `${path}: ${license}`);
  expect(others).toEqual([]);
});

it('every version is stated exactly', () => {
  const { dependencies, devDependencies } = JSON.parse(
    readFileSync(join(ROOT, 'package.json'), 'utf8'),
  );
  for (const version of Object.values({ ...dependencies, ...devDependencies })) {
    expect(version).toMatch(/^\d+\.\d+\.\d+$/);
  }
});
