#include "burns/assemble.h"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "base/expects.h"
#include "burns/channel_units.h"
#include "burns/channels.h"
#include "burns/moments.h"
#include "burns/place_probes.h"
#include "burns/place_times.h"
#include "burns/take_roll_call.h"
#include "burns/twin_units.h"

namespace pitwright::burns {
namespace {

double last_sample_s(const std::vector<logs::Log>& logs, const Clocks& clocks) {
  double last = 0.0;
  for (std::size_t l = 0; l < logs.size(); ++l) {
    const auto range = stamp_range(logs[l]);
    if (range) last = std::max(last, clocks.logs[l].seconds(range->last_ms));
  }
  return last;
}

/// "my burn" for /home/me/my burn/burn.toml.
std::string title_of(const documents::BurnDocument& document) {
  std::error_code problem;
  const auto full = std::filesystem::absolute(document.path, problem);
  return full.parent_path().filename().string();
}

void fill_head(const documents::BurnDocument& document, Burn& burn,
               std::vector<std::string>& assumed) {
  burn.title = document.title;
  if (burn.title.empty()) {
    burn.title = title_of(document);
    assumed.push_back(fmt::format("the title is the directory's name, '{}'", burn.title));
  }
  const bool celsius = burn.scale == Scale::celsius;
  burn.matters = document.matters.value_or(celsius ? TemperatureDelta::from_kelvins(5)
                                                   : TemperatureDelta::from_fahrenheit_degrees(10));
  if (!document.matters) {
    assumed.push_back(fmt::format("what matters is a difference of {}", celsius ? "5 C" : "10 F"));
  }
  if (burn.clock.zero && document.timezone.empty()) {
    assumed.emplace_back("no 'timezone' is given: times without an offset are taken as UTC");
  }
  if (document.pit) {
    burn.pit = *document.pit;
  } else {
    assumed.emplace_back("nothing is said of the pit: no tilts or maps that need its size");
  }
}

}  // namespace

Result<Assembled> assemble(const documents::BurnDocument& document, std::vector<logs::Log>& logs,
                           const Clocks& clocks) {
  expects(document.logs.size() == logs.size() && clocks.logs.size() == logs.size());
  Assembled made;
  auto& burn = made.burn;
  made.assumed = clocks.assumed;
  const auto scale = scale_of(document, logs, made.assumed);
  if (!scale) return std::unexpected(scale.error());
  burn.scale = *scale;
  burn.clock = clocks.clock;
  burn.clock_uncertainty_s = clocks.uncertainty_s;
  fill_head(document, burn, made.assumed);

  const Moments moments{document, clocks, last_sample_s(logs, clocks)};
  auto pieces = pieces_of(moments);
  if (!pieces) return std::unexpected(pieces.error());
  burn.pieces = *std::move(pieces);
  auto stints = stints_of(moments, burn.pit, made.assumed);
  if (!stints) return std::unexpected(stints.error());
  burn.stints = *std::move(stints);
  if (auto placed = place_probes(moments, logs, burn, made.assumed); !placed) {
    return std::unexpected(placed.error());
  }
  if (auto taken = take_roll_call(document, burn, made.assumed); !taken) {
    return std::unexpected(taken.error());
  }
  if (auto twins = check_twin_units(document, logs, burn); !twins) {
    return std::unexpected(twins.error());
  }
  auto events = events_of(moments, burn, made.assumed);
  if (!events) return std::unexpected(events.error());
  burn.events = *std::move(events);
  return made;
}

Result<Assembled> assemble(const documents::BurnDocument& document, std::vector<logs::Log>& logs) {
  const auto clocks = put_clocks_together(document, logs);
  if (!clocks) return std::unexpected(clocks.error());
  return assemble(document, logs, *clocks);
}

}  // namespace pitwright::burns
