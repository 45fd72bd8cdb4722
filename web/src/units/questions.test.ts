import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { CallDocument } from '../api/contract';
import { moreWords, pairsOf, questionsOf, sideOf, spotQuestionsOf, survivals } from './questions';

// The golden files that the C++ tests write and check.
function golden(name: string): CallDocument {
  return JSON.parse(readFileSync(new URL(`../../../tests/golden/call/${name}.json`, import.meta.url), 'utf8')) as CallDocument;
}

describe('the questions of a call', () => {
  const call = golden('tray_moved_F');
  const pair = { from: 'A', to: 'B' };

  it('are those of the golden page, shape before level', () => {
    expect(pairsOf(call)).toEqual([pair]);
    expect(questionsOf(call, pair).map((one) => [one.key, one.change.call])).toEqual([
      ['left-right', 'clear'], ['front-back', 'no odds'], ['spread', 'clear'], ['level', 'not yet'], ['dial gap', 'too close'],
    ]);
    expect(spotQuestionsOf(call, pair).map((one) => one.asks)).toEqual(['left front', 'left back', 'right front', 'right back']);
  });

  it('say which way only where the range leaves zero out', () => {
    expect(questionsOf(call, pair).map(sideOf)).toEqual(['towards the right', '', 'more even', '', 'it shows less']);
    const [first] = questionsOf(call, pair);
    expect(first && sideOf({ ...first, change: { ...first.change, call: 'not yet' } })).toBe('');
    expect(first && sideOf({ ...first, change: { ...first.change, call: 'muddled' } })).toBe('');
  });

  it('say how many stints more', () => {
    const level = questionsOf(call, pair).find((one) => one.key === 'level');
    expect(level && moreWords(level.change)).toBe('2 more stints would probably settle it.');
    const clear = questionsOf(call, pair)[0];
    expect(clear && moreWords(clear.change)).toBe('');
  });

  it('know every pair of three settings, and that a dial may be missing', () => {
    const three = golden('three_baffles_C');
    expect(pairsOf(three).map((one) => one.from + one.to)).toEqual(['AB', 'AC', 'BC']);
    expect(questionsOf({ ...three, dial_gap: null }, { from: 'B', to: 'C' }).some((one) => one.key === 'dial gap')).toBe(false);
  });

  it('survive or not by their word', () => {
    const whole = questionsOf(call, pair);
    const without = whole.slice(1).map((one) =>
      one.key === 'spread' ? { ...one, change: { ...one.change, call: 'too close' as const } } : one);
    expect(survivals(whole, without).map((one) => [one.question.key, one.survives, one.without?.call ?? null])).toEqual([
      ['left-right', false, null], ['front-back', true, 'no odds'], ['spread', false, 'too close'],
      ['level', true, 'not yet'], ['dial gap', true, 'too close'],
    ]);
  });
});
