#include "burns/draft.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "burns/channel_units.h"
#include "burns/draft_stints.h"
#include "burns/guess_role.h"

namespace pitwright::burns {
namespace {

bool has_reading(const logs::LogChannel& channel) {
  return std::ranges::any_of(channel.values, [](double value) { return std::isfinite(value); });
}

/// A channel of one of the logs and what it is taken for.
struct Drafted {
  std::string name;  ///< as [[probe]] names it
  std::string own;   ///< its own name, for its spot or piece
  std::optional<Role> role;
  bool silent = false;  ///< never a reading
};

/// "Left (F)" without its unit; two logs' channels of one name are told apart by the log's.
std::string plain_name(const logs::LogChannel& channel, const std::string& file, bool twin) {
  std::string_view name = channel.name;
  const auto bracket = name.find_last_of("([");
  const bool closed = name.ends_with(')') || name.ends_with(']');
  if (channel.unit_from_file && closed && bracket != name.npos && bracket > 0) {
    name = name.substr(0, bracket);
  }
  while (name.ends_with(' ') || name.ends_with(',')) name.remove_suffix(1);
  if (name.empty()) name = channel.name;
  return twin ? fmt::format("{}, {}", name, file) : std::string(name);
}

std::vector<Drafted> drafted_channels(std::span<const std::string> files,
                                      std::span<const logs::Log> logs) {
  std::vector<Drafted> all;
  for (std::size_t l = 0; l < logs.size(); ++l) {
    for (const auto& channel : logs[l].channels) {
      const auto twins = [&](const logs::Log& log) {
        return std::ranges::count(log.channels, channel.name, &logs::LogChannel::name);
      };
      std::ptrdiff_t named = 0;
      for (const auto& log : logs) named += twins(log);
      all.push_back({named > 1 ? files[l] + ":" + channel.name : channel.name,
                     plain_name(channel, files[l], named > 1),
                     guessed_role(channel.name, channel.unit), !has_reading(channel)});
    }
  }
  // Several "pit" channels are places in the pit, not several dials.
  const auto is_dial = [](const Drafted& d) { return d.role == Role::dial && !d.silent; };
  if (std::ranges::count_if(all, is_dial) > 1) {
    for (auto& one : all) {
      if (one.role == Role::dial) one.role = Role::air;
    }
  }
  return all;
}

Result<std::string> unit_of(const DraftRequest& request, std::span<const logs::Log> logs) {
  if (request.unit) return *request.unit;
  documents::BurnDocument nothing_told;
  std::vector<std::string> unused;
  const auto scale = scale_of(nothing_told, logs, unused);
  if (scale) return std::string(*scale == Scale::celsius ? "C" : "F");
  return fail(ErrorKind::bad_input,
              "the logs do not agree on a unit or do not say it; say --unit F or --unit C");
}

std::string head(const DraftRequest& request, const std::string& unit,
                 std::span<const std::string> files, std::span<const logs::Log> logs) {
  std::vector<std::string> names;
  for (const auto& file : files) names.push_back(toml_text(file));
  std::string text = fmt::format(
      "# Drafted by `pitwright begin` from the logs. Check every line marked with an arrow (<-), "
      "then\n"
      "# see with `pitwright logs` what is understood of it. All keys: docs/reference/burn.md\n\n"
      "title = {}  # <- what did you want to know?\nunit = \"{}\"{}\nlogs = [{}]\n",
      toml_text(request.title.empty() ? "A burn" : request.title), unit,
      request.unit ? "" : "  # as the logs say", fmt::join(names, ", "));
  const bool world = std::ranges::all_of(
      logs, [](const logs::Log& log) { return log.stamps == logs::Stamps::instants; });
  if (!request.timezone.empty()) {
    text += fmt::format("timezone = {}\n", toml_text(request.timezone));
  } else if (world) {
    text += "# timezone = \"America/Chicago\"  # <- without it, times without an offset are UTC\n";
  }
  text += fmt::format("# matters = \"{}\"  # <- the smallest difference you would act on\n",
                      unit == "C" ? "5 C" : "10 F");
  return text;
}

std::string log_tables(const DraftRequest& request, std::span<const std::string> files,
                       std::span<const logs::Log> logs) {
  constexpr std::string_view orders[] = {"day-first", "month-first", "year-first"};
  std::string text;
  if (files.size() > 1) {
    text +=
        "\n# Several loggers: how do their clocks stand to each other? Under the [[log]] of a file "
        "write\n# offset = \"-7 min 20 s\" (added to its times), or mark = <what it showed at one "
        "moment that\n# another log has a mark of too>, or match = \"its channel ~ a channel of "
        "another log\".\n";
  }
  for (std::size_t l = 0; l < files.size(); ++l) {
    std::string keys;
    if (request.date) {
      keys += fmt::format("date = \"{}\"\n", orders[static_cast<std::size_t>(*request.date)]);
    }
    if (request.decimal) keys += fmt::format("decimal = \"{}\"\n", *request.decimal);
    if (!request.zero.empty()) keys += fmt::format("zero = {}\n", request.zero);
    const bool counts = logs[l].stamps == logs::Stamps::elapsed;
    if (counts) {
      keys +=
          "# zero = 2026-05-02T12:30:00  # <- when did this log start? Without it, times stay "
          "offsets\n";
    }
    if (!keys.empty()) text += fmt::format("\n[[log]]\nfile = {}\n{}", toml_text(files[l]), keys);
  }
  return text;
}

std::string probe_table(const Drafted& one) {
  if (!one.role || one.silent) {
    return fmt::format("\n# {} is left out: {}.\n", toml_text(one.name),
                       one.silent ? "it never shows a reading" : "no temperature, wind or fan");
  }
  auto text = fmt::format("\n[[probe]]\nchannel = {}\n", toml_text(one.name));
  if (*one.role == Role::air) {
    return text + fmt::format(
                      "spot = {}  # <- where did it sit? (if it was not in the air of the chamber: "
                      "role)\n# grate = \"lower\"\n# x = \"6 in\"  # from the left wall, seen from "
                      "the door\n# y = \"4 in\"  # from the door side\n",
                      toml_text(one.own));
  }
  text += fmt::format("role = \"{}\"  # <- guessed from its name\n", pitwright::name_of(*one.role));
  if (*one.role == Role::food) text += fmt::format("piece = {}\n", toml_text(one.own));
  return text;
}

std::string pieces(const std::vector<Drafted>& channels) {
  std::string text;
  std::vector<std::string> named;
  for (const auto& one : channels) {
    if (one.role != Role::food || one.silent) continue;
    if (std::ranges::find(named, one.own) != named.end()) continue;
    named.push_back(one.own);
    text += fmt::format(
        "\n[[piece]]\nname = {}  # <- and its cut, weight, when it went on\n# cut = \"pork "
        "shoulder\"\n# weight = \"8.4 lb\"\n# on = \"0:30\"\n",
        toml_text(one.own));
  }
  return text;
}

constexpr std::string_view pit_comment =
    "\n# The pit: fill in what you know; sizes are inside, seen from the door.\n"
    "# [pit]\n# name = \"Backyard barrel\"\n# width = \"36 in\"\n# depth = \"18 in\"\n"
    "# height = \"20 in\"\n# [[pit.grate]]\n# name = \"lower\"\n# height = \"6 in\"\n";

constexpr std::string_view event_comment =
    "\n# What happened meanwhile: lid, split, fuel, gust, rain, moved, note.\n"
    "# [[event]]\n# at = \"0:40\"\n# until = \"0:42\"\n# what = \"lid\"\n";

}  // namespace

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') out += '\\';
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) {
      out += fmt::format("\\u{:04X}", static_cast<unsigned>(c));
    } else {
      out += c;
    }
  }
  return out + '"';
}

Result<std::string> draft_burn(const DraftRequest& request, std::span<const std::string> files,
                               std::span<const logs::Log> logs) {
  const auto unit = unit_of(request, logs);
  if (!unit) return std::unexpected(unit.error());
  const auto stints = draft_stints(request, logs);
  if (!stints) return std::unexpected(stints.error());
  const auto channels = drafted_channels(files, logs);
  const auto usable = [](const Drafted& d) { return d.role.has_value() && !d.silent; };
  if (std::ranges::none_of(channels, usable)) {
    return fail(ErrorKind::bad_input, "none of the logs has a channel that a burn could use");
  }
  auto text = head(request, *unit, files, logs);
  text += log_tables(request, files, logs);
  text += pit_comment;
  text +=
      "\n# One table for each channel: at which spot did it sit? Channels that are no probe of "
      "this "
      "burn\n# can be taken out.";
  for (const auto& channel : channels) text += probe_table(channel);
  text += *stints;
  text += event_comment;
  return text + pieces(channels);
}

}  // namespace pitwright::burns
