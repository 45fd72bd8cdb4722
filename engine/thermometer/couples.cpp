#include "thermometer/couples.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <utility>

#include "base/expects.h"

namespace pitwright::thermometer {
namespace {

// Coefficients [mV / K^i]. Source: see couple_mv.
constexpr std::array j_below_760{0.0,
                                 0.503811878150e-1,
                                 0.304758369300e-4,
                                 -0.856810657200e-7,
                                 0.132281952950e-9,
                                 -0.170529583370e-12,
                                 0.209480906970e-15,
                                 -0.125383953360e-18,
                                 0.156317256970e-22};
constexpr std::array j_above_760{0.296456256810e3,   -0.149761277860e1, 0.317871039240e-2,
                                 -0.318476867010e-5, 0.157208190040e-8, -0.306913690560e-12};
constexpr std::array k_below_0{0.0,
                               0.394501280250e-1,
                               0.236223735980e-4,
                               -0.328589067840e-6,
                               -0.499048287770e-8,
                               -0.675090591730e-10,
                               -0.574103274280e-12,
                               -0.310888728940e-14,
                               -0.104516093650e-16,
                               -0.198892668780e-19,
                               -0.163226974860e-22};
constexpr std::array k_above_0{-0.176004136860e-1, 0.389212049750e-1,   0.185587700320e-4,
                               -0.994575928740e-7, 0.318409457190e-9,   -0.560728448890e-12,
                               0.560750590590e-15, -0.320207200030e-18, 0.971511471520e-22,
                               -0.121047212750e-25};
constexpr double k_a0 = 0.118597600000, k_a1 = -0.118343200000e-3, k_a2 = 126.9686;
constexpr std::array n_below_0{0.0,
                               0.261591059620e-1,
                               0.109574842280e-4,
                               -0.938411115540e-7,
                               -0.464120397590e-10,
                               -0.263033577160e-11,
                               -0.226534380030e-13,
                               -0.760893007910e-16,
                               -0.934196678350e-19};
constexpr std::array n_above_0{0.0,
                               0.259293946010e-1,
                               0.157101418800e-4,
                               0.438256272370e-7,
                               -0.252611697940e-9,
                               0.643118193390e-12,
                               -0.100634715190e-14,
                               0.997453389920e-18,
                               -0.608632456070e-21,
                               0.208492293390e-24,
                               -0.306821961510e-28};
constexpr std::array t_below_0{0.0,
                               0.387481063640e-1,
                               0.441944343470e-4,
                               0.118443231050e-6,
                               0.200329735540e-7,
                               0.901380195590e-9,
                               0.226511565930e-10,
                               0.360711542050e-12,
                               0.384939398830e-14,
                               0.282135219250e-16,
                               0.142515947790e-18,
                               0.487686622860e-21,
                               0.107955392700e-23,
                               0.139450270620e-26,
                               0.797951539270e-30};
constexpr std::array t_above_0{0.0,
                               0.387481063640e-1,
                               0.332922278800e-4,
                               0.206182434040e-6,
                               -0.218822568460e-8,
                               0.109968809280e-10,
                               -0.308157587720e-13,
                               0.454791352900e-16,
                               -0.275129016730e-19};

/// The piece of the reference function that holds at a temperature.
struct Piece {
  std::span<const double> c;
  bool has_exponential;
};

Piece piece_at(Couple couple, double celsius) {
  switch (couple) {
    case Couple::J:
      return {celsius < 760.0 ? std::span<const double>(j_below_760) : j_above_760, false};
    case Couple::K:
      return {celsius < 0.0 ? std::span<const double>(k_below_0) : k_above_0, celsius >= 0.0};
    case Couple::N:
      return {celsius < 0.0 ? std::span<const double>(n_below_0) : n_above_0, false};
    case Couple::T:
      return {celsius < 0.0 ? std::span<const double>(t_below_0) : t_above_0, false};
  }
  std::unreachable();
}

double horner(std::span<const double> c, double t) {
  double sum = 0.0;
  for (std::size_t i = c.size(); i-- > 0;) sum = sum * t + c[i];
  return sum;
}

double horner_slope(std::span<const double> c, double t) {
  double sum = 0.0;
  for (std::size_t i = c.size(); i-- > 1;) sum = sum * t + static_cast<double>(i) * c[i];
  return sum;
}

double lowest_inverse_c(Couple couple) {
  switch (couple) {
    case Couple::J:
      return -210.0;
    case Couple::K:
    case Couple::N:
      return -200.0;
    case Couple::T:
      return -230.0;
  }
  std::unreachable();
}

}  // namespace

std::string_view name_of(Couple couple) {
  switch (couple) {
    case Couple::J:
      return "J";
    case Couple::K:
      return "K";
    case Couple::N:
      return "N";
    case Couple::T:
      return "T";
  }
  std::unreachable();
}

std::optional<Couple> couple_named(std::string_view letter) {
  for (const auto couple : {Couple::J, Couple::K, Couple::N, Couple::T}) {
    if (letter == name_of(couple)) return couple;
  }
  return std::nullopt;
}

CoupleRange range_of(Couple couple) {
  switch (couple) {
    case Couple::J:
      return {-210.0, 1200.0};
    case Couple::K:
      return {-270.0, 1372.0};
    case Couple::N:
      return {-270.0, 1300.0};
    case Couple::T:
      return {-270.0, 400.0};
  }
  std::unreachable();
}

double couple_mv(Couple couple, double celsius) {
  expects(celsius >= range_of(couple).lowest_c && celsius <= range_of(couple).highest_c);
  const auto [c, has_exponential] = piece_at(couple, celsius);
  const double d = celsius - k_a2;
  return horner(c, celsius) + (has_exponential ? k_a0 * std::exp(k_a1 * d * d) : 0.0);
}

double couple_slope(Couple couple, double celsius) {
  expects(celsius >= range_of(couple).lowest_c && celsius <= range_of(couple).highest_c);
  const auto [c, has_exponential] = piece_at(couple, celsius);
  const double d = celsius - k_a2;
  return horner_slope(c, celsius) +
         (has_exponential ? 2.0 * k_a0 * k_a1 * d * std::exp(k_a1 * d * d) : 0.0);
}

Result<double> couple_celsius(Couple couple, double measured_mv, double cold_junction_c) {
  if (!(cold_junction_c >= -40.0 && cold_junction_c <= 100.0)) {
    return fail(ErrorKind::bad_input,
                "a cold junction of {:.4g} C cannot be: it sits where the meter is, between -40 "
                "and 100 C",
                cold_junction_c);
  }
  const double e = measured_mv + couple_mv(couple, cold_junction_c);
  double low = lowest_inverse_c(couple), high = range_of(couple).highest_c;
  constexpr double table_digit_mv = 1e-3;  // a table's own last value is within the table
  if (!(e >= couple_mv(couple, low) - table_digit_mv &&
        e <= couple_mv(couple, high) + table_digit_mv)) {
    return fail(ErrorKind::bad_input,
                "{:.4g} mV with a cold junction of {:.4g} C is no reading of a type {} "
                "thermocouple, which covers {:.0f} to {:.0f} C",
                measured_mv, cold_junction_c, name_of(couple), low, high);
  }
  double t = std::clamp(e / 0.04, low, high);
  constexpr int enough = 100;  // Newton takes five; a bisection in its place takes fifty
  for (int i = 0; i < enough; ++i) {
    const double miss = couple_mv(couple, t) - e;
    const double step = miss / couple_slope(couple, t);
    if (std::abs(step) < 1e-10) break;
    (miss > 0.0 ? high : low) = t;
    const double next = t - step;
    t = next > low && next < high ? next : 0.5 * (low + high);
  }
  return t;
}

}  // namespace pitwright::thermometer
