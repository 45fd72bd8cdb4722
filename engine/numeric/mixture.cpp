#include "numeric/mixture.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/expects.h"

namespace pitwright::numeric {
namespace {

/// Chance of exceeding x after every normal is mirrored by `sign`, and its density there.
struct Tail {
  double chance, density;
};

Tail tail(const NormalMixture& mixture, double x, double sign) {
  Tail sum{0.0, 0.0};
  for (const auto& c : mixture.components) {
    const double z = (x - sign * c.mean) / c.sd;
    if (z > 38.0) continue;  // below the smallest double
    sum.chance += c.weight * 0.5 * std::erfc(z / std::numbers::sqrt2);
    sum.density += c.weight / c.sd * std::exp(-0.5 * z * z);
  }
  sum.density *= std::numbers::inv_sqrtpi / std::numbers::sqrt2;
  return sum;
}

/// Solves tail(x) = p by Newton's method on the logarithm, kept inside a bracket that bisection
/// shrinks: a mixture's log tail is smooth but not concave.
double solve(const NormalMixture& mixture, double p, double sign) {
  expects(p > 0.0 && p < 1.0 && !mixture.components.empty());
  const double center = sign * mean(mixture);
  const double spread = sd(mixture);
  double low = center - spread, high = center + spread;
  for (double step = spread; tail(mixture, low, sign).chance < p; step *= 2.0) low -= step;
  for (double step = spread; tail(mixture, high, sign).chance > p; step *= 2.0) high += step;
  double x = 0.5 * (low + high);
  for (int i = 0; i < 200; ++i) {
    const Tail t = tail(mixture, x, sign);
    (t.chance > p ? low : high) = x;
    const double newton = x + std::log(t.chance / p) * t.chance / t.density;
    const double next = newton > low && newton < high ? newton : 0.5 * (low + high);
    const double moved = std::abs(next - x);
    x = next;
    if (moved <= 1e-11 * spread) break;
  }
  return x;
}

}  // namespace

NormalMixture normalized(std::vector<Component> components) {
  double sum = 0.0;
  for (const auto& c : components) {
    expects(c.weight >= 0.0 && c.sd > 0.0);
    sum += c.weight;
  }
  expects(sum > 0.0);
  for (auto& c : components) c.weight /= sum;
  return {std::move(components)};
}

double mean(const NormalMixture& mixture) {
  double sum = 0.0;
  for (const auto& c : mixture.components) sum += c.weight * c.mean;
  return sum;
}

double sd(const NormalMixture& mixture) {
  const double center = mean(mixture);
  double sum = 0.0;
  for (const auto& c : mixture.components) {
    const double d = c.mean - center;
    sum += c.weight * (c.sd * c.sd + d * d);
  }
  return std::sqrt(sum);
}

double cdf(const NormalMixture& mixture, double x) {
  return tail(mixture, -x, -1.0).chance;
}

double upper_quantile(const NormalMixture& mixture, double p) {
  return solve(mixture, p, 1.0);
}

double lower_quantile(const NormalMixture& mixture, double p) {
  return -solve(mixture, p, -1.0);
}

Interval central_interval(const NormalMixture& mixture, double error) {
  return {lower_quantile(mixture, 0.5 * error), upper_quantile(mixture, 0.5 * error)};
}

}  // namespace pitwright::numeric
