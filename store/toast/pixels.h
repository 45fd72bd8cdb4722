#pragma once

#include <optional>
#include <string_view>

#include "base/result.h"
#include "documents/table_reader.h"
#include "photo/photo.h"

namespace pitwright::toast {

/// A number at `key`, whole or not.
std::optional<double> number_at(documents::TableReader& table, std::string_view key);

/// A place in the photograph: `key = [412, 233]`.
std::optional<photo::Pixel> pixel_at(documents::TableReader& table, std::string_view key);

/// Four places: `key = [[69, 453], [118, 449], [113, 525], [62, 529]]`.
std::optional<photo::Quad> quad_at(documents::TableReader& table, std::string_view key);

/// Eight numbers, parted by blanks and commas. Fails: bad_input.
Result<photo::Quad> parse_quad(std::string_view text);

}  // namespace pitwright::toast
