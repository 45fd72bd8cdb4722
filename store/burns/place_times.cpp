#include "burns/place_times.h"

#include <algorithm>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "documents/nearest.h"
#include "units/parse.h"

namespace pitwright::burns {
namespace {

using documents::BurnDocument;
using documents::StintSpec;

/// A number and what follows it: "9 in", "40 %". Lengths are brought to meters.
struct Position {
  double number = 0.0;
  std::string unit;
};

std::optional<Position> position_of(const std::string& text) {
  if (const auto length = parse_length_m(text)) return Position{*length, "m"};
  const auto end = text.find_last_of("0123456789.");
  if (end == text.npos) return std::nullopt;
  const auto number = parse_number(text.substr(0, end + 1));
  if (!number) return std::nullopt;
  const auto unit = text.find_first_not_of(' ', end + 1);
  return Position{*number, unit == text.npos ? "" : text.substr(unit)};
}

/// Empty where the position is one of the adjustment's, else what is wrong.
std::string mistake_in(const Adjustment& adjustment, const std::string& text) {
  if (!adjustment.is_span) {
    if (adjustment.positions.empty() ||
        std::ranges::find(adjustment.positions, text) != adjustment.positions.end()) {
      return {};
    }
    return fmt::format("'{}' has no position '{}'{}", adjustment.name, text,
                       documents::suggestion(text, adjustment.positions));
  }
  const auto low = position_of(adjustment.positions.at(0));
  const auto high = position_of(adjustment.positions.at(1));
  const auto here = position_of(text);
  const bool comparable =
      low && high && here && low->unit == here->unit && high->unit == here->unit;
  const double slack = comparable ? 1e-9 * (1.0 + std::abs(high->number)) : 0.0;
  if (comparable && here->number >= std::min(low->number, high->number) - slack &&
      here->number <= std::max(low->number, high->number) + slack) {
    return {};
  }
  return fmt::format("'{}' goes from {} to {}; '{}' is not between them", adjustment.name,
                     adjustment.positions.at(0), adjustment.positions.at(1), text);
}

Result<void> check_adjustments(const BurnDocument& document, const StintSpec& spec,
                               const Pit& pit) {
  if (pit.adjustments.empty()) return {};
  std::vector<std::string> known;
  for (const auto& adjustment : pit.adjustments) known.push_back(adjustment.name);
  for (const auto& [name, position] : spec.adjustments) {
    const auto found = std::ranges::find(pit.adjustments, name, &Adjustment::name);
    if (found == pit.adjustments.end()) {
      return fail(ErrorKind::bad_input, "{}: the pit has no adjustment '{}'{}",
                  document.at(spec.setting_place), name, documents::suggestion(name, known));
    }
    if (const auto mistake = mistake_in(*found, position); !mistake.empty()) {
      return fail(ErrorKind::bad_input, "{}: {}", document.at(spec.setting_place), mistake);
    }
  }
  return {};
}

/// A stint whose end may still be missing.
struct Open {
  const StintSpec* spec = nullptr;
  double from_s = 0.0;
  std::optional<double> to_s;
};

/// One stint; a missing start is the first sample, else the end of the one before, and said.
Result<Open> opened(const Moments& moments, const StintSpec& spec, const std::vector<Open>& before,
                    std::vector<std::string>& assumed) {
  const auto start = moments.of(spec.from);
  const auto end = moments.of(spec.to);
  if (!start) return std::unexpected(start.error());
  if (!end) return std::unexpected(end.error());
  std::optional<double> from = *start;
  const std::optional<double> to = *end;
  if (!from) {
    from = before.empty() ? std::optional(0.0) : before.back().to_s;
    if (!from) {
      return fail(ErrorKind::bad_input, "{}: [[stint]] needs 'from', such as from = \"0:35\"",
                  moments.document.at(spec.place));
    }
    assumed.push_back(
        fmt::format("stint {} starts at {}, {}", before.size() + 1, moments.text(*from),
                    before.empty() ? "the first sample" : "where the one before ends"));
  }
  if (spec.to && to && *to <= *from) {
    return fail(ErrorKind::bad_input, "{}: 'to' is not after 'from'",
                moments.document.at(spec.to->place));
  }
  return Open{&spec, *from, to};
}

/// All stints in order of time.
Result<std::vector<Open>> started(const Moments& moments, std::vector<std::string>& assumed) {
  std::vector<Open> all;
  for (const auto& spec : moments.document.stints) {
    const auto stint = opened(moments, spec, all, assumed);
    if (!stint) return std::unexpected(stint.error());
    all.push_back(*stint);
  }
  std::ranges::stable_sort(all, {}, &Open::from_s);
  return all;
}

Result<void> check_against_logs(const Moments& moments, const StintSpec& spec, const Stint& stint) {
  if (stint.from_s < moments.last_s && stint.to_s > 0.0) return {};
  return fail(ErrorKind::bad_input,
              "{}: this stint lies outside the logs, which run from {} to {}{}",
              moments.document.at(spec.from ? spec.from->place : spec.place), moments.text(0.0),
              moments.text(moments.last_s),
              moments.clocks.clock.zero && moments.document.timezone.empty()
                  ? " (no 'timezone' is given, so times are taken as UTC)"
                  : "");
}

}  // namespace

Result<std::vector<Stint>> stints_of(const Moments& moments, const Pit& pit,
                                     std::vector<std::string>& assumed) {
  const auto all = started(moments, assumed);
  if (!all) return std::unexpected(all.error());
  std::vector<Stint> stints;
  for (std::size_t i = 0; i < all->size(); ++i) {
    const auto& [spec, from_s, to_s] = (*all)[i];
    const bool last = i + 1 == all->size();
    const double next_s = last ? moments.last_s : (*all)[i + 1].from_s;
    Stint stint{spec->setting, spec->adjustments, from_s, to_s.value_or(next_s)};
    if (auto checked = check_adjustments(moments.document, *spec, pit); !checked) {
      return std::unexpected(checked.error());
    }
    if (auto checked = check_against_logs(moments, *spec, stint); !checked) {
      return std::unexpected(checked.error());
    }
    if (!last && stint.to_s > next_s) {
      const auto* next = (*all)[i + 1].spec;
      return fail(ErrorKind::bad_input,
                  "{}: this stint ({}) starts at {}, before the one of line {} ({}) ends at {}",
                  moments.document.at(next->from ? next->from->place : next->place), next->setting,
                  moments.text(next_s), spec->place.line, stint.setting, moments.text(stint.to_s));
    }
    if (stint.to_s <= stint.from_s) {
      return fail(ErrorKind::bad_input, "{}: two stints start at {}",
                  moments.document.at(spec->place), moments.text(stint.from_s));
    }
    if (!to_s && last) {
      assumed.push_back(
          fmt::format("the last stint ends with the logs at {}", moments.text(stint.to_s)));
    }
    stints.push_back(std::move(stint));
  }
  if (std::ranges::any_of(*all, [&](const Open& o) { return !o.to_s && &o != &all->back(); })) {
    assumed.emplace_back("a stint without 'to' ends where the next one starts");
  }
  return stints;
}

Result<std::vector<Event>> events_of(const Moments& moments, const Burn& burn,
                                     std::vector<std::string>& assumed) {
  const auto& document = moments.document;
  std::vector<Event> events;
  std::vector<std::string> channels;
  std::vector<std::string> pieces;
  for (const auto& probe : burn.probes) channels.push_back(probe.channel);
  for (const auto& piece : burn.pieces) pieces.push_back(piece.name);
  for (const auto& spec : document.events) {
    const auto at = moments.of(spec.at);
    const auto end = moments.of(spec.until);
    if (!at) return std::unexpected(at.error());
    if (!end) return std::unexpected(end.error());
    const std::optional<double> until = *end;
    if (spec.until && until && *until < *at) {
      return fail(ErrorKind::bad_input, "{}: 'until' is before 'at'",
                  document.at(spec.until->place));
    }
    if (!spec.channel.empty() && std::ranges::find(channels, spec.channel) == channels.end()) {
      return fail(ErrorKind::bad_input, "{}: no [[probe]] has the channel '{}'{}",
                  document.at(spec.place), spec.channel,
                  documents::suggestion(spec.channel, channels));
    }
    if (!spec.piece.empty() && std::ranges::find(pieces, spec.piece) == pieces.end()) {
      return fail(ErrorKind::bad_input, "{}: there is no [[piece]] named '{}'{}",
                  document.at(spec.place), spec.piece, documents::suggestion(spec.piece, pieces));
    }
    if (until.value_or(*at) < 0.0 || *at > moments.last_s) {
      assumed.push_back(fmt::format("the event of line {} lies outside the logs", spec.place.line));
    }
    events.push_back({spec.kind, *at, until, spec.channel, spec.piece, spec.text});
  }
  std::ranges::stable_sort(events, {}, &Event::at_s);
  return events;
}

Result<std::vector<Piece>> pieces_of(const Moments& moments) {
  std::vector<Piece> pieces;
  for (const auto& spec : moments.document.pieces) {
    const auto start = moments.of(spec.on);
    const auto end = moments.of(spec.off);
    if (!start) return std::unexpected(start.error());
    if (!end) return std::unexpected(end.error());
    const std::optional<double> on = *start;
    const std::optional<double> off = *end;
    if (spec.off && on && off && *off <= *on) {
      return fail(ErrorKind::bad_input, "{}: 'off' is not after 'on'",
                  moments.document.at(spec.off->place));
    }
    if (std::ranges::find(pieces, spec.piece.name, &Piece::name) != pieces.end()) {
      return fail(ErrorKind::bad_input, "{}: two [[piece]] are named '{}'",
                  moments.document.at(spec.place), spec.piece.name);
    }
    auto piece = spec.piece;
    piece.on_s = on;
    piece.off_s = off;
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

}  // namespace pitwright::burns
