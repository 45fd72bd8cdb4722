#include "documents/pit_document.h"

#include <algorithm>
#include <string>
#include <utility>

#include <fmt/format.h>

#include "documents/toml.h"
#include "units/parse.h"

namespace pitwright::documents {
namespace {

const std::vector<std::string> scale_names{"F", "C"};

void positive(TableReader& table, std::string_view key, std::optional<double> length) {
  if (length && *length <= 0.0) {
    table.wrong(key, fmt::format("'{}' must be above zero", key));
  }
}

Grate grate_of(Reading& reading, const Table& table, std::string_view label) {
  TableReader keys(reading, table, label);
  keys.require("name", "name = \"lower\"");
  Grate grate{keys.text("name").value_or(""), keys.length_m("height")};
  if (grate.height_m && *grate.height_m < 0.0) {
    keys.wrong("height", "'height' of a grate is measured up from the chamber's floor");
  }
  keys.finish();
  return grate;
}

Adjustment adjustment_of(Reading& reading, const Table& table, std::string_view label) {
  TableReader keys(reading, table, label);
  keys.require("name", "name = \"baffle\"");
  Adjustment adjustment;
  adjustment.name = keys.text("name").value_or("");
  const auto range = keys.texts("range");
  const auto positions = keys.texts("positions");
  if (range && positions) keys.wrong("positions", "give 'range' or 'positions', not both");
  if (range && range->size() != 2) {
    keys.wrong("range", "'range' expects its two ends, such as [\"0 in\", \"9 in\"]");
  }
  adjustment.is_span = range.has_value();
  adjustment.positions = range ? *range : positions.value_or(std::vector<std::string>{});
  keys.finish();
  return adjustment;
}

template <typename Named>
void refuse_twins(TableReader& keys, std::string_view key, const std::vector<Named>& all) {
  for (auto one = all.begin(); one != all.end(); ++one) {
    if (std::find_if(all.begin(), one, [&](const Named& n) { return n.name == one->name; }) !=
        one) {
      keys.wrong(key, fmt::format("two tables [[{}]] are named '{}'", key, one->name));
    }
  }
}

}  // namespace

Pit pit_of(Reading& reading, const Table& table, std::string_view label) {
  const std::string inside = label.empty() ? "" : "pit.";
  TableReader keys(reading, table, label);
  const auto outer_unit = reading.unit;
  Pit pit;
  if (const auto unit = keys.word("unit", scale_names)) {
    reading.unit = *unit == 0 ? Scale::fahrenheit : Scale::celsius;
  }
  pit.name = keys.text("name").value_or("");
  pit.width_m = keys.length_m("width");
  pit.depth_m = keys.length_m("depth");
  pit.height_m = keys.length_m("height");
  positive(keys, "width", pit.width_m);
  positive(keys, "depth", pit.depth_m);
  positive(keys, "height", pit.height_m);
  pit.set_point = keys.temperature("set_point");
  for (const auto* grate : keys.tables("grate")) {
    pit.grates.push_back(grate_of(reading, *grate, fmt::format("[[{}grate]]", inside)));
  }
  for (const auto* adjustment : keys.tables("adjustment")) {
    pit.adjustments.push_back(
        adjustment_of(reading, *adjustment, fmt::format("[[{}adjustment]]", inside)));
  }
  keys.value("rehearse");  // what a made-up burn needs to know; read by the rehearsal
  refuse_twins(keys, "grate", pit.grates);
  refuse_twins(keys, "adjustment", pit.adjustments);
  keys.finish();
  reading.unit = outer_unit;
  return pit;
}

Result<Pit> read_pit(const std::filesystem::path& path) {
  const auto table = read_toml(path);
  if (!table) return std::unexpected(table.error());
  Reading reading{path.string(), {}, {}};
  auto pit = pit_of(reading, *table, "");
  if (reading.mistake) return std::unexpected(*reading.mistake);
  return pit;
}

}  // namespace pitwright::documents
