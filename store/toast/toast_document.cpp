#include "toast/toast_document.h"

#include <array>
#include <cmath>

#include "documents/table_reader.h"
#include "documents/toml.h"
#include "toast/pixels.h"

namespace pitwright::toast {
namespace {

using documents::Reading;
using documents::Table;
using documents::TableReader;

const std::vector<std::string> scale_names{"F", "C"};
const std::vector<std::string> light_names{"grate", "cards", "none"};
constexpr double unchecked_probe_k = 4.0 / 1.8;  // +- at 95 % of a probe that nobody checked

void read_grate(Reading& reading, const Table& table, photo::Scene& scene) {
  TableReader keys(reading, table, "[grate]");
  keys.require("width", "width = \"18 in\"");
  keys.require("depth", "depth = \"15 in\"");
  scene.width_m = keys.length_m("width").value_or(1.0);
  scene.depth_m = keys.length_m("depth").value_or(1.0);
  for (const auto* key : {"width", "depth"}) {
    const double length = *key == 'w' ? scene.width_m : scene.depth_m;
    if (length < 0.1 || length > 5.0)
      keys.wrong(key, fmt::format("'{}' of a grate is between 10 cm and 5 m", key));
  }
  constexpr std::array corners{"left_back", "right_back", "right_front", "left_front"};
  for (std::size_t k = 0; k < corners.size(); ++k) {
    keys.require(corners[k], fmt::format("{} = [412, 233]", corners[k]));
    scene.grate[k] = pixel_at(keys, corners[k]).value_or(photo::Pixel{0, 0});
  }
  keys.finish();
}

photo::Card card_of(Reading& reading, const Table& table) {
  TableReader keys(reading, table, "[[card]]");
  photo::Card card;
  keys.require("corners", "corners = [[69, 453], [118, 449], [113, 525], [62, 529]]");
  card.corners = quad_at(keys, "corners").value_or(photo::Quad{});
  card.reflectance = number_at(keys, "reflectance").value_or(card.reflectance);
  if (card.reflectance < 0.02 || card.reflectance > 0.95)
    keys.wrong("reflectance",
               "'reflectance' of a gray card is between 0.02 and 0.95; 0.18 is usual");
  keys.finish();
  return card;
}

void read_probe(Reading& reading, const Table& table, ToastDocument& document) {
  TableReader keys(reading, table, "[[probe]]");
  keys.require("spot", "spot = \"left front\"");
  keys.require("x", "x = \"6 in\"");
  keys.require("y", "y = \"4 in\"");
  keys.require("reading", "reading = \"350 F\"");
  const auto heat = keys.temperature("reading").value_or(degC(0));
  const auto told = keys.difference("uncertainty");
  if (told && told->kelvins() <= 0.0) keys.wrong("uncertainty", "'uncertainty' must be above zero");
  constexpr double half_width_in_sds = 1.959964;
  document.probes.push_back({keys.text("spot").value_or(""), keys.length_m("x").value_or(0.0),
                             keys.length_m("y").value_or(0.0), heat.celsius(),
                             (told ? told->kelvins() : unchecked_probe_k) / half_width_in_sds});
  keys.finish();
}

BurnSource burn_of(Reading& reading, const Table& table, const std::filesystem::path& beside) {
  TableReader keys(reading, table, "[burn]");
  keys.require("from", "from = \"../my-burn\"");
  keys.require("setting", "setting = \"A\"");
  BurnSource source;
  source.path = beside / keys.text("from").value_or("");
  source.setting = keys.text("setting").value_or("");
  source.grate = keys.text("grate").value_or("");
  source.left_m = keys.length_m("left").value_or(0.0);
  source.front_m = keys.length_m("front").value_or(0.0);
  keys.finish();
  return source;
}

void read_limits(TableReader& keys, browning::Limits& limits) {
  limits.raw = number_at(keys, "raw").value_or(limits.raw);
  limits.burnt = number_at(keys, "burnt").value_or(limits.burnt);
  if (limits.burnt < 0.0 || limits.raw > 100.0 || limits.burnt >= limits.raw)
    keys.wrong("raw", "'burnt' and 'raw' are lightnesses L*: 0 to 100, burnt the lower one");
}

void read_document(Reading& reading, const Table& table, ToastDocument& document) {
  TableReader keys(reading, table, "");
  document.title = keys.text("title").value_or("");
  if (const auto unit = keys.word("unit", scale_names))
    document.scale = *unit == 0 ? Scale::fahrenheit : Scale::celsius;
  reading.unit = document.scale;
  keys.require("photo", "photo = \"toast.jpg\"");
  document.photo = document.path.parent_path() / keys.text("photo").value_or("");
  if (const auto slices = number_at(keys, "slices")) {
    if (*slices < 1 || *slices > 1000 || *slices != std::floor(*slices))
      keys.wrong("slices", "'slices' is how many were laid out, such as 24");
    else
      document.slices = static_cast<int>(*slices);
  }
  if (const auto light = keys.word("light", light_names))
    document.scene.light = static_cast<photo::LightFrom>(*light);
  read_limits(keys, document.limits);
  keys.require("grate", "[grate] with its size and its corners in the photograph");
  keys.require("card", "[[card]] with the corners of a gray card");
  for (const auto* one : keys.tables("grate")) read_grate(reading, *one, document.scene);
  for (const auto* one : keys.tables("card"))
    document.scene.cards.push_back(card_of(reading, *one));
  for (const auto* one : keys.tables("untoasted")) {
    TableReader inner(reading, *one, "[untoasted]");
    inner.require("corners", "corners = [[69, 453], [118, 449], [113, 525], [62, 529]]");
    document.scene.untoasted = quad_at(inner, "corners");
    inner.finish();
  }
  for (const auto* one : keys.tables("burn"))
    document.burn = burn_of(reading, *one, document.path.parent_path());
  const auto probes = keys.tables("probe");
  if (probes.size() > most_probes)
    keys.wrong("probe", fmt::format("more than {} probes; leave some out", most_probes));
  else
    for (const auto* one : probes) read_probe(reading, *one, document);
  keys.finish();
}

Result<ToastDocument> document_of(const Table& table, const std::filesystem::path& path) {
  ToastDocument document;
  document.path = path;
  Reading reading{path.string(), {}, {}};
  read_document(reading, table, document);
  if (reading.mistake) return std::unexpected(*reading.mistake);
  return document;
}

}  // namespace

Result<ToastDocument> read_toast(const std::filesystem::path& path) {
  const auto table = documents::read_toml(path);
  if (!table) return std::unexpected(table.error());
  return document_of(*table, path);
}

Result<ToastDocument> parse_toast(std::string_view text, const std::filesystem::path& path) {
  const auto table = documents::parse_toml(text, path.string());
  if (!table) return std::unexpected(table.error());
  return document_of(*table, path);
}

}  // namespace pitwright::toast
