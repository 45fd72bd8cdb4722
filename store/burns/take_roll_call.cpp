#include "burns/take_roll_call.h"

#include <algorithm>
#include <set>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "documents/nearest.h"
#include "thermometer/roll_call.h"

namespace pitwright::burns {
namespace {

using documents::ProbeSpec;
using thermometer::Checked;
using thermometer::Verdict;

bool has_own(const ProbeSpec& spec) {
  return spec.correction || spec.uncertainty || !spec.correction_points.empty();
}

bool is_temperature(Role role) {
  return role == Role::air || role == Role::dial || role == Role::food || role == Role::outside;
}

/// "A1" of "grate.csv:A1".
std::string bare_channel(const std::string& channel) {
  const auto colon = channel.rfind(':');
  return colon == channel.npos ? channel : channel.substr(colon + 1);
}

const Checked* found_in(const thermometer::RollCall& called, const ProbeSpec& spec) {
  const auto named = [&](const std::string& name) -> const Checked* {
    const auto at = std::ranges::find(called.probes, name, &Checked::name);
    return at == called.probes.end() ? nullptr : &*at;
  };
  if (!spec.thermometer.empty()) return named(spec.thermometer);
  const auto* whole = named(spec.channel);
  return whole != nullptr ? whole : named(bare_channel(spec.channel));
}

std::string date_text(const std::optional<std::chrono::year_month_day>& date) {
  if (!date) return "without a date";
  return fmt::format("checked {:04}-{:02}-{:02}", static_cast<int>(date->year()),
                     static_cast<unsigned>(date->month()), static_cast<unsigned>(date->day()));
}

/// Channels by what became of them, each once, in order.
struct Story {
  std::vector<std::string> taken, own, unknown, binned, apart;

  static void add(std::vector<std::string>& to, const std::string& channel) {
    if (std::ranges::find(to, channel) == to.end()) to.push_back(channel);
  }
};

void tell(const documents::BurnDocument& document, const Story& story,
          std::vector<std::string>& assumed) {
  const auto& file = document.roll_call_file;
  const auto say = [&](const std::vector<std::string>& channels, const std::string& text) {
    if (!channels.empty())
      assumed.push_back(fmt::format("{}: {}", text, fmt::join(channels, ", ")));
  };
  say(story.taken,
      fmt::format("corrections taken from '{}' ({})", file, date_text(document.roll_call->date)));
  say(story.own, fmt::format("corrections of their own in the burn, those of '{}' not used", file));
  say(story.unknown, fmt::format("not in '{}', so nobody checked them", file));
  say(story.binned,
      fmt::format("'{}' says to bin these or has nothing to check them by; they count "
                  "as thermometers nobody checked",
                  file));
  say(story.apart, fmt::format("'{}' says that these do not agree with the others side by side, "
                               "though right in ice and boil: look at sheath and mounting",
                               file));
}

}  // namespace

Result<void> take_roll_call(const documents::BurnDocument& document, Burn& burn,
                            std::vector<std::string>& assumed) {
  if (!document.roll_call) return {};
  const auto called = thermometer::hold(document.roll_call->conditions, document.roll_call->probes);
  std::vector<std::string> names;
  for (const auto& one : called.probes) names.push_back(one.name);
  Story story;
  bool any = false;
  for (std::size_t i = 0; i < burn.probes.size(); ++i) {
    const auto& spec = document.probes[i];
    auto& probe = burn.probes[i];
    const auto* one = found_in(called, spec);
    if (one == nullptr && !spec.thermometer.empty()) {
      return fail(ErrorKind::bad_input, "{}: '{}' has no thermometer '{}'{}",
                  document.at(spec.thermometer_place), document.roll_call_file, spec.thermometer,
                  documents::suggestion(spec.thermometer, names));
    }
    if (!is_temperature(probe.role)) continue;
    any = any || one != nullptr;
    if (has_own(spec)) {
      Story::add(story.own, probe.channel);
    } else if (one == nullptr) {
      Story::add(story.unknown, probe.channel);
    } else if (one->correction.points.empty()) {
      Story::add(story.binned, probe.channel);
    } else {
      probe.line = one->correction;
      probe.line.from = document.roll_call_file;
      probe.line.checked = document.roll_call->date;
      if (!probe.checked) probe.checked = document.roll_call->date;
      Story::add(one->verdict == Verdict::apart ? story.apart : story.taken, probe.channel);
    }
  }
  if (!any) {
    return fail(ErrorKind::bad_input,
                "{}: no [[probe]] of this burn is in '{}', which has {}; name them alike, or write "
                "thermometer = \"...\" at the probes",
                document.at(document.roll_call_place), document.roll_call_file,
                fmt::join(names, ", "));
  }
  tell(document, story, assumed);
  return {};
}

}  // namespace pitwright::burns
