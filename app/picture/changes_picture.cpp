#include "picture/changes_picture.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "picture/axis.h"
#include "picture/call_titles.h"
#include "picture/word_mark.h"
#include "report/call_words.h"
#include "report/degrees.h"
#include "report/sentence.h"
#include "report/text_width.h"

namespace pitwright::picture {
namespace {

using call::Change;
using call::Word;

/// A line of the picture: a heading where there is no change.
struct Line {
  std::string label;
  const Change* change = nullptr;
};

using Pair = std::pair<int, int>;

std::vector<Pair> pairs_of(const report::CallView& view) {
  std::vector<Pair> pairs;
  for (const auto& change : view.report.level.changes) pairs.emplace_back(change.from, change.to);
  return pairs;
}

std::string toward(call::Axis axis) {
  switch (axis) {
    case call::Axis::left_right:
      return "toward the right";
    case call::Axis::front_back:
      return "toward the back";
    case call::Axis::top_bottom:
      return "toward the top";
  }
  std::unreachable();
}

/// All lines of one pair of settings, headings only above lines that follow.
std::vector<Line> lines_of(const report::CallView& view, Pair pair) {
  std::vector<Line> lines;
  const auto add = [&](const std::string& heading, const std::vector<Line>& some) {
    std::vector<Line> told;
    for (const auto& line : some) {
      if (line.change != nullptr && line.change->estimate) told.push_back(line);
    }
    if (told.empty()) return;
    lines.push_back({heading});
    lines.insert(lines.end(), told.begin(), told.end());
  };
  const auto of = [&](const call::Quantity& quantity) {
    return report::change_between(quantity, pair.first, pair.second);
  };
  const auto& report = view.report;
  std::vector<Line> whole = {{"level", of(report.level)}, {"spread", of(report.spread)}};
  if (report.dial_gap) whole.push_back({"dial gap", of(*report.dial_gap)});
  add("The whole chamber", whole);
  std::vector<Line> tilts, spots;
  for (const auto& tilt : report.tilts) tilts.push_back({toward(tilt.axis), of(tilt.tilt)});
  add("Where the heat moved", tilts);
  for (const auto& spot : report.spots) {
    spots.push_back({report::clean_name(spot.spot), of(spot.runs)});
  }
  add("How each spot runs, against the level", spots);
  return lines;
}

double in_page(double kelvins, Scale scale) {
  return TemperatureDelta::from_kelvins(kelvins).in(scale);
}

std::string word_text(const Change& change) {
  return change.word == Word::muddled ? "muddled" : report::word_cell(change);
}

std::string number_and_range(const Change& change, Scale scale) {
  auto shown = report::shown_difference(*change.estimate, scale);
  return report::number_text(shown.value, shown.decimals, true) + " (" + report::range_text(shown) +
         ")";
}

/// How far the picture's scale reaches either way [degrees of the page]: every range and what
/// matters. A word's range may reach further and is cut at the edge.
double reach_of(const report::CallView& view, const std::vector<Pair>& pairs) {
  constexpr double beyond_matters = 1.6;
  double reach = beyond_matters * in_page(view.burn.matters.kelvins(), view.scale);
  for (const auto& pair : pairs) {
    for (const auto& line : lines_of(view, pair)) {
      if (line.change == nullptr) continue;
      const auto& estimate = *line.change->estimate;
      for (const double end : {estimate.low, estimate.high}) {
        if (std::isfinite(end)) reach = std::max(reach, 1.08 * std::abs(in_page(end, view.scale)));
      }
    }
  }
  return reach;
}

class ChangesPage {
 public:
  ChangesPage(const report::CallView& view, Page page, std::string id, Head head)
      : view_(view),
        wide_(page != Page::narrow),
        paper_(page == Page::column),
        head_(head),
        sizes_(sizes_of(page)),
        id_(std::move(id)),
        pairs_(pairs_of(view)),
        reach_(reach_of(view, pairs_)) {
    plot_x_ = paper_ ? 128.0 : wide_ ? 262.0 : sizes_.margin + 8.0;
    plot_width_ = paper_ ? 360.0 : wide_ ? 560.0 : sizes_.width - 2 * plot_x_;
  }

  Picture draw() {
    const auto title = "What each change did";
    auto facts = burn_title(view_);
    facts += (facts.empty() ? "" : " · ") + burn_facts(view_);
    if (head_ == Head::told) y_ = put_titles(svg_, sizes_, title, facts, report::sentence(view_));
    if (pairs_.empty()) {
      y_ = put_lines(svg_, "One setting only: there is no change to show.",
                     {sizes_.margin, y_ + 2 * sizes_.text}, sizes_.inner(), {sizes_.text});
    }
    for (std::size_t k = 0; k < pairs_.size(); ++k) put_pair(k);
    put_foot();
    return finished_page(svg_, sizes_, y_ + 0.5 * sizes_.margin, id_, title, description());
  }

