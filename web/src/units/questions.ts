// The questions of a call in words, and whether their answers survive when something is taken out.
// Words and numbers come from the engine; nothing is computed here.

import type { CallChange, CallDocument } from '../api/contract';

export type Word = CallChange['call'];

export interface Question {
  /** Stays the same when the call is made again without a spot or a stint. */
  key: string;
  name: string;
  asks: string;
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

const tilts = {
  'left-right': { name: 'Left to right', asks: 'Does heat move between left and right?' },
  'front-back': { name: 'Front to back', asks: 'Does heat move between front and back?' },
  'top-bottom': { name: 'Bottom to top', asks: 'Does heat move between bottom and top?' },
} as const;

function changeOf(changes: readonly CallChange[], pair: Pair): CallChange | undefined {
  return changes.find((one) => one.from === pair.from && one.to === pair.to);
}

/** The questions about the whole chamber, shape before level: what moved, how even, how hot, the dial. */
export function questionsOf(call: CallDocument, pair: Pair): Question[] {
  const found: Question[] = [];
  const add = (key: string, name: string, asks: string, changes: readonly CallChange[]) => {
    const change = changeOf(changes, pair);
    if (change) found.push({ key, name, asks, change });
  };
  for (const tilt of call.tilts) add(tilt.axis, tilts[tilt.axis].name, tilts[tilt.axis].asks, tilt.changes);
  add('spread', 'Spread', 'Is it more even, hottest against coolest?', call.spread.changes);
  add('level', 'Level', 'Is the whole chamber hotter or cooler?', call.level.changes);
  if (call.dial_gap !== null) add('dial gap', 'Dial gap', 'Does the pit’s own display stray differently?', call.dial_gap.changes);
  return found;
}

/** The questions about single spots: how each runs against the level. */
export function spotQuestionsOf(call: CallDocument, pair: Pair): Question[] {
  return call.spots.flatMap((spot) => {
    const change = changeOf(spot.changes, pair);
    return change ? [{ key: `spot ${spot.spot}`, name: spot.spot, asks: `Does ${spot.spot} run differently?`, change }] : [];
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
