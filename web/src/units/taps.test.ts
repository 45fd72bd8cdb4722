import { expect, it } from 'vitest';
import { lidOpenSince, tapWords } from './taps';

it('tells taps in words', () => {
  expect(tapWords({ what: 'changed', setting: 'B' })).toBe('Changed to B');
  expect(tapWords({ what: 'reading', spot: 'Left front', value: '263 F' })).toBe('Left front: 263 °F');
  expect(tapWords({ what: 'note', text: 'ash out' })).toBe('Note: ash out');
  expect(tapWords({ what: 'moved', spot: 'Left front' })).toBe('Probe moved (Left front)');
  expect(tapWords({ what: 'something new' })).toBe('something new');
});

it('knows whether the lid is open, whatever order the taps came in', () => {
  const opened = { what: 'lid', at: '2026-05-02T14:00:00Z', undone: false };
  const shut = { what: 'lid closed', at: '2026-05-02T14:02:00Z', undone: false };
  expect(lidOpenSince([])).toBeNull();
  expect(lidOpenSince([opened])).toBe(opened.at);
  expect(lidOpenSince([shut, opened])).toBeNull();
  expect(lidOpenSince([{ ...shut, undone: true }, opened])).toBe(opened.at);
  expect(lidOpenSince([{ ...opened, undone: true }])).toBeNull();
  expect(lidOpenSince([{ ...opened, until: shut.at }]), 'as the server tells it').toBeNull();
  expect(lidOpenSince([{ ...opened, until: null }])).toBe(opened.at);
});
