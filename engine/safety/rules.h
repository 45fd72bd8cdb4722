#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "safety/dwell_tables.h"

namespace pitwright::safety {

/// How a rule's figures came into this program.
enum class Known {
  read,         ///< read in the document itself
  second_hand,  ///< read in another text that quotes it
  memory        ///< from memory: to be checked against the document before anybody relies on it
};

/// Where a rule stands.
struct Source {
  std::string document, edition, where;
  Known known = Known::memory;
};

enum class RuleKind {
  cooking,  ///< temperatures inside the food, each with its time
  zone,     ///< longest time between two temperatures
  come_up,  ///< the same, while the food warms up for the first time
  hold,     ///< lowest temperature of cooked food kept hot
  cooling   ///< steps downward, each within its time
};

std::string_view name_of(RuleKind kind);

/// From the last moment at or above `from_f` to the first at or below `to_f` within that time.
struct CoolingStep {
  double from_f = 0.0, to_f = 0.0;
  double within_s = 0.0;
};

/// A rule that a person may choose; pitwright shows it and the margin, and judges nothing else.
struct Rule {
  std::string name;  ///< as people write it: "meat 6.5 log"
  RuleKind kind = RuleKind::cooking;
  std::string title;
  Source source;
  /// Of cooking: any one row is enough. `adds_up`: its time may be gathered in pieces; else it
  /// must be one stretch.
  std::vector<Dwell> rows;
  bool adds_up = false;
  double target_log = 0.0;     ///< what the rows are for; 0: the rule names none
  bool for_poultry = true;     ///< false: its figures are not for poultry
  bool for_not_intact = true;  ///< false: only for whole cuts, neither minced nor pierced
  double low_f = 0.0;          ///< of zone, come_up
  double high_f = 0.0;         ///< of zone, come_up; the limit of hold
  double limit_s = 0.0;        ///< of zone, come_up
  std::vector<CoolingStep> steps;
};

/// Every rule pitwright knows, by kind.
const std::vector<Rule>& all_rules();

/// The rule of that name; capitals, blanks, "°" and "%" do not matter. nullptr: none.
const Rule* find_rule(std::string_view name);

/// What a person chose for a piece: at most one rule a kind.
struct Chosen {
  const Rule* cooking = nullptr;
  const Rule* zone = nullptr;
  const Rule* come_up = nullptr;
  const Rule* hold = nullptr;
  const Rule* cooling = nullptr;
  std::vector<std::string> unknown;  ///< parts that name no rule
  std::vector<std::string> twice;    ///< parts whose kind was chosen already
};

/// Reads "meat 6.5 log, 4 h, hold 140 F": names apart by commas or semicolons.
Chosen chosen_rules(std::string_view text);

}  // namespace pitwright::safety
