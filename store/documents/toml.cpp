#include "documents/toml.h"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <utility>

#include "documents/toml_guard.h"

// The library's own assertions would end the process; guard_toml stands before them. Header-only,
// so that no assertion compiled into a shared library comes back in.
#define TOML_HEADER_ONLY 1
#define TOML_ASSERT(condition) static_cast<void>(0)
#include <toml++/toml.h>

namespace pitwright::documents {
namespace {

constexpr std::uintmax_t largest_document = 16'000'000;

Place place_of(const toml::source_region& source) {
  return {static_cast<int>(source.begin.line), static_cast<int>(source.begin.column)};
}

std::chrono::year_month_day date_of(const toml::date& date) {
  return std::chrono::year_month_day(std::chrono::year(date.year), std::chrono::month(date.month),
                                     std::chrono::day(date.day));
}

std::chrono::milliseconds day_time_of(const toml::time& time) {
  using namespace std::chrono;
  return hours(time.hour) + minutes(time.minute) + seconds(time.second) +
         milliseconds(time.nanosecond / 1'000'000);
}

Table table_of(const toml::table& node);

Value value_of(const toml::node& node) {
  Value value{{}, place_of(node.source())};
  if (const auto* text = node.as_string()) value.of = text->get();
  if (const auto* whole = node.as_integer()) value.of = whole->get();
  if (const auto* number = node.as_floating_point()) value.of = number->get();
  if (const auto* flag = node.as_boolean()) value.of = flag->get();
  if (const auto* date = node.as_date()) value.of = date_of(date->get());
  if (const auto* time = node.as_time()) value.of = day_time_of(time->get());
  if (const auto* table = node.as_table()) value.of = table_of(*table);
  if (const auto* stamp = node.as_date_time()) {
    const auto& written = stamp->get();
    const auto wall =
        std::chrono::sys_days(date_of(written.date)).time_since_epoch() + day_time_of(written.time);
    if (written.offset) {
      value.of = Instant(wall - std::chrono::minutes(written.offset->minutes));
    } else {
      value.of = LocalTime(wall);
    }
  }
  if (const auto* array = node.as_array()) {
    Array items;
    for (const auto& item : *array) items.push_back(value_of(item));
    value.of = std::move(items);
  }
  return value;
}

bool stands_before(const Entry& a, const Entry& b) {
  return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
}

Table table_of(const toml::table& node) {
  Table table{{}, place_of(node.source())};
  for (const auto& [key, item] : node) {
    table.entries.push_back({std::string(key.str()), place_of(key.source()), value_of(item)});
  }
  std::ranges::sort(table.entries, stands_before);
  return table;
}

}  // namespace

const Entry* Table::find(std::string_view key) const {
  const auto found = std::ranges::find(entries, key, &Entry::key);
  return found == entries.end() ? nullptr : &*found;
}

std::string_view kind_of(const Value& value) {
  constexpr std::string_view names[] = {
      "a text",     "a whole number", "a number",      "true or false", "a date and time",
      "an instant", "a date",         "a time of day", "a list",        "a table"};
  return names[value.of.index()];
}

Result<Table> parse_toml(std::string_view text, std::string_view file) {
  if (auto guarded = guard_toml(text, file); !guarded) return std::unexpected(guarded.error());
  try {
    return table_of(toml::parse(text));
  } catch (const toml::parse_error& error) {
    const auto place = place_of(error.source());
    return fail(ErrorKind::bad_input, "{}:{}:{}: {}", file, place.line, place.column,
                error.description());
  }
}

Result<Table> read_toml(const std::filesystem::path& path) {
  std::error_code problem;
  if (!std::filesystem::is_regular_file(path, problem)) {
    return fail(ErrorKind::not_found, "{}: there is no such file", path.string());
  }
  if (std::filesystem::file_size(path, problem) > largest_document) {
    return fail(ErrorKind::bad_input, "{}: far too large for a document; is this a log?",
                path.string());
  }
  std::ifstream in(path, std::ios::binary);
  if (!in) return fail(ErrorKind::not_found, "{}: cannot be opened", path.string());
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  return parse_toml(text, path.string());
}

}  // namespace pitwright::documents
