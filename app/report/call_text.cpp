#include "report/call_text.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/call_explain.h"
#include "report/call_table.h"
#include "report/call_words.h"
#include "report/degrees.h"
#include "report/moments.h"
#include "report/sentence.h"
#include "report/text_width.h"
#include "report/trouble_words.h"

namespace pitwright::report {
namespace {

constexpr int label_column = 11;

/// "<label padded><text>", the text wrapped beside its label.
std::string entry(std::string_view label, const std::string& text, int label_width = label_column) {
  std::string block;
  for (const auto& line : wrapped(text, page_width - label_width)) {
    block += padded_right(block.empty() ? label : "", label_width) + line + "\n";
  }
  return block;
}

std::string title_text(const CallView& view) {
  const auto title = clean_name(view.burn.title);
  auto under = clean_name(view.burn.pit.name);
  if (under == title) under.clear();
  const auto day = day_text(view.burn);
  if (!day.empty()) under += (under.empty() ? "" : ", ") + day;
  return (title.empty() ? "" : title + "\n") + (under.empty() ? "" : under + "\n");
}

std::string sentence_text(const CallView& view) {
  std::string text;
  constexpr int indent = 2;
  for (const auto& line : wrapped(sentence(view), page_width - 2 * indent)) {
    text += "  " + line + "\n";
  }
  return text;
}

std::string live_text(const CallView& view) {
  if (!view.report.live) return "";
  return entry("Now", live_state_text(view) + " " + as_sentence(live_next_text(view))) + "\n";
}

/// "6 spots, dial, outside air; 12:05 to 15:40".
std::string read_text(const CallView& view) {
  const auto spots = view.report.spots.size();
  auto text = fmt::format("{} spot{}", spots, spots == 1 ? "" : "s");
  constexpr std::pair<Role, std::string_view> others[] = {
      {Role::dial, "dial"}, {Role::outside, "outside air"}, {Role::wind, "wind"}};
  for (const auto& [role, name] : others) {
    if (std::ranges::find(view.burn.probes, role, &Probe::role) != view.burn.probes.end()) {
      text += fmt::format(", {}", name);
    }
  }
  if (view.burn.clock_uncertainty_s > 0.0) {
    text += fmt::format("; clocks agree within {}", duration_text(view.burn.clock_uncertainty_s));
  }
  const double first = view.burn.first_s();
  const auto& live = view.report.live;
  const double last =
      std::min(view.burn.last_s(), live ? live->as_known_at_s.value_or(HUGE_VAL) : HUGE_VAL);
  return fmt::format("{}; {} to {}, {}", text, moment_text(view.burn, first),
                     moment_text(view.burn, last), duration_text(last - first));
}

double counted_s(const call::StintCall& stint) {
  if (!stint.counted_from_s || !stint.counted_to_s) return 0.0;
  return *stint.counted_to_s - *stint.counted_from_s - stint.excluded_s;
}

/// "A, B, B, A; 14 to 18 min of each counted".
std::string stints_text(const CallView& view) {
  std::string order;
  double least = 1e300;
  double most = 0.0;
  for (const auto& stint : view.report.stints) {
    order += (order.empty() ? "" : ", ") + setting_head(view, stint.setting);
    const double counted = counted_s(stint);
    if (counted <= 0.0) {
      order += fmt::format(" [{}]", stint.state == call::StintState::closed
                                        ? "not counted"
                                        : std::string(name_of(stint.state)));
      continue;
    }
    least = std::min(least, counted);
    most = std::max(most, counted);
  }
  if (most <= 0.0) return order;
  return order + "; " + duration_range_text(least, most) + " of each counted";
}

std::string soak_text(const CallView& view) {
  if (view.report.soaked_at_s) return moment_text(view.burn, *view.report.soaked_at_s);
  const bool hidden = std::ranges::any_of(view.report.troubles, [](const call::Trouble& trouble) {
    return trouble.code == call::TroubleCode::soak_unknown;
  });
  return hidden ? "cannot tell" : "not yet, as far as the readings go";
}

/// What each setting made of the swing, where one has half as much again as another.
std::string swings_that_differ(const CallView& view) {
  constexpr double plainly_more = 1.5;
  const auto& all = view.report.swing_by_setting;
  double least = HUGE_VAL, most = 0.0;
  std::string text;
  for (std::size_t k = 0; k < all.size(); ++k) {
    if (!all[k]) continue;
    least = std::min(least, all[k]->size_k);
    most = std::max(most, all[k]->size_k);
    text += fmt::format("; at {} {}", clean_name(view.report.settings[k]),
                        size_text(all[k]->size_k, view.scale));
    if (all[k]->period_s) text += " every " + duration_text(*all[k]->period_s);
  }
  return most > plainly_more * least ? text : "";
}

std::string swing_text(const CallView& view) {
  const auto& swing = view.report.swing;
  const auto size = size_text(swing.size_k, view.scale);
  const auto by_setting = swings_that_differ(view);
  if (!swing.period_s) return size + " peak to trough, no steady cycle" + by_setting;
  return fmt::format("{} peak to trough, every {}{}", size, duration_text(*swing.period_s),
                     by_setting);
}

std::string facts_text(const CallView& view) {
  auto text = entry("Read", read_text(view)) + entry("Stints", stints_text(view)) +
              entry("Soaked", soak_text(view)) + entry("Swing", swing_text(view)) +
              entry("Matters", size_text(view.burn.matters.kelvins(), view.scale) + " or more");
  for (int setting = 0; setting < std::ssize(view.report.settings); ++setting) {
    const auto head = setting_head(view, setting);
    const auto name = setting_name(view, setting);
    if (head != name) text += entry(head, name);
  }
  return text;
}

std::string trouble_list(const CallView& view) {
  if (view.report.troubles.empty()) return entry("Trouble", "none seen");
  std::vector<std::string> labels;
  int width = 0;
  for (const auto& trouble : view.report.troubles) {
    labels.push_back(fmt::format("  [{}]  ", labels.size() + 1));
    if (trouble.at_s) labels.back() += moment_text(view.burn, *trouble.at_s) + "  ";
    width = std::max(width, display_width(labels.back()));
  }
  std::string text = "Trouble\n";
  for (std::size_t i = 0; i < labels.size(); ++i) {
    text += entry(labels[i], trouble_text(view.report.troubles[i], view.burn, view.scale), width);
  }
  return text;
}

bool is_hopeless(const call::Change* change) {
  const bool open = change->word == call::Word::not_yet || change->word == call::Word::too_close;
  return open && !change->needs_stints;
}

/// Under the table: what its rows and words mean.
std::string legend_text(const CallView& view) {
  std::string text = "In brackets the 95 % range. ";
  for (const auto& tilt : view.report.tilts) {
    switch (tilt.axis) {
      case call::Axis::left_right:
        text += "Left-right is right minus left. ";
        break;
      case call::Axis::front_back:
        text += "Front-back is back minus front. ";
        break;
      case call::Axis::top_bottom:
        text += "Top-bottom is top minus bottom. ";
        break;
    }
  }
  text += "Spread is hottest minus coolest spot.";
  if (view.report.dial_gap) text += " Dial gap is what the dial shows minus the level.";
  const auto changes = worded_changes(view.report);
  const bool open = std::ranges::any_of(changes, [](const call::Change* change) {
    return change->word == call::Word::not_yet || change->word == call::Word::too_close;
  });
  if (open) text += " \"2 more\": two more stints would probably settle it.";
  if (std::ranges::any_of(changes, is_hopeless)) text += " \"Over 12\": probably none will.";
  std::string block;
  for (const auto& line : wrapped(text, page_width)) block += line + "\n";
  return block;
}

}  // namespace

std::string call_text(const CallView& view, bool explain) {
  auto text = title_text(view) + "\n" + sentence_text(view) + "\n" + live_text(view) +
              facts_text(view) + "\n" + call_table(view, explain) + "\n" + legend_text(view) +
              "\n" + trouble_list(view) + "\n" + entry("How sure", certainty_text(view));
  if (explain) text += "\n" + explain_text(view);
  return text;
}

}  // namespace pitwright::report
