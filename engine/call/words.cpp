#include "call/words.h"

#include <array>
#include <cmath>

#include "base/expects.h"

namespace pitwright::call {

double look_error(int closed_stints) {
  constexpr std::array<double, 9> first = {0.0,   0.0,   0.004, 0.006, 0.013,
                                           0.004, 0.012, 0.002, 0.005};
  if (closed_stints < 2) return 0.0;
  if (closed_stints < std::ssize(first)) return first[static_cast<std::size_t>(closed_stints)];
  const double k = closed_stints - 8;
  return 0.004 / (k * (k + 1.0));
}

double sidak(double error, int count) {
  expects(count >= 1 && error >= 0.0 && error < 1.0);
  return -std::expm1(std::log1p(-error) / count);
}

Word word_of(numeric::Interval range, double matters_k) {
  if (range.low > matters_k || range.high < -matters_k) return Word::clear;
  if (range.low > -matters_k && range.high < matters_k) return Word::no_odds;
  if (range.low > 0.0 || range.high < 0.0) return Word::too_close;
  return Word::not_yet;
}

}  // namespace pitwright::call
