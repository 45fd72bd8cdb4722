#pragma once

#include <optional>
#include <string_view>

#include "base/result.h"

namespace pitwright::thermometer {

/// Letter-designated thermocouples that people put into pits.
enum class Couple { J, K, N, T };

std::string_view name_of(Couple couple);
std::optional<Couple> couple_named(std::string_view letter);

/// Temperatures for which the reference function is defined [degC].
struct CoupleRange {
  double lowest_c, highest_c;
};
CoupleRange range_of(Couple couple);

/// Voltage [mV] of a thermocouple whose cold junction is at 0 degC:
///   E(t) = sum c_i t^i,   for K above 0 degC also + a0 exp(a1 (t - a2)^2)
/// Pre:    t within range_of(couple).
/// Source: IEC 60584-1 reference functions as NIST Monograph 175 / SRD 60 (ITS-90) prints them; the
///         coefficients were taken from public copies that agree digit by digit.
double couple_mv(Couple couple, double celsius);

/// Slope of couple_mv [mV/K].
double couple_slope(Couple couple, double celsius);

/// Temperature [degC] of the hot junction from the voltage measured [mV] and the temperature of the
/// cold junction: solves E(t) = measured + E(cold) by Newton's rule on the direct function, kept
/// within a bracket. Voltages add, temperatures do not.
/// Accuracy: 1e-9 K. Fails: bad_input where the sum lies outside the table, or the cold junction
/// outside -40 .. 100 degC. Type T below -230 and K, N below -200 degC are refused: the slope falls
/// towards zero there, and no pit is so cold.
Result<double> couple_celsius(Couple couple, double measured_mv, double cold_junction_c);

}  // namespace pitwright::thermometer
