#include <optional>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "book/figures.h"
#include "documents/time_text.h"
#include "report/json_values.h"
#include "report/text_width.h"

namespace pitwright::book {
namespace {

using Json = nlohmann::ordered_json;
using report::clean_name;
using report::json_name;

/// Two decimals.
Json number(std::optional<double> value) {
  return report::json_number(value, 2);
}

Json minutes(double seconds) {
  return number(seconds / 60.0);
}

/// What the parts of one page share.
struct Maker {
  const Book& book;

  Json degrees(std::optional<double> celsius) const {
    return celsius ? number(Temperature::from_celsius(*celsius).in(book.scale)) : Json(nullptr);
  }
  Json limit(double fahrenheit) const { return degrees((fahrenheit - 32.0) / 1.8); }
  Json delta(std::optional<double> kelvins) const {
    return kelvins ? number(TemperatureDelta::from_kelvins(*kelvins).in(book.scale))
                   : Json(nullptr);
  }
  Json moment(std::optional<double> seconds) const {
    return seconds ? Json(documents::time_text(book.burn.clock, *seconds)) : Json(nullptr);
  }
  Json stamp(db::Stamp at) const {
    const std::chrono::duration<double> since = at.time_since_epoch();
    return documents::time_text({Instant{}, book.burn.clock.timezone}, since.count());
  }
};

Json rule_json(const safety::Rule* rule) {
  if (rule == nullptr) return nullptr;
  return {{"name", rule->name},
          {"kind", std::string(name_of(rule->kind))},
          {"title", rule->title},
          {"document", rule->source.document},
          {"edition", rule->source.edition},
          {"where", rule->source.where},
          {"known", std::string(known_name(rule->source.known))}};
}

Json row_json(const Maker& maker, const safety::RowTime& row) {
  return {{"at", maker.limit(row.row.at_f)},
          {"dwell_s", number(row.row.dwell_s)},
          {"held_s", number(row.held_s)},
          {"met_at", maker.moment(row.met_s)}};
}

Json band_json(const safety::BandTime& time) {
  return {{"minutes", minutes(time.counted_s())},
          {"unread_min", minutes(time.unread_s)},
          {"most_min", minutes(time.most_s)}};
}

Json limited_json(const safety::Limited& limited) {
  auto json = band_json(limited.time);
  json["rule"] = limited.rule == nullptr ? Json(nullptr) : Json(limited.rule->name);
  json["limit_min"] = limited.rule == nullptr ? Json(nullptr) : minutes(limited.rule->limit_s);
  json["margin_min"] = limited.rule == nullptr ? Json(nullptr) : minutes(-*limited.over_s());
  json["verdict"] = std::string(name_of(limited.verdict));
  return json;
}

Json lethality_json(const Maker& maker, const safety::Rule& rule,
                    const safety::Lethality& credited) {
  Json rows = Json::array();
  for (const auto& row : credited.rows) rows.push_back(row_json(maker, row));
  return {{"rule", rule.name},
          {"row_met", credited.met ? row_json(maker, credited.rows[*credited.met]) : Json(nullptr)},
          {"nearest",
           credited.nearest ? row_json(maker, credited.rows[*credited.nearest]) : Json(nullptr)},
          {"credited_at", maker.moment(credited.met_s)},
          {"log_reduction", number(credited.log_reduction)},
          {"target_log", rule.target_log > 0.0 ? number(rule.target_log) : Json(nullptr)},
          {"rows", std::move(rows)}};
}

Json cooking_json(const Maker& maker, const safety::PieceRecord& record) {
  const auto& cooked = record.cooked;
  if (cooked.rule == nullptr) return nullptr;
  auto json = lethality_json(maker, *cooked.rule, cooked.credited);
  json["verdict"] = std::string(name_of(cooked.verdict));
  static constexpr std::array<std::string_view, 4> why{"", "poultry", "not intact",
                                                       "intact not told"};
  json["withheld_for"] = json_name(std::string(why.at(static_cast<std::size_t>(cooked.withheld))));
  json["met_as_read"] = cooked.as_read.met.has_value();
  return json;
}

Json under_json(const Maker& maker, const safety::PieceRecord& record) {
  Json json = Json::array();
  for (const auto* one : {&record.chicken, &record.turkey}) {
    if (*one) json.push_back(lethality_json(maker, *(*one)->rule, (*one)->credited));
  }
  return json;
}

Json hold_json(const Maker& maker, const safety::Held& held) {
  auto json = band_json(held.below);
  json["limit"] = maker.limit(held.limit_f);
  json["rule"] = held.rule == nullptr ? Json(nullptr) : Json(held.rule->name);
  json["since"] = maker.moment(held.since_s);
  json["lowest"] = maker.degrees(held.lowest_c);
  json["verdict"] = std::string(name_of(held.verdict));
  return json;
}

Json cooling_json(const Maker& maker, const safety::PieceRecord& record) {
  if (!record.cooled) return nullptr;
  Json steps = Json::array();
  for (const auto& step : record.cooled->steps) {
    steps.push_back(
        {{"from", maker.limit(step.step.from_f)},
         {"to", maker.limit(step.step.to_f)},
         {"limit_min", minutes(step.step.within_s)},
         {"began", maker.moment(step.from_s)},
         {"reached", maker.moment(step.to_s)},
         {"minutes", step.from_s ? minutes(step.took_s) : Json(nullptr)},
         {"margin_min", step.from_s ? minutes(step.step.within_s - step.took_s) : Json(nullptr)},
         {"verdict", std::string(name_of(step.verdict))}});
  }
  return {{"rule", record.cooled->rule->name},
          {"chosen", record.cooled->was_chosen},
          {"too_fast", record.cooled->too_fast},
          {"steps", std::move(steps)}};
}

/// What is left under each chosen limit [min], below 0 where it is passed; of cooking the time had
/// beyond the row that is met or nearest.
Json margins_json(const safety::PieceRecord& record) {
  const auto left = [](const safety::Limited& limited) {
    return limited.rule == nullptr ? Json(nullptr) : minutes(-*limited.over_s());
  };
  Json cooking = nullptr, hold = nullptr;
  const auto& credited = record.cooked.credited;
  if (credited.nearest && record.cooked.withheld == safety::Withheld::no) {
    const auto& row = credited.rows[*credited.nearest];
    cooking = minutes(row.held_s - row.row.dwell_s);
  }
  for (const auto& held : record.holds) {
    if (held.rule != nullptr && held.since_s) hold = minutes(-held.below.counted_s());
  }
  return {{"zone_min", left(record.zone)},
          {"come_up_min", left(record.come_up)},
          {"cooking_min", cooking},
          {"hold_min", hold}};
}

Json marked_json(const Maker& maker, const safety::PieceRecord& record) {
  Json json = Json::array();
  for (const auto& marked : record.marked) {
    Json rows = Json::array();
    for (const auto& row : record.cooked.credited.rows) {
      const bool met = row.met_s && *row.met_s <= marked.from_s;
      if (met && record.cooked.withheld == safety::Withheld::no)
        rows.push_back(maker.limit(row.row.at_f));
    }
    json.push_back({{"text", json_name(marked.text)},
                    {"from", maker.moment(marked.from_s)},
                    {"until", maker.moment(marked.until_s)},
                    {"start", maker.degrees(marked.start_c)},
                    {"end", maker.degrees(marked.end_c)},
                    {"rows_met_before", std::move(rows)}});
  }
  return json;
}

Json signatures_json(const Maker& maker, const PiecePage& page) {
  Json json = Json::array();
  for (const auto& one : page.signatures) {
    json.push_back({{"by", clean_name(one.by)},
                    {"at", maker.stamp(one.at)},
                    {"text", json_name(one.text)},
                    {"later_records", one.later_entries},
                    {"later_samples", one.later_samples}});
  }
  return json;
}

Json piece_json(const Maker& maker, const PiecePage& page) {
  const auto& record = page.record;
  Json readings = Json::array(), holds = Json::array(), actions = Json::array();
  for (const auto& one : page.readings) {
    readings.push_back({{"temperature", maker.degrees(one.celsius)},
                        {"text", json_name(one.text)},
                        {"by", json_name(one.by)}});
  }
  for (const auto& held : record.holds) holds.push_back(hold_json(maker, held));
  for (const auto& action : page.actions) actions.push_back(clean_name(action));
  const bool withheld = record.cooked.withheld != safety::Withheld::no;
  const auto& credited = record.cooked.credited;
  const bool has_row = credited.met && !withheld;
  auto come_up = limited_json(record.come_up);
  come_up["seen_from_start"] = record.come_up_seen;
  come_up["reached_top"] = record.come_up_done;
  Json rules = Json::array(), problems = Json::array();
  for (const auto& problem : page.rule_problems) problems.push_back(clean_name(problem));
  const auto& chosen = record.chosen;
  for (const auto* rule :
       {chosen.cooking, chosen.zone, chosen.come_up, chosen.hold, chosen.cooling}) {
    if (rule != nullptr) rules.push_back(rule_json(rule));
  }
  return {{"piece", clean_name(page.piece.name)},
          {"cut", json_name(page.piece.cut)},
          {"kg", number(page.piece.mass_kg)},
          {"intact", page.piece.intact ? Json(*page.piece.intact) : Json(nullptr)},
          {"rule", json_name(page.piece.rule)},
          {"rules", std::move(rules)},
          {"rule_problems", std::move(problems)},
          {"probes", record.probes},
          {"on", maker.moment(record.on_s)},
          {"off", maker.moment(record.off_s)},
          {"written", std::move(readings)},
          {"cold", maker.degrees(record.start_c)},
          {"highest", maker.degrees(record.highest_c)},
          {"highest_at", maker.moment(record.highest_s)},
          {"final", maker.degrees(record.final_c)},
          {"final_at", maker.moment(record.final_s)},
          {"tolerance", maker.delta(record.tolerance_k)},
          {"unchecked", record.unchecked},
          {"left_out", record.dropped},
          {"unread_min", minutes(record.unread_s)},
          {"row_met", has_row ? row_json(maker, credited.rows[*credited.met]) : Json(nullptr)},
          {"log_reduction", withheld ? Json(nullptr) : number(credited.log_reduction)},
          {"credited_at", withheld ? Json(nullptr) : maker.moment(credited.met_s)},
          {"minutes_40_140F", minutes(record.zone_usda.counted_s())},
          {"come_up_50_130F_min", minutes(record.come_up.time.counted_s())},
          {"zone", limited_json(record.zone)},
          {"come_up", std::move(come_up)},
          {"cooking", cooking_json(maker, record)},
          {"under_165F", under_json(maker, record)},
          {"hold", std::move(holds)},
          {"cooling", cooling_json(maker, record)},
          {"margins", margins_json(record)},
          {"marked", marked_json(maker, record)},
          {"by", json_name(page.piece.by)},
          {"actions", std::move(actions)},
          {"signatures", signatures_json(maker, page)}};
}

Json instrument_json(const Maker& maker, const Instrument& one) {
  return {{"channel", clean_name(one.channel)},
          {"piece", clean_name(one.piece)},
          {"at", maker.degrees(one.at_c)},
          {"add", maker.delta(one.add_k)},
          {"tolerance", maker.delta(one.tolerance_k)},
          {"checked", one.checked ? Json(date_text(*one.checked)) : Json(nullptr)},
          {"from", json_name(one.from)}};
}

Json entry_json(const Maker& maker, const Entry& entry) {
  const auto scale = entry.what.unit == "F" ? Scale::fahrenheit : Scale::celsius;
  std::optional<double> celsius;
  if (entry.what.value) celsius = Temperature::from(*entry.what.value, scale).celsius();
  return {{"number", entry.number},
          {"what", clean_name(entry.what.what)},
          {"piece", json_name(entry.what.piece)},
          {"at", maker.stamp(entry.record.written)},
          {"by", json_name(entry.record.by)},
          {"temperature", maker.degrees(celsius)},
          {"text", json_name(entry.what.text)},
          {"replaced_by", json_name(entry.replaced_by)},
          {"taken_back", entry.is_taken_back},
          {"why", json_name(entry.why)}};
}

}  // namespace

std::string book_json(const Book& book) {
  const Maker maker{book};
  Json json = {{"title", json_name(book.burn.title)},
               {"unit", book.scale == Scale::celsius ? "C" : "F"},
               {"pieces", Json::array()},
               {"instruments", Json::array()},
               {"entries", Json::array()},
               {"changes", Json::array()},
               {"cautions", cautions(book.scale)}};
  for (const auto& page : book.pieces) json["pieces"].push_back(piece_json(maker, page));
  for (const auto& one : book.instruments)
    json["instruments"].push_back(instrument_json(maker, one));
  for (const auto& entry : book.entries) json["entries"].push_back(entry_json(maker, entry));
  for (const auto& change : book.changes) {
    json["changes"].push_back({{"at", maker.stamp(change.written)},
                               {"by", json_name(change.by)},
                               {"of", clean_name(change.of)},
                               {"was", clean_name(change.was)},
                               {"now", clean_name(change.now)}});
  }
  return json.dump(2) + "\n";
}

std::string rules_json() {
  Json all = Json::array();
  for (const auto& rule : safety::all_rules()) all.push_back(rule_json(&rule));
  return all.dump();
}

}  // namespace pitwright::book
