// The spots in the order in which one walks round them, and where each reading lies on its lane.

import type { Latest, Spot } from '../api/contract';

/** One row of the list of readings. */
export interface Row {
  number: number | null;
  name: string;
  role: Spot['role'] | string;
  channel: string;
  at: string | null;
  value: number | null;
  runs: number | null;
}

const airFirst = ['air', 'dial', 'food', 'set', 'drive', 'outside', 'wind'];

/** Air spots in the order they were written down, then the rest by what they are. */
export function rowsOf(spots: readonly Spot[], latest: readonly Latest[]): Row[] {
  const byChannel = new Map(latest.map((one) => [one.channel, one]));
  const known = new Set(spots.map((spot) => spot.channel));
  const unplaced = latest
    .filter((one) => !known.has(one.channel))
    .map((one) => ({ name: one.spot ?? one.channel, channel: one.channel, role: one.role }));
  const order = (role: string) => (airFirst.indexOf(role) + 99) % 99;
  let air = 0;
  return [...spots, ...unplaced]
    .map((spot, place) => ({ spot, place }))
    .sort((one, other) => order(one.spot.role) - order(other.spot.role) || one.place - other.place)
    .map(({ spot }) => {
      const newest = byChannel.get(spot.channel);
      return {
        number: spot.role === 'air' ? ++air : null,
        name: spot.name,
        role: spot.role,
        channel: spot.channel,
        at: newest?.at ?? null,
        value: newest?.value ?? null,
        runs: newest?.runs ?? null,
      };
    });
}

/** Half the width of the lane: the widest run, but never less than twice what matters, in round tens. */
export function laneHalf(rows: readonly Row[], matters: number): number {
  const widest = Math.max(0, ...rows.map((row) => Math.abs(row.runs ?? 0)));
  return Math.ceil(Math.max(widest * 1.05, 2 * matters) / 10) * 10;
}
