#include "burns/place_probes.h"

#include <algorithm>
#include <limits>
#include <map>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "burns/channel_units.h"
#include "burns/channels.h"
#include "documents/nearest.h"

namespace pitwright::burns {
namespace {

using documents::BurnDocument;
using documents::ProbeSpec;

constexpr double never = std::numeric_limits<double>::infinity();

/// A probe whose names and times are resolved.
struct Placed {
  std::size_t index = 0;  ///< into document.probes and burn.probes
  double from_s = -never;
  double to_s = never;
};

using Users = std::map<std::pair<std::size_t, std::size_t>, std::vector<Placed>>;

std::string spot_text(const Probe& probe) {
  return probe.spot.empty() ? fmt::format("role {}", pitwright::name_of(probe.role))
                            : fmt::format("spot '{}'", probe.spot);
}

Result<void> put_on_grate(const BurnDocument& document, const ProbeSpec& spec, Probe& probe,
                          const Pit& pit, std::vector<std::string>& assumed) {
  if (probe.grate.empty() && probe.role == Role::air && pit.grates.size() == 1) {
    probe.grate = pit.grates.front().name;
    assumed.push_back(fmt::format("'{}' is on the only grate, '{}'", probe.channel, probe.grate));
  }
  if (probe.grate.empty() || pit.grates.empty()) return {};
  const auto grate = std::ranges::find(pit.grates, probe.grate, &Grate::name);
  if (grate == pit.grates.end()) {
    std::vector<std::string> known;
    for (const auto& one : pit.grates) known.push_back(one.name);
    return fail(ErrorKind::bad_input, "{}: the pit has no grate '{}'{}",
                document.at(spec.grate_place), probe.grate,
                documents::suggestion(probe.grate, known));
  }
  if (!probe.z_m) probe.z_m = grate->height_m;
  return {};
}

Result<void> check_inside(const BurnDocument& document, const ProbeSpec& spec, const Pit& pit) {
  const std::pair<std::optional<double>, std::optional<double>> sides[] = {
      {spec.x_m, pit.width_m}, {spec.y_m, pit.depth_m}, {spec.z_m, pit.height_m}};
  constexpr std::string_view keys[] = {"x", "y", "z"};
  constexpr std::string_view lengths[] = {"width", "depth", "height"};
  for (std::size_t side = 0; side < 3; ++side) {
    const auto& [at, extent] = sides[side];
    if (at && (*at < 0.0 || (extent && *at > *extent * 1.0001))) {
      return fail(ErrorKind::bad_input,
                  "{}: {} = {:.3g} m lies outside the pit; it is measured inside, from 0 to the "
                  "pit's {}{}",
                  document.at(spec.place), keys[side], *at, lengths[side],
                  extent ? fmt::format(" of {:.3g} m", *extent) : "");
    }
  }
  return {};
}

Result<Probe> probe_of(const BurnDocument& document, const ProbeSpec& spec, const Burn& burn,
                       std::vector<std::string>& assumed) {
  Probe probe;
  probe.channel = spec.channel;
  probe.role = spec.role;
  probe.spot = spec.spot;
  probe.grate = spec.grate;
  probe.x_m = spec.x_m;
  probe.y_m = spec.y_m;
  probe.z_m = spec.z_m;
  probe.piece = spec.piece;
  if (spec.correction) probe.correction = *spec.correction;
  probe.line.points = spec.correction_points;
  probe.uncertainty = spec.uncertainty;
  probe.checked = spec.checked;
  if (probe.role == Role::air && probe.spot.empty()) {
    probe.spot = spec.channel;
    assumed.push_back(fmt::format("the spot of '{}' is called by its channel", spec.channel));
  }
  if (probe.role == Role::food &&
      std::ranges::find(burn.pieces, probe.piece, &Piece::name) == burn.pieces.end()) {
    std::vector<std::string> known;
    for (const auto& piece : burn.pieces) known.push_back(piece.name);
    return fail(ErrorKind::bad_input, "{}: there is no [[piece]] named '{}'{}",
                document.at(spec.place), probe.piece, documents::suggestion(probe.piece, known));
  }
  if (auto inside = check_inside(document, spec, burn.pit); !inside) {
    return std::unexpected(inside.error());
  }
  if (auto put = put_on_grate(document, spec, probe, burn.pit, assumed); !put) {
    return std::unexpected(put.error());
  }
  return probe;
}

/// Puts the probes of one channel in order of time; an open end is the next one's start. Refuses
/// two places at one time.
Result<void> order_in_time(const Moments& moments, std::vector<Placed>& users, const Burn& burn,
                           std::vector<std::string>& assumed) {
  const auto& document = moments.document;
  std::ranges::stable_sort(users, {}, &Placed::from_s);
  for (std::size_t i = 0; i + 1 < users.size(); ++i) {
    auto& now = users[i];
    const auto& next = users[i + 1];
    if (now.to_s == never && next.from_s != -never && next.from_s > now.from_s) {
      now.to_s = next.from_s;
      assumed.push_back(fmt::format("'{}' was at {} until {}, when it came to {}",
                                    burn.probes[now.index].channel,
                                    spot_text(burn.probes[now.index]), moments.text(now.to_s),
                                    spot_text(burn.probes[next.index])));
    }
    if (now.to_s > next.from_s) {
      return fail(ErrorKind::bad_input,
                  "{}: channel '{}' is at {} and at {} at the same time; write 'from' and 'to'",
                  document.at(document.probes[next.index].channel_place),
                  burn.probes[next.index].channel, spot_text(burn.probes[now.index]),
                  spot_text(burn.probes[next.index]));
    }
  }
  return {};
}

Result<Placed> placed_in_time(const Moments& moments, std::size_t index) {
  const auto& spec = moments.document.probes[index];
  const auto from = moments.of(spec.from);
  const auto to = moments.of(spec.to);
  if (!from) return std::unexpected(from.error());
  if (!to) return std::unexpected(to.error());
  const Placed placed{index, from->value_or(-never), to->value_or(never)};
  if (placed.to_s <= placed.from_s) {
    return fail(ErrorKind::bad_input, "{}: 'to' is not after 'from'",
                moments.document.at(spec.to ? spec.to->place : spec.place));
  }
  if (placed.from_s > moments.last_s || placed.to_s < 0.0) {
    const auto& time = placed.from_s > moments.last_s ? spec.from : spec.to;
    return fail(ErrorKind::bad_input,
                "{}: this probe's time lies outside the logs, which run from {} to {}",
                moments.document.at(time ? time->place : spec.place), moments.text(0.0),
                moments.text(moments.last_s));
  }
  return placed;
}

/// Hands a channel's readings to its probes; the last one takes what is left without a copy.
void deal_out(logs::LogChannel& channel, const LogClock& clock, const std::vector<Placed>& users,
              Burn& burn) {
  std::vector<double> seconds;
  seconds.reserve(channel.ms.size());
  for (const auto ms : channel.ms) seconds.push_back(clock.seconds(ms));
  channel.ms.clear();
  auto values = std::exchange(channel.values, {});
  for (const auto& user : users) {
    const auto first = std::ranges::lower_bound(seconds, user.from_s) - seconds.begin();
    const auto last = std::ranges::lower_bound(seconds, user.to_s) - seconds.begin();
    auto& readings = burn.probes[user.index].readings;
    if (first == 0 && last == std::ssize(seconds) && users.size() == 1) {
      readings = {std::move(seconds), std::move(values)};
      return;
    }
    readings.seconds.assign(seconds.begin() + first, seconds.begin() + last);
    readings.values.assign(values.begin() + first, values.begin() + last);
  }
}

/// "A1, A2", or "A1, A2, A3 and 61 more" where there are many.
std::string some_of(const std::vector<std::string>& names) {
  constexpr std::size_t many = 8;
  if (names.size() <= many) return fmt::format("{}", fmt::join(names, ", "));
  const std::vector<std::string> first(names.begin(), names.begin() + 3);
  return fmt::format("{} and {} more", fmt::join(first, ", "), names.size() - 3);
}

/// Says which channels took the burn's unit, and refuses logs most of whose readings make no sense
/// in it.
struct UnitStory {
  std::vector<std::string> taken;
  int senseless = 0;
  int untold = 0;
  std::string example;
};

Result<void> tell_units(const BurnDocument& document, std::size_t log, const UnitStory& story,
                        Scale scale, std::vector<std::string>& assumed) {
  const auto& spec = document.logs[log];
  if (!story.taken.empty()) {
    assumed.push_back(fmt::format("'{}' does not say its unit; {} taken as {}, the burn's unit",
                                  spec.file, some_of(story.taken),
                                  scale == Scale::celsius ? "C" : "F"));
  }
  if (story.senseless * 2 > story.untold) {
    return fail(
        ErrorKind::bad_input,
        "{}: the readings of '{}' in '{}' make no sense in the unit they were taken to be in "
        "({}); write the right one as 'unit' under [[log]] file = \"{}\"",
        document.at(spec.place), story.example, spec.file,
        spec.hints.unit.value_or(scale == Scale::celsius ? "C" : "F"), spec.file);
  }
  return {};
}

Result<Users> resolve(const Moments& moments, std::vector<logs::Log>& logs, Burn& burn,
                      std::vector<std::string>& assumed) {
  const auto& document = moments.document;
  Users users;
  for (std::size_t i = 0; i < document.probes.size(); ++i) {
    const auto& spec = document.probes[i];
    const auto found = find_channel(document, logs, spec.channel);
    if (!found) {
      return fail(ErrorKind::bad_input, "{}: {}", document.at(spec.channel_place),
                  found.error().what);
    }
    auto probe = probe_of(document, spec, burn, assumed);
    if (!probe) return std::unexpected(probe.error());
    burn.probes.push_back(*std::move(probe));
    const auto placed = placed_in_time(moments, i);
    if (!placed) return std::unexpected(placed.error());
    users[{found->log, found->channel}].push_back(*placed);
  }
  for (auto& [channel, placed] : users) {
    if (auto ordered = order_in_time(moments, placed, burn, assumed); !ordered) {
      return std::unexpected(ordered.error());
    }
  }
  return users;
}

void tell_unused(const BurnDocument& document, const std::vector<logs::Log>& logs,
                 const Users& users, std::vector<std::string>& assumed) {
  for (std::size_t l = 0; l < logs.size(); ++l) {
    std::vector<std::string> unused;
    for (std::size_t c = 0; c < logs[l].channels.size(); ++c) {
      if (!users.contains({l, c})) unused.push_back(logs[l].channels[c].name);
    }
    if (unused.empty()) continue;
    assumed.push_back(
        fmt::format("no [[probe]] uses {} of '{}'", some_of(unused), document.logs[l].file));
  }
}

}  // namespace

Result<void> place_probes(const Moments& moments, std::vector<logs::Log>& logs, Burn& burn,
                          std::vector<std::string>& assumed) {
  const auto& document = moments.document;
  const auto users = resolve(moments, logs, burn, assumed);
  if (!users) return std::unexpected(users.error());
  std::map<std::size_t, UnitStory> stories;
  for (const auto& [where, placed] : *users) {
    auto& channel = logs[where.first].channels[where.second];
    const auto& spec = document.logs[where.first];
    const auto role = burn.probes[placed.front().index].role;
    const auto is_other = [](Role r) { return r == Role::wind || r == Role::drive; };
    for (const auto& user : placed) {
      const auto other = burn.probes[user.index].role;
      if (other != role && (is_other(role) || is_other(other))) {
        return fail(ErrorKind::bad_input, "{}: channel '{}' cannot be {} here and {} elsewhere",
                    document.at(document.probes[user.index].place), channel.name,
                    pitwright::name_of(other), pitwright::name_of(role));
      }
    }
    const auto taken = bring_to_engine_units(channel, spec, role, burn.scale);
    if (!taken) {
      return fail(ErrorKind::bad_input, "{}: {}",
                  document.at(document.probes[placed.front().index].channel_place),
                  taken.error().what);
    }
    auto& story = stories[where.first];
    if (*taken) story.taken.push_back(channel.name);
    if (!channel.unit_from_file && !is_other(role)) {
      ++story.untold;
      if (makes_no_sense(channel.values)) {
        ++story.senseless;
        story.example = channel.name;
      }
    }
    deal_out(channel, moments.clocks.logs[where.first], placed, burn);
  }
  for (const auto& [log, story] : stories) {
    if (auto told = tell_units(document, log, story, burn.scale, assumed); !told) return told;
  }
  tell_unused(document, logs, *users, assumed);
  for (auto& log : logs) {
    for (auto& channel : log.channels) {
      channel.ms.clear();
      channel.values = {};
    }
  }
  return {};
}

}  // namespace pitwright::burns
