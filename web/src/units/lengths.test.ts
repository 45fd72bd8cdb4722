import { expect, it } from 'vitest';
import { lengthNumber, metres, parseLength, placeLength } from './lengths';

// Source: NIST SP 811 (2008), appendix B: 1 in = 0.0254 m and 1 ft = 0.3048 m, both exact.
it('turns lengths into metres', () => {
  expect(metres(36, 'in')).toBeCloseTo(0.9144, 12);
  expect(parseLength('36 in', 'cm')).toBeCloseTo(0.9144, 12);
  expect(parseLength('91', 'cm')).toBeCloseTo(0.91, 12);
  expect(parseLength('3 ft', 'cm')).toBeCloseTo(0.9144, 12);
  expect(parseLength('12"', 'cm')).toBeCloseTo(0.3048, 12);
  expect(parseLength('1,5 m', 'cm')).toBe(1.5);
});

it('refuses what is no length', () => {
  expect(parseLength('wide', 'cm')).toBeNull();
  expect(parseLength('-3', 'cm')).toBeNull();
  expect(parseLength('', 'cm')).toBeNull();
});

it('shows one decimal at most', () => {
  expect(lengthNumber(0.9144, 'in')).toBe('36');
  expect(lengthNumber(0.4572, 'cm')).toBe('45.7');
  expect(lengthNumber(null, 'cm')).toBe('');
});

it('tells a place as a tape can find it', () => {
  expect(placeLength(0.4219, 'in')).toBe('16.5 in');
  expect(placeLength(0.4219, 'cm')).toBe('42 cm');
  expect(placeLength(0, 'in')).toBe('0 in');
});
