#include "rehearsal/numbers.h"

#include <cmath>

#include <fmt/format.h>

namespace pitwright::rehearsal {
namespace {

std::optional<double> plain_number(const documents::Value& value) {
  if (const auto* whole = std::get_if<std::int64_t>(&value.of)) return static_cast<double>(*whole);
  const auto* number = std::get_if<double>(&value.of);
  if (number && !std::isnan(*number)) return *number;
  return std::nullopt;
}

}  // namespace

std::optional<double> number_of(documents::TableReader& keys, std::string_view key) {
  const auto* value = keys.value(key);
  if (!value) return std::nullopt;
  const auto number = plain_number(*value);
  if (!number)
    keys.wrong(key, fmt::format("'{}' expects a bare number in the unit its name ends in, not {}",
                                key, kind_of(*value)));
  return number;
}

std::optional<std::vector<double>> numbers_of(documents::TableReader& keys, std::string_view key) {
  const auto* value = keys.value(key);
  if (!value) return std::nullopt;
  const auto* list = std::get_if<documents::Array>(&value->of);
  std::vector<double> numbers;
  bool sound = list != nullptr;
  for (std::size_t i = 0; sound && i < list->size(); ++i) {
    const auto number = plain_number((*list)[i]);
    sound = number.has_value();
    if (number) numbers.push_back(*number);
  }
  if (sound) return numbers;
  keys.wrong(key, fmt::format("'{}' expects a list of bare numbers, one a spot", key));
  return std::nullopt;
}

}  // namespace pitwright::rehearsal
