#include "live/worked.h"

#include <algorithm>

#include "base/expects.h"
#include "call/call.h"
#include "call/together.h"
#include "keeping/burn_of.h"
#include "keeping/live_burn.h"

namespace pitwright::live {
namespace {

constexpr std::size_t most_burns = 8;
constexpr std::size_t most_calls = 64;  ///< a burn: every single removal of a probe or a stint

/// The burn without one spot's thermometers, or without one stint.
Burn reduced(Burn burn, const CallAsked& asked) {
  if (!asked.without_spot.empty())
    std::erase_if(burn.probes, [&](const Probe& probe) {
      return probe.role == Role::air && probe.spot == asked.without_spot;
    });
  if (asked.without_stint && *asked.without_stint >= 0 &&
      *asked.without_stint < std::ssize(burn.stints))
    burn.stints.erase(burn.stints.begin() + *asked.without_stint);
  return burn;
}

/// A burn of which nothing has been heard: its head, and what was said of places and settings.
Result<Burn> unheard_burn(db::Store& store, const db::BurnLine& line) {
  const auto records = store.records(line.id);
  if (!records) return std::unexpected(records.error());
  Burn burn;
  burn.title = line.title;
  burn.scale = line.scale;
  if (line.matters) burn.matters = *line.matters;
  burn.clock = {std::chrono::floor<std::chrono::milliseconds>(line.lit), line.timezone};
  burn.pit = line.pit;
  for (const auto& record : db::standing(*records)) {
    if (const auto* placement = std::get_if<db::Placement>(&record.what))
      burn.probes.push_back(keeping::probe_of(*placement));
    if (const auto* turn = std::get_if<db::Turn>(&record.what)) {
      Stint stint;
      stint.setting = turn->setting;
      burn.stints.push_back(std::move(stint));
    }
  }
  return burn;
}

/// The call; of a live burn as known at its last reading, where the last stint still runs.
Result<call::Report> made_call(const Burn& burn, const CallAsked& asked, bool is_live) {
  if (asked.at_s || !is_live) return call::make_call(burn, {.as_known_at_s = asked.at_s});
  const double now_s = burn.last_s();
  auto running = burn;
  if (!running.stints.empty()) running.stints.back().to_s = now_s + 86400.0;
  auto made = call::make_call(running, {.as_known_at_s = now_s});
  if (made)
    for (auto& stint : made->stints) stint.to_s = std::min(stint.to_s, now_s);
  return made;
}

}  // namespace

Result<Burn> burn_of(db::Store& store, const db::BurnLine& line) {
  if (line.state != db::BurnState::kept && line.samples == 0) return unheard_burn(store, line);
  auto open = keeping::burn_of(store, line.id);
  if (!open) return std::unexpected(open.error());
  if (open->burn.title.empty()) open->burn.title = line.name;
  return std::move(open->burn);
}

Worked::Known& Worked::known(const Standing& standing) {
  auto& known = known_[standing.line.id];
  if (known.standing.line.sequence != standing.line.sequence || !known.standing.burn ||
      known.standing.line.state != standing.line.state)
    known = Known{standing, {}};
  return known;
}

Result<Standing> Worked::burn(std::string_view name_or_number) {
  return standing(store_.find(name_or_number));
}

Result<Standing> Worked::burn(db::BurnId id) {
  return standing(store_.burn(id));
}

Result<Standing> Worked::standing(Result<db::BurnLine> line) {
  if (!line) return std::unexpected(line.error());
  const auto found = known_.find(line->id);
  if (found != known_.end() && found->second.standing.line.sequence == line->sequence &&
      found->second.standing.line.state == line->state)
    return found->second.standing;
  auto burn = burn_of(store_, *line);
  if (!burn) return std::unexpected(burn.error());
  if (known_.size() >= most_burns) known_.clear();
  Standing standing{std::move(*line), std::make_shared<const Burn>(std::move(*burn)),
                    std::chrono::steady_clock::now()};
  known(standing);
  return standing;
}

std::shared_ptr<const WorkedCall> Worked::call(const Standing& standing, const CallAsked& asked) {
  auto& calls = known(standing).calls;
  if (const auto found = calls.find(asked); found != calls.end()) return found->second;
  const bool is_whole = asked.without_spot.empty() && !asked.without_stint;
  auto burn =
      is_whole ? standing.burn : std::make_shared<const Burn>(reduced(*standing.burn, asked));
  auto made = made_call(*burn, asked, standing.is_live());
  if (calls.size() >= most_calls) calls.clear();
  return calls[asked] = std::make_shared<const WorkedCall>(
             WorkedCall{std::move(burn), std::move(made), nullptr});
}

Result<std::shared_ptr<const lay::Lay>> Worked::lay(const WorkedCall& call) {
  expects(call.made.has_value());
  if (call.lay) return call.lay;
  lay::LayOptions options;
  options.band_k = call.burn->matters.kelvins();
  auto lay = lay::make_lay(call.burn->pit, call.made->together, options);
  if (!lay) return std::unexpected(lay.error());
  call.lay = std::make_shared<const lay::Lay>(std::move(*lay));
  return call.lay;
}

}  // namespace pitwright::live
