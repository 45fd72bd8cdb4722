// @vitest-environment jsdom
import { render } from '@testing-library/svelte';
import { expect, it } from 'vitest';
import Tally from './tally.svelte';

function counts(done: number, total: number) {
  const { container } = render(Tally, { done, total });
  return [container.querySelectorAll('svg').length, container.querySelectorAll('line').length, container.querySelectorAll('circle').length];
}

it('strikes what has counted and dots what is missing, in fives', () => {
  expect(counts(11, 20)).toEqual([4, 11, 9]);
  expect(counts(0, 7)).toEqual([2, 0, 7]);
});

it('never strikes more than was needed, nor draws more marks than fit', () => {
  expect(counts(33, 20)).toEqual([4, 20, 0]);
  const [, struck = 0, dots = 0] = counts(90, 240);
  expect(struck + dots).toBe(60);
  expect(struck).toBe(22); // 90 of 240 min in steps of 4 min
});
