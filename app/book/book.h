#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "burns/open_burn.h"
#include "db/records.h"
#include "safety/record.h"

namespace pitwright::book {

/// One line of the safety record that somebody told.
struct Entry {
  int number = 0;  ///< from 1, in order of arrival; what `--corrects` takes
  db::Record record;
  db::BookEntry what;
  std::string replaced_by;  ///< "3": the number of the entry in its place; empty: none
  bool is_taken_back = false;
  std::string why;  ///< it was taken back

  bool stands() const { return replaced_by.empty() && !is_taken_back; }
};

/// A value of the burn's own records that was told anew; the old one stays in sight.
struct Change {
  db::Stamp written{};
  std::string by, of, was, now;  ///< of: "rule of shoulder 1"
};

/// A signature that stands, and what came in after it.
struct Signature {
  std::string by, piece, text;
  db::Stamp at{};
  int later_entries = 0;
  bool later_samples = false;
};

/// One thermometer in food: what is added to it, and when somebody last checked it.
struct Instrument {
  std::string channel, piece;
  double at_c = 0.0;  ///< the reading the next two hold at
  double add_k = 0.0;
  std::optional<double> tolerance_k;
  std::optional<std::chrono::year_month_day> checked;
  std::string from;  ///< "rollcall.toml", "ice" ...; empty: the burn itself
};

/// A temperature that somebody wrote down, such as the meat's on receiving.
struct WrittenReading {
  double celsius = 0.0;
  std::string text, by;
};

struct PiecePage {
  Piece piece;
  safety::PieceRecord record;
  std::vector<WrittenReading> readings;
  std::vector<std::string> actions;
  std::vector<Signature> signatures;
  std::vector<std::string> rule_problems;  ///< parts of its rule that could not be used, and why
};

/// The safety record of a burn, ready to be printed.
struct Book {
  const Burn& burn;
  Scale scale = Scale::fahrenheit;  ///< of the page
  bool in_store = false;
  std::vector<PiecePage> pieces;
  std::vector<Instrument> instruments;
  std::vector<Entry> entries;
  std::vector<Change> changes;
};

/// What the store knows beyond the burn itself; empty for a burn directory.
struct Told {
  std::vector<db::Record> history;     ///< every record, oldest first
  std::vector<db::Sequence> arrivals;  ///< of the samples that arrived after the first signature
};

/// Puts the record together; what entries say in force (a rule, an action) stands in place of the
/// burn's own. `open` must outlive the book.
/// Fails: bad_input where the burn has no piece of food.
Result<Book> make_book(const burns::OpenBurn& open, const std::optional<Told>& told, Scale scale);

/// The page for people, at most 80 columns.
std::string book_text(const Book& book);

/// One JSON document (docs/reference/book.schema.json).
std::string book_json(const Book& book);

/// piece,what,value,unit,limit,margin,verdict,rule,known,source: one line a figure.
std::string book_csv(const Book& book);

/// Every rule with its source, for people.
std::string rules_text();

/// The same as a JSON list (`rule` in docs/reference/book.schema.json).
std::string rules_json();

/// What every copy of the book says; temperatures on the page's scale.
std::vector<std::string> cautions(Scale scale);

}  // namespace pitwright::book
