#include "browning/anchored.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/expects.h"

namespace pitwright::browning {
namespace {

constexpr double apart_chance = 0.1;
constexpr double apart_sd_k = 15.0;
constexpr int most_apart = 3;

/// Weighted sums that level and weight follow from, and how much they change where one anchor
/// stands apart.
struct Sums {
  double w = 0.0, wr = 0.0, wrr = 0.0, log = 0.0;

  Sums& operator+=(const Sums& o) {
    w += o.w;
    wr += o.wr;
    wrr += o.wrr;
    log += o.log;
    return *this;
  }
  double log_weight() const { return log - 0.5 * (wrr - wr * wr / w) - 0.5 * std::log(w); }
};

Sums with_variance(double r, double v, double chance) {
  return {1.0 / v, r / v, r * r / v, std::log(chance) - 0.5 * std::log(v)};
}

/// Calls use(sums, members, count) for every set of at most `may` anchors.
template <typename Use>
void each_set(const Sums& base, const std::vector<Sums>& change, int may, Use use) {
  std::array<std::size_t, most_apart> members{};
  const auto descend = [&](const auto& self, const Sums& sums, std::size_t from,
                           int count) -> void {
    use(sums, members, count);
    if (count >= may || count >= most_apart) return;
    for (std::size_t j = from; j < change.size(); ++j) {
      Sums next = sums;
      next += change[j];
      members[static_cast<std::size_t>(count)] = j;
      self(self, next, j + 1, count + 1);
    }
  };
  descend(descend, base, 0, 0);
}

}  // namespace

Coordinate coordinate_of(double lightness, Shape shape, const LinkOptions& options) {
  const double span = options.white - options.black;
  const double u = std::clamp((options.white - lightness) / span, 0.01, 0.99);
  switch (shape) {
    case Shape::straight:
      return {4.0 * (u - 0.5), 4.0 / span};
    case Shape::logit:
      return {std::log(u / (1.0 - u)), 1.0 / (u * (1.0 - u) * span)};
    case Shape::first_order: {
      const double dose = -std::log1p(-u);
      return {std::log(dose), 1.0 / (dose * (1.0 - u) * span)};
    }
  }
  return {};
}

Anchored anchored(const std::vector<Placed>& anchors, double b, double s) {
  const std::size_t n = anchors.size();
  expects(n > 0);
  const double origin = anchors[0].y - b * anchors[0].c;  // keeps the squares small
  Sums base;
  std::vector<Sums> change;
  for (const auto& anchor : anchors) {
    const double r = anchor.y - b * anchor.c - origin;
    const double photo = b * anchor.lightness_c_sd;
    const double v = anchor.variance + s * s + photo * photo;
    const auto agrees = with_variance(r, v, 1.0 - apart_chance);
    const auto apart = with_variance(r, v + apart_sd_k * apart_sd_k, apart_chance);
    base += agrees;
    change.push_back(
        {apart.w - agrees.w, apart.wr - agrees.wr, apart.wrr - agrees.wrr, apart.log - agrees.log});
  }
  const int may = std::min(most_apart, static_cast<int>(n) / 3);
  double top = -1e300;
  each_set(base, change, may,
           [&](const Sums& sums, const auto&, int) { top = std::max(top, sums.log_weight()); });
  Anchored out{0.0, 0.0, 0.0, std::vector<double>(n, 0.0)};
  double total = 0.0, squares = 0.0;
  each_set(base, change, may, [&](const Sums& sums, const auto& members, int count) {
    const double weight = std::exp(sums.log_weight() - top);
    const double a = sums.wr / sums.w;
    total += weight;
    out.a += weight * a;
    squares += weight * (1.0 / sums.w + a * a);
    for (int k = 0; k < count; ++k) out.apart[members[static_cast<std::size_t>(k)]] += weight;
  });
  out.a /= total;
  out.a_variance = squares / total - out.a * out.a;
  out.a += origin;
  for (auto& chance : out.apart) chance /= total;
  out.log_weight = top + std::log(total);
  return out;
}

}  // namespace pitwright::browning