 private:
  double x(double degrees) const {
    return plot_x_ + plot_width_ * (degrees + reach_) / (2.0 * reach_);
  }
  double row_height() const { return paper_ ? 15.5 : wide_ ? 27.0 : 46.0; }
  double heading_height() const { return (paper_ ? 1.8 : 2.1) * sizes_.text; }
  double bar_y(double top) const { return wide_ ? top + 0.5 * row_height() : top + 31.0; }

  std::string pair_name(Pair pair) const {
    return report::setting_name(view_, pair.first) + " → " +
           report::setting_name(view_, pair.second);
  }

  void put_pair(std::size_t index) {
    const auto pair = pairs_[index];
    const auto lines = lines_of(view_, pair);
    svg_.open("g", {{"id", fmt::format("{}-pair-{}", id_, index)},
                    {"data-from", report::setting_name(view_, pair.first)},
                    {"data-to", report::setting_name(view_, pair.second)}});
    y_ += 0.9 * sizes_.head;
    y_ += put_chip(svg_, pair_name(pair), {sizes_.margin, y_}, sizes_.inner(), sizes_.head, false);
    y_ += 0.6 * sizes_.text;
    put_scale();
    int row = 0;
    for (std::size_t k = 0; k < lines.size(); ++k) {
      if (lines[k].change == nullptr) {
        put_text(svg_, lines[k].label, {sizes_.margin, y_ + (paper_ ? 1.3 : 1.5) * sizes_.text},
                 {sizes_.text, true});
        y_ += heading_height();
        if (wide_) put_ground(y_, row_height() * rows_after(lines, k));
      } else {
        constexpr double half = 10.0;
        if (!wide_) put_ground(bar_y(y_) - half, 2 * half);
        put_row(lines[k], fmt::format("{}-{}-{}", id_, index, row++));
        y_ += row_height();
      }
    }
    y_ += 4.0;
    svg_.close();
  }

  /// How many lines with a change follow the heading at `k`.
  static int rows_after(const std::vector<Line>& lines, std::size_t k) {
    int count = 0;
    for (++k; k < lines.size() && lines[k].change != nullptr; ++k) ++count;
    return count;
  }

  std::vector<double> scale_ticks() const { return ticks(-reach_, reach_, wide_ ? 9 : 6); }

  void put_scale() {
    const Lettering letters{sizes_.small, false, Anchor::middle, soft_ink};
    const int decimals = reach_ < 2.0 ? 1 : 0;
    for (const double tick : scale_ticks()) {
      put_text(svg_,
               tick == 0.0 ? "0 " + report::scale_mark(view_.scale)
                           : report::number_text(tick, decimals, true),
               {x(tick), y_ + sizes_.small}, letters);
    }
    y_ += 1.3 * sizes_.small;
  }

  /// The shaded band, the zero line and the grid behind some lines.
  void put_ground(double top, double height) {
    const double matters = in_page(view_.burn.matters.kelvins(), view_.scale);
    svg_.leaf("rect", {{"x", px(x(-matters))},
                       {"y", px(top)},
                       {"width", px(x(matters) - x(-matters))},
                       {"height", px(height)},
                       {"fill", "#e9ebef"},
                       {"data-matters", px(matters)}});
    for (const double tick : scale_ticks()) {
      const bool zero = tick == 0.0;
      put_line(svg_, {x(tick), top}, {x(tick), top + height},
               {zero ? ink : hair, zero ? 1.4 : 0.8});
    }
    for (const double edge : {-matters, matters}) {
      put_line(svg_, {x(edge), top}, {x(edge), top + height}, {soft_ink, 1.0, "5 4"});
    }
  }

  void put_row(const Line& line, const std::string& id) {
    const auto& change = *line.change;
    svg_.open("g", {{"id", id},
                    {"data-label", line.label},
                    {"data-value", px(in_page(change.estimate->value, view_.scale))},
                    {"data-low", px(in_page(change.estimate->low, view_.scale))},
                    {"data-high", px(in_page(change.estimate->high, view_.scale))},
                    {"data-call", std::string(name_of(change.word))}});
    wide_ ? put_wide_words(line) : put_narrow_words(line);
    const double y = bar_y(y_);
    put_bar(change.word_low, change.word_high, y, {soft_ink, 1.6});
    put_bar(change.estimate->low, change.estimate->high, y,
            {change.word == Word::muddled ? soft_ink : ink, 5.0});
    put_word_mark(svg_, change.word,
                  {x(std::clamp(in_page(change.estimate->value, view_.scale), -reach_, reach_)), y},
                  change.estimate->value);
    svg_.close();
  }

