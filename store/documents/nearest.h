#pragma once

#include <span>
#include <string>
#include <string_view>

namespace pitwright::documents {

/// How many single letters must be put in, taken out, changed or swapped with their neighbor to
/// turn one word into the other; capitals count as small letters (ASCII).
/// Source: the optimal string alignment distance, from memory.
int edit_distance(std::string_view a, std::string_view b);

/// The known word most like `wanted`; empty where none is close (more than a third of its letters
/// off, at least two allowed for words of four letters or more).
std::string nearest(std::string_view wanted, std::span<const std::string> known);

/// "; did you mean 'spot'?", or "; known are 'a', 'b'" where nothing is close and the known words
/// are few, or nothing.
std::string suggestion(std::string_view wanted, std::span<const std::string> known);

}  // namespace pitwright::documents
