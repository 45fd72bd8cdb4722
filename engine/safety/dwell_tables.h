#pragma once

#include <array>
#include <vector>

namespace pitwright::safety {

/// A row of a time-temperature table: that long at or above that temperature.
struct Dwell {
  double at_f = 0.0;     ///< the row's key [degF], as the documents print it
  double dwell_s = 0.0;  ///< 0: reached is enough
};

/// A row of the meat table: 6.5, 7 and 5 log [s].
struct MeatRow {
  int at_f;
  std::array<double, 3> dwell_s;
};

/// A row of a poultry table, 7 log: fat of 1 to 12 % [s].
struct PoultryRow {
  int at_f;
  std::array<double, 12> dwell_s;
};

/// Times at or above an internal temperature, as printed.
/// Source: USDA FSIS, Cooking Guideline for Meat and Poultry Products (Revised Appendix A),
/// December 2021, FSIS-GD-2021-0014: Table 2 (p. 35; its 5-log column is Table 6, p. 59), Table 3
/// (chicken, p. 37), Table 4 (turkey, p. 38). Keyed on degF: the printed degC are rounded.
extern const std::array<MeatRow, 31> meat_rows;
extern const std::array<PoultryRow, 30> chicken_rows;
extern const std::array<PoultryRow, 30> turkey_rows;

enum class MeatTarget { log_6_5, log_7, log_5 };
enum class Bird { chicken, turkey };

/// One column, rows ascending.
std::vector<Dwell> meat_table(MeatTarget target);

/// Pre: fat_pct 1 to 12; unknown or more than 12 % takes 12.
std::vector<Dwell> poultry_table(Bird bird, int fat_pct);

/// For other birds, and mixtures of meat and poultry: row by row the longer of chicken's and
/// turkey's time at 12 % fat.
std::vector<Dwell> longest_poultry_table();

/// The time that a table asks for at a temperature [s]: its logarithm on a straight line between
/// the rows that are not 0; infinite below the first row, that of the last such row above it.
/// Pre: the first row is not 0.
double dwell_at_s(const std::vector<Dwell>& table, double at_f);

}  // namespace pitwright::safety
