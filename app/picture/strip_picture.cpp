#include "picture/strip_picture.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/expects.h"
#include "picture/axis.h"
#include "report/degrees.h"

namespace pitwright::picture {
namespace {

using call::StintState;

constexpr std::string_view level_color = "#b45309", dial_color = "#57606a";
constexpr double state_height = 14.0;

/// Tints of settings, told apart in print; the letter says which.
std::string_view tint_of(int setting) {
  constexpr std::string_view tints[] = {"#dfe3e8", "#b9c1cb", "#f1f2f4", "#98a3b0"};
  return tints[setting % 4];
}

class StripPage {
 public:
  StripPage(const StripPicture& strip, Page page, std::string id, Head head)
      : strip_(strip), page_(page), head_(head), sizes_(sizes_of(page)), id_(std::move(id)) {
    find_degrees();
    left_ = sizes_.margin + text_width("000", {sizes_.small}) + 10.0;
    right_ = sizes_.width - sizes_.margin;
  }

  Picture draw() {
    put_state_hatch();
    if (head_ == Head::told)
      y_ = put_titles(svg_, sizes_, strip_.title, strip_.under, "") + 0.3 * sizes_.text;
    y_ = std::max(y_, 2.0);  // the frame of the first lane has a width
    const double top = y_;
    y_ += lane_height() + state_height + 6.0;
    put_plot();
    put_stints(top);
    put_events();
    put_clock();
    put_foot();
    return finished_page(svg_, sizes_, y_ + std::max(0.4 * sizes_.margin, 0.5 * sizes_.small), id_,
                         strip_.title, description());
  }

 private:
  double x(double s) const {
    const double span = std::max(strip_.to_s - strip_.from_s, 1.0);
    return left_ + (right_ - left_) * std::clamp((s - strip_.from_s) / span, 0.0, 1.0);
  }
  double degrees(double celsius) const {
    return Temperature::from_celsius(celsius).in(strip_.unit);
  }
  double y_at(double degrees_of_page) const {
    return plot_bottom_ - (plot_bottom_ - plot_top_) * (degrees_of_page - low_) / (high_ - low_);
  }

  /// The span of the plot: the curve while it counts and around it, not the whole way up from cold.
  void find_degrees() {
    std::vector<double> told;
    for (std::size_t j = 0; j < strip_.seconds.size(); ++j) {
      const bool in_stint = std::ranges::any_of(strip_.stints, [&](const StripStint& stint) {
        return strip_.seconds[j] >= stint.from_s && strip_.seconds[j] <= stint.to_s;
      });
      if (!in_stint) continue;
      if (std::isfinite(strip_.level_c[j])) told.push_back(degrees(strip_.level_c[j]));
      if (!strip_.dial_c.empty() && std::isfinite(strip_.dial_c[j])) {
        told.push_back(degrees(strip_.dial_c[j]));
      }
    }
    if (told.empty()) return;
    const auto [low, high] = std::ranges::minmax(told);
    const double margin = std::max(0.08 * (high - low), 3.0);
    low_ = low - margin;
    high_ = high + margin;
  }

  bool has_curve() const { return low_ < high_; }

  void put_state_hatch() {
    svg_.open("defs");
    svg_.open("pattern", {{"id", id_ + "-spoiled"},
                          {"width", "8"},
                          {"height", "8"},
                          {"patternUnits", "userSpaceOnUse"}});
    svg_.leaf("path",
              {{"d", "M0 0L8 8M8 0L0 8"}, {"stroke", std::string(ink)}, {"stroke-width", "1"}});
    svg_.close();
    svg_.open("pattern", {{"id", id_ + "-settling"},
                          {"width", "6"},
                          {"height", "6"},
                          {"patternUnits", "userSpaceOnUse"}});
    svg_.leaf("path",
              {{"d", "M0 6L6 0"}, {"stroke", std::string(soft_ink)}, {"stroke-width", "1"}});
    svg_.close();
    svg_.close();
  }

  void put_rect(const Box& box, std::string_view fill, std::string_view stroke = "none",
                Attributes more = {}) {
    Attributes attributes = {{"x", px(box.x)},
                             {"y", px(box.y)},
                             {"width", px(box.width)},
                             {"height", px(box.height)},
                             {"fill", std::string(fill)},
                             {"stroke", std::string(stroke)}};
    attributes.insert(attributes.end(), more.begin(), more.end());
    svg_.leaf("rect", attributes);
  }

  double plot_height() const {
    return page_ == Page::wide ? 270.0 : page_ == Page::column ? 130.0 : 200.0;
  }

