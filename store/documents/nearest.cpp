#include "documents/nearest.h"

#include <algorithm>
#include <cctype>
#include <vector>

#include <fmt/format.h>

namespace pitwright::documents {
namespace {

constexpr std::size_t longest_compared = 200;

char small(char c) {
  return static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
}

}  // namespace

int edit_distance(std::string_view a, std::string_view b) {
  a = a.substr(0, longest_compared);
  b = b.substr(0, longest_compared);
  std::vector<int> before(b.size() + 1);
  std::vector<int> above(b.size() + 1);
  std::vector<int> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = static_cast<int>(j);
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = static_cast<int>(i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const int change = small(a[i - 1]) == small(b[j - 1]) ? 0 : 1;
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + change});
      if (i > 1 && j > 1 && small(a[i - 1]) == small(b[j - 2]) &&
          small(a[i - 2]) == small(b[j - 1])) {
        row[j] = std::min(row[j], before[j - 2] + 1);
      }
    }
    before.swap(above);
    above.swap(row);
  }
  return above[b.size()];
}

std::string nearest(std::string_view wanted, std::span<const std::string> known) {
  const int allowed = std::max(wanted.size() < 4 ? 1 : 2, static_cast<int>(wanted.size() / 3));
  int best = allowed + 1;
  std::string found;
  for (const auto& word : known) {
    const int distance = edit_distance(wanted, word);
    if (distance < best) {
      best = distance;
      found = word;
    }
  }
  return found;
}

std::string suggestion(std::string_view wanted, std::span<const std::string> known) {
  constexpr std::size_t few = 12;
  if (const auto word = nearest(wanted, known); !word.empty()) {
    return fmt::format("; did you mean '{}'?", word);
  }
  if (known.empty() || known.size() > few) return {};
  return fmt::format("; known are '{}'", fmt::join(known, "', '"));
}

}  // namespace pitwright::documents
