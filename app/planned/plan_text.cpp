#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "planned/plan_words.h"
#include "report/call_table.h"
#include "report/degrees.h"
#include "report/moments.h"
#include "report/sizes.h"
#include "report/text_table.h"
#include "report/text_width.h"

namespace pitwright::planned {
namespace {

using design::Plan;
using design::Resolution;
using report::duration_text;
using report::page_width;
using report::size_text;

constexpr int label_column = 11;

/// "<label padded><text>", the text wrapped beside its label.
std::string entry(std::string_view label, const std::string& text, int label_width = label_column) {
  std::string block;
  for (const auto& line : report::wrapped(text, page_width - label_width))
    block += report::padded_right(block.empty() ? label : "", label_width) + line + "\n";
  return block;
}

std::string swing_text(const PlanView& view) {
  const auto& swing = view.design.habits.swing;
  const auto size = size_text(swing.size_k, view.scale);
  if (!swing.period_s) return size + " peak to trough, no steady cycle";
  return fmt::format("{} peak to trough, every {}", size, duration_text(*swing.period_s));
}

std::string asked_text(const PlanView& view) {
  std::vector<std::string> names;
  for (const auto& name : view.wishes.settings) names.push_back(report::clean_name(name));
  return fmt::format("{} between {}; {} or more matters", name_of(view.wishes.question),
                     fmt::join(names, ", "), size_text(view.wishes.matters.kelvins(), view.scale));
}

std::string spots_text(const PlanView& view) {
  const auto& plan = view.design.spots;
  std::string text = "Spots\n";
  int width = 0;
  for (const auto& spot : plan.spots)
    width = std::max(width, report::display_width(report::clean_name(spot.name)));
  for (std::size_t i = 0; i < plan.spots.size(); ++i) {
    const auto& spot = plan.spots[i];
    auto line = fmt::format("  {:>2}  {}", i + 1,
                            report::padded_right(report::clean_name(spot.name), width));
    const auto place = place_text(spot, view.scale);
    if (!place.empty()) line += "  " + place;
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  if (plan.rounds.size() < 2) return text;
  text +=
      entry("",
            fmt::format("Fewer probes than spots: the whole plan is run {} times, on one day or "
                        "several. Spot {} is the anchor and keeps its probe; the others move:",
                        plan.rounds.size(), plan.anchor + 1),
            2);
  for (std::size_t k = 0; k < plan.rounds.size(); ++k) {
    std::vector<int> numbers;
    for (const int spot : plan.rounds[k]) numbers.push_back(spot + 1);
    text += fmt::format("  round {}: spots {}\n", k + 1, fmt::join(numbers, ", "));
  }
  return text;
}

/// "±3 (2 to 6)".
std::string width_text(const PlanView& view, const Resolution& resolution, int decimals) {
  const auto in = [&](double k) { return TemperatureDelta::from_kelvins(k).in(view.scale); };
  return fmt::format("±{:.{}f} ({:.{}f} to {:.{}f})", in(resolution.half_width_k), decimals,
                     in(resolution.low_k), decimals, in(resolution.high_k), decimals);
}

/// Builds the table row by row over all plans.
class PlanTable {
 public:
  explicit PlanTable(const PlanView& view) : view_(view) {
    for (std::size_t k = 0; k < view.design.plans.size(); ++k) {
      const bool chosen = static_cast<int>(k) == view.design.recommended;
      columns_.push_back({fmt::format("[{}]{}", k + 1, chosen ? " take this" : ""), {}});
    }
  }

  void row(const std::string& label, const std::function<std::string(const Plan&)>& cell) {
    labels_.push_back(label);
    for (std::size_t k = 0; k < columns_.size(); ++k)
      columns_[k].cells.push_back(cell(view_.design.plans[k]));
  }

  void heading(const std::string& label) {
    row(label, [](const Plan&) { return std::string(); });
  }

  void chances(std::size_t truth, std::string_view heading_text) {
    heading(std::string(heading_text));
    using design::Chances;
    constexpr std::pair<std::string_view, double Chances::*> words[] = {
        {"  clear", &Chances::clear},
        {"  no odds", &Chances::no_odds},
        {"  too close", &Chances::too_close},
        {"  not yet", &Chances::not_yet}};
    for (const auto& [word, chance] : words)
      row(std::string(word),
          [&](const Plan& plan) { return report::chance_text(plan.asked.chances[truth].*chance); });
  }

  std::string text() const { return report::table_text("Plans", labels_, columns_, page_width); }

 private:
  const PlanView& view_;
  std::vector<std::string> labels_;
  std::vector<report::Column> columns_;
};

/// One row of half-widths; tenths where whole degrees would hide the narrowest of them.
void add_width(const PlanView& view, PlanTable& table, const std::string& label,
               const std::function<const Resolution&(const Plan&)>& of) {
  constexpr double narrow = 3.0;
  int decimals = 0;
  for (const auto& plan : view.design.plans)
    if (TemperatureDelta::from_kelvins(of(plan).half_width_k).in(view.scale) < narrow) decimals = 1;
  table.row(label, [&](const Plan& plan) { return width_text(view, of(plan), decimals); });
}

void add_widths(const PlanView& view, PlanTable& table) {
  table.heading(fmt::format("Half-widths at 95 %, {}", report::scale_mark(view.scale)));
  add_width(view, table, "  level", [](const Plan& p) -> const Resolution& { return p.level; });
  const auto& first = view.design.plans.front();
  if (first.run)
    add_width(view, table, "  a spot's run",
              [](const Plan& p) -> const Resolution& { return *p.run; });
  for (std::size_t i = 0; i < first.tilts.size(); ++i)
    add_width(view, table, fmt::format("  tilt {}", name_of(first.tilts[i].axis)),
              [i](const Plan& p) -> const Resolution& { return p.tilts[i].resolution; });
}

/// Orders of long names, one a line above the table; empty where they fit into it.
std::string long_orders_text(const PlanView& view) {
  constexpr int fits = 22;
  std::string text;
  bool is_long = false;
  for (std::size_t k = 0; k < view.design.plans.size(); ++k) {
    const auto order = order_text(view, view.design.plans[k]);
    is_long = is_long || report::display_width(order) > fits;
    text += entry(fmt::format("Order [{}]", k + 1), order);
  }
  return is_long ? text + "\n" : "";
}

std::string table_of(const PlanView& view) {
  const double m = view.wishes.matters.kelvins();
  PlanTable table(view);
  const auto orders = long_orders_text(view);
  if (orders.empty()) table.row("Order", [&](const Plan& plan) { return order_text(view, plan); });
  table.row("Each stint", [](const Plan& plan) { return duration_text(plan.dwell_s); });
  table.row("  settling", [](const Plan& plan) { return duration_text(plan.settling_s); });
  table.row("  counting", [](const Plan& plan) { return duration_text(plan.counted_s); });
  const bool rounds = view.design.spots.rounds.size() > 1;
  table.row(rounds ? "From lighting, a round" : "From lighting",
            [](const Plan& plan) { return duration_text(plan.burn_s); });
  if (view.design.plans.front().fuel)
    table.row(fmt::format("Fuel, {}", design::name_of(*view.wishes.fuel)),
              [&](const Plan& plan) { return fuel_text(*plan.fuel, view.scale); });
  add_widths(view, table);
  const auto question = name_of(view.wishes.question);
  table.chances(0, fmt::format("Chance of each word for the {}, if nothing changed", question));
  table.chances(1,
                fmt::format("  if it changed by {}, just what matters", size_text(m, view.scale)));
  table.chances(2, fmt::format("  if it changed by {}", size_text(2.0 * m, view.scale)));
  return orders + table.text();
}

std::string legend_text() {
  std::string block;
  constexpr std::string_view legend =
      "Half-width: half of the 95 % range of a change, in the middle burn; 8 burns in 10 lie "
      "between "
      "those in brackets. Settling is given to a stint that follows a change; at an unchanged "
      "setting "
      "all of it counts. Leave the lid shut, change one thing only, and let the pit soak at the "
      "first "
      "setting.";
  for (const auto& line : report::wrapped(legend, page_width)) block += line + "\n";
  return block;
}

}  // namespace

std::string plan_text(const PlanView& view) {
  const auto pit = report::clean_name(view.pit.name);
  std::string text = "A burn to plan" + (pit.empty() ? "" : ": " + pit) + "\n\n";
  constexpr int indent = 2;
  for (const auto& line : report::wrapped(plan_sentence(view), page_width - 2 * indent))
    text += "  " + line + "\n";
  const auto& plan = view.design.plans.front();
  text += "\n" + entry("Question", asked_text(view)) +
          entry("Probes", fmt::format("{}", view.wishes.probes)) +
          entry("Swing", swing_text(view)) + entry("Lag", duration_text(view.design.habits.lag_s)) +
          entry("Soak", duration_text(plan.soak_s) + " from lighting");
  text += "\n" + spots_text(view) + "\n" + table_of(view) + "\n" + legend_text() + "\n";
  for (const auto& note : notes(view)) text += entry("Note", note);
  return text;
}

}  // namespace pitwright::planned