  void put_wide_words(const Line& line) {
    const double base = bar_y(y_) + 0.36 * sizes_.text;
    const Lettering letters{sizes_.text};
    put_text(svg_, cut_to(line.label, plot_x_ - sizes_.margin - 14.0, letters),
             {sizes_.margin, base}, letters);
    const double size = paper_ ? sizes_.text - 0.5 : 13.5;
    const double after = plot_x_ + plot_width_ + (paper_ ? 8.0 : 14.0);
    put_text(svg_, number_and_range(*line.change, view_.scale), {after, base}, {size});
    put_text(svg_, word_text(*line.change), {after + (paper_ ? 104.0 : 150.0), base},
             {size, is_settled(line)});
  }

  void put_narrow_words(const Line& line) {
    const double base = y_ + 15.0;
    const Lettering letters{sizes_.small}, strong{sizes_.small, true};
    const auto word = word_text(*line.change);
    const Lettering at_end{sizes_.small, is_settled(line), Anchor::end};
    put_text(svg_, word, {sizes_.width - sizes_.margin, base}, at_end);
    const auto number = number_and_range(*line.change, view_.scale);
    const double room =
        sizes_.inner() - text_width(word, at_end) - text_width(number, letters) - 24.0;
    const auto label = cut_to(line.label, room, strong);
    put_text(svg_, label, {sizes_.margin, base}, strong);
    put_text(svg_, number, {sizes_.margin + text_width(label, strong) + 10.0, base}, letters);
  }

  static bool is_settled(const Line& line) {
    return line.change->word == Word::clear || line.change->word == Word::no_odds;
  }

  /// A range as a line; an arrow's head where it goes on beyond the edge.
  void put_bar(double low_k, double high_k, double y, const Stroke& stroke) {
    const auto cut = [&](double kelvins) {
      const double degrees = in_page(kelvins, view_.scale);
      return std::clamp(std::isnan(degrees) ? 0.0 : degrees, -reach_, reach_);
    };
    const double low = cut(low_k), high = cut(high_k);
    put_line(svg_, {x(low), y}, {x(high), y}, stroke);
    constexpr double half = 4.0;
    for (const double end : {low, high}) {
      const double side = end <= -reach_ ? 1.0 : (end >= reach_ ? -1.0 : 0.0);
      if (side == 0.0) {
        put_line(svg_, {x(end), y - half}, {x(end), y + half}, {stroke.color, 1.6});
      } else {
        put_line(svg_, {x(end), y}, {x(end) + side * 6.0, y - half}, {stroke.color, 1.6});
        put_line(svg_, {x(end), y}, {x(end) + side * 6.0, y + half}, {stroke.color, 1.6});
      }
    }
  }

  void put_foot() {
    y_ += 1.4 * sizes_.text;
    const Lettering letters{sizes_.small};
    double at = sizes_.margin;
    svg_.open("g", {{"id", id_ + "-key"}});
    for (const auto word :
         {Word::clear, Word::no_odds, Word::too_close, Word::not_yet, Word::muddled}) {
      const std::string name(name_of(word));
      const double width = 24.0 + text_width(name, letters) + 18.0;
      if (at + width > sizes_.width - sizes_.margin) {
        at = sizes_.margin;
        y_ += 1.7 * sizes_.small;
      }
      put_word_mark(svg_, word, {at + 8.0, y_ - 0.36 * sizes_.small}, 0.0);
      put_text(svg_, name, {at + 24.0, y_}, letters);
      at += width;
    }
    svg_.close();
    y_ += 1.9 * sizes_.small;
    const auto matters = report::size_text(view_.burn.matters.kelvins(), view_.scale);
    y_ = put_lines(
        svg_,
        fmt::format("Thick bar: 95 % range of the change. Thin bar: the range the word is "
                    "read from. Shaded: within ±{}, too small to act on.",
                    matters),
        {sizes_.margin, y_}, sizes_.inner(), {sizes_.small, false, Anchor::start, soft_ink});
  }

  std::string description() const {
    auto text = report::sentence(view_);
    for (const auto& pair : pairs_) {
      text += " " + pair_name(pair) + ":";
      for (const auto& line : lines_of(view_, pair)) {
        if (line.change == nullptr) continue;
        text += fmt::format(" {} {}, {}.", line.label, number_and_range(*line.change, view_.scale),
                            word_text(*line.change));
      }
    }
    return text;
  }

  const report::CallView& view_;
  bool wide_, paper_;
  Head head_;
  Sizes sizes_;
  std::string id_;
  std::vector<Pair> pairs_;
  double reach_;
  double plot_x_ = 0.0, plot_width_ = 0.0;
  Svg svg_;
  double y_ = 0.0;
};

}  // namespace

Picture draw_changes(const report::CallView& view, Page page, const std::string& id, Head head) {
  return ChangesPage(view, page, id, head).draw();
}

}  // namespace pitwright::picture
