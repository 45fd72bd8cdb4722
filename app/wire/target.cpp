#include "wire/target.h"

#include <algorithm>
#include <charconv>

namespace pitwright::wire {
namespace {

std::optional<std::string> decoded(std::string_view text, bool plus_is_blank) {
  std::string plain;
  plain.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    char one = text[i];
    if (one == '%') {
      unsigned char code = 0;
      if (i + 2 >= text.size()) return std::nullopt;
      const char* const end = text.data() + i + 3;
      if (std::from_chars(text.data() + i + 1, end, code, 16).ptr != end) return std::nullopt;
      one = static_cast<char>(code);
      i += 2;
    } else if (plus_is_blank && one == '+') {
      one = ' ';
    }
    if (static_cast<unsigned char>(one) < 0x20 || one == 0x7f) return std::nullopt;
    plain += one;
  }
  return plain;
}

}  // namespace

std::optional<Target> read_target(std::string_view text) {
  if (text.empty() || text.front() != '/') return std::nullopt;
  const auto mark = text.find('?');
  auto path = decoded(text.substr(0, mark), false);
  if (!path) return std::nullopt;
  Target target{std::move(*path), {}};
  if (mark == std::string_view::npos) return target;
  auto rest = text.substr(mark + 1);
  while (!rest.empty()) {
    const auto pair = rest.substr(0, rest.find('&'));
    rest.remove_prefix(std::min(rest.size(), pair.size() + 1));
    if (pair.empty()) continue;
    const auto equals = pair.find('=');
    auto name = decoded(pair.substr(0, equals), true);
    auto value = decoded(equals == std::string_view::npos ? "" : pair.substr(equals + 1), true);
    if (!name || !value) return std::nullopt;
    target.query.emplace(std::move(*name), std::move(*value));
  }
  return target;
}

}  // namespace pitwright::wire
