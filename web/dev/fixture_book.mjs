// The fixture's book: `pitwright book store:overnight --json` of examples/overnight after eight entries (one
// corrected, one taken back, one signature), and GET /api/rules. Entries posted to the fixture are only
// listed; nothing is worked out anew.
import { readFileSync } from 'node:fs';

const read = (name) => JSON.parse(readFileSync(new URL(name, import.meta.url), 'utf8'));

export const rulesOf = () => read('rules.json');

const fahrenheit = (text) => {
  const [value, unit] = text.split(' ');
  return unit === 'F' ? Number(value) : Number(value) * 1.8 + 32;
};

/** The book of the document's unit with what was posted to this fixture. */
export function bookOf(unit, posted) {
  const book = read(`book_${unit}.json`);
  for (const one of posted) {
    const of = book.entries.find((entry) => entry.number === (one.of ?? one.corrects));
    if (one.what === 'take back') {
      Object.assign(of, { taken_back: true, why: one.why });
      continue;
    }
    const number = book.entries.length + 1;
    if (of) of.replaced_by = String(number);
    const degrees = one.temperature ? fahrenheit(one.temperature) : null;
    book.entries.push({
      number, what: one.what, piece: one.piece ?? null, at: one.at ?? new Date().toISOString(), by: `${one.by} (Sam)`,
      temperature: degrees === null || unit === 'F' ? degrees : (degrees - 32) / 1.8, text: one.text ?? null,
      replaced_by: null, taken_back: false, why: null,
    });
    if (one.what === 'signature') {
      for (const piece of book.pieces.filter((each) => !one.piece || each.piece === one.piece)) {
        piece.signatures.push({ by: `${one.by} (Sam)`, at: book.entries.at(-1).at, text: one.text ?? null, later_records: 0, later_samples: false });
      }
    }
  }
  return book;
}
