// The book in words: one line a figure, from the figures and verdicts of the server's document.

import type { BookDocument, BookLethality, BookPiece, BookRow } from '../api/contract';
import { clock } from './moments';
import { temperatureIn, whole, type Unit } from './degrees';

export type Verdict = BookPiece['zone']['verdict'];
export type BookEntry = BookDocument['entries'][number];

/** One line of a piece's record. */
export interface Line {
  name: string;
  /** What was read, large: "8 h 29 min"; a dash where nothing was. */
  figure: string;
  /** What belongs beside it. */
  words: string;
  /** The chosen rule; null: none of this kind. */
  rule: string | null;
  /** What is left under the rule's limit, or by how much it is passed. */
  margin: string | null;
  verdict: Verdict | null;
}

/** "8 h 29 min", "0 min", "under a minute". */
export function span(minutes: number): string {
  const rounded = Math.round(minutes);
  if (rounded === 0) return minutes === 0 ? '0 min' : 'under a minute';
  const hours = Math.floor(rounded / 60);
  const rest = rounded % 60;
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}

/** "18 min", "67 s": a table's time, short ones in seconds. */
export function dwell(seconds: number): string {
  return seconds < 300 && seconds % 60 !== 0 ? `${Math.round(seconds * 10) / 10} s` : span(seconds / 60);
}

function margin(left: number | null): string | null {
  if (left === null) return null;
  return left < 0 ? `${span(-left)} over` : `${span(left)} under`;
}

/** "130°": a limit of a rule on the page's scale; in °C with its tenth, as in the rule's own table. */
export function degrees(value: number, unit: Unit): string {
  const tenth = Math.round(value * 10) / 10;
  return `${unit === 'C' && tenth % 1 !== 0 ? tenth.toFixed(1).replace('-', '−') : whole(value)}°`;
}

function limit(fahrenheit: number, unit: Unit): string {
  return degrees(temperatureIn(fahrenheit, 'F', unit), unit);
}

/** "15 Nov, 07:35": a night has two days. */
export function moment(at: string | null): string {
  if (at === null) return 'not told';
  if (!at.includes('T')) return clock(at);
  const [year = 0, month = 1, date = 1] = at.slice(0, 10).split('-').map(Number);
  const day = new Intl.DateTimeFormat(undefined, { day: 'numeric', month: 'short', timeZone: 'UTC' }).format(Date.UTC(year, month - 1, date));
  return `${day}, ${clock(at)}`;
}

function rowWords(row: BookRow, unit: Unit): string {
  return row.dwell_s <= 0 ? `${degrees(row.at, unit)} reached` : `${degrees(row.at, unit)} for ${dwell(row.dwell_s)}`;
}

function unread(minutes: number): string {
  return minutes < 0.02 ? '' : `${span(minutes)} of it without readings, counted in`;
}

function joined(parts: (string | false | null)[]): string {
  return parts.filter((one) => one !== '' && one !== false && one !== null).join('; ');
}

const plain = { rule: null, margin: null, verdict: null };

function startLines(piece: BookPiece, unit: Unit): Line[] {
  return [
    { ...plain, name: 'Cold', figure: piece.cold === null ? '–' : degrees(piece.cold, unit), words: 'first reading of the warmest probe' },
    { ...plain, name: 'On', figure: moment(piece.on), words: piece.on === null ? 'counted from the first reading' : '' },
    { ...plain, name: 'Off', figure: moment(piece.off), words: '' },
  ];
}

function zoneLines(piece: BookPiece, unit: Unit): Line[] {
  const zone = piece.zone;
  const title = piece.rules.find((rule) => rule.name === zone.rule)?.title ?? '';
  const same = zone.rule === null || title.startsWith('40 to 140');
  const chosen = {
    figure: span(zone.minutes), rule: zone.rule, margin: margin(zone.margin_min), verdict: zone.verdict,
    words: joined([unread(zone.unread_min), zone.verdict === 'open' && `up to ${span(zone.most_min)} within the tolerance`, zone.rule === null && 'no rule of this kind chosen']),
  };
  const name = `${limit(40, unit)} to ${limit(140, unit)}`;
  if (same) return [{ ...chosen, name }];
  return [{ ...plain, name, figure: span(piece.minutes_40_140F), words: '' }, { ...chosen, name: title }];
}

