#include "db/bodies.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include "db/sqlite.h"

namespace pitwright::db {
namespace {

using Json = nlohmann::json;

// One visitor for both ways, so that no field can be written and forgotten in reading.

/// Writes fields into an object; what is empty is left out.
struct Writer {
  Json& json;

  void field(const char* key, const std::string& value) const {
    if (!value.empty()) json[key] = value;
  }
  void field(const char* key, double value) const {
    if (!std::isfinite(value)) refuse(ErrorKind::bad_input, "'{}' is not a finite number", key);
    json[key] = value;
  }
  void field(const char* key, bool value) const { json[key] = value; }
  void field(const char* key, Stamp value) const { json[key] = value.time_since_epoch().count(); }
  void field(const char* key, std::chrono::year_month_day value) const {
    json[key] = std::chrono::sys_days(value).time_since_epoch().count();
  }
  void field(const char* key, Temperature value) const { json[key] = value.celsius(); }
  void field(const char* key, const std::map<std::string, std::string>& value) const {
    if (!value.empty()) json[key] = value;
  }
  void field(const char* key, const std::vector<std::string>& value) const {
    if (!value.empty()) json[key] = value;
  }
  template <typename T>
  void field(const char* key, const std::optional<T>& value) const {
    if (value) field(key, *value);
  }
  template <typename Enum>
  void word(const char* key, Enum value) const {
    json[key] = std::string(pitwright::name_of(value));
  }
};

template <typename Enum, std::size_t count>
Enum word_of(const std::string& text, const std::array<Enum, count>& all) {
  for (const auto one : all) {
    if (pitwright::name_of(one) == text) return one;
  }
  throw std::invalid_argument("unknown word '" + text + "'");
}

Role word_of(const std::string& text, Role) {
  using enum Role;
  return word_of(text, std::array{air, dial, food, outside, wind, drive, set});
}

EventKind word_of(const std::string& text, EventKind) {
  using enum EventKind;
  return word_of(text, std::array{lid, split, fuel, gust, rain, moved, note});
}

/// Reads what Writer wrote.
struct Reader {
  const Json& json;

