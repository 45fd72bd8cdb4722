import { describe, expect, it } from 'vitest';
import { ago, clock, day, instantOf, minutes, minutesLeft } from './moments';

describe('moments', () => {
  it("are told by the pit's own clock, whatever zone this device is in", () => {
    expect(clock('2026-05-02T14:10:00-05:00', 'en-GB')).toBe('14:10');
    expect(clock('2026-05-02T14:10:00+09:30', 'en-GB')).toBe('14:10');
    expect(clock('2026-05-02T14:10:00-05:00', 'en-US')).toMatch(/^2:10\sPM$/);
    expect(clock('2026-05-02T23:59:00+02:00', 'de-DE')).toBe('23:59');
  });

  it('since the first sample stay what they are', () => {
    expect(clock('0:35:00')).toBe('0:35');
    expect(day('0:35:00')).toBe('since the first reading');
    expect(instantOf('0:35:00')).toBeNull();
    expect(instantOf(null)).toBeNull();
    expect(clock(null)).toBe('–');
  });

  // Source: ISO 8601-1:2019, 4.2.2: local time minus the stated shift is UTC.
  it('are the instant that the offset says', () => {
    expect(instantOf('1970-01-01T00:00:00-05:00')).toBe(5 * 3600 * 1000);
  });

  it('keep the day of the pit', () => {
    expect(day('2026-05-02T23:30:00-05:00', 'en-GB')).toBe('Sat, 2 May 2026');
  });
});

describe('lengths of time', () => {
  it('are whole minutes in words', () => {
    expect(minutes(20)).toBe('under a minute');
    expect(minutes(660)).toBe('11 min');
    expect(minutes(4200)).toBe('1 h 10 min');
    expect(minutes(7200)).toBe('2 h');
  });

  it('never call a thing done too early', () => {
    expect(minutesLeft(61)).toBe(2);
    expect(minutesLeft(60)).toBe(1);
    expect(minutesLeft(0)).toBe(0);
    expect(minutesLeft(-30)).toBe(0);
  });

  it('say how old a thing is', () => {
    expect(ago(3000)).toBe('just now');
    expect(ago(240_000)).toBe('4 min ago');
    expect(ago(2 * 3600_000)).toBe('2 h ago');
    expect(ago(3 * 86400_000)).toBe('3 days ago');
  });
});
