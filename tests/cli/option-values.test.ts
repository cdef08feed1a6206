import { expect, it } from 'vitest';
import {
  parseAmount,
  parsePositive,
  parseRange,
  parseRates,
  parseSeed,
} from '../../src/cli/option-values.ts';

it('decrease rates are read as rounds per decrease round', () => {
  expect(parseRates('1, 4/3,3/2,2').map((r) => r.every)).toEqual([1, 4 / 3, 1.5, 2]);
});

it.each(['', '0', 'x', '1,,2', '1/2', '1/0', '-2', '1e3', '101', Array(13).fill('2').join()])(
  'the rates "%s" are refused',
  (text) => {
    expect(() => parseRates(text)).toThrow();
  },
);

it('seeds are whole numbers of 32 bits', () => {
  expect(parseSeed('4294967295')).toBe(4294967295);
  for (const bad of ['-1', '1.5', '4294967296', '', 'a', '1e3'])
    expect(() => parseSeed(bad)).toThrow();
});

it('amounts and lengths are finite numbers', () => {
  expect(parsePositive('1e-5')).toBe(1e-5);
  expect(parsePositive('.5')).toBe(0.5);
  expect(parseAmount('0')).toBe(0);
  for (const bad of ['0', '-1', 'NaN', 'Infinity', '1,5', '', ' ', '0x10', '1e999']) {
    expect(() => parsePositive(bad), bad).toThrow();
  }
});

it('ranges run upwards from 1', () => {
  expect(parseRange('3-9')).toEqual({ from: 3, to: 9 });
  expect(parseRange('4')).toEqual({ from: 4, to: 4 });
  for (const bad of ['9-3', '0-2', 'a-b', '3-', '']) expect(() => parseRange(bad), bad).toThrow();
});
