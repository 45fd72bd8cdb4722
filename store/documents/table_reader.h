#pragma once

#include <chrono>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "base/result.h"
#include "documents/value.h"
#include "documents/written_time.h"
#include "units/temperature.h"

namespace pitwright::documents {

/// What one document's readers share: its name, its unit and the first mistake found.
struct Reading {
  std::string file;
  std::optional<Scale> unit;  ///< of bare temperatures
  std::optional<Error> mistake;

  /// Keeps the first mistake: "file:line:column: text".
  void complain(Place place, std::string_view text);
};

/// Reads one table key by key. Each getter gives nothing where the key is missing or wrong; a wrong
/// value is kept as a mistake. `finish` adds keys that nobody asked for, which go first: a missing
/// key is often a misspelled one.
class TableReader {
 public:
  /// `label` names the table in messages: "[[probe]]"; empty for the document itself.
  TableReader(Reading& reading, const Table& table, std::string_view label);

  std::optional<std::string> text(std::string_view key);
  std::optional<bool> truth(std::string_view key);
  std::optional<std::chrono::year_month_day> date(std::string_view key);
  std::optional<WrittenTime> time(std::string_view key);
  std::optional<Temperature> temperature(std::string_view key);
  std::optional<TemperatureDelta> difference(std::string_view key);
  std::optional<double> length_m(std::string_view key);
  std::optional<double> mass_kg(std::string_view key);
  std::optional<Seconds> elapsed(std::string_view key);
  std::optional<double> pressure_pa(std::string_view key);
  /// A bare number, whole or not; finite.
  std::optional<double> number(std::string_view key);
  /// One text or a list of texts.
  std::optional<std::vector<std::string>> texts(std::string_view key);
  /// One of the words; gives its index.
  std::optional<std::size_t> word(std::string_view key, std::span<const std::string> known);
  /// The tables of `[[key]]`; one `[key]` counts as one.
  std::vector<const Table*> tables(std::string_view key);
  /// The value as it stands; nullptr where the key is missing.
  const Value* value(std::string_view key);

  /// Says that `key` must be there, if it is not.
  void require(std::string_view key, std::string_view example);
  /// A mistake at a key's value, or at the table where the key is missing.
  void wrong(std::string_view key, std::string_view text);
  /// Where the key's value stands; the table's own place where it is missing.
  Place place(std::string_view key) const;
  /// Hands mistakes on to the document.
  void finish();

 private:
  template <typename T, typename Parse>
  std::optional<T> parsed(std::string_view key, std::string_view expected, Parse parse);
  std::optional<std::string> plain_text(std::string_view key, std::string_view expected);

  Reading& reading_;
  const Table& table_;
  std::string label_;
  std::vector<std::string> known_;
  std::optional<std::pair<Place, std::string>> first_;
};

}  // namespace pitwright::documents
