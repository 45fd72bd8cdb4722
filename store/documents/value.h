#pragma once

#include <chrono>
#include <cstdint>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "documents/zones.h"
#include "units/temperature.h"

namespace pitwright::documents {

/// Where something stands in a document, 1-based; 0 where it stands nowhere.
struct Place {
  int line = 0;
  int column = 0;
};

struct Value;
struct Entry;

/// A table's entries in the order of the document.
struct Table {
  std::vector<Entry> entries;
  Place place;

  const Entry* find(std::string_view key) const;  ///< nullptr where it has no such key
};

using Array = std::vector<Value>;

/// A value of a TOML document, free of any library.
struct Value {
  std::variant<std::string, std::int64_t, double, bool, LocalTime, Instant,
               std::chrono::year_month_day, std::chrono::milliseconds, Array, Table>
      of;  ///< milliseconds: a time of day
  Place place;
};

struct Entry {
  std::string key;
  Place place;  ///< of the key
  Value value;
};

/// "a text", "a number", "a table" ...: what the value is, for messages.
std::string_view kind_of(const Value& value);

}  // namespace pitwright::documents
