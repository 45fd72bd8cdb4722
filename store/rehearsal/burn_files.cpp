#include "rehearsal/burn_files.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <stdexcept>

#include <date/tz.h>
#include <fmt/format.h>

#include "rehearsal/toml_text.h"

namespace pitwright::rehearsal {
namespace {

using rehearse::LoggerRecord;
using rehearse::RehearsedBurn;

Instant instant_at(const WriteOptions& options, double seconds) {
  return options.zero + std::chrono::milliseconds(std::llround(seconds * 1000));
}

std::string time_text(const WriteOptions& options, double seconds) {
  return local_time(instant_at(options, seconds), options.timezone);
}

/// A column's title: its channel, with the unit where it is not a temperature.
std::string column_title(const rehearse::Thermometer& thermometer) {
  if (thermometer.role == Role::wind) return thermometer.channel + " (km/h)";
  if (thermometer.role == Role::drive) return thermometer.channel + " (%)";
  return thermometer.channel;
}

void add_log(const LoggerRecord& record, const WriteOptions& options, std::string& out) {
  if (record.logger.scale == options.scale) return;
  out += fmt::format("\n[[log]]\nfile = {}\nunit = \"{}\"\n",
                     toml_string(record.logger.name + ".csv"), scale_letter(record.logger.scale));
}

void add_probe(const LoggerRecord& record, const rehearse::Thermometer& thermometer,
               const Probe& probe, const std::vector<double>& from_to, const WriteOptions& options,
               std::string& out) {
  out += fmt::format("\n[[probe]]\nchannel = {}\n",
                     toml_string(record.logger.name + ".csv:" + column_title(thermometer)));
  if (probe.role != Role::air) out += fmt::format("role = \"{}\"\n", name_of(probe.role));
  if (!probe.spot.empty()) out += fmt::format("spot = {}\n", toml_string(probe.spot));
  if (!probe.grate.empty()) out += fmt::format("grate = {}\n", toml_string(probe.grate));
  if (probe.x_m) out += fmt::format("x = {}\n", length_text(*probe.x_m));
  if (probe.y_m) out += fmt::format("y = {}\n", length_text(*probe.y_m));
  if (from_to[0] >= 0) out += fmt::format("from = {}\n", time_text(options, from_to[0]));
  if (from_to[1] >= 0) out += fmt::format("to = {}\n", time_text(options, from_to[1]));
}

/// The burn's probes stand in the order of loggers, their thermometers, and these' places.
void add_probes(const RehearsedBurn& made, const WriteOptions& options, std::string& out) {
  std::size_t next = 0;
  for (const auto& record : made.logs) {
    for (const auto& thermometer : record.logger.thermometers) {
      double from_s = -1;
      for (std::size_t place = 0; place <= thermometer.moves.size(); ++place) {
        const bool last = place == thermometer.moves.size();
        const double to_s = last ? -1 : thermometer.moves[place].at_s;
        add_probe(record, thermometer, made.burn.probes[next++], {from_s, to_s}, options, out);
        from_s = to_s;
      }
    }
  }
}

void add_stints_and_events(const Burn& burn, const WriteOptions& options, std::string& out) {
  for (const auto& stint : burn.stints) {
    out +=
        fmt::format("\n[[stint]]\nsetting = {}\nfrom = {}\nto = {}\n", toml_string(stint.setting),
                    time_text(options, stint.from_s), time_text(options, stint.to_s));
  }
  for (const auto& event : burn.events) {
    out += fmt::format("\n[[event]]\nat = {}\nwhat = \"{}\"\n", time_text(options, event.at_s),
                       name_of(event.kind));
    if (event.until_s) out += fmt::format("until = {}\n", time_text(options, *event.until_s));
  }
}

Result<void> write_text(const std::filesystem::path& path, const std::string& text) {
  std::ofstream file(path, std::ios::binary);
  file << text;
  file.close();
  if (!file) return fail(ErrorKind::unavailable, "{}: cannot be written", path.string());
  return {};
}

/// As many decimals as the rounding shows.
int decimals_of(double rounding) {
  if (rounding <= 0) return 3;
  int decimals = 0;
  for (double r = rounding; decimals < 3 && std::abs(r - std::round(r)) > 1e-9; r *= 10) ++decimals;
  return decimals;
}

}  // namespace

std::string log_csv(const LoggerRecord& record, const WriteOptions& options) {
  const auto& logger = record.logger;
  const std::string zone = logger.timezone.empty() ? options.timezone : logger.timezone;
  const int decimals = decimals_of(logger.rounding);
  std::string out = "time";
  for (const auto& thermometer : logger.thermometers) out += "," + column_title(thermometer);
  out += '\n';
  for (std::size_t row = 0; row < record.stamp_s.size(); ++row) {
    out += local_time(instant_at(options, record.stamp_s[row]), zone);
    for (std::size_t column = 0; column < record.cells.size(); ++column) {
      out += ',';
      const auto word = record.words.find({column, row});
      if (word != record.words.end()) {
        out += word->second;
      } else {
        fmt::format_to(std::back_inserter(out), "{:.{}f}", record.cells[column][row], decimals);
      }
    }
    out += '\n';
  }
  return out;
}

std::string pit_toml(const Pit& pit, Scale scale) {
  std::string out = fmt::format("name = {}\n", toml_string(pit.name));
  if (pit.width_m) out += fmt::format("width = {}\n", length_text(*pit.width_m));
  if (pit.depth_m) out += fmt::format("depth = {}\n", length_text(*pit.depth_m));
  if (pit.height_m) out += fmt::format("height = {}\n", length_text(*pit.height_m));
  if (pit.set_point)
    out += fmt::format("set_point = {}\n", temperature_text(*pit.set_point, scale));
  for (const auto& grate : pit.grates) {
    out += fmt::format("\n[[grate]]\nname = {}\n", toml_string(grate.name));
    if (grate.height_m) out += fmt::format("height = {}\n", length_text(*grate.height_m));
  }
  for (const auto& adjustment : pit.adjustments) {
    out += fmt::format("\n[[adjustment]]\nname = {}\n{} = {}\n", toml_string(adjustment.name),
                       adjustment.is_span ? "range" : "positions", toml_list(adjustment.positions));
  }
  return out;
}

std::string burn_toml(const RehearsedBurn& made, const WriteOptions& options) {
  std::vector<std::string> files;
  for (const auto& record : made.logs) files.push_back(record.logger.name + ".csv");
  std::string out = "# Made up by pitwright rehearse: no such pit, no such day.\n";
  out += fmt::format("title = {}\nunit = \"{}\"\npit = \"pit.toml\"\nlogs = {}\n",
                     toml_string(made.burn.title), scale_letter(options.scale), toml_list(files));
  if (!options.timezone.empty())
    out += fmt::format("timezone = {}\n", toml_string(options.timezone));
  const double matters = std::round(made.burn.matters.in(options.scale) * 100) / 100;
  out += fmt::format("matters = \"{:g} {}\"\n", matters, scale_letter(options.scale));
  for (const auto& record : made.logs) add_log(record, options, out);
  add_probes(made, options, out);
  add_stints_and_events(made.burn, options, out);
  return out;
}

Result<void> write_burn(const std::filesystem::path& directory, const RehearsedBurn& made,
                        const WriteOptions& options) {
  std::error_code error;
  std::filesystem::create_directories(directory, error);
  if (error) return fail(ErrorKind::unavailable, "{}: {}", directory.string(), error.message());
  try {
    if (auto done = write_text(directory / "burn.toml", burn_toml(made, options)); !done)
      return done;
    if (auto done = write_text(directory / "pit.toml", pit_toml(made.burn.pit, options.scale));
        !done)
      return done;
    for (const auto& record : made.logs) {
      const auto path = directory / (record.logger.name + ".csv");
      if (auto done = write_text(path, log_csv(record, options)); !done) return done;
    }
    if (!options.truth) return {};
    return write_text(directory / "truth.json", truth_json(made, options));
  } catch (const std::runtime_error& unknown_zone) {  // date's only way to say so
    return fail(ErrorKind::bad_input, "'{}' is not a time zone this machine knows ({})",
                options.timezone, unknown_zone.what());
  }
}

}  // namespace pitwright::rehearsal