function comeUpLine(piece: BookPiece, unit: Unit): Line {
  const time = piece.come_up;
  return {
    name: 'Come-up', figure: span(time.minutes), rule: time.rule, margin: margin(time.margin_min), verdict: time.verdict,
    words: joined([
      `between ${limit(50, unit)} and ${limit(130, unit)}`, unread(time.unread_min),
      !time.seen_from_start && 'began before the first reading', !time.reached_top && `${limit(130, unit)} was not reached`,
      time.verdict === 'open' && `up to ${span(time.most_min)} within the tolerance`,
    ]),
  };
}

function nearestWords(one: BookLethality, unit: Unit): string {
  return one.nearest === null ? 'no row has any time' : `nearest row ${rowWords(one.nearest, unit)}: ${dwell(one.nearest.held_s)} had`;
}

const withheldWords = {
  poultry: 'the rule is not for poultry; choose one that is',
  'not intact': 'the rule is for whole, intact cuts only; this piece is not one',
  'intact not told': 'the rule is for whole, intact cuts only; whether this piece is one was not told',
} as const;

function cookingLines(piece: BookPiece, unit: Unit): Line[] {
  const cooking = piece.cooking;
  if (cooking === null) return [{ ...plain, name: 'Cooking', figure: '–', words: 'no rule chosen', verdict: 'no rule' }];
  const row = cooking.row_met;
  const line: Line = { ...plain, name: 'Cooking', figure: '–', words: '', rule: cooking.rule, verdict: cooking.verdict };
  if (cooking.withheld_for !== null) {
    line.words = withheldWords[cooking.withheld_for];
  } else if (cooking.verdict === 'met' && row !== null) {
    line.figure = rowWords(row, unit);
    line.words = `row met at ${moment(row.met_at)}; ${dwell(row.held_s)} had`;
    if (piece.margins.cooking_min !== null) line.margin = `${span(piece.margins.cooking_min)} more than asked`;
  } else if (cooking.verdict !== 'no record') {
    line.figure = 'no row met';
    line.words = joined([nearestWords(cooking, unit), cooking.verdict === 'open' && 'a row is met only without taking off the probe’s tolerance']);
  }
  const sum = cooking.withheld_for === null ? cooking.log_reduction : null;
  const integral = sum === null || cooking.target_log === null ? [] : [{
    ...plain, name: 'Integral', figure: `${sum > 20 ? 'over 20' : sum.toFixed(1)} log`,
    words: `of ${cooking.target_log}; beside the rows, never in their place`,
  }];
  const under = piece.under_165F.map((one) => ({
    ...plain, name: `Under ${limit(165, unit)}`, figure: one.row_met === null ? 'no row met' : rowWords(one.row_met, unit),
    words: `by the table ${one.rule}: ${one.row_met === null ? nearestWords(one, unit) : `row met at ${moment(one.row_met.met_at)}`}`,
  }));
  return [line, ...integral, ...under];
}

function topLines(piece: BookPiece, unit: Unit): Line[] {
  if (piece.final === null || piece.highest === null) return [];
  const off = piece.tolerance === null ? '' : `; ±${degrees(piece.tolerance, unit)} taken off for the rows`;
  return [
    { ...plain, name: 'Highest', figure: degrees(piece.highest, unit), words: `at ${moment(piece.highest_at)}, coldest probe` },
    { ...plain, name: 'Final', figure: degrees(piece.final, unit), words: `at ${moment(piece.final_at)}, coldest probe${off}` },
  ];
}

function holdLines(piece: BookPiece, unit: Unit): Line[] {
  return piece.hold.map((hold) => ({
    name: `Hold ${degrees(hold.limit, unit)}`, rule: hold.rule, verdict: hold.rule === null ? null : hold.verdict,
    figure: hold.since === null ? 'never reached' : hold.minutes === 0 ? 'never below' : `below for ${span(hold.minutes)}`,
    words: hold.since === null ? '' : joined([`since ${moment(hold.since)}`, hold.minutes > 0 && hold.lowest !== null && `lowest ${degrees(hold.lowest, unit)}`, unread(hold.unread_min)]),
    margin: null,
  }));
}

