#include "book/figures.h"

#include <cmath>

#include <fmt/format.h>

#include "report/degrees.h"
#include "report/moments.h"
#include "report/text_width.h"

namespace pitwright::book {
namespace {

using report::duration_text;
using report::moment_text;
using safety::Verdict;

constexpr double minute_s = 60.0;

/// What the figures of one piece are made from.
struct Maker {
  const Book& book;
  const safety::PieceRecord& record;
  std::vector<Figure> out;

  std::string degrees(double celsius) const { return degrees_text(celsius, book.scale); }
  std::string limit(double fahrenheit) const { return limit_text(fahrenheit, book.scale); }
  std::string moment(double seconds) const { return moment_text(book.burn, seconds); }

  Figure& add(std::string what, std::string words) {
    out.push_back({std::move(what), std::move(words), {}, {}, {}, {}, {}, nullptr});
    return out.back();
  }
  void add_degrees(std::string what, std::string words, double celsius) {
    auto& figure = add(std::move(what), std::move(words));
    figure.value = Temperature::from_celsius(celsius).in(book.scale);
    figure.unit = book.scale == Scale::celsius ? "C" : "F";
  }
};

std::string verdict_words(Verdict verdict) {
  switch (verdict) {
    case Verdict::met:
      return "kept";
    case Verdict::not_met:
      return "not kept";
    case Verdict::open:
      return "cannot tell within the probe's tolerance";
    case Verdict::withheld:
      return "no verdict";
    case Verdict::no_rule:
      return "no rule chosen";
    case Verdict::no_record:
      break;
  }
  return "no record";
}

std::string unread_words(double unread_s) {
  if (unread_s < 1.0) return "";
  return fmt::format(" ({} of it without readings, counted in)", duration_text(unread_s));
}

/// "rule 4 h (from memory)".
std::string named(const safety::Rule& rule) {
  const bool memory = rule.source.known == safety::Known::memory;
  return fmt::format("rule {}{}", rule.name, memory ? " (from memory)" : "");
}

std::string margin_words(double over_s) {
  if (over_s > 0.0) return duration_text(over_s) + " over";
  return duration_text(-over_s) + " under";
}

void add_start(Maker& maker, const PiecePage& page) {
  for (const auto& reading : page.readings) {
    auto words = maker.degrees(reading.celsius) + ", written down";
    if (!reading.by.empty()) words += " by " + report::clean_name(reading.by);
    if (!reading.text.empty()) words += ": " + report::clean_name(reading.text);
    maker.add_degrees("Reading", words, reading.celsius);
  }
  const auto& record = maker.record;
  if (record.start_c) {
    maker.add_degrees("Cold",
                      fmt::format("{} at {}, first reading of the warmest probe",
                                  maker.degrees(*record.start_c), maker.moment(*record.first_s)),
                      *record.start_c);
  }
  maker.add("On",
            record.on_s ? maker.moment(*record.on_s) : "not told; counted from the first reading");
  maker.add("Off", record.off_s ? maker.moment(*record.off_s) : "not told");
}

void add_limited(Maker& maker, const std::string& what, const safety::Limited& limited,
                 const std::string& more) {
  const auto& time = limited.time;
  auto words = duration_text(time.counted_s()) + unread_words(time.unread_s) + more;
  if (limited.rule != nullptr) {
    const bool told = limited.verdict != Verdict::no_record;
    words += fmt::format("; {}: {}", named(*limited.rule),
                         told ? margin_words(*limited.over_s()) : "no record");
    if (limited.verdict == Verdict::open) words += ", but it cannot be told";
    if (limited.verdict == Verdict::open && time.most_s > time.counted_s() + 1.0)
      words += fmt::format(": up to {} within the tolerance", duration_text(time.most_s));
  }
  auto& figure = maker.add(what, words);
  figure.value = time.counted_s() / minute_s;
  figure.unit = "min";
  figure.verdict = verdict_words(limited.verdict);
  figure.rule = limited.rule;
  if (limited.rule == nullptr) return;
  figure.limit = limited.rule->limit_s / minute_s;
  figure.margin = -*limited.over_s() / minute_s;
}

void add_zone(Maker& maker) {
  const auto& record = maker.record;
  const auto* rule = record.chosen.zone;
  const bool same = rule == nullptr || (rule->low_f == 40.0 && rule->high_f == 140.0);
  const auto name = [&](double low_f, double high_f) {
    return fmt::format("{} to {}", maker.limit(low_f), maker.limit(high_f));
  };
  if (!same) {
    safety::Limited plain;
    plain.time = record.zone_usda;
    add_limited(maker, name(40, 140), plain, "");
  }
  add_limited(maker, same ? name(40, 140) : name(rule->low_f, rule->high_f), record.zone,
              same && rule == nullptr ? "; no rule of this kind chosen" : "");
  std::string more;
  if (!record.come_up_seen) more += "; began before the first reading";
  if (!record.come_up_done) more += fmt::format("; {} was not reached", maker.limit(130));
  if (record.come_up.rule == nullptr && record.probes > 0) {
    const auto* beside = safety::find_rule("come-up 6 h");
    more += fmt::format("; beside {} (not chosen): {}", beside->name,
                        margin_words(record.come_up.time.counted_s() - beside->limit_s));
  }
  add_limited(maker, "Come-up", record.come_up,
              fmt::format(" between {} and {}", maker.limit(50), maker.limit(130)) + more);
}

std::string row_words(const Maker& maker, const safety::RowTime& row) {
  if (row.row.dwell_s <= 0.0) return maker.limit(row.row.at_f) + " reached";
  return fmt::format("{} for {}", maker.limit(row.row.at_f), dwell_text(row.row.dwell_s));
}

std::string nearest_words(const Maker& maker, const safety::Lethality& credited) {
  if (!credited.nearest) return "no row has any time";
  const auto& row = credited.rows[*credited.nearest];
  return fmt::format("nearest row {}: {} had", row_words(maker, row), duration_text(row.held_s));
}

std::string cooking_words(const Maker& maker, const safety::Cooked& cooked) {
  if (cooked.withheld == safety::Withheld::poultry)
    return "the rule is not for poultry; choose one that is";
  if (cooked.withheld == safety::Withheld::not_intact)
    return "the rule is for whole, intact cuts only; this piece is not one";
  if (cooked.withheld == safety::Withheld::intact_not_told)
    return "the rule is for whole, intact cuts only; nobody said whether this is one (intact = "
           "true)";
  if (cooked.verdict == Verdict::no_record) return "no readings";
  const auto& credited = cooked.credited;
  if (cooked.verdict == Verdict::met) {
    return fmt::format("row met at {}: {}", maker.moment(*credited.met_s),
                       row_words(maker, credited.rows[*credited.met]));
  }
  auto words = "no row met; " + nearest_words(maker, credited);
  if (cooked.verdict == Verdict::open)
    words += fmt::format("; without taking off the probe's tolerance: {}",
                         row_words(maker, cooked.as_read.rows[*cooked.as_read.met]));
  return words;
}

void add_cooking(Maker& maker) {
  const auto& cooked = maker.record.cooked;
  if (cooked.rule == nullptr) {
    maker.add("Cooking", "no rule chosen; 'pitwright book --rules' lists them").verdict =
        verdict_words(Verdict::no_rule);
    return;
  }
  auto& figure = maker.add(
      "Cooking", fmt::format("{}: {}", named(*cooked.rule), cooking_words(maker, cooked)));
  figure.rule = cooked.rule;
  figure.verdict = cooked.verdict == Verdict::met       ? "row met"
                   : cooked.verdict == Verdict::not_met ? "no row met"
                                                        : verdict_words(cooked.verdict);
  const auto& credited = cooked.credited;
  if (credited.nearest && cooked.withheld == safety::Withheld::no) {
    const auto& row = credited.rows[*credited.nearest];
    figure.value = row.held_s / minute_s;
    figure.unit = "min";
    figure.limit = row.row.dwell_s / minute_s;
    figure.margin = *figure.value - *figure.limit;
  }
  if (!credited.log_reduction || cooked.withheld != safety::Withheld::no) return;
  constexpr double enough_log = 20.0;  // more digits would pretend
  const double sum = *credited.log_reduction;
  auto& integral =
      maker.add("Integral",
                fmt::format("{} log of {:g}, beside the rows, never in their place",
                            sum > enough_log ? std::string("over 20") : fmt::format("{:.1f}", sum),
                            cooked.rule->target_log));
  integral.value = sum;
  integral.unit = "log";
  integral.limit = cooked.rule->target_log;
  integral.margin = sum - cooked.rule->target_log;
}

void add_under_poultry(Maker& maker, const std::optional<safety::UnderPoultry>& one) {
  if (!one) return;
  const auto& credited = one->credited;
  auto& figure = maker.add(
      "Under 165",
      fmt::format("by the table {}: {}", one->rule->name,
                  credited.met ? fmt::format("row met at {}: {}", maker.moment(*credited.met_s),
                                             row_words(maker, credited.rows[*credited.met]))
                               : "no row met; " + nearest_words(maker, credited)));
  figure.rule = one->rule;
  figure.verdict = credited.met ? "row met" : "no row met";
}

void add_temperatures(Maker& maker) {
  const auto& record = maker.record;
  if (!record.final_c) return;
  maker.add_degrees("Highest",
                    fmt::format("{} at {}, coldest probe", maker.degrees(*record.highest_c),
                                maker.moment(*record.highest_s)),
                    *record.highest_c);
  maker.add_degrees("Final",
                    fmt::format("{} at {}, coldest probe; ±{} taken off for the rows",
                                maker.degrees(*record.final_c), maker.moment(*record.final_s),
                                report::limit_text(*record.tolerance_k, maker.book.scale)),
                    *record.final_c);
}

void add_hold(Maker& maker, const safety::Held& held) {
  std::string words;
  if (!held.since_s) {
    words = "never reached";
  } else {
    words = fmt::format("reached at {}; after that ", maker.moment(*held.since_s));
    words +=
        held.below.counted_s() < 1.0
            ? "never below it"
            : fmt::format("below it for {}{}, lowest {}", duration_text(held.below.counted_s()),
                          unread_words(held.below.unread_s), maker.degrees(*held.lowest_c));
  }
  if (held.rule != nullptr)
    words += fmt::format("; {}: {}", named(*held.rule), verdict_words(held.verdict));
  auto& figure = maker.add("Hold " + maker.limit(held.limit_f), words);
  figure.rule = held.rule;
  figure.verdict = verdict_words(held.verdict);
  if (!held.since_s) return;
  figure.value = held.below.counted_s() / minute_s;
  figure.unit = "min";
  if (held.rule == nullptr) return;
  figure.limit = 0.0;
  figure.margin = 0.0 - *figure.value;
}

void add_cooling(Maker& maker) {
  if (!maker.record.cooled) return;
  const auto& cooled = *maker.record.cooled;
  for (const auto& step : cooled.steps) {
    std::string words;
    if (!step.from_s)
      words = "not begun";
    else if (!step.to_s)
      words = fmt::format("from {}, not down after {}", maker.moment(*step.from_s),
                          duration_text(step.took_s));
    else
      words = fmt::format("{} from {}", duration_text(step.took_s), maker.moment(*step.from_s));
    words += fmt::format("; {}{}: ", cooled.was_chosen ? "" : "beside ", named(*cooled.rule));
    words += step.from_s ? fmt::format("{}, {}", margin_words(step.took_s - step.step.within_s),
                                       verdict_words(step.verdict))
                         : verdict_words(step.verdict);
    if (cooled.too_fast) words += "; it fell faster than food does: was the probe pulled out?";
    auto& figure = maker.add(
        fmt::format("Cooling {} to {}", maker.limit(step.step.from_f), maker.limit(step.step.to_f)),
        words);
    figure.rule = cooled.rule;
    figure.verdict = verdict_words(step.verdict);
    if (!step.from_s) continue;
    figure.value = step.took_s / minute_s;
    figure.unit = "min";
    figure.limit = step.step.within_s / minute_s;
    figure.margin = *figure.limit - *figure.value;
  }
}

/// What a marked stretch did, and whether the row of 145 degF was met before it.
void add_marked(Maker& maker, const safety::Marked& marked) {
  auto words = fmt::format("{} to {}", maker.moment(marked.from_s), maker.moment(marked.until_s));
  if (marked.start_c && marked.end_c)
    words += fmt::format(": {} when it began, {} when it ended", maker.degrees(*marked.start_c),
                         maker.degrees(*marked.end_c));
  const auto& cooked = maker.record.cooked;
  for (const auto& row : cooked.credited.rows) {
    constexpr double usual_f = 145.0;
    if (row.row.at_f != usual_f || cooked.withheld != safety::Withheld::no) continue;
    const bool met = row.met_s && *row.met_s <= marked.from_s;
    words += fmt::format("; {} before it: {}", row_words(maker, row), met ? "yes" : "no");
  }
  maker.add(marked.text.empty() ? "Note" : report::clean_name(marked.text), words);
}

}  // namespace

std::vector<Figure> figures_of(const Book& book, const PiecePage& page) {
  Maker maker{book, page.record, {}};
  add_start(maker, page);
  add_zone(maker);
  add_cooking(maker);
  add_under_poultry(maker, page.record.chicken);
  add_under_poultry(maker, page.record.turkey);
  add_temperatures(maker);
  for (const auto& held : page.record.holds) add_hold(maker, held);
  add_cooling(maker);
  for (const auto& marked : page.record.marked) add_marked(maker, marked);
  return std::move(maker.out);
}

}  // namespace pitwright::book
