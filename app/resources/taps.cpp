#include "resources/taps.h"

#include <algorithm>
#include <array>
#include <set>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "db/sha256.h"
#include "http/stamps.h"
#include "units/parse.h"

namespace pitwright::resources {

using http::Body;
using http::stamp_text;
namespace {

using Json = nlohmann::ordered_json;
using db::Mark;
using db::Record;
using db::Turn;

constexpr std::size_t most_taps = 500;

struct Kind {
  std::string_view what;
  EventKind event;
};
constexpr std::array marks = {Kind{"lid", EventKind::lid},   Kind{"split", EventKind::split},
                              Kind{"fuel", EventKind::fuel}, Kind{"gust", EventKind::gust},
                              Kind{"rain", EventKind::rain}, Kind{"moved", EventKind::moved},
                              Kind{"note", EventKind::note}};

const Kind* mark_of(std::string_view what) {
  const auto found = std::ranges::find(marks, what, &Kind::what);
  return found == marks.end() ? nullptr : &*found;
}

bool is_known(std::string_view what) {
  return mark_of(what) != nullptr || what == "changed" || what == "lid closed" || what == "reading";
}

bool is_id(std::string_view text) {
  return !text.empty() && text.size() <= 64 && std::ranges::all_of(text, [](unsigned char c) {
    return std::isalnum(c) != 0 || c == '_' || c == '-';
  });
}

Result<Tap> read_tap(Body body, const std::string& by) {
  for (const char* key : {"id", "what", "at"}) body.require(key);
  Tap tap;
  tap.id = body.text("id").value_or("");
  tap.what = body.text("what").value_or("");
  if (const auto at = body.stamp("at")) tap.at = *at;
  tap.until = body.stamp("until");
  tap.setting = body.text("setting").value_or("");
  tap.spot = body.text("spot").value_or("");
  tap.text = body.text("text", 2000).value_or("");
  tap.value = body.text("value").value_or("");
  tap.by = by;
  if (!is_id(tap.id)) body.wrong("id", "expected 1 to 64 letters, digits, - or _");
  if (!is_known(tap.what))
    body.wrong(
        "what",
        "expected lid, lid closed, split, fuel, gust, rain, moved, note, changed or reading");
  if (tap.what == "changed" && tap.setting.empty())
    body.wrong("setting", "is missing: which setting is it now?");
  if (tap.what == "reading") {
    if (tap.spot.empty()) body.wrong("spot", "is missing: where was it read?");
    if (!parse_temperature(tap.value, std::nullopt))
      body.wrong("value", "expected a temperature with its unit, such as \"263 F\"");
  }
  if (tap.until && *tap.until < tap.at) body.wrong("until", "lies before \"at\"");
  if (auto finished = body.finish(); !finished) return std::unexpected(finished.error());
  return tap;
}

/// The record of a tap that is a mark or a setting made.
Record record_of(const Tap& tap, db::Stamp now) {
  Record record{tap.id, "", tap.by, now, Mark{}, 0};
  if (tap.what == "changed")
    record.what = Turn{tap.setting, {}, tap.at, std::nullopt};
  else
    record.what = Mark{mark_of(tap.what)->event, tap.at, tap.until, tap.spot, "", tap.text};
  return record;
}

std::optional<Tap> tap_of(const Record& record) {
  Tap tap{record.id, "", {}, {}, "", "", "", "", record.by, false};
  if (const auto* mark = std::get_if<Mark>(&record.what)) {
    tap.what = std::string(name_of(mark->kind));
    tap.at = mark->at;
    tap.until = mark->until;
    tap.spot = mark->channel;
    tap.text = mark->text;
    return tap;
  }
  if (const auto* turn = std::get_if<Turn>(&record.what)) {
    tap.what = "changed";
    tap.at = turn->from;
    tap.until = turn->to;
    tap.setting = turn->setting;
    return tap;
  }
  return std::nullopt;
}

Json json_of(const Tap& tap) {
  const auto or_null = [](const std::string& text) {
    return text.empty() ? Json(nullptr) : Json(text);
  };
  return {{"id", tap.id},
          {"what", tap.what},
          {"at", stamp_text(tap.at)},
          {"until", tap.until ? Json(stamp_text(*tap.until)) : Json(nullptr)},
          {"setting", or_null(tap.setting)},
          {"spot", or_null(tap.spot)},
          {"text", or_null(tap.text)},
          {"value", or_null(tap.value)},
          {"by", tap.by},
          {"undone", tap.is_undone}};
}

/// An id of at most 64 characters that no other tap's undo has.
std::string undo_id(const std::string& id) {
  db::Sha256 digest;
  digest.add(id);
  return "undo-" + digest.hexadecimal().substr(0, 40);
}

/// The last lid that is open at `at`, among the records in force.
const Record* open_lid(std::span<const Record> standing, db::Stamp at) {
  const Record* found = nullptr;
  for (const auto& record : standing) {
    const auto* mark = std::get_if<Mark>(&record.what);
    if (mark == nullptr || mark->kind != EventKind::lid || mark->until || mark->at > at) continue;
    if (found == nullptr || std::get<Mark>(found->what).at < mark->at) found = &record;
  }
  return found;
}

/// "lid closed" as a record: the open lid, corrected to end; a short lid of its own where none is
/// open.
Record closing(const Tap& tap, std::span<const Record> standing, db::Stamp now) {
  const auto* lid = open_lid(standing, tap.at);
  if (lid == nullptr)
    return {tap.id, "", tap.by, now, Mark{EventKind::lid, tap.at, tap.at, "", "", tap.text}, 0};
  auto ended = std::get<Mark>(lid->what);
  ended.until = tap.at;
  return {tap.id, lid->id, tap.by, now, ended, 0};
}

Result<db::Sample> sample_of(const Tap& tap, std::span<const Record> standing) {
  const db::Placement* at_spot = nullptr;
  for (const auto& record : standing) {
    const auto* placement = std::get_if<db::Placement>(&record.what);
    const bool sits_there =
        placement != nullptr && (placement->spot == tap.spot || placement->channel == tap.spot);
    if (sits_there && (!placement->from || *placement->from <= tap.at)) at_spot = placement;
  }
  if (at_spot == nullptr) return fail(ErrorKind::bad_input, "this burn has no spot '{}'", tap.spot);
  return db::Sample{at_spot->channel, tap.at,
                    parse_temperature(tap.value, std::nullopt)->celsius()};
}

}  // namespace

Result<std::vector<Tap>> read_taps(std::string_view json, const std::string& by) {
  auto bodies = Body::list(json, most_taps);
  if (!bodies) return std::unexpected(bodies.error());
  std::vector<Tap> taps;
  for (auto& body : *bodies) {
    auto tap = read_tap(std::move(body), by);
    if (!tap) return std::unexpected(tap.error());
    taps.push_back(std::move(*tap));
  }
  return taps;
}

std::vector<Tap> taps_of(std::span<const Record> all) {
  std::set<std::string> in_force;
  for (const auto& record : db::standing(all)) in_force.insert(record.id);
  std::set<std::string> corrected;
  for (const auto& record : all)  // a correction that was taken back hides nothing
    if (!record.corrects.empty() && in_force.contains(record.id)) corrected.insert(record.corrects);
  std::vector<Tap> taps;
  for (const auto& record : all) {
    auto tap = tap_of(record);
    if (!tap || corrected.contains(record.id)) continue;  // what stands in its place is shown
    tap->is_undone = !in_force.contains(record.id);
    taps.push_back(std::move(*tap));
  }
  return taps;
}

std::string taps_json(std::span<const Tap> taps) {
  Json all = Json::array();
  for (const auto& tap : taps) all.push_back(json_of(tap));
  return all.dump();
}

std::string tap_json(const Tap& tap) {
  return json_of(tap).dump();
}

Result<void> write_taps(db::Store& store, db::BurnId burn, std::span<const Tap> taps,
                        db::Stamp now) {
  auto all = store.records(burn);
  if (!all) return std::unexpected(all.error());
  std::vector<Record> fresh;
  std::vector<db::Sample> readings;
  const auto is_told = [&](const std::string& id) {
    return std::ranges::any_of(*all, [&](const Record& one) { return one.id == id; });
  };
  for (const auto& tap : taps) {
    if (is_told(tap.id)) continue;
    const auto standing = db::standing(*all);
    if (tap.what == "reading") {
      const auto sample = sample_of(tap, standing);
      if (!sample) return std::unexpected(sample.error());
      readings.push_back(*sample);
      continue;
    }
    fresh.push_back(tap.what == "lid closed" ? closing(tap, standing, now) : record_of(tap, now));
    all->push_back(fresh.back());
  }
  if (!readings.empty())
    if (const auto kept = store.append(burn, readings); !kept) return std::unexpected(kept.error());
  if (!fresh.empty())
    if (const auto told = store.tell(burn, fresh); !told) return std::unexpected(told.error());
  return {};
}

Result<Tap> undo_tap(db::Store& store, db::BurnId burn, const std::string& id,
                     const std::string& by, db::Stamp now) {
  auto all = store.records(burn);
  if (!all) return std::unexpected(all.error());
  const auto find = [&]() -> std::optional<Tap> {
    for (auto& tap : taps_of(*all))
      if (tap.id == id) return tap;
    return std::nullopt;
  };
  const auto before = find();
  if (!before) return fail(ErrorKind::not_found, "this burn has no tap '{}'", id);
  if (!before->is_undone) {
    const std::array undo = {Record{undo_id(id), "", by, now, db::Undo{id, ""}, 0}};
    if (const auto told = store.tell(burn, undo); !told) return std::unexpected(told.error());
    all = store.records(burn);
    if (!all) return std::unexpected(all.error());
  }
  return *find();
}

}  // namespace pitwright::resources
