#include "documents/table_reader.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "documents/nearest.h"
#include "units/parse.h"

namespace pitwright::documents {

void Reading::complain(Place place, std::string_view text) {
  if (mistake) return;
  mistake = Error{ErrorKind::bad_input,
                  fmt::format("{}:{}:{}: {}", file, place.line, place.column, text)};
}

TableReader::TableReader(Reading& reading, const Table& table, std::string_view label)
    : reading_(reading), table_(table), label_(label) {}

const Value* TableReader::value(std::string_view key) {
  if (!(std::ranges::find(known_, key) != known_.end())) known_.emplace_back(key);
  const auto* entry = table_.find(key);
  return entry == nullptr ? nullptr : &entry->value;
}

Place TableReader::place(std::string_view key) const {
  const auto* entry = table_.find(key);
  return entry == nullptr ? table_.place : entry->value.place;
}

void TableReader::wrong(std::string_view key, std::string_view text) {
  if (!first_) first_.emplace(place(key), std::string(text));
}

void TableReader::require(std::string_view key, std::string_view example) {
  if (value(key) != nullptr) return;
  const auto where = label_.empty() ? std::string("the document") : label_;
  wrong(key, fmt::format("{} needs '{}', such as {}", where, key, example));
}

std::optional<std::string> TableReader::plain_text(std::string_view key,
                                                   std::string_view expected) {
  const auto* found = value(key);
  if (found == nullptr) return std::nullopt;
  if (const auto* text = std::get_if<std::string>(&found->of)) return *text;
  wrong(key, fmt::format("'{}' expects {}, not {}", key, expected, kind_of(*found)));
  return std::nullopt;
}

template <typename T, typename Parse>
std::optional<T> TableReader::parsed(std::string_view key, std::string_view expected, Parse parse) {
  const auto text = plain_text(key, expected);
  if (!text) return std::nullopt;
  const Result<T> result = parse(*text);
  if (result) return *result;
  wrong(key, fmt::format("'{}': {}", key, result.error().what));
  return std::nullopt;
}

std::optional<std::string> TableReader::text(std::string_view key) {
  auto text = plain_text(key, "a text in quotes");
  if (text && text->find_first_not_of(" \t\r\n") == text->npos) {
    wrong(key, fmt::format("'{}' is empty; leave the key out instead", key));
    return std::nullopt;
  }
  return text;
}

std::optional<bool> TableReader::truth(std::string_view key) {
  const auto* found = value(key);
  if (found == nullptr) return std::nullopt;
  if (const auto* flag = std::get_if<bool>(&found->of)) return *flag;
  wrong(key, fmt::format("'{}' expects true or false, not {}", key, kind_of(*found)));
  return std::nullopt;
}

std::optional<std::chrono::year_month_day> TableReader::date(std::string_view key) {
  const auto* found = value(key);
  if (found == nullptr) return std::nullopt;
  if (const auto* date = std::get_if<std::chrono::year_month_day>(&found->of)) return *date;
  wrong(key, fmt::format("'{}' expects a date such as 2026-04-30, without quotes, not {}", key,
                         kind_of(*found)));
  return std::nullopt;
}

std::optional<WrittenTime> TableReader::time(std::string_view key) {
  constexpr auto expected =
      "a date and time such as 2026-05-02T13:05:00 without quotes, or an offset from the first "
      "sample such as \"0:35\" or \"35 min\"";
  const auto* found = value(key);
  if (found == nullptr) return std::nullopt;
  if (const auto* local = std::get_if<LocalTime>(&found->of))
    return WrittenTime{*local, found->place};
  if (const auto* instant = std::get_if<Instant>(&found->of)) {
    return WrittenTime{*instant, found->place};
  }
  if (const auto* text = std::get_if<std::string>(&found->of)) {
    if (const auto offset = parse_elapsed(*text)) return WrittenTime{*offset, found->place};
    wrong(key, fmt::format("'{}' expects {}, not \"{}\"", key, expected, *text));
    return std::nullopt;
  }
  wrong(key, fmt::format("'{}' expects {}, not {}", key, expected, kind_of(*found)));
  return std::nullopt;
}

std::optional<Temperature> TableReader::temperature(std::string_view key) {
  const auto* found = value(key);
  const auto* whole = found ? std::get_if<std::int64_t>(&found->of) : nullptr;
  const auto* number = found ? std::get_if<double>(&found->of) : nullptr;
  if (whole == nullptr && number == nullptr) {
    return parsed<Temperature>(
        key, "a temperature such as \"275 F\" or \"135 C\"",
        [this](std::string_view text) { return parse_temperature(text, reading_.unit); });
  }
  const double degrees = whole != nullptr ? static_cast<double>(*whole) : *number;
  const auto result = parse_temperature(fmt::format("{}", degrees), reading_.unit);
  if (result) return *result;
  wrong(key, fmt::format("'{}': {}", key, result.error().what));
  return std::nullopt;
}

std::optional<TemperatureDelta> TableReader::difference(std::string_view key) {
  const auto* found = value(key);
  const auto* whole = found ? std::get_if<std::int64_t>(&found->of) : nullptr;
  const auto* number = found ? std::get_if<double>(&found->of) : nullptr;
  if (whole == nullptr && number == nullptr) {
    return parsed<TemperatureDelta>(
        key, "a difference such as \"10 F\" or \"-1.5 C\"",
        [this](std::string_view text) { return parse_temperature_delta(text, reading_.unit); });
  }
  const double degrees = whole != nullptr ? static_cast<double>(*whole) : *number;
  const auto result = parse_temperature_delta(fmt::format("{}", degrees), reading_.unit);
  if (result) return *result;
  wrong(key, fmt::format("'{}': {}", key, result.error().what));
  return std::nullopt;
}

std::optional<double> TableReader::length_m(std::string_view key) {
  return parsed<double>(key, "a length in quotes with its unit, such as \"6 in\" or \"15 cm\"",
                        parse_length_m);
}

std::optional<double> TableReader::mass_kg(std::string_view key) {
  return parsed<double>(key, "a weight in quotes with its unit, such as \"8.4 lb\" or \"3.8 kg\"",
                        parse_mass_kg);
}

std::optional<Seconds> TableReader::elapsed(std::string_view key) {
  return parsed<Seconds>(key, "a length of time in quotes, such as \"7 min 20 s\"", parse_elapsed);
}

std::optional<double> TableReader::pressure_pa(std::string_view key) {
  return parsed<double>(key, "a pressure in quotes with its unit, such as \"840 hPa\"",
                        parse_pressure_pa);
}

std::optional<double> TableReader::number(std::string_view key) {
  const auto* found = value(key);
  if (found == nullptr) return std::nullopt;
  if (const auto* whole = std::get_if<std::int64_t>(&found->of)) {
    return static_cast<double>(*whole);
  }
  const auto* number = std::get_if<double>(&found->of);
  if (number != nullptr && std::isfinite(*number)) return *number;
  wrong(key, fmt::format("'{}' expects a number without quotes, not {}", key,
                         number != nullptr ? "one that is not finite" : kind_of(*found)));
  return std::nullopt;
}

std::optional<std::vector<std::string>> TableReader::texts(std::string_view key) {
  const auto* found = value(key);
  if (found == nullptr) return std::nullopt;
  if (const auto* one = std::get_if<std::string>(&found->of)) return std::vector{*one};
  const auto* list = std::get_if<Array>(&found->of);
  std::vector<std::string> texts;
  for (const auto& item : list != nullptr ? *list : Array{}) {
    const auto* text = std::get_if<std::string>(&item.of);
    if (text == nullptr) {
      if (!first_) {
        first_.emplace(item.place,
                       fmt::format("'{}' expects a list of texts; this is {}", key, kind_of(item)));
      }
      return std::nullopt;
    }
    texts.push_back(*text);
  }
  if (list != nullptr && !texts.empty()) return texts;
  wrong(key, list != nullptr
                 ? fmt::format("'{}' is an empty list", key)
                 : fmt::format("'{}' expects a list of texts, not {}", key, kind_of(*found)));
  return std::nullopt;
}

std::optional<std::size_t> TableReader::word(std::string_view key,
                                             std::span<const std::string> known) {
  const auto found = plain_text(key, fmt::format("one of \"{}\"", fmt::join(known, "\", \"")));
  if (!found) return std::nullopt;
  const auto match = std::ranges::find(known, *found);
  if (match != known.end()) return static_cast<std::size_t>(match - known.begin());
  const auto near = nearest(*found, known);
  wrong(key,
        fmt::format("'{}' expects one of \"{}\", not \"{}\"{}", key, fmt::join(known, "\", \""),
                    *found, near.empty() ? "" : fmt::format("; did you mean \"{}\"?", near)));
  return std::nullopt;
}

std::vector<const Table*> TableReader::tables(std::string_view key) {
  const auto* found = value(key);
  std::vector<const Table*> tables;
  if (found == nullptr) return tables;
  if (const auto* one = std::get_if<Table>(&found->of)) return {one};
  if (const auto* list = std::get_if<Array>(&found->of)) {
    for (const auto& item : *list) {
      if (const auto* table = std::get_if<Table>(&item.of)) tables.push_back(table);
    }
    if (tables.size() == list->size()) return tables;
  }
  wrong(key, fmt::format("'{}' expects tables, each under its own line [[{}]]", key, key));
  return {};
}

void TableReader::finish() {
  std::string unknown;
  Place where;
  for (const auto& entry : table_.entries) {
    if ((std::ranges::find(known_, entry.key) != known_.end())) continue;
    if (unknown.empty()) where = entry.place;
    unknown += fmt::format("{}unknown key '{}'{}{}", unknown.empty() ? "" : "; ", entry.key,
                           label_.empty() ? "" : " in " + label_, suggestion(entry.key, known_));
    if (where.line != entry.place.line) unknown += fmt::format(" (line {})", entry.place.line);
  }
  if (!unknown.empty()) {
    reading_.complain(where, unknown);
  } else if (first_) {
    reading_.complain(first_->first, first_->second);
  }
}

}  // namespace pitwright::documents
