#pragma once

namespace pitwright::numeric {

/// What a standard normal leaves above z, and its density there.
struct NormalTail {
  double chance, density;
};

/// Both at once, many times faster than std::erfc and std::exp: Taylor series about the nearest of
/// the multiples of 1/64.
///   Q(z0 + d) = Q0 - phi0 [d - z0 d^2/2 + (z0^2 - 1) d^3/6 - (z0^3 - 3 z0) d^4/24 + ...]
/// Accuracy: 1e-10 of either number for -9 <= z <= 9; std::erfc and std::exp beyond.
/// Source:   derivatives of the normal density are Hermite polynomials (textbook fact).
NormalTail normal_tail(double z);

}  // namespace pitwright::numeric
