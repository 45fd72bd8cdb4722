#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "call/together.h"
#include "units/temperature.h"

namespace pitwright::call {

// The call as a value. Temperatures are degC, differences K, times [s] on the burn's clock.
// Settings are indexed in order of first appearance; `pair` indexes run over (0,1), (0,2), (1,2),
// ...

/// The verdict on one change; see docs/methods/call.md.
enum class Word { clear, no_odds, too_close, not_yet, muddled };

std::string_view name_of(Word word);

/// A number with its single 95 % range.
struct Estimate {
  double value, low, high;
};

/// What a burn had at one setting. Empty `estimate` where the setting was never counted.
struct SettingEstimate {
  int setting = 0;
  std::optional<Estimate> estimate;
  double probe_uncertainty_k = 0.0;  ///< the part of the range that is the probe's own, 95 %
};

/// Why a change is muddled or what it rests on; index into Report::troubles.
using TroubleIndex = int;

/// The change of one quantity from one setting to another: the difference of long-run means.
struct Change {
  int from, to;
  std::optional<Estimate> estimate;  ///< empty where it cannot be given
  double word_low = 0.0,
         word_high = 0.0;  ///< joint over the table and all looks; the word is read here
  Word word = Word::not_yet;
  std::optional<int> needs_stints;  ///< for not_yet and too_close; empty: probably never (over 12)
  std::vector<TroubleIndex> because;  ///< for muddled
  bool borrowed = false;  ///< re-setting error rests on the prior alone: nothing was repeated
};

/// One table of the call: a quantity per setting and its changes.
struct Quantity {
  std::vector<SettingEstimate> by_setting;
  std::vector<Change> changes;
};

/// How one spot runs: spot minus level at the same moments.
struct SpotCall {
  std::string spot;
  std::string channel;  ///< joined with "+" where two probes share the spot
  Quantity runs;
  std::vector<Change> reading_changes;  ///< of the spot's own temperature; they carry no word
};

enum class Axis { left_right, front_back, top_bottom };

std::string_view name_of(Axis axis);

struct TiltCall {
  Axis axis = Axis::left_right;
  double extent_m = 0.0;
  Quantity tilt;
};

/// Size and period of the controller's or the fire's cycle.
struct Swing {
  std::optional<double> period_s;  ///< empty: no steady cycle
  double size_k = 0.0;             ///< mean peak to trough
};

struct ChannelSwing {
  std::string channel;
  Swing swing;
};

enum class StintState { heating, settling, counting, closed, paused, spoiled };

std::string_view name_of(StintState state);

/// One stint of the burn, and which part of it counts.
struct StintCall {
  int index;
  int setting;
  double from_s, to_s;
  std::optional<double> counted_from_s, counted_to_s;  ///< empty where nothing counts
  double excluded_s = 0.0;  ///< time inside the counting window left out (lid, drop-outs)
  StintState state = StintState::closed;
  std::string why;  ///< for people; empty when there is nothing to explain
};

/// How one spot came back after a lid.
struct SpotRecovery {
  int spot;                      ///< of Report::spots
  std::optional<double> back_s;  ///< after shutting; empty: not while it could be seen
  double short_k;                ///< behind those that came back best, mean over the 15 min (or
                                 ///< less) after the air as a whole was back; NaN: too little seen
  bool is_slow;                  ///< what it weighs in is not counted from the lid to seen_to_s
};

/// A lid that was opened, and how every spot came back from it.
struct LidCall {
  double from_s, until_s;  ///< open
  double clear_s;          ///< nothing is counted from opening to here
  double seen_to_s;        ///< end of what could be seen of the recovery: the setting, the next lid
  double depth_k;          ///< how far the level had fallen
  bool is_marked;
  std::optional<int> stint;         ///< index of the stint it fell into
  double within_k;                  ///< back: this close to where it would be
  std::vector<SpotRecovery> spots;  ///< empty where too little counts before it to compare with
};

enum class TroubleKind { lid, probe, weather, soak, order, clock };

std::string_view name_of(TroubleKind kind);

/// What exactly went wrong; the words for people are made from this in app/report.
enum class TroubleCode {
  probe_dead,         ///< constant or out of any chamber's range; thrown out
  probe_frozen,       ///< repeats one value while others move; run excluded. amount: seconds
  probe_missing,      ///< readings missing. amount: seconds
  probe_touching,     ///< damped and late against its neighbours: touching metal? amount: share of
                      ///< swing
  probe_jump,         ///< its own level jumped while no other did. amount: K
  lid_marked,         ///< a marked opening, excluded with its recovery. amount: seconds excluded
  lid_unmarked,       ///< looks like a lid opening nobody marked. amount: depth K
  stint_spoiled,      ///< nothing of the stint counts
  lid_one_sided,      ///< some spots came back slowly from a lid. amount: K they stayed short
  still_warming,      ///< counted before the pit was soaked. amount: K still to come, NaN: unknown
  soak_unknown,       ///< swing or gusts hide the soak. amount: seconds to wait
  weather_changed,    ///< weather moved with the settings. amount: change, unit of the channel
  order_confounded,   ///< settings follow one another once: drift and change cannot be told apart
  one_stint_decides,  ///< leaving one stint out changes the answer. amount: K it moves
  halves_disagree,    ///< first and second half of the burn disagree. amount: K
  one_probe_decides,  ///< the answer rests on the strangest probe. amount: K it moves
  clocks_uncertain,   ///< loggers' clocks are known only to amount seconds
  weather_balanced,   ///< weather changed, the order set it off. amount: change; rest: most that is
                      ///< left between two settings, both in the unit of the channel
  probe_offset        ///< changing places shows that it reads amount K more than `against`
};

struct Trouble {
  TroubleKind kind;
  TroubleCode code;
  std::string where;              ///< channel, spot, setting or quantity; empty: the whole burn
  std::optional<double> at_s;     ///< when it began
  double amount = 0.0;            ///< see TroubleCode
  std::optional<int> stint = {};  ///< index of the stint it is about, where it is about one
  std::string against = {};       ///< the channel it is compared with, where it is
  double rest = 0.0;              ///< see TroubleCode
};

/// The state of a running burn, as known at the last sample.
struct Live {
  std::optional<double> as_known_at_s;  ///< the moment; empty: the last sample
  StintState state = StintState::heating;
  double counting_s = 0.0;
  double needed_s = 0.0;
  bool soaked = false;
  std::optional<double> change_at_s;  ///< when to change the setting next
  std::optional<int> change_to;       ///< to which setting; empty: nothing left to ask
};

/// Everything `pitwright call` says.
struct Report {
  std::vector<std::string> settings;
  std::optional<double> soaked_at_s;
  Swing swing;  ///< of the dial, else of the level
  std::vector<ChannelSwing> swings;
  /// Of the level at each setting; empty where it was never counted.
  std::vector<std::optional<Swing>> swing_by_setting;
  std::vector<StintCall> stints;
  std::vector<LidCall> lids;
  Quantity level;
  std::vector<SpotCall> spots;
  std::vector<TiltCall> tilts;
  Quantity spread;
  std::optional<Quantity> dial_gap;  ///< empty without a dial
  std::vector<Trouble> troubles;
  std::optional<Live> live;
  Together together;  ///< the same runs and level as laws that belong together, for the lay
  std::vector<std::string> explain;  ///< filled by request: what each number rests on, for people
};

}  // namespace pitwright::call
