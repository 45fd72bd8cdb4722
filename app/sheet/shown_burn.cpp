#include "sheet/shown_burn.h"

#include <map>
#include <set>

#include <fmt/format.h>

namespace pitwright::sheet {
namespace {

/// A plain name for every channel, distinct for distinct channels.
std::map<std::string, std::string> plain_names(const Burn& burn) {
  std::map<std::string, std::set<std::string>> spots_of, channels_at;
  std::map<std::string, int> count;
  for (const auto& probe : burn.probes) {
    if (probe.role == Role::air) {
      spots_of[probe.channel].insert(probe.spot);
      channels_at[probe.spot].insert(probe.channel);
    }
  }
  std::map<std::string, std::string> names;
  for (const auto& probe : burn.probes) {
    if (names.contains(probe.channel)) continue;
    const auto spots = spots_of.find(probe.channel);
    const bool own_spot = spots != spots_of.end() && spots->second.size() == 1 &&
                          channels_at[probe.spot].size() == 1 && !probe.spot.empty();
    const std::string kind =
        probe.role == Role::air ? "thermometer" : std::string(name_of(probe.role));
    if (own_spot) {
      names[probe.channel] = probe.spot;
    } else {
      const int n = ++count[kind];
      names[probe.channel] = n == 1 && probe.role != Role::air && probe.role != Role::food
                                 ? kind
                                 : fmt::format("{} {}", kind, n);
    }
  }
  return names;
}

void hide_names(Burn& burn) {
  const auto names = plain_names(burn);
  std::map<std::string, std::string> pieces;
  for (auto& piece : burn.pieces) {
    const auto plain = fmt::format("piece {}", pieces.size() + 1);
    pieces.emplace(piece.name, plain);
    piece.name = plain;
    piece.by.clear();
    piece.action.clear();
  }
  for (auto& probe : burn.probes) {
    probe.channel = names.at(probe.channel);
    if (const auto piece = pieces.find(probe.piece); piece != pieces.end())
      probe.piece = piece->second;
    else
      probe.piece.clear();
  }
  for (auto& event : burn.events) {
    event.text.clear();
    const auto channel = names.find(event.channel);
    event.channel = channel == names.end() ? "" : channel->second;
    const auto piece = pieces.find(event.piece);
    event.piece = piece == pieces.end() ? "" : piece->second;
  }
}

}  // namespace

Burn burn_to_show(const Burn& burn, const Telling& telling) {
  Burn shown = burn;
  if (!telling.place) {
    shown.title.clear();
    shown.pit.name.clear();
  }
  if (!telling.names) hide_names(shown);
  return shown;
}

}  // namespace pitwright::sheet
