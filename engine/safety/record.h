#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pit/burn.h"
#include "safety/lethality.h"

namespace pitwright::safety {

/// What a rule and the readings say together. None of these is a judgment of the food.
enum class Verdict {
  met,       ///< within the limit, or a row reached, with the probes' tolerances taken off
  not_met,   ///< not, even as the probes read
  open,      ///< hangs on the probes' tolerance
  withheld,  ///< the rule is not for this piece
  no_rule,   ///< nobody chose one
  no_record  ///< there are no readings to hold against it
};

std::string_view name_of(Verdict verdict);

enum class Withheld { no, poultry, not_intact, intact_not_told };

struct Cooked {
  const Rule* rule = nullptr;
  Verdict verdict = Verdict::no_rule;
  Withheld withheld = Withheld::no;
  Lethality credited, as_read;
};

/// Poultry that never reached 165 degF, against the tables that take its dwell into account.
struct UnderPoultry {
  const Rule* rule = nullptr;
  Lethality credited;
};

/// Time against a longest time.
struct Limited {
  const Rule* rule = nullptr;  ///< nullptr: nobody chose one; the time is told all the same
  Verdict verdict = Verdict::no_rule;
  BandTime time;
  std::optional<double> over_s() const;  ///< counted time less the limit
};

/// Cooked food kept hot: since its coldest spot first read the limit.
struct Held {
  double limit_f = 0.0;
  const Rule* rule = nullptr;  ///< nullptr: shown for comparison
  Verdict verdict = Verdict::no_rule;
  std::optional<double> since_s;  ///< empty: never reached
  double until_s = 0.0;
  BandTime below;
  std::optional<double> lowest_c;
};

struct CooledStep {
  CoolingStep step;
  Verdict verdict = Verdict::no_record;
  std::optional<double> from_s, to_s;  ///< empty: not seen
  double took_s = 0.0;                 ///< so far, where `to_s` is empty
};

struct Cooled {
  const Rule* rule = nullptr;
  bool was_chosen = false;  ///< else the Food Code's two steps, for comparison
  /// The readings fell faster than food does; the probe may have been pulled. Then no step is met.
  bool too_fast = false;
  std::vector<CooledStep> steps;
};

/// A stretch that somebody marked with a note, such as a power cut, and the coldest spot around it.
struct Marked {
  double from_s = 0.0, until_s = 0.0;
  std::string text;
  std::optional<double> start_c, end_c;  ///< last reading before each; empty: none
};

/// The record of one piece.
struct PieceRecord {
  std::string piece, cut;
  bool is_poultry = false;  ///< by the words of its cut
  std::optional<bool> intact;
  Chosen chosen;
  int probes = 0;
  bool unchecked = false;
  double dropped = 0.0;                   ///< readings left out as impossible in food
  std::optional<double> on_s, off_s;      ///< as told
  std::optional<double> first_s, last_s;  ///< readings
  double unread_s = 0.0;                  ///< gaps and drop-outs between on and the last reading
  std::optional<double> start_c;          ///< warmest probe at its first reading
  std::optional<double> highest_c;        ///< of the coldest spot, over the whole record
  std::optional<double> highest_s;
  std::optional<double> final_c;  ///< of the coldest spot at `off`, else at the last reading
  std::optional<double> final_s;
  std::optional<double> tolerance_k;  ///< largest taken off the coldest spot
  Cooked cooked;
  std::optional<UnderPoultry> chicken, turkey;
  Limited zone;               ///< 40 to 140 degF, or between the chosen rule's temperatures
  BandTime zone_usda;         ///< always 40 to 140 degF
  Limited come_up;            ///< 50 to 130 degF until the cooking rule was met
  bool come_up_seen = true;   ///< false: the first reading was above 50 degF already
  bool come_up_done = false;  ///< the coldest spot read 130 degF
  std::vector<Held> holds;    ///< 140, 135 and 130 degF
  std::optional<Cooled> cooled;
  std::vector<Marked> marked;
};

/// The record of a piece under the rules its people chose (Piece::rule). Measured readings only.
PieceRecord record_of(const Burn& burn, const Piece& piece);

/// Whether the words of a cut speak of a bird. Common practice, no source.
bool speaks_of_poultry(std::string_view cut);

/// Whether they speak of minced, stuffed or mixed meat.
bool speaks_of_ground(std::string_view cut);

}  // namespace pitwright::safety
