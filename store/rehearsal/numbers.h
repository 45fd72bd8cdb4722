#pragma once

#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "documents/table_reader.h"
#include "rehearsal/fields.h"

namespace pitwright::rehearsal {

/// A bare number; anything else is a mistake.
std::optional<double> number_of(documents::TableReader& keys, std::string_view key);
/// A list of bare numbers.
std::optional<std::vector<double>> numbers_of(documents::TableReader& keys, std::string_view key);

/// Sets each field whose key is there.
template <typename T, std::size_t n>
void read_fields(documents::TableReader& keys, T& value, const std::array<Field<T>, n>& fields) {
  for (const auto& field : fields) {
    if (const auto found = number_of(keys, field.key)) value.*field.member = *found;
  }
}

}  // namespace pitwright::rehearsal
