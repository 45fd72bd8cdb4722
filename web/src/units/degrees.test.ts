import { describe, expect, it } from 'vitest';
import {
  differenceIn, parseTemperature, plainWithRange, range, reading, signed, signedWithRange, temperatureIn, whole, withUnit, written,
} from './degrees';

describe('degrees', () => {
  // Source: SI brochure, 9th edition, section 2.3.1: t/°F = 1.8 t/°C + 32; intervals scale by 1.8 only.
  it('turn points with the offset and differences without', () => {
    expect(temperatureIn(32, 'F', 'C')).toBe(0);
    expect(temperatureIn(212, 'F', 'C')).toBeCloseTo(100, 12);
    expect(temperatureIn(-40, 'C', 'F')).toBeCloseTo(-40, 12);
    expect(differenceIn(9, 'F', 'C')).toBe(5);
    expect(differenceIn(5, 'C', 'F')).toBe(9);
    expect(differenceIn(0, 'C', 'F')).toBe(0);
  });

  it('come back to where they were', () => {
    for (let value = -60; value < 900; value += 7.3) {
      expect(temperatureIn(temperatureIn(value, 'F', 'C'), 'C', 'F')).toBeCloseTo(value, 9);
    }
  });

  it('are whole, with a real minus and a plus', () => {
    expect(whole(250.5)).toBe('251');
    expect(whole(-0.4)).toBe('0');
    expect(signed(14.2)).toBe('+14');
    expect(signed(-9.5)).toBe('−10');
    expect(signed(-0.2)).toBe('0');
    expect(reading(null)).toBe('no reading');
    expect(reading(263.4)).toBe('263°');
  });

  it('show their range, tenths only where it is narrower than a degree', () => {
    expect(signedWithRange({ value: 14.2, low: 11.9, high: 16.4 })).toBe('+14 (12 to 16)');
    expect(signedWithRange({ value: 0.24, low: -0.1, high: 0.6 })).toBe('+0.2 (−0.1 to 0.6)');
    expect(plainWithRange({ value: 251.2, low: 244, high: 258 })).toBe('251 (244 to 258)');
    expect(range({ value: null, low: null, high: null })).toBe('no range');
    expect(signedWithRange({ value: null, low: null, high: null })).toBe('not known');
  });

  it('are read as people type them', () => {
    expect(parseTemperature('263', 'F')).toEqual({ value: 263, unit: 'F' });
    expect(parseTemperature(' 128,5 °C', 'F')).toEqual({ value: 128.5, unit: 'C' });
    expect(parseTemperature('−4 f', 'C')).toEqual({ value: -4, unit: 'F' });
    expect(parseTemperature('warm', 'F')).toBeNull();
    expect(parseTemperature('', 'F')).toBeNull();
    expect(written(263.04, 'F')).toBe('263 F');
  });
});

it('a bare number takes the unit of the screen', () => {
  expect(withUnit('250', 'F')).toBe('250 F');
  expect(withUnit(' 120,5° ', 'C')).toBe('120.5 C');
  expect(withUnit('120 C', 'F')).toBe('120 C');
  expect(withUnit('  ', 'F')).toBeNull();
});
