#include "logs/rows.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "logs/words.h"

namespace pitwright::logs {
namespace {

constexpr std::size_t most_listed = 100;

}  // namespace

void Tally::note(std::int64_t line, int column, std::string_view reason) {
  ++log_.skipped_total;
  if (log_.skipped.size() < most_listed) {
    log_.skipped.push_back({line, column, std::string(reason)});
  }
}

void Tally::skip_row(std::int64_t line, int column, std::string_view reason) {
  ++log_.rows_skipped;
  note(line, column, reason);
}

void Tally::skip_cell(std::int64_t line, int column, std::string_view reason) {
  note(line, column, reason);
}

Reading reading_of(std::string_view cell, char decimal) {
  const auto number = number_of(cell, decimal);
  if (!number) {
    return {is_missing_word(cell) ? Reading::Kind::missing : Reading::Kind::broken, 0.0,
            ChannelUnit::unknown};
  }
  if (is_missing_code(number->value)) return {};
  return {Reading::Kind::value, number->value, number->unit};
}

std::string not_a_number(std::string_view cell, Encoding encoding) {
  auto text = to_utf8(cell.substr(0, 40), encoding);
  std::ranges::replace_if(
      text, [](char c) { return static_cast<unsigned char>(c) < 0x20; }, '?');
  return fmt::format("'{}{}' is not a number", text, cell.size() > 40 ? "..." : "");
}

std::vector<std::size_t> order_of(const std::vector<std::int64_t>& ms) {
  std::vector<std::size_t> order(ms.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::sort(order, [&ms](std::size_t a, std::size_t b) {
    return ms[a] != ms[b] ? ms[a] < ms[b] : a < b;
  });
  return order;
}

double median_step_s(const StampColumn& ms) {
  if (ms.size() < 2) return 0.0;
  std::vector<std::int64_t> steps(ms.size() - 1);
  for (std::size_t i = 0; i < steps.size(); ++i) steps[i] = ms[i + 1] - ms[i];
  const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::ranges::nth_element(steps, middle);
  return static_cast<double>(*middle) / 1000.0;
}

}  // namespace pitwright::logs
