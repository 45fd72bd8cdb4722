#include "samples/sample_parts.h"

#include <chrono>

namespace pitwright::samples {
namespace {

double kelvins(double degrees) {
  return TemperatureDelta::from_fahrenheit_degrees(degrees).kelvins();
}

}  // namespace

call::Estimate reading(double fahrenheit, double half) {
  const double celsius = degF(fahrenheit).celsius();
  return {celsius, celsius - kelvins(half), celsius + kelvins(half)};
}

call::Estimate difference(double degrees, double half) {
  return {kelvins(degrees), kelvins(degrees - half), kelvins(degrees + half)};
}

std::vector<call::SettingEstimate> at_settings(const std::vector<call::Estimate>& estimates,
                                               double probe_degrees) {
  std::vector<call::SettingEstimate> all;
  for (const auto& estimate : estimates) {
    all.push_back({static_cast<int>(all.size()), estimate, kelvins(probe_degrees)});
  }
  return all;
}

call::Change change(std::pair<int, int> pair, double degrees, double half, double word_half,
                    call::Word word, std::optional<int> needs) {
  call::Change made;
  made.from = pair.first;
  made.to = pair.second;
  made.estimate = difference(degrees, half);
  made.word_low = kelvins(degrees - word_half);
  made.word_high = kelvins(degrees + word_half);
  made.word = word;
  made.needs_stints = needs;
  return made;
}

call::Change muddled(std::pair<int, int> pair, double degrees, double half,
                     std::vector<call::TroubleIndex> because) {
  auto made = change(pair, degrees, half, 1.5 * half, call::Word::muddled);
  made.because = std::move(because);
  return made;
}

Burn burn_of(const std::string& title, double minutes) {
  Burn burn;
  burn.title = title;
  using namespace std::chrono;
  burn.clock.zero = sys_days(2026y / May / 2) + hours(18);
  burn.clock.timezone = "America/Chicago";
  burn.pit.name = "Tin hopper";
  Probe set;
  set.channel = "set";
  set.role = Role::set;
  for (double s = 0.0; s <= minutes * 60.0; s += 10.0) {
    set.readings.seconds.push_back(s);
    set.readings.values.push_back(121.1);
  }
  burn.probes.push_back(set);
  return burn;
}

void add_probe(Burn& burn, const std::string& channel, Role role, const std::string& spot, double x,
               double y, double z) {
  Probe probe;
  probe.channel = channel;
  probe.role = role;
  probe.spot = spot;
  probe.x_m = x;
  probe.y_m = y;
  probe.z_m = z;
  burn.probes.push_back(probe);
}

std::vector<call::StintCall> stints_of(const std::vector<int>& order, double first_min,
                                       double length_min, double counted_min) {
  std::vector<call::StintCall> stints;
  for (const int setting : order) {
    call::StintCall stint{};
    stint.index = static_cast<int>(stints.size());
    stint.setting = setting;
    stint.from_s = 60.0 * (first_min + length_min * stint.index);
    stint.to_s = stint.from_s + 60.0 * length_min;
    stint.counted_from_s = stint.to_s - 60.0 * counted_min;
    stint.counted_to_s = stint.to_s;
    stint.state = call::StintState::closed;
    stints.push_back(stint);
  }
  return stints;
}

}  // namespace pitwright::samples
