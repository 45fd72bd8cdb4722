#include "logs/layout.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "logs/unit_words.h"
#include "logs/words.h"

namespace pitwright::logs {
namespace {

constexpr std::array<std::string_view, 22> name_words{
    "channel",  "channels",  "sensor", "probe",    "spot",     "name",       "series", "tag",
    "variable", "parameter", "place",  "location", "position", "where",      "label",  "input",
    "source",   "entity",    "topic",  "field",    "key",      "thermometer"};
constexpr std::array<std::string_view, 10> value_words{
    "value", "values",   "reading", "readings", "temperature",
    "temp",  "measured", "state",   "val",      "degrees"};
constexpr std::array<std::string_view, 10> state_words{"on",  "off", "true", "false",  "open",
                                                       "yes", "no",  "idle", "closed", "run"};

bool is_time_column(const TimeForm& time, std::size_t i) {
  return static_cast<int>(i) == time.column || static_cast<int>(i) == time.clock_column;
}

bool named(const Header& header, std::size_t i, std::span<const std::string_view> known) {
  return header.names_at && any_of_words(words_of(header.names[i]), known);
}

bool holds_units(const ColumnLook& look) {
  return look.texts > 0 && look.numbers == 0 &&
         std::ranges::all_of(look.words,
                             [](const auto& word) { return unit_of_word(word).has_value(); });
}

bool holds_states(const ColumnLook& look) {
  return std::ranges::all_of(look.text_words, [](const std::string& word) {
    return std::ranges::find(state_words, lowered(word)) != state_words.end();
  });
}

/// Whether stamps stand beside different names, in half of the rows or more.
bool stamps_come_again(const Sample& sample, std::size_t time, std::size_t name) {
  std::map<std::string, std::set<std::string>> names_at;
  const auto body = body_of(sample);
  for (const auto* record : body) names_at[record->cells[time]].insert(record->cells[name]);
  const auto again = std::ranges::count_if(
      body, [&](const SampleRecord* record) { return names_at[record->cells[time]].size() > 1; });
  return static_cast<std::size_t>(again) * 2 >= body.size();
}

struct Candidates {
  std::vector<std::size_t> texts;
  std::vector<std::size_t> numbers;
  std::optional<std::size_t> unit;
};

Candidates candidates_of(const std::vector<ColumnLook>& looks, const TimeForm& time) {
  Candidates found;
  for (std::size_t i = 0; i < looks.size(); ++i) {
    if (is_time_column(time, i)) continue;
    if (holds_units(looks[i])) {
      found.unit = i;
    } else if (looks[i].texts > 0 && looks[i].mostly(looks[i].texts)) {
      found.texts.push_back(i);
    } else if (looks[i].numbers > 0) {
      found.numbers.push_back(i);
    }
  }
  return found;
}

std::optional<std::size_t> value_column(const Candidates& found, const Header& header,
                                        std::optional<std::size_t> but) {
  std::vector<std::size_t> left;
  for (const auto i : found.numbers) {
    if (i != but) left.push_back(i);
  }
  for (const auto i : left) {
    if (named(header, i, value_words)) return i;
  }
  if (left.size() == 1) return left[0];
  return std::nullopt;
}

}  // namespace

std::optional<LongLayout> find_long_layout(const Sample& sample,
                                           const std::vector<ColumnLook>& looks,
                                           const Header& header, const TimeForm& time) {
  const auto found = candidates_of(looks, time);
  const auto time_column = static_cast<std::size_t>(time.column);
  // Case 1: a column of words under a name such as "channel".
  for (const auto i : found.texts) {
    if (!named(header, i, name_words)) continue;
    if (const auto value = value_column(found, header, i)) return LongLayout{i, *value, found.unit};
  }
  // Case 2: channels told by number: "channel, value" of whole numbers that come again.
  for (const auto i : found.numbers) {
    if (!named(header, i, name_words) || looks[i].words.size() > 64) continue;
    const auto value = value_column(found, header, i);
    if (value && named(header, *value, value_words) &&
        (stamps_come_again(sample, time_column, i) ||
         looks[i].words.size() * 2 <= looks[i].numbers)) {
      return LongLayout{i, *value, found.unit};
    }
  }
  // Case 3: nothing is named so, but one stamp stands beside several words.
  if (found.texts.size() == 1 && found.numbers.size() == 1) {
    const auto name = found.texts[0];
    const auto& look = looks[name];
    if (!holds_states(look) && look.texts * 10 >= (look.texts + look.missing) * 9 &&
        stamps_come_again(sample, time_column, name)) {
      return LongLayout{name, found.numbers[0], found.unit};
    }
  }
  return std::nullopt;
}

WideLayout find_wide_layout(const std::vector<ColumnLook>& looks, const Header& header,
                            const TimeForm& time) {
  WideLayout layout;
  for (std::size_t i = 0; i < looks.size(); ++i) {
    if (is_time_column(time, i)) continue;
    const auto& look = looks[i];
    const bool unnamed = !header.names_at || header.names[i] == std::to_string(i + 1);
    if (look.told() == 0 && unnamed) continue;  // what a delimiter at the end of the line leaves
    const bool other_time = look.numbers > 0 && header.names_at && names_time(header.names[i]);
    const bool readings = look.told() == 0 || look.mostly(look.numbers);
    (readings && !other_time ? layout.channels : layout.ignored).push_back(i);
  }
  return layout;
}

}  // namespace pitwright::logs