function coolingLines(piece: BookPiece, unit: Unit): Line[] {
  const cooling = piece.cooling;
  return (cooling?.steps ?? []).map((step) => ({
    name: `Cooling ${degrees(step.from, unit)} to ${degrees(step.to, unit)}`,
    figure: step.began === null || step.minutes === null ? 'not begun' : span(step.minutes),
    words: joined([
      step.began !== null && `from ${moment(step.began)}`, step.began !== null && step.reached === null && 'not down yet',
      cooling?.chosen === false && `beside ${cooling.rule} (not chosen)`, cooling?.too_fast === true && 'it fell faster than food does: was the probe pulled out?',
    ]),
    rule: cooling?.chosen === true ? cooling.rule : null, margin: margin(step.margin_min), verdict: step.verdict,
  }));
}

function markedLines(piece: BookPiece, unit: Unit): Line[] {
  return piece.marked.map((one) => ({
    ...plain, name: one.text ?? 'Note', figure: one.start === null || one.end === null ? '–' : `${degrees(one.start, unit)} to ${degrees(one.end, unit)}`,
    words: joined([`${moment(one.from)} to ${moment(one.until)}`, piece.cooking !== null && (one.rows_met_before.length > 0 ? 'a row of the rule was met before it' : 'no row of the rule was met before it')]),
  }));
}

/** A piece's record, line by line. */
export function linesOf(piece: BookPiece, unit: Unit): Line[] {
  if (piece.probes === 0) return startLines(piece, unit).slice(1);
  const lines = [
    ...startLines(piece, unit), ...zoneLines(piece, unit), comeUpLine(piece, unit), ...cookingLines(piece, unit),
    ...topLines(piece, unit), ...holdLines(piece, unit), ...coolingLines(piece, unit), ...markedLines(piece, unit),
  ];
  const fromMemory = piece.rules.filter((rule) => rule.known === 'from memory').map((rule) => rule.name);
  return lines.map((line) => (line.rule !== null && fromMemory.includes(line.rule) ? { ...line, rule: `${line.rule} (from memory)` } : line));
}

/** What stands beside a figure: words, rule, margin. */
export function besideOf(line: Line): string {
  const left = line.margin === null ? '' : line.margin;
  return joined([line.words, line.rule === null ? left : `rule ${line.rule}${left === '' ? '' : `: ${left}`}`]);
}

/** What stands in the way of reading the record plainly. */
export function doubtsOf(piece: BookPiece, unit: Unit): string[] {
  return [
    ...piece.rule_problems.map((one) => `Of its rules ${one}.`),
    piece.probes === 0 ? 'No probe sits in it; nothing is recorded.' : '',
    piece.unread_min < 0.02 ? '' : `${span(piece.unread_min)} without readings in all.`,
    piece.unchecked ? `A probe that nobody checked: ±${unit === 'C' ? '2.2' : '4'}° taken.` : '',
    piece.left_out > 0 ? `${piece.left_out} readings left out that no food can have; was a tip in the air?` : '',
  ].filter((one) => one !== '');
}

/** Every fifth row of the table, and the one that was met. */
export function rowsOf(piece: BookPiece, unit: Unit): BookRow[] {
  const rows = piece.cooking?.withheld_for === null ? piece.cooking.rows : [];
  if (rows.length < 5) return rows;
  const isFifth = (row: BookRow) => Math.round(temperatureIn(row.at, unit, 'F')) % 5 === 0;
  return rows.filter((row) => isFifth(row) || row.at === piece.cooking?.row_met?.at);
}

/** The entries of one piece, those of all pieces included. */
export function entriesOf(book: BookDocument, piece: string): BookEntry[] {
  return book.entries.filter((entry) => entry.piece === null || entry.piece === piece);
}

const entryNames: Record<string, string> = { reading: 'Temperature', rule: 'Rules', action: 'Done', signature: 'Signed' };

/** "Temperature: 38°, received". */
export function entryWords(entry: BookEntry, unit: Unit): string {
  const parts = [entry.temperature === null ? '' : degrees(entry.temperature, unit), entry.text ?? ''].filter((one) => one !== '');
  const name = entryNames[entry.what] ?? entry.what;
  return parts.length === 0 ? name : `${name}: ${parts.join(', ')}`;
}

/** What became of an entry; empty: it stands. */
export function entryFate(entry: BookEntry): string {
  if (entry.taken_back) return `taken back${entry.why === null ? '' : `: ${entry.why}`}`;
  return entry.replaced_by === null ? '' : `entry ${entry.replaced_by} stands in its place`;
}
