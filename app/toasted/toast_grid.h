#pragma once

#include <optional>
#include <vector>

#include "toast/toast.h"

namespace pitwright::toasted {

/// Slices in rows and columns: rows[r][c] is an index of a slice, or empty where none lies.
/// Rows run from the back, columns from the left.
using SliceGrid = std::vector<std::vector<std::optional<int>>>;

/// Sorts the slices into rows and columns by their places; nothing where they lie in no such order
/// (two in one cell, or over 12 columns).
std::optional<SliceGrid> grid_of(const std::vector<photo::SeenSlice>& slices);

}  // namespace pitwright::toasted