  Lettering name_letters() const { return {sizes_.head, true, Anchor::middle}; }

  bool fits(const StripStint& stint) const {
    return text_width(stint.setting, name_letters()) < x(stint.to_s) - x(stint.from_s) - 6.0;
  }

  /// Low where every name fits on its stint; room for three small lines where one does not.
  double lane_height() const {
    return std::ranges::all_of(strip_.stints, [&](const auto& stint) { return fits(stint); })
               ? 34.0
               : 52.0;
  }

  /// The setting's name on its stint: large, or in up to three small lines.
  void put_name(const std::string& name, const Box& box) {
    const Point middle = {box.x + box.width / 2.0, box.y + box.height / 2.0};
    const double room = box.width - 6.0;
    if (text_width(name, name_letters()) < room) {
      put_text(svg_, name, {middle.x, middle.y + 0.36 * sizes_.head}, name_letters());
      return;
    }
    const Lettering letters{sizes_.small, false, Anchor::middle};
    if (room < text_width("…", letters)) return;
    auto lines = text_lines(name, room, letters);
    constexpr std::size_t most = 3;
    if (lines.size() > most) {
      lines.resize(most);
      lines.back() += " …";
    }
    const double height = 1.2 * letters.size;
    double y =
        middle.y + 0.36 * letters.size - 0.5 * height * (static_cast<double>(lines.size()) - 1.0);
    for (const auto& line : lines) {
      put_text(svg_, cut_to(line, room, letters), {middle.x, y}, letters);
      y += height;
    }
  }

  /// Letters in a lane, and under them which part of each stint counts.
  void put_stints(double top) {
    const double state_top = top + lane_height();
    int index = 0;
    for (const auto& stint : strip_.stints) {
      const double from = x(stint.from_s), to = x(stint.to_s);
      svg_.open("g", {{"id", fmt::format("{}-stint-{}", id_, index++)},
                      {"data-setting", stint.setting},
                      {"data-state", std::string(name_of(stint.state))},
                      {"data-from-s", px(stint.from_s)},
                      {"data-to-s", px(stint.to_s)}});
      put_rect({from, top, to - from, lane_height()}, tint_of(stint.setting_index), ink);
      put_name(stint.setting, {from, top, to - from, lane_height()});
      put_states(stint, from, to, state_top);
      svg_.close();
    }
  }

  void put_states(const StripStint& stint, double from, double to, double top) {
    if (stint.state == StintState::spoiled) {
      put_rect({from, top, to - from, state_height}, "url(#" + id_ + "-spoiled)", ink);
      return;
    }
    put_rect({from, top, to - from, state_height}, "url(#" + id_ + "-settling)", ink);
    if (!stint.counted_from_s || !stint.counted_to_s) return;
    const double counted_from = x(*stint.counted_from_s), counted_to = x(*stint.counted_to_s);
    put_rect({counted_from, top, counted_to - counted_from, state_height}, ink, ink,
             {{"data-counted", "yes"}});
  }

  void put_plot() {
    plot_top_ = y_;
    plot_bottom_ = y_ + (has_curve() ? plot_height() : 24.0);
    for (const auto& stint : strip_.stints) {
      if (!stint.counted_from_s || !stint.counted_to_s) continue;
      const double from = x(*stint.counted_from_s), to = x(*stint.counted_to_s);
      put_rect({from, plot_top_, to - from, plot_bottom_ - plot_top_}, "#f3f4f6");
    }
    if (has_curve()) {
      const Lettering letters{sizes_.small, false, Anchor::end, soft_ink};
      for (const double tick : ticks(low_, high_, 6)) {
        put_line(svg_, {left_, y_at(tick)}, {right_, y_at(tick)}, {hair, 0.8});
        put_text(svg_, report::number_text(tick, high_ - low_ < 4.0 ? 1 : 0, false),
                 {left_ - 6.0, y_at(tick) + 0.36 * sizes_.small}, letters);
      }
      put_curve(strip_.dial_c, {dial_color, 1.0, "3 2"}, "dial");
      put_curve(strip_.level_c, {level_color, page_ == Page::wide ? 1.4 : 1.1}, "level");
      put_means();
    }
    y_ = plot_bottom_;
  }

