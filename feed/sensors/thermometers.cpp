#include "sensors/thermometers.h"

#include <algorithm>
#include <map>
#include <optional>
#include <string_view>

#include <fmt/format.h>

#include "logs/fields.h"
#include "logs/number.h"
#include "sensors/attribute.h"

namespace pitwright::feed {
namespace {

namespace fs = std::filesystem;
using Kind = Thermometer::Kind;

std::vector<fs::path> entries(const fs::path& folder) {
  std::vector<fs::path> found;
  std::error_code problem;
  for (fs::directory_iterator it(folder, problem), end; !problem && it != end;
       it.increment(problem)) {
    found.push_back(it->path());
  }
  std::ranges::sort(found);
  return found;
}

std::string word_in(const fs::path& file) {
  const auto text = attribute(file);
  return text ? std::string(logs::trimmed(*text)) : std::string();
}

void find_hwmon(const fs::path& root, std::vector<Thermometer>& found) {
  for (const auto& device : entries(root / "class/hwmon")) {
    const auto driver = word_in(device / "name");
    for (const auto& file : entries(device)) {
      const auto name = file.filename().string();
      if (!name.starts_with("temp") || !name.ends_with("_input")) continue;
      const auto base = name.substr(0, name.size() - std::string_view("_input").size());
      const auto label = word_in(device / (base + "_label"));
      const auto owner = driver.empty() ? device.filename().string() : driver;
      found.push_back({Kind::hwmon, owner + " " + (label.empty() ? base : label), file});
    }
  }
}

void find_iio(const fs::path& root, std::vector<Thermometer>& found) {
  for (const auto& device : entries(root / "bus/iio/devices")) {
    auto owner = word_in(device / "label");
    if (owner.empty()) owner = word_in(device / "name");
    if (owner.empty()) owner = device.filename().string();
    for (const auto& file : entries(device)) {
      const auto name = file.filename().string();
      const bool input = name.ends_with("_input");
      const bool raw = name.ends_with("_raw");
      if (!name.starts_with("in_temp") || (!input && !raw)) continue;
      const auto base = name.substr(0, name.rfind('_'));
      // A driver that gives both means the same: the finished value is taken.
      if (raw && fs::exists(device / (base + "_input"))) continue;
      const auto part = base == "in_temp" ? "" : " " + base.substr(std::string_view("in_").size());
      found.push_back({input ? Kind::iio : Kind::iio_raw, owner + part, file});
    }
  }
}

void find_one_wire(const fs::path& root, std::vector<Thermometer>& found) {
  for (const auto& device : entries(root / "bus/w1/devices")) {
    const auto name = device.filename().string();
    std::error_code problem;
    if (fs::exists(device / "temperature", problem)) {
      found.push_back({Kind::one_wire, name, device / "temperature"});
    } else if (fs::exists(device / "w1_slave", problem)) {
      found.push_back({Kind::one_wire_text, name, device / "w1_slave"});
    }
  }
}

/// Two of a name get "#2", "#3" ... in the order of their folders.
void make_unique(std::vector<Thermometer>& found) {
  std::map<std::string, int> seen;
  for (auto& one : found) {
    const int count = ++seen[one.channel];
    if (count > 1) one.channel += fmt::format(" #{}", count);
  }
}

}  // namespace

std::vector<Thermometer> find_thermometers(const fs::path& root) {
  std::vector<Thermometer> found;
  find_hwmon(root, found);
  find_iio(root, found);
  find_one_wire(root, found);
  make_unique(found);
  return found;
}

}  // namespace pitwright::feed
