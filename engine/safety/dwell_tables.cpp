#include "safety/dwell_tables.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/expects.h"

namespace pitwright::safety {

std::vector<Dwell> meat_table(MeatTarget target) {
  std::vector<Dwell> table;
  for (const auto& row : meat_rows)
    table.push_back({double(row.at_f), row.dwell_s[static_cast<std::size_t>(target)]});
  return table;
}

std::vector<Dwell> poultry_table(Bird bird, int fat_pct) {
  expects(fat_pct >= 1 && fat_pct <= 12);
  std::vector<Dwell> table;
  for (const auto& row : bird == Bird::chicken ? chicken_rows : turkey_rows)
    table.push_back({double(row.at_f), row.dwell_s[static_cast<std::size_t>(fat_pct - 1)]});
  return table;
}

std::vector<Dwell> longest_poultry_table() {
  auto table = poultry_table(Bird::chicken, 12);
  const auto turkey = poultry_table(Bird::turkey, 12);
  for (std::size_t i = 0; i < table.size(); ++i)
    table[i].dwell_s = std::max(table[i].dwell_s, turkey[i].dwell_s);
  return table;
}

double dwell_at_s(const std::vector<Dwell>& table, double at_f) {
  expects(!table.empty() && table.front().dwell_s > 0.0);
  if (at_f < table.front().at_f) return std::numeric_limits<double>::infinity();
  const Dwell* lower = &table.front();
  for (const auto& row : table) {
    if (row.dwell_s <= 0.0) break;
    if (row.at_f > at_f) {
      const double w = (at_f - lower->at_f) / (row.at_f - lower->at_f);
      return std::exp((1.0 - w) * std::log(lower->dwell_s) + w * std::log(row.dwell_s));
    }
    lower = &row;
  }
  return lower->dwell_s;
}

}  // namespace pitwright::safety
