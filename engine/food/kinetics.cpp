#include "food/kinetics.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/expects.h"

namespace pitwright::food {

namespace {

constexpr double gas_constant = 8.314;

/// k at the peak of a scan: k(Tp) = beta Ea / (R Tp^2), Kissinger (1957), from memory.
Reaction from_peak(std::string_view name, double peak_c, double activation_j_mol) {
  constexpr double beta_k_s = 10.0 / 60;
  const double T = peak_c + 273.15;
  return {name, beta_k_s * activation_j_mol / (gas_constant * T * T), peak_c, activation_j_mol};
}

/// Integral of f(T) over a trace; Simpson's rule on pieces of at most 1 K.
template <typename F>
double over_trace(std::span<const double> times_s, std::span<const double> t_c, F&& f) {
  expects(times_s.size() == t_c.size());
  double sum = 0;
  for (std::size_t i = 1; i < t_c.size(); ++i) {
    const double rise = t_c[i] - t_c[i - 1], span = times_s[i] - times_s[i - 1];
    const int pieces = std::clamp(static_cast<int>(std::ceil(std::abs(rise))), 1, 1000);
    for (int p = 0; p < pieces; ++p) {
      const double from = t_c[i - 1] + rise * p / pieces, to = t_c[i - 1] + rise * (p + 1) / pieces;
      sum += span / pieces / 6 * (f(from) + 4 * f((from + to) / 2) + f(to));
    }
  }
  return sum;
}

}  // namespace

double Reaction::rate(double t_c) const {
  return k_ref_per_s *
         std::exp(-activation_j_mol / gas_constant * (1 / (t_c + 273.15) - 1 / (t_ref_c + 273.15)));
}

double Reaction::remaining(std::span<const double> times_s, std::span<const double> t_c) const {
  return std::exp(-over_trace(times_s, t_c, [&](double t) { return rate(t); }));
}

Reaction myosin() {
  return from_peak("myosin", 56, 241e3);
}

Reaction sarcoplasmic() {
  return from_peak("sarcoplasmic proteins and collagen", 66, 326e3);
}

Reaction actin() {
  return {"actin", 0.1 / 60, 70, 250e3};
}

Reaction collagen_shrinkage() {
  return {"collagen shrinkage", std::log(2.0) / (11 * 60), 58, 518e3};
}

Reaction myoglobin() {
  const double activation = 290e3, t_ref_c = 60;
  const double k0_per_s = 7.98e43 / 60;
  return {"myoglobin", k0_per_s * std::exp(-activation / gas_constant / (t_ref_c + 273.15)),
          t_ref_c, activation};
}

double cook_value(std::span<const double> times_s, std::span<const double> t_c, double z_k) {
  expects(z_k > 0);
  return over_trace(times_s, t_c, [&](double t) { return std::pow(10, (t - 100) / z_k); }) / 60;
}

std::optional<Doneness> doneness_of(std::string_view word) {
  constexpr std::array<std::pair<std::string_view, double>, 6> words{{{"rare", 52.0},
                                                                      {"medium rare", 55.0},
                                                                      {"medium", 60.0},
                                                                      {"well done", 71.0},
                                                                      {"slice", 85.0},
                                                                      {"tender", 94.0}}};
  const auto found = std::ranges::find(words, word, [](const auto& w) { return w.first; });
  if (found == words.end()) return std::nullopt;
  return Doneness{found->second, 0};
}

std::optional<double> done_at(std::span<const double> times_s, std::span<const double> t_c,
                              const Doneness& wanted) {
  expects(times_s.size() == t_c.size());
  std::optional<double> since;
  for (std::size_t i = 0; i < t_c.size(); ++i) {
    if (t_c[i] < wanted.core_c) {
      if (since && i > 0) {  // may have been done before it fell
        const double share = (t_c[i - 1] - wanted.core_c) / (t_c[i - 1] - t_c[i]);
        const double fell_s = times_s[i - 1] + share * (times_s[i] - times_s[i - 1]);
        if (fell_s >= *since + wanted.dwell_s) return *since + wanted.dwell_s;
      }
      since.reset();
      continue;
    }
    if (!since) {
      since = times_s[i];
      if (i > 0) {
        const double share = (wanted.core_c - t_c[i - 1]) / (t_c[i] - t_c[i - 1]);
        since = times_s[i - 1] + share * (times_s[i] - times_s[i - 1]);
      }
    }
    if (times_s[i] >= *since + wanted.dwell_s) return *since + wanted.dwell_s;
  }
  return std::nullopt;
}

}  // namespace pitwright::food