  /// The curve a column of the page at a time: where many moments share a column, its lowest and
  /// highest are joined, so that a swing keeps its size.
  void put_curve(const std::vector<double>& celsius, const Stroke& stroke, std::string_view name) {
    if (celsius.size() != strip_.seconds.size()) return;
    std::string d;
    bool lifted = true;
    std::size_t j = 0;
    const auto add = [&](double at, double value) {
      const double clipped = std::clamp(value, low_, high_);
      d += fmt::format("{}{:.1f} {:.1f}", lifted ? 'M' : 'L', at, y_at(clipped));
      lifted = false;
    };
    while (j < celsius.size()) {
      const double column = std::floor(x(strip_.seconds[j]));
      double lowest = HUGE_VAL, highest = -HUGE_VAL;
      bool rising = false;
      for (; j < celsius.size() && std::floor(x(strip_.seconds[j])) == column; ++j) {
        const double value = degrees(celsius[j]);
        if (!std::isfinite(value)) continue;
        rising = value >= highest;
        lowest = std::min(lowest, value);
        highest = std::max(highest, value);
      }
      const bool outside = highest < low_ || lowest > high_;
      if (lowest > highest || outside) {
        lifted = true;
        continue;
      }
      add(column + 0.5, rising ? lowest : highest);
      if (lowest < highest) add(column + 0.5, rising ? highest : lowest);
    }
    if (d.empty()) return;
    Attributes path = {{"id", id_ + "-" + std::string(name)},
                       {"d", d},
                       {"fill", "none"},
                       {"stroke", std::string(stroke.color)},
                       {"stroke-width", px(stroke.width)},
                       {"stroke-linejoin", "round"}};
    if (!stroke.dashes.empty()) path.emplace_back("stroke-dasharray", stroke.dashes);
    svg_.leaf("path", path);
  }

  /// The mean of what counts of every stint as a bar with its number.
  void put_means() {
    const Lettering letters{page_ == Page::wide     ? 14.0
                            : page_ == Page::column ? 10.5
                                                    : 12.0,
                            true, Anchor::middle};
    std::vector<Box> taken;
    for (const auto& stint : strip_.stints) {
      if (!stint.mean_c) continue;
      const double mean = degrees(*stint.mean_c), y = y_at(mean);
      const double from = x(*stint.counted_from_s), to = x(*stint.counted_to_s);
      put_line(svg_, {from, y}, {to, y}, {ink, 3.5});
      const auto number = report::number_text(mean, 0, false) + "°";
      const double half = text_width(number, letters) / 2.0 + 4.0;
      const double middle = std::clamp((from + to) / 2.0, left_ + half, right_ - half);
      Box box = {middle - half, y - 1.4 * letters.size - 4.0, 2 * half, 1.25 * letters.size};
      if (box.y < plot_top_) box.y = y + 5.0;
      if (std::ranges::any_of(taken, [&](const Box& other) { return overlap(box, other); }))
        continue;
      taken.push_back(box);
      put_rect(box, paper, "none",
               {{"rx", "4"}, {"fill-opacity", "0.88"}, {"data-mean", px(mean)}});
      put_text(svg_, number, {middle, box.y + box.height / 2.0 + 0.36 * letters.size}, letters);
    }
  }

  /// A tick for every event; its word in the first of three rows that has room.
  void put_events() {
    if (strip_.events.empty() && !strip_.soaked_at_s) return;
    constexpr int rows = 3;
    const Lettering letters{sizes_.small, false, Anchor::middle, ink};
    double ends[rows] = {-1e9, -1e9, -1e9};
    int used = 0;
    auto marks = strip_.events;
    if (strip_.soaked_at_s) marks.push_back({*strip_.soaked_at_s, {}, "soaked"});
    std::ranges::stable_sort(marks, {}, &StripEvent::at_s);
    for (const auto& mark : marks) {
      svg_.open("g", {{"data-event", mark.what}, {"data-at-s", px(mark.at_s)}});
      const double at = x(mark.at_s);
      put_line(svg_, {at, plot_top_}, {at, plot_bottom_ + 5.0}, {ink, 1.0, "2 3"});
      svg_.leaf("path",
                {{"d", fmt::format("M{0:.1f} {1:.1f}L{2:.1f} {3:.1f}L{4:.1f} {3:.1f}Z", at,
                                   plot_bottom_ + 1.0, at - 4.0, plot_bottom_ + 9.0, at + 4.0)},
                 {"fill", std::string(ink)}});
      const double half = text_width(mark.what, letters) / 2.0;
      const double middle = std::clamp(at, left_ + half, std::max(left_ + half, right_ - half));
      for (int row = 0; row < rows; ++row) {
        if (middle - half < ends[row] + 6.0) continue;
        ends[row] = middle + half;
        used = std::max(used, row + 1);
        put_text(svg_, mark.what, {middle, plot_bottom_ + 12.0 + (1.25 * row + 0.9) * sizes_.small},
                 letters);
        break;
      }
      svg_.close();
    }
    y_ = plot_bottom_ + 14.0 + 1.25 * used * sizes_.small;
  }

