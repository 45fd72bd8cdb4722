#include "logs/columns.h"

#include <algorithm>

#include "logs/stamps.h"
#include "logs/words.h"

namespace pitwright::logs {
namespace {

constexpr std::size_t most_words = 65;

void look_at_cell(const std::string& cell, char decimal, ColumnLook& look) {
  if (is_missing_word(cell)) {
    ++look.missing;
    return;
  }
  if (look.words.size() < most_words) look.words.insert(cell);
  if (const auto number = number_of(cell, decimal)) {
    const double value = number->value;
    if (look.numbers == 0) look.least = look.greatest = value;
    look.rising = look.rising && value >= look.greatest;
    look.least = std::min(look.least, value);
    look.greatest = std::max(look.greatest, value);
    ++look.numbers;
    return;
  }
  Stamp stamp;
  if (parse_stamp(cell, DateOrder::day_first, stamp) ||
      parse_stamp(cell, DateOrder::month_first, stamp)) {
    ++(stamp.has_date ? (stamp.has_clock ? look.dated : look.dates) : look.clocks);
    return;
  }
  ++look.texts;
  if (look.text_words.size() < most_words) look.text_words.insert(cell);
}

}  // namespace

std::vector<ColumnLook> look_at_columns(const Sample& sample) {
  std::vector<ColumnLook> looks(sample.cells);
  for (const auto* record : body_of(sample)) {
    for (std::size_t i = 0; i < looks.size(); ++i) {
      look_at_cell(record->cells[i], sample.decimal, looks[i]);
    }
  }
  return looks;
}

}  // namespace pitwright::logs
