#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace pitwright::bench {

/// What is tallied. The peers know no spread and no dial gap.
enum class Quantity { level, reading, run, tilt, spread, dial_gap };
inline constexpr int quantities = 6;
std::string_view name_of(Quantity quantity);

/// How many ranges were given, how many held the truth, half their widths [degF], and how far the
/// truth lies from their middles, in half-widths.
struct Held {
  int given = 0, held = 0;
  std::vector<double> half_widths, misses;
  void add(double low, double high, double truth);
};

/// Words of one burn's final call, tallied over every question that has one.
struct Words {
  int questions = 0;
  int muddled = 0;
  int wrong_clear = 0;    ///< "clear" while the true change is no larger than matters
  int wrong_no_odds = 0;  ///< "no odds" while it is at least matters
};

/// One made-up burn, called and compared with its truth.
struct Trial {
  int design = 0;
  std::array<Held, quantities> ours, reference, textbook;
  std::array<std::vector<double>, quantities> snapshot_errors;  ///< [degF]
  Words words;
  int spots = 0, spots_left_out = 0;  ///< good thermometers, all of them, that the call distrusted
  bool ever_wrong = false;            ///< at any look
  int minute_looks = 0;               ///< looks between closes
  int words_moved = 0;                ///< of them, with other words than at the last close
  double look_seconds = 0.0;          ///< of the looks between closes
  /// Questions open at the close of the fourth stint that were told how many more stints they need,
  /// where the plan has as many; of them, settled by then, and settled a stint earlier (where told
  /// two or more).
  int promised = 0, kept = 0, promised_two = 0, kept_early = 0;
  /// First stint after which the aimed change of level or run was "clear"; 0: never.
  int clear_after_level = 0, clear_after_run = 0;
  double seconds = 0.0;  ///< of the call alone
  bool aimed = true;     ///< the made-up truth hit its targets
};

/// An order of stints and the sizes that the true changes are drawn from, in units of matters (10
/// degF); none: normal with sd 9 degF.
struct Design {
  std::string name;
  std::vector<std::string> order;
  double dwell_s;
  std::vector<double> sizes;
};

/// The designs of the bench.
const std::vector<Design>& designs();

/// When a burn is called, beside its end.
enum class Looks { none, closes, minutes };

struct TrialOptions {
  bool peers = true;  ///< run the plain reference, the textbook and the snapshot as well
  Looks looks = Looks::closes;
};

/// Makes and judges burn number `number` of a design; the same arguments give the same bits, but
/// for `seconds`.
Trial run_trial(int design, std::uint64_t number, const TrialOptions& options);

}  // namespace pitwright::bench
