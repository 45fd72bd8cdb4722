#pragma once

#include "call/report.h"
#include "numeric/mixture.h"

namespace pitwright::call {

/// The error that the words of a table may use when the k-th stint has closed. The sequence sums to
/// 0.05 over all k, so words that change only when a stint closes are wrong in at most 1 burn in 20
/// however often one looks. It is fixed in advance; it spends most where the good orders end (four
/// stints, six, eight) and little at looks where nothing is repeated yet.
///   k   2     3     4     5     6     7     8     9 and on
///       .004  .006  .013  .004  .012  .002  .005  .004 / ((k - 8) (k - 7))
/// Returns 0 for k < 2: nothing can be said.
double look_error(int closed_stints);

/// Error of each of `count` comparisons such that all hold jointly with chance 1 - error.
///   1 - (1 - error)^(1 / count)
/// Source: Sidak, "Rectangular confidence regions for the means of multivariate normal
///         distributions", JASA 62 (1967).
double sidak(double error, int count);

/// Reads the word from a joint range against `matters` [K].
///   clear: low > m or high < -m;  no odds: -m < low and high < m;
///   too close: zero excluded;  not yet: the rest.
Word word_of(numeric::Interval range, double matters_k);

}  // namespace pitwright::call