  void get(const Json& from, Stamp& value) const {
    value = Stamp(std::chrono::microseconds(from.get<std::int64_t>()));
  }
  void get(const Json& from, std::chrono::year_month_day& value) const {
    value = std::chrono::sys_days(std::chrono::days(from.get<int>()));
  }
  template <typename T>
  void get(const Json& from, T& value) const {
    from.get_to(value);
  }
  template <typename T>
  void field(const char* key, T& value) const {
    const auto found = json.find(key);
    if (found != json.end()) get(*found, value);
  }
  void field(const char* key, std::optional<Temperature>& value) const {
    const auto found = json.find(key);
    if (found != json.end()) value = degC(found->get<double>());
  }
  template <typename T>
  void field(const char* key, std::optional<T>& value) const {
    const auto found = json.find(key);
    if (found != json.end()) get(*found, value.emplace());
  }
  template <typename Enum>
  void word(const char* key, Enum& value) const {
    value = word_of(json.at(key).get<std::string>(), value);
  }
};

/// The value to write from, or the one to read into.
template <typename T, typename What>
concept Of = std::is_same_v<std::remove_const_t<T>, What>;

void visit(const auto& way, Of<Mark> auto& mark) {
  way.word("what", mark.kind);
  way.field("at", mark.at);
  way.field("until", mark.until);
  way.field("channel", mark.channel);
  way.field("piece", mark.piece);
  way.field("text", mark.text);
}

void visit(const auto& way, Of<Turn> auto& turn) {
  way.field("setting", turn.setting);
  way.field("adjustments", turn.adjustments);
  way.field("from", turn.from);
  way.field("to", turn.to);
}

void visit(const auto& way, Of<Placement> auto& place) {
  way.field("channel", place.channel);
  way.word("role", place.role);
  way.field("spot", place.spot);
  way.field("grate", place.grate);
  way.field("piece", place.piece);
  way.field("x_m", place.x_m);
  way.field("y_m", place.y_m);
  way.field("z_m", place.z_m);
  way.field("correction_k", place.correction_k);
  way.field("uncertainty_k", place.uncertainty_k);
  way.field("checked_day", place.checked);
  way.field("from", place.from);
  way.field("until", place.until);
}

void visit(const auto& way, Of<Food> auto& food) {
  way.field("name", food.name);
  way.field("cut", food.cut);
  way.field("mass_kg", food.mass_kg);
  way.field("intact", food.intact);
  way.field("on", food.on);
  way.field("off", food.off);
  way.field("rule", food.rule);
  way.field("by", food.by);
  way.field("action", food.action);
}

void visit(const auto& way, Of<Heading> auto& heading) {
  way.field("title", heading.title);
  way.field("matters_k", heading.matters_k);
  way.field("set_point_c", heading.set_point_c);
}

void visit(const auto& way, Of<Check> auto& check) {
  way.field("channel", check.channel);
  way.field("way", check.way);
  way.field("at", check.at);
  way.field("shown_c", check.shown_c);
  way.field("true_c", check.true_c);
  way.field("correction_k", check.correction_k);
  way.field("uncertainty_k", check.uncertainty_k);
  way.field("text", check.text);
}

void visit(const auto& way, Of<BookEntry> auto& entry) {
  way.field("what", entry.what);
  way.field("at", entry.at);
  way.field("piece", entry.piece);
  way.field("value", entry.value);
  way.field("unit", entry.unit);
  way.field("text", entry.text);
}

void visit(const auto& way, Of<Undo> auto& undo) {
  way.field("of", undo.of);
  way.field("why", undo.why);
}

constexpr const char* kinds[] = {"mark",    "turn",  "placement", "food",
                                 "heading", "check", "book",      "undo"};
static_assert(std::size(kinds) == std::variant_size_v<decltype(Record::what)>);

/// Sets `what` to an empty value of the kind with this index.
template <std::size_t index = 0>
void start(decltype(Record::what)& what, std::size_t wanted) {
  if constexpr (index < std::variant_size_v<decltype(Record::what)>) {
    if (index == wanted) {
      what.template emplace<index>();
    } else {
      start<index + 1>(what, wanted);
    }
  }
}

/// Broken UTF-8 becomes U+FFFD: a name from a feed never stops a record.
std::string dump(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace

Body body_of(const Record& record) {
  Json json = Json::object();
  std::visit([&](const auto& what) { visit(Writer{json}, what); }, record.what);
  return {kinds[record.what.index()], dump(json)};
}

void read_body(std::string_view kind, const std::string& json, Record& record) try {
  const auto parsed = Json::parse(json);
  const auto known =
      std::ranges::find(kinds, kind, [](const char* k) { return std::string_view(k); });
  if (known == std::end(kinds)) throw std::invalid_argument("unknown kind");
  start(record.what, static_cast<std::size_t>(known - kinds));
  std::visit([&](auto& what) { visit(Reader{parsed}, what); }, record.what);
} catch (const std::exception& trouble) {
  refuse(ErrorKind::unavailable, "record '{}' in the store cannot be read ({})", record.id,
         trouble.what());
}

namespace {

Json json_tree_of(const Pit& pit) {
  Json json = Json::object();
  const Writer way{json};
  way.field("name", pit.name);
  way.field("width_m", pit.width_m);
  way.field("depth_m", pit.depth_m);
  way.field("height_m", pit.height_m);
  way.field("set_point_c", pit.set_point);
  json["grates"] = Json::array();
  for (const auto& grate : pit.grates) {
    const Writer one{json["grates"].emplace_back(Json::object())};
    one.field("name", grate.name);
    one.field("height_m", grate.height_m);
  }
  json["adjustments"] = Json::array();
  for (const auto& adjustment : pit.adjustments) {
    const Writer one{json["adjustments"].emplace_back(Json::object())};
    one.field("name", adjustment.name);
    one.field("positions", adjustment.positions);
    one.field("is_span", adjustment.is_span);
  }
  return json;
}

Pit pit_of_tree(const Json& json) {
  const Reader way{json};
  Pit pit;
  way.field("name", pit.name);
  way.field("width_m", pit.width_m);
  way.field("depth_m", pit.depth_m);
  way.field("height_m", pit.height_m);
  way.field("set_point_c", pit.set_point);
  for (const auto& grate : json.at("grates")) {
    auto& one = pit.grates.emplace_back();
    Reader{grate}.field("name", one.name);
    Reader{grate}.field("height_m", one.height_m);
  }
  for (const auto& adjustment : json.at("adjustments")) {
    auto& one = pit.adjustments.emplace_back();
    Reader{adjustment}.field("name", one.name);
    Reader{adjustment}.field("positions", one.positions);
    Reader{adjustment}.field("is_span", one.is_span);
  }
  return pit;
}

[[noreturn]] void unreadable_pit(const std::exception& trouble) {
  refuse(ErrorKind::unavailable, "a pit in the store cannot be read ({})", trouble.what());
}

}  // namespace

std::string json_of(const Pit& pit) {
  return dump(json_tree_of(pit));
}

Pit pit_of(const std::string& json) try {
  return pit_of_tree(Json::parse(json));
} catch (const std::exception& trouble) {
  unreadable_pit(trouble);
}

std::string json_of(const KnownPit& pit) {
  auto json = json_tree_of(pit.pit);
  json["spots"] = Json::array();
  for (const auto& spot : pit.spots) {
    visit(Writer{json["spots"].emplace_back(Json::object())}, spot);
  }
  return dump(json);
}

KnownPit known_pit_of(const std::string& text) try {
  const auto json = Json::parse(text);
  KnownPit known{pit_of_tree(json), {}, 0};
  for (const auto& spot : json.at("spots")) visit(Reader{spot}, known.spots.emplace_back());
  return known;
} catch (const std::exception& trouble) {
  unreadable_pit(trouble);
}

}  // namespace pitwright::db
