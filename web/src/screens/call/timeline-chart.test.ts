import { expect, it } from 'vitest';
import { linesOf } from './timeline-chart';

it('draws a line through the low and the high of every bucket and leaves gaps open', () => {
  const lines = linesOf({
    unit: 'F',
    channels: [
      { channel: 'A1', t: [100, 140, 180], low: [240, null, 250], high: [260, null, 255] },
      { channel: 'empty', t: [], low: [], high: [] },
    ],
  });
  expect(lines).toEqual([
    { channel: 'A1', t: [90, 110, 130, 150, 170, 190], value: [240, 260, null, null, 250, 255] },
  ]);
});