  void put_clock() {
    const Lettering letters{sizes_.small, false, Anchor::middle, soft_ink};
    put_line(svg_, {left_, y_ + 4.0}, {right_, y_ + 4.0}, {soft_ink, 1.0});
    double end = -1e9;
    for (const auto& tick : strip_.clock) {
      const double at = x(tick.at_s), half = text_width(tick.text, letters) / 2.0;
      if (at - half < end + 8.0 || at + half > sizes_.width - 2.0) continue;
      end = at + half;
      put_line(svg_, {at, y_ + 4.0}, {at, y_ + 9.0}, {soft_ink, 1.0});
      put_text(svg_, tick.text, {at, y_ + 10.0 + sizes_.small}, letters);
    }
    y_ += 10.0 + 2.4 * sizes_.small;
    put_text(svg_, strip_.clock_words, {right_, y_}, {sizes_.small, false, Anchor::end, soft_ink});
  }

  /// One entry of the key; wraps to the next line where there is no room.
  void put_entry(double& at, std::string_view fill, const std::string& words) {
    const Lettering letters{sizes_.small};
    const double swatch = 26.0, width = swatch + 8.0 + text_width(words, letters) + 20.0;
    if (at > sizes_.margin && at + width - 20.0 > sizes_.width - sizes_.margin) {
      at = sizes_.margin;
      y_ += 1.7 * sizes_.small;
    }
    if (fill == level_color || fill == dial_color) {
      const double y = y_ - 0.36 * sizes_.small;
      put_line(svg_, {at, y}, {at + swatch, y},
               {fill, 1.8, fill == dial_color ? std::string_view("3 2") : std::string_view()});
    } else if (fill == "mean") {
      put_line(svg_, {at, y_ - 0.36 * sizes_.small}, {at + swatch, y_ - 0.36 * sizes_.small},
               {ink, 3.5});
    } else {
      put_rect({at, y_ - sizes_.small + 1.0, swatch, sizes_.small}, fill, ink);
    }
    put_text(svg_, words, {at + swatch + 8.0, y_}, letters);
    at += width;
  }

  void put_foot() {
    y_ += 1.8 * sizes_.small;
    double at = sizes_.margin;
    put_entry(at, ink, "counts");
    put_entry(at, "url(#" + id_ + "-settling)", "heating or settling: does not count");
    if (std::ranges::any_of(strip_.stints,
                            [](const auto& stint) { return stint.state == StintState::spoiled; })) {
      put_entry(at, "url(#" + id_ + "-spoiled)", "spoiled");
    }
    if (has_curve()) {
      put_entry(at, level_color, "level" + unit_words());
      if (!strip_.dial_c.empty()) put_entry(at, dial_color, "the pit's own dial");
      put_entry(at, "mean", "mean of what counts");
    }
    if (strip_.swing.empty()) return;
    y_ += 1.8 * sizes_.small;
    y_ = put_lines(svg_, "Swing: " + strip_.swing + ".", {sizes_.margin, y_}, sizes_.inner(),
                   {sizes_.small, false, Anchor::start, soft_ink});
  }

  std::string unit_words() const { return ", " + report::scale_mark(strip_.unit); }

  std::string description() const {
    std::string text = strip_.under + ". Stints in order:";
    for (const auto& stint : strip_.stints) {
      text += fmt::format(" {}, {}", stint.setting, name_of(stint.state));
      if (stint.mean_c) {
        text += fmt::format(", mean {}{}", report::number_text(degrees(*stint.mean_c), 0, false),
                            report::scale_mark(strip_.unit));
      }
      text += ";";
    }
    return text;
  }

  const StripPicture& strip_;
  Page page_;
  Head head_;
  Sizes sizes_;
  std::string id_;
  double low_ = 0.0, high_ = 0.0;
  double left_ = 0.0, right_ = 0.0, plot_top_ = 0.0, plot_bottom_ = 0.0;
  Svg svg_;
  double y_ = 0.0;
};

}  // namespace

Picture draw_strip(const StripPicture& strip, Page page, const std::string& id, Head head) {
  expects(strip.level_c.size() == strip.seconds.size());
  return StripPage(strip, page, id, head).draw();
}

}  // namespace pitwright::picture
