#include "toast/pixels.h"

#include <array>
#include <cmath>
#include <string>

#include "units/parse.h"

namespace pitwright::toast {
namespace {

using documents::Array;
using documents::Value;

std::optional<double> number_of(const Value& value) {
  if (const auto* whole = std::get_if<std::int64_t>(&value.of)) return static_cast<double>(*whole);
  if (const auto* number = std::get_if<double>(&value.of))
    if (std::isfinite(*number)) return *number;
  return std::nullopt;
}

std::optional<photo::Pixel> pixel_of(const Value& value) {
  const auto* pair = std::get_if<Array>(&value.of);
  if (pair == nullptr || pair->size() != 2) return std::nullopt;
  const auto x = number_of((*pair)[0]), y = number_of((*pair)[1]);
  if (!x || !y) return std::nullopt;
  return photo::Pixel{*x, *y};
}

}  // namespace

std::optional<double> number_at(documents::TableReader& table, std::string_view key) {
  const auto* value = table.value(key);
  if (value == nullptr) return std::nullopt;
  const auto number = number_of(*value);
  if (!number) table.wrong(key, fmt::format("'{}' expects a number without quotes", key));
  return number;
}

std::optional<photo::Pixel> pixel_at(documents::TableReader& table, std::string_view key) {
  const auto* value = table.value(key);
  if (value == nullptr) return std::nullopt;
  const auto pixel = pixel_of(*value);
  if (!pixel)
    table.wrong(key, fmt::format("'{}' expects pixels from the left and from the top of the "
                                 "photograph, such as [412, 233]",
                                 key));
  return pixel;
}

std::optional<photo::Quad> quad_at(documents::TableReader& table, std::string_view key) {
  const auto* value = table.value(key);
  if (value == nullptr) return std::nullopt;
  const auto* corners = std::get_if<Array>(&value->of);
  photo::Quad quad{};
  bool fine = corners != nullptr && corners->size() == quad.size();
  for (std::size_t k = 0; fine && k < quad.size(); ++k) {
    const auto pixel = pixel_of((*corners)[k]);
    fine = pixel.has_value();
    if (pixel) quad[k] = *pixel;
  }
  if (fine) return quad;
  table.wrong(key, fmt::format("'{}' expects four corners in pixels, left back, right back, right "
                               "front, left front: [[69, 453], [118, 449], [113, 525], [62, 529]]",
                               key));
  return std::nullopt;
}

Result<photo::Quad> parse_quad(std::string_view text) {
  std::vector<double> numbers;
  std::string word;
  const auto take = [&] {
    if (word.empty()) return true;
    const auto number = parse_number(word);
    word.clear();
    if (number) numbers.push_back(*number);
    return number.has_value();
  };
  bool fine = true;
  for (const char c : text) {
    if (c == ' ' || c == ',')
      fine = take() && fine;
    else
      word += c;
  }
  fine = take() && fine;
  if (!fine || numbers.size() != 8)
    return fail(ErrorKind::bad_input,
                "expects four corners in pixels, such as \"165,194 750,151 "
                "846,518 143,580\" (left back, right back, right front, left front), not '{}'",
                text);
  photo::Quad quad{};
  for (std::size_t k = 0; k < quad.size(); ++k) quad[k] = {numbers[2 * k], numbers[2 * k + 1]};
  return quad;
}

}  // namespace pitwright::toast
