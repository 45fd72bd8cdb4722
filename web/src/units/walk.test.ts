import { expect, it } from 'vitest';
import type { Latest, Spot } from '../api/contract';
import { laneHalf, rowsOf } from './walk';

const spot = (name: string, role: Spot['role']): Spot => ({
  name, channel: name, role, grate: null, x_m: null, y_m: null, z_m: null,
});
const latest = (channel: string, value: number, runs: number | null): Latest => ({
  channel, spot: channel, role: 'air', at: null, value, runs,
});

it('lists air spots first, numbered as one walks, and what nobody placed last', () => {
  const rows = rowsOf(
    [spot('dial', 'dial'), spot('L1', 'air'), spot('R1', 'air')],
    [latest('R1', 250, -6), { ...latest('X', 90, null), role: 'outside' }],
  );
  expect(rows.map((row) => [row.number, row.name, row.value, row.runs])).toEqual([
    [1, 'L1', null, null],
    [2, 'R1', 250, -6],
    [null, 'dial', null, null],
    [null, 'X', 90, null],
  ]);
});

it('gives the lane round tens that hold every run and what matters twice', () => {
  const rows = rowsOf([spot('a', 'air')], [latest('a', 250, 27)]);
  expect(laneHalf(rows, 10)).toBe(30);
  expect(laneHalf([], 10)).toBe(20);
});
