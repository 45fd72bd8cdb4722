import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type { BookDocument, BookPiece } from '../api/contract';
import { besideOf, doubtsOf, dwell, entriesOf, entryFate, entryWords, linesOf, rowsOf, span } from './book';

// The document of the command line for examples/overnight with eight entries; what the page must say is in
// tests/golden/book, which the C++ tests keep.
const read = (unit: 'F' | 'C') => JSON.parse(readFileSync(new URL(`../../dev/book_${unit}.json`, import.meta.url), 'utf8')) as BookDocument;
const book = read('F');
const [p, q] = book.pieces as [BookPiece, BookPiece];
const line = (piece: BookPiece, name: string, unit: 'F' | 'C' = 'F') => linesOf(piece, unit).find((one) => one.name === name);

it('says lengths of time as the printed page does', () => {
  expect([0, 0.3, 17, 60, 477.39, 509].map(span)).toEqual(['0 min', 'under a minute', '17 min', '1 h', '7 h 57 min', '8 h 29 min']);
  expect([22, 67, 240, 1080, 6720].map(dwell)).toEqual(['22 s', '67 s', '4 min', '18 min', '1 h 52 min']);
});

it('gives figure, rule, margin and verdict of the golden page', () => {
  const zone = line(q, '40° to 140°');
  expect(zone).toMatchObject({ figure: '8 h 40 min', verdict: 'not met', margin: '4 h 40 min over' });
  expect(besideOf(zone!)).toBe('rule 4 h (from memory): 4 h 40 min over');
  expect(line(p, '40° to 140°')).toMatchObject({ figure: '8 h 29 min', rule: null, verdict: 'no rule' });
  expect(besideOf(line(p, 'Come-up')!)).toBe('between 50° and 130°; rule come-up 6 h: 2 h 35 min under');
  expect(line(p, 'Cooking')).toMatchObject({ figure: '138° for 18 min', verdict: 'met' });
  expect(line(p, 'Integral')?.figure).toBe('over 20 log');
  expect(line(p, 'Hold 140°')).toMatchObject({ figure: 'below for 3 h 43 min', verdict: 'not met' });
  expect(line(p, 'power cut')?.figure).toBe('163° to 118°');
});

it('turns limits with the document and never says a reading twice', () => {
  const piece = read('C').pieces[0] as BookPiece;
  expect(line(piece, '4.4° to 60°', 'C')?.figure).toBe('8 h 29 min');
  expect(line(piece, 'Cold', 'C')?.figure).toBe('3.3°');
  expect(rowsOf(piece, 'C').length).toBe(rowsOf(p, 'F').length);
  expect(rowsOf(p, 'F').map((row) => row.at)).toEqual([130, 135, 138, 140, 145, 150, 155, 160]);
});

it('says why there is no verdict, in words', () => {
  const bird = { ...p, cooking: { ...p.cooking!, verdict: 'withheld', withheld_for: 'poultry', row_met: null } } as BookPiece;
  expect(line(bird, 'Cooking')?.words).toBe('the rule is not for poultry; choose one that is');
  expect(line(bird, 'Integral')).toBeUndefined();
  const untold = { ...bird, cooking: { ...bird.cooking!, withheld_for: 'intact not told' } } as BookPiece;
  expect(line(untold, 'Cooking')?.words).toBe('the rule is for whole, intact cuts only; whether this piece is one was not told');
  expect(rowsOf(bird, 'F')).toEqual([]);
  expect(line({ ...p, cooking: null }, 'Cooking')).toMatchObject({ figure: '–', verdict: 'no rule' });
  const chosen = { ...p, zone: { ...p.zone, rule: 'zone 41 to 135', limit_min: 240, margin_min: -0.3, verdict: 'open', most_min: 250 } } as BookPiece;
  expect(linesOf(chosen, 'F').filter((one) => one.margin === 'under a minute over').map((one) => one.words)).toEqual(['up to 4 h 10 min within the tolerance']);
});

it('names what makes the record doubtful', () => {
  expect(doubtsOf(p, 'F')).toEqual([]);
  expect(doubtsOf({ ...p, unread_min: 12, unchecked: true, left_out: 3, rule_problems: ["'luck' is not a rule"] }, 'F')).toHaveLength(4);
  expect(doubtsOf({ ...p, unchecked: true }, 'F')).toEqual(['A probe that nobody checked: ±4° taken.']);
  expect(linesOf({ ...p, probes: 0 }, 'F').map((one) => one.name)).toEqual(['On', 'Off']);
});

it('keeps corrected and taken-back entries, with what became of them', () => {
  const entries = entriesOf(book, 'P');
  expect(entries.map((one) => one.number)).toEqual([1, 2, 5, 6, 7]);
  expect(entries.map((one) => entryFate(one))).toEqual(['entry 2 stands in its place', '', 'taken back: that was Q', '', '']);
  expect(entryWords(entries[0]!, 'F')).toBe('Temperature: 42°, received');
  expect(entryWords(entries[3]!, 'F')).toBe('Signed: seen with the inspector');
  expect(entriesOf({ ...book, entries: [{ ...entries[0]!, piece: null }] }, 'Q')).toHaveLength(1);
});
