#pragma once

#include <span>
#include <vector>

namespace pitwright::food {

/// One stage of the scheme below: how Y_j comes of the two before it, the start and their rates.
///   Y_j = mu Y_{j-1} + nu Y_{j-2} + (1 - mu - nu) Y_0 + dt [mu_rate L(Y_{j-1}) + start_rate
///   L(Y_0)]
struct LegendreStage {
  double mu, nu, mu_rate, start_rate;
};

/// The stages of a second-order Runge-Kutta-Legendre step: explicit, and stable on the negative
/// real axis up to |lambda| dt <= (s^2 + s - 2) / 2, so that s stages reach as far as s^2/4
/// explicit steps. Being a Runge-Kutta method it keeps linear sums: heat and water.
/// Pre: s odd, >= 3.
/// Source: Meyer, Balsara & Aslam (2014), J. Comput. Phys. 257, 594-626, RKL2 (formulae from
/// memory; order and stability are tested).
std::vector<LegendreStage> legendre_stages(int s);

/// Fewest (odd) stages that are stable for a decay rate and a step.
int legendre_count(double fastest_per_s, double step_s);

/// A step's workspace.
class LegendreStep {
 public:
  explicit LegendreStep(int size);

  /// y <- y after dt. rate(y, dy) fills dy; it is called `stages` times.
  template <typename Rate>
  void advance(Rate&& rate, std::span<double> y, double dt, int stages);

 private:
  std::vector<double> start_, before_, last_, rate_start_, rate_;
};

template <typename Rate>
void LegendreStep::advance(Rate&& rate, std::span<double> y, double dt, int stages) {
  const auto table = legendre_stages(stages);
  const std::size_t n = y.size();
  start_.assign(y.begin(), y.end());
  before_ = start_;
  rate(std::span<const double>(start_), std::span<double>(rate_start_));
  for (std::size_t i = 0; i < n; ++i) y[i] += dt * table[0].mu_rate * rate_start_[i];
  for (std::size_t j = 1; j < table.size(); ++j) {
    const auto& s = table[j];
    last_.assign(y.begin(), y.end());
    rate(std::span<const double>(last_), std::span<double>(rate_));
    for (std::size_t i = 0; i < n; ++i) {
      y[i] = s.mu * last_[i] + s.nu * before_[i] + (1 - s.mu - s.nu) * start_[i] +
             dt * (s.mu_rate * rate_[i] + s.start_rate * rate_start_[i]);
    }
    std::swap(before_, last_);
  }
}

}  // namespace pitwright::food
