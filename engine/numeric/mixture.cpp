#include "numeric/mixture.h"

#include <cmath>

#include "base/expects.h"
#include "numeric/normal_tail.h"

namespace pitwright::numeric {
namespace {

/// Chance of exceeding x after every normal is mirrored by `sign`, and the density there.
/// Normals that lie `cut` sds below x leave nothing above it, those as far above it all of theirs.
NormalTail tail(const NormalMixture& mixture, double x, double sign, double cut = 38.0) {
  NormalTail sum{0.0, 0.0};
  for (const auto& c : mixture.components) {
    const double z = (x - sign * c.mean) / c.sd;
    if (z > cut) continue;
    if (z < -cut) {
      sum.chance += c.weight;
      continue;
    }
    const auto one = normal_tail(z);
    sum.chance += c.weight * one.chance;
    sum.density += c.weight / c.sd * one.density;
  }
  return sum;
}

/// Solves tail(x) = p by Newton's method on the logarithm. What was found too low or too high keeps
/// it honest: a mixture's log tail is smooth but not concave, so a step may lead astray; then the
/// bracket is halved, or the step is cut while there is no bracket yet.
double solve(const NormalMixture& mixture, double p, double sign) {
  expects(p > 0.0 && p < 1.0 && !mixture.components.empty());
  const double spread = sd(mixture);
  const double z =
      p < 0.5 ? std::sqrt(-2.0 * std::log(2.0 * p)) : -std::sqrt(-2.0 * std::log(2.0 - 2.0 * p));
  double x = sign * mean(mixture) + spread * z;
  const double cut = p > 1e-9 ? 9.0 : 38.0;  // 9 sds leave 1e-19
  double low = -HUGE_VAL, high = HUGE_VAL, longest = 3.0 * spread;
  for (int i = 0; i < 300; ++i) {
    const auto t = tail(mixture, x, sign, cut);
    (t.chance > p ? low : high) = x;
    double step = t.density > 0.0 ? std::log(t.chance / p) * t.chance / t.density : HUGE_VAL;
    if (!std::isfinite(step)) step = t.chance > p ? HUGE_VAL : -HUGE_VAL;
    const bool bracketed = std::isfinite(low) && std::isfinite(high);
    bool newton = true;
    if (bracketed && !(x + step > low && x + step < high)) {
      step = 0.5 * (low + high) - x;
      newton = false;
    } else if (!bracketed && std::abs(step) > longest) {
      step = std::copysign(longest, step);
      longest *= 2.0;
      newton = false;
    }
    x += step;
    // Newton's error is the square of its last step.
    if (std::abs(step) <= (newton ? 1e-6 : 1e-12) * spread) break;
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
