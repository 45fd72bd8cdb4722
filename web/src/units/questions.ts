// The questions of a call in words, and whether their answers survive when something is taken out.
// Words and numbers come from the engine; nothing is computed here.

import type { CallChange, CallDocument } from '../api/contract';

export type Word = CallChange['call'];

export interface Question {
  /** Stays the same when the call is made again without a spot or a stint. */
  key: string;
  asks: string;
  /** Whether more of it is hotter, so that blue and orange may be used. */
  heat: boolean;
  sides: Sides;
  change: CallChange;
}

export interface Pair {
  from: string;
  to: string;
}

/** The pairs of settings that were compared, in the order of the call. */
export function pairsOf(call: CallDocument): Pair[] {
  const seen = new Map<string, Pair>();
  for (const change of call.level.changes) seen.set(`${change.from}→${change.to}`, { from: change.from, to: change.to });
  return [...seen.values()];
}

/** What a change is called on either side of zero, where its range leaves zero out. */
interface Sides {
  more: string;
  less: string;
}

const tilts = {
  'left-right': { asks: 'Does heat move left or right?', sides: { more: 'towards the right', less: 'towards the left' } },
  'front-back': { asks: 'Does heat move to door or back?', sides: { more: 'towards the back', less: 'towards the door' } },
  'top-bottom': { asks: 'Does heat move up or down?', sides: { more: 'towards the top', less: 'towards the bottom' } },
} as const;

function changeOf(changes: readonly CallChange[], pair: Pair): CallChange | undefined {
  return changes.find((one) => one.from === pair.from && one.to === pair.to);
}

/** The questions about the whole chamber, shape before level: what moved, how even, how hot, the dial. */
export function questionsOf(call: CallDocument, pair: Pair): Question[] {
  const found: Question[] = [];
  const add = (key: string, asks: string, sides: Sides, changes: readonly CallChange[], heat = false) => {
    const change = changeOf(changes, pair);
    if (change) found.push({ key, asks, sides, heat, change });
  };
  for (const tilt of call.tilts) add(tilt.axis, tilts[tilt.axis].asks, tilts[tilt.axis].sides, tilt.changes);
  add('spread', 'Is it more even?', { more: 'less even', less: 'more even' }, call.spread.changes);
  add('level', 'Is the whole chamber hotter?', { more: 'hotter', less: 'cooler' }, call.level.changes, true);
  if (call.dial_gap !== null) {
    add('dial gap', 'Does the dial stray differently?', { more: 'it shows more', less: 'it shows less' }, call.dial_gap.changes);
  }
  return found;
}

/** "towards the right": which way a change went; empty where that cannot be said. */
export function sideOf({ change, sides }: Question): string {
  if (change.call !== 'clear' && change.call !== 'too close') return '';
  if (change.low !== null && change.low > 0) return sides.more;
  return change.high !== null && change.high < 0 ? sides.less : '';
}

/** The questions about single spots: how each runs against the level. */
export function spotQuestionsOf(call: CallDocument, pair: Pair): Question[] {
  return call.spots.flatMap((spot) => {
    const change = changeOf(spot.changes, pair);
    return change
      ? [{ key: `spot ${spot.spot}`, asks: spot.spot, heat: true, sides: { more: 'hotter against the level', less: 'cooler against the level' }, change }]
      : [];
  });
}

export interface Survival {
  question: Question;
  /** The word without what was taken out; null: it cannot be asked any more. */
  without: CallChange | null;
  survives: boolean;
}

/** Each question's word with everything and without what was taken out. */
export function survivals(whole: readonly Question[], without: readonly Question[]): Survival[] {
  const byKey = new Map(without.map((one) => [one.key, one.change]));
  return whole.map((question) => {
    const other = byKey.get(question.key) ?? null;
    return { question, without: other, survives: other !== null && other.call === question.change.call };
  });
}

/** "4 more stints would probably settle it." */
export function moreWords(change: CallChange): string {
  if (change.call !== 'not yet' && change.call !== 'too close') return '';
  if (change.needs_stints === null) return 'More stints would probably never settle it.';
  return change.needs_stints === 1
    ? 'One more stint would probably settle it.'
    : `${change.needs_stints} more stints would probably settle it.`;
}

/** What a word says, for those who read it for the first time. */
export const wordMeans: Record<Word, string> = {
  clear: 'real, and big enough to act on',
  'no odds': 'too small to act on, whatever it is',
  'too close': 'something changed; whether it matters is open',
  'not yet': 'nothing can be said yet',
  muddled: 'spoiled; see the trouble',
};
