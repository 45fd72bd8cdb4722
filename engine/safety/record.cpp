#include "safety/record.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "safety/cooling.h"

namespace pitwright::safety {
namespace {

constexpr double minute_s = 60.0;

double celsius(double fahrenheit) {
  return (fahrenheit - 32.0) / 1.8;
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// Whether a text has one of the words, or its plural in s, as a whole word.
bool has_any(std::string_view text, std::initializer_list<std::string_view> words) {
  for (std::size_t at = 0; at < text.size();) {
    std::string word;
    for (; at < text.size() && is_letter(text[at]); ++at)
      word += static_cast<char>(text[at] | 0x20);  // to a small letter
    if (word.empty()) ++at;
    const bool known = std::ranges::any_of(
        words, [&](auto one) { return word == one || word == std::string(one) + "s"; });
    if (known) return true;
  }
  return false;
}

/// What the walk through a piece's record is made from.
struct Work {
  const Trace& trace;
  double from_s = 0.0;  ///< on, else the first reading
  double to_s = 0.0;    ///< the last reading or, where later, off
  PieceRecord& out;
};

Verdict verdict_of(const Rule& rule, const BandTime& time) {
  if (time.counted_s() > rule.limit_s) return Verdict::not_met;
  return time.most_s <= rule.limit_s ? Verdict::met : Verdict::open;
}

void note_temperatures(const Work& work) {
  const auto& trace = work.trace;
  auto& out = work.out;
  out.first_s = trace.seconds.front();
  out.last_s = trace.seconds.back();
  out.start_c = trace.warmest_c.front();
  const auto highest = std::ranges::max_element(trace.coldest_c) - trace.coldest_c.begin();
  const auto at = static_cast<std::size_t>(highest);
  out.highest_c = trace.coldest_c[at];
  out.highest_s = trace.seconds[at];
  std::size_t last = trace.seconds.size() - 1;
  if (out.off_s) {
    while (last > 0 && trace.seconds[last] > *out.off_s) --last;
  }
  out.final_c = trace.coldest_c[last];
  out.final_s = trace.seconds[last];
  double most_k = 0.0;
  for (std::size_t i = 0; i < trace.seconds.size(); ++i)
    most_k = std::max(most_k, trace.coldest_c[i] - trace.credited_c[i]);
  out.tolerance_k = most_k;
}

void note_cooking(const Work& work) {
  auto& cooked = work.out.cooked;
  cooked.rule = work.out.chosen.cooking;
  if (cooked.rule == nullptr) return;
  const bool not_intact = work.out.intact == false || speaks_of_ground(work.out.cut);
  cooked.credited = lethality_of(work.trace, *cooked.rule, Reading::credited);
  cooked.as_read = lethality_of(work.trace, *cooked.rule, Reading::as_read);
  if (work.out.is_poultry && !cooked.rule->for_poultry)
    cooked.withheld = Withheld::poultry;
  else if (not_intact && !cooked.rule->for_not_intact)
    cooked.withheld = Withheld::not_intact;
  else if (!work.out.intact && !cooked.rule->for_not_intact)
    cooked.withheld = Withheld::intact_not_told;
  if (cooked.withheld != Withheld::no)
    cooked.verdict = Verdict::withheld;
  else if (work.trace.empty())
    cooked.verdict = Verdict::no_record;
  else if (cooked.credited.met)
    cooked.verdict = Verdict::met;
  else
    cooked.verdict = cooked.as_read.met ? Verdict::open : Verdict::not_met;
}

/// Under 165 degF with its tolerance, the two tables at 12 % fat: fat is not told, so the largest.
void note_poultry(const Work& work) {
  if (!work.out.is_poultry || work.trace.empty()) return;
  const auto* chart = find_rule("poultry 165 F");
  if (lethality_of(work.trace, *chart, Reading::credited).met) return;
  const auto* chicken = find_rule("chicken 12 %");
  const auto* turkey = find_rule("turkey 12 %");
  work.out.chicken = UnderPoultry{chicken, lethality_of(work.trace, *chicken, Reading::credited)};
  work.out.turkey = UnderPoultry{turkey, lethality_of(work.trace, *turkey, Reading::credited)};
}

Limited limited(const Work& work, const Rule* rule, Band band, double until_s) {
  Limited out;
  out.rule = rule;
  out.time = time_between(work.trace, band, work.from_s, until_s);
  if (rule != nullptr) out.verdict = verdict_of(*rule, out.time);
  return out;
}

void note_zone(const Work& work, double until_s) {
  const auto* rule = work.out.chosen.zone;
  const Band usda{celsius(40), celsius(140)};
  const Band band = rule == nullptr ? usda : Band{celsius(rule->low_f), celsius(rule->high_f)};
  work.out.zone = limited(work, rule, band, until_s);
  work.out.zone_usda = time_between(work.trace, usda, work.from_s, until_s);
  if (work.trace.empty() && rule != nullptr) work.out.zone.verdict = Verdict::no_record;
}

void note_come_up(const Work& work, double until_s) {
  auto& out = work.out;
  const auto* rule = out.chosen.come_up;
  const double low = celsius(rule == nullptr ? 50.0 : rule->low_f);
  const double high = celsius(rule == nullptr ? 130.0 : rule->high_f);
  const bool lethal = out.cooked.verdict == Verdict::met && out.cooked.credited.met_s;
  const double end_s = lethal ? *out.cooked.credited.met_s : until_s;
  out.come_up = limited(work, rule, {low, high}, std::min(end_s, until_s));
  if (work.trace.empty()) {
    if (rule != nullptr) out.come_up.verdict = Verdict::no_record;
    out.come_up_seen = false;
    return;
  }
  out.come_up_seen = work.trace.warmest_c.front() <= low || work.out.on_s.has_value();
  out.come_up_done =
      std::ranges::any_of(work.trace.coldest_c, [&](double c) { return c + rounding_k >= high; });
  const bool surely_within = out.come_up_seen && out.come_up_done;
  if (out.come_up.verdict == Verdict::met && !surely_within) out.come_up.verdict = Verdict::open;
}

Held held_at(const Work& work, double limit_f, const Rule* rule, double until_s) {
  Held held;
  held.limit_f = limit_f;
  held.rule = rule;
  held.until_s = until_s;
  const auto& trace = work.trace;
  for (std::size_t i = 0; i < trace.seconds.size() && trace.seconds[i] <= until_s; ++i) {
    const bool at_or_above = trace.coldest_c[i] + rounding_k >= celsius(limit_f);
    if (!held.since_s && at_or_above) held.since_s = trace.seconds[i];
    if (held.since_s)
      held.lowest_c = std::min(held.lowest_c.value_or(trace.coldest_c[i]), trace.coldest_c[i]);
  }
  // A hundredth of a kelvin is no fall below; readings at the limit are at it.
  if (held.since_s)
    held.below = time_below(trace, celsius(limit_f) - rounding_k, *held.since_s, until_s);
  if (rule == nullptr) return held;
  if (!held.since_s)
    held.verdict = Verdict::no_record;
  else if (held.below.counted_s() > 0.0)
    held.verdict = Verdict::not_met;
  else
    held.verdict = held.below.most_s > 0.0 ? Verdict::open : Verdict::met;
  return held;
}

/// Cooling is looked at where somebody chose its rule, or where the piece came off and ended cold.
std::optional<double> note_cooling(const Work& work) {
  auto& out = work.out;
  const auto* chosen = out.chosen.cooling;
  const auto* rule = chosen != nullptr ? chosen : find_rule("cool food code");
  const auto began = cooling_began(work.trace, *rule);
  if (!began) return std::nullopt;
  const bool ends_cold = work.trace.warmest_c.back() <= celsius(rule->steps.front().to_f);
  const bool came_off = out.off_s && *began >= *out.off_s - minute_s;
  if (chosen == nullptr && !(came_off && ends_cold)) return std::nullopt;
  out.cooled = cooled_of(work.trace, *rule, chosen != nullptr, *began);
  return began;
}

std::optional<double> coldest_at(const Trace& trace, double at) {
  const auto after = std::ranges::upper_bound(trace.seconds, at) - trace.seconds.begin();
  if (after == 0) return std::nullopt;
  return trace.coldest_c[static_cast<std::size_t>(after - 1)];
}

void note_marked(const Burn& burn, const Work& work) {
  for (const auto& event : burn.events) {
    const bool of_it = event.piece.empty() || event.piece == work.out.piece;
    if (event.kind != EventKind::note || !event.until_s || !of_it) continue;
    if (*event.until_s <= work.from_s || event.at_s >= work.to_s) continue;
    work.out.marked.push_back({event.at_s, *event.until_s, event.text,
                               coldest_at(work.trace, event.at_s),
                               coldest_at(work.trace, *event.until_s)});
  }
}

double unread_of(const Work& work) {
  double unread = std::max(0.0, work.trace.seconds.front() - work.from_s);
  for (std::size_t i = 1; i < work.trace.seconds.size(); ++i) {
    if (!work.trace.joined[i]) unread += work.trace.seconds[i] - work.trace.seconds[i - 1];
  }
  if (work.out.off_s) unread += std::max(0.0, *work.out.off_s - work.trace.seconds.back());
  return unread;
}

}  // namespace

std::string_view name_of(Verdict verdict) {
  static constexpr std::array<std::string_view, 6> names{"met",      "not met", "open",
                                                         "withheld", "no rule", "no record"};
  return names.at(static_cast<std::size_t>(verdict));
}

std::optional<double> Limited::over_s() const {
  if (rule == nullptr) return std::nullopt;
  return time.counted_s() - rule->limit_s;
}

bool speaks_of_poultry(std::string_view cut) {
  return has_any(cut, {"chicken", "turkey", "poultry", "duck", "goose", "geese", "hen", "quail",
                       "pheasant", "fowl", "capon", "drumstick", "wing", "thigh", "bird"});
}

bool speaks_of_ground(std::string_view cut) {
  return has_any(cut, {"ground", "minced", "mince", "burger", "hamburger", "patty", "patties",
                       "sausage", "meatloaf", "meatball", "stuffed", "stuffing", "injected",
                       "tenderized", "rolled", "kebab"});
}

PieceRecord record_of(const Burn& burn, const Piece& piece) {
  PieceRecord out;
  out.piece = piece.name;
  out.cut = piece.cut;
  out.is_poultry = speaks_of_poultry(piece.cut) || speaks_of_poultry(piece.name);
  out.intact = piece.intact;
  out.chosen = chosen_rules(piece.rule);
  out.on_s = piece.on_s;
  out.off_s = piece.off_s;
  const auto trace = trace_of(burn, piece.name, piece.on_s);
  out.probes = trace.probes;
  out.unchecked = trace.unchecked;
  out.dropped = trace.dropped;
  const double last_s = trace.empty() ? burn.last_s() : trace.seconds.back();
  const double first_s = trace.empty() ? burn.first_s() : trace.seconds.front();
  Work work{trace, piece.on_s.value_or(first_s), std::max(last_s, piece.off_s.value_or(last_s)),
            out};
  if (!trace.empty()) {
    note_temperatures(work);
    out.unread_s = unread_of(work);
  } else {
    out.unread_s = std::max(0.0, work.to_s - work.from_s);
  }
  note_cooking(work);
  note_poultry(work);
  const auto cooling_from = note_cooling(work);
  double warm_until_s = piece.off_s.value_or(work.to_s);
  if (cooling_from) warm_until_s = std::min(warm_until_s, std::max(*cooling_from, work.from_s));
  note_zone(work, warm_until_s);
  note_come_up(work, warm_until_s);
  note_marked(burn, work);
  const double held_until_s = cooling_from.value_or(work.to_s);
  for (const double limit_f : {140.0, 135.0, 130.0}) {
    const auto* rule = out.chosen.hold;
    out.holds.push_back(held_at(
        work, limit_f, rule != nullptr && rule->high_f == limit_f ? rule : nullptr, held_until_s));
  }
  return out;
}

}  // namespace pitwright::safety
