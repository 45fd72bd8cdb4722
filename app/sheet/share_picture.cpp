#include "sheet/share_picture.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "mapped/lay_maps.h"
#include "mapped/lay_view.h"
#include "picture/axis.h"
#include "picture/color_key.h"
#include "picture/lay_picture.h"
#include "picture/page.h"
#include "picture/word_mark.h"
#include "report/call_words.h"
#include "report/degrees.h"
#include "report/moments.h"
#include "report/sentence.h"
#include "report/text_width.h"
#include "sheet/facts.h"
#include "sheet/words_moved.h"

namespace pitwright::sheet {
namespace {

using namespace picture;  // NOLINT(google-build-using-namespace): this file draws

// Half the pixels of the PNG, which is drawn at two a px.
constexpr double margin = 24.0, gutter = 18.0, head_size = 14.0, small = 9.0;

struct Panel {
  const LaySheet* sheet;
  bool is_difference;
};

/// The grate most thermometers lie on.
std::size_t told_grate(const LayPicture& lay) {
  const auto& grates = lay.settings.front().grates;
  const auto most =
      std::ranges::max_element(grates, {}, [](const auto& map) { return map.spots.size(); });
  return static_cast<std::size_t>(most - grates.begin());
}

std::vector<Panel> panels_of(const LayPicture& lay) {
  constexpr std::size_t most = 3;
  std::vector<Panel> panels;
  for (const auto& sheet : lay.settings)
    if (panels.size() < most) panels.push_back({&sheet, false});
  if (panels.size() == 2 && !lay.differences.empty())
    panels.push_back({&lay.differences.front(), true});
  return panels;
}

class SharePage {
 public:
  SharePage(const SheetView& view, ShareShape shape)
      : view_(view),
        call_(view.call()),
        square_(shape == ShareShape::square),
        width_(square_ ? 600.0 : 800.0),
        height_(square_ ? 600.0 : 450.0) {
    if (!view.lay) return;
    const auto mapped = mapped::view_of(call_, *view.lay, {});
    if (mapped) lay_ = mapped::picture_of(*mapped);
  }

  Picture draw() {
    svg_.leaf("rect",
              {{"width", px(width_)}, {"height", px(height_)}, {"fill", std::string(paper)}});
    svg_.leaf("rect", {{"width", px(width_)}, {"height", "6"}, {"fill", std::string(ink)}});
    put_words();
    if (!lay_.settings.empty()) put_hatch(svg_, "share");
    lay_.settings.empty() ? put_changes({margin, y_, inner(), bottom() - y_}) : put_maps();
    if (!square_ || lay_.settings.empty()) put_facts_line();
    return svg_.finish("share", width_, height_, heading_text(view_), description());
  }

 private:
  double inner() const { return width_ - 2.0 * margin; }
  double bottom() const {
    return height_ - margin - (!square_ || lay_.settings.empty() ? 26.0 : 0.0);
  }

  /// Heading and sentence; the sentence as large as fits its share of the picture.
  void put_words() {
    y_ = margin + 14.0;
    const Lettering head{15.0, true};
    put_text(svg_, cut_to(heading_text(view_), inner(), head), {margin, y_}, head);
    y_ += 8.0;
    const auto text = report::sentence(call_);
    const double room = square_ ? 134.0 : 92.0;
    constexpr double line = 1.35, largest = 17.0, least = 9.5, step = 0.5;
    double size = largest;
    while (size > least &&
           line * size * static_cast<double>(text_lines(text, inner(), {size}).size()) > room)
      size -= step;
    auto lines = text_lines(text, inner(), {size});
    const auto fit = std::max<std::size_t>(1, static_cast<std::size_t>(room / (line * size)));
    if (lines.size() > fit) {
      lines.resize(fit);
      lines.back() = cut_to(lines.back() + " …", inner(), {size});
    }
    for (const auto& one : lines) {
      y_ += line * size;
      put_text(svg_, one, {margin, y_}, {size});
    }
    y_ += 14.0;
  }

  void put_maps() {
    const auto panels = panels_of(lay_);
    const std::size_t columns = square_ ? std::min<std::size_t>(panels.size(), 2) : panels.size();
    const bool facts_beside = square_ && panels.size() == 3;
    const std::size_t rows = square_ ? (panels.size() + 1) / 2 : 1;
    const double foot = facts_beside ? 0.0 : 48.0 + (square_ ? 40.0 : 0.0);
    const double cell_width = (inner() - gutter * static_cast<double>(columns - 1)) /
                              static_cast<double>(std::max<std::size_t>(columns, 1));
    const double cell_height =
        (bottom() - y_ - foot - 8.0 * static_cast<double>(rows - 1)) / static_cast<double>(rows);
    const double top = y_;
    for (std::size_t k = 0; k < panels.size(); ++k) {
      const double column = static_cast<double>(k % columns),
                   row = static_cast<double>(k / columns);
      put_panel(panels[k], k,
                {margin + column * (cell_width + gutter), top + row * (cell_height + 8.0),
                 cell_width, cell_height});
    }
    const bool difference = panels.back().is_difference;
    if (facts_beside) {
      const Box side = {margin + cell_width + gutter, top + cell_height + 8.0, cell_width,
                        cell_height};
      put_facts(side, put_keys({side.x, side.y}, side.width, 0.0, difference));
      return;
    }
    y_ = bottom() - foot + 8.0;
    if (difference)
      put_keys({margin, y_}, cell_width * 2.0 + gutter, cell_width, true);
    else
      put_keys({margin, y_}, std::min(inner(), 420.0), 0.0, false);
    if (square_) put_facts({margin, y_ + 44.0, inner(), 40.0}, y_ + 52.0);
  }

  /// Chip, level and map of one grate in its box.
  void put_panel(const Panel& panel, std::size_t index, const Box& box) {
    const auto grate = told_grate(lay_);
    auto map = panel.sheet->grates[grate];
    map.marks.clear();  // no room to say what they mean
    double y = box.y;
    y += put_chip(svg_, panel.sheet->head, {box.x, y}, 0.5 * box.width, head_size,
                  !panel.is_difference);
    const Lettering under{10.0};
    const double chip = text_width(panel.sheet->head, {head_size, true}) + 1.1 * head_size;
    auto words = panel.sheet->under;
    if (panel.sheet->grates.size() > 1 && !map.grate.empty()) words += ", " + map.grate + " grate";
    const double after = std::min(chip, 0.5 * box.width) + 8.0;
    put_text(svg_, cut_to(words, box.width - after, under), {box.x + after, y - 0.42 * head_size},
             under);
    const MapStyle style{"share", view_.scale, lay_.unknown_k / 1.96, 13.0, small};
    const auto margins = map_margins(style);
    double field_width = box.width - margins.left - margins.right;
    const double room = box.bottom() - y - margins.top - margins.bottom;
    double field_height = field_width * drawn_aspect(map);
    if (field_height > room) {
      field_width *= room / field_height;
      field_height = room;
    }
    draw_map(svg_, map, panel.is_difference ? difference_scale(lay_) : setting_scale(lay_),
             {box.x + margins.left, y + margins.top, field_width, field_height}, style,
             {{"id", fmt::format("share-map-{}", index)}});
  }

  /// The keys one under the other (`beside` 0) or beside each other; the y below them.
  double put_keys(Point at, double width, double beside, bool difference) {
    double y = at.y;
    y += put_key(svg_, setting_scale(lay_), view_.scale, {"below the level", "above the level"}, at,
                 width, small, {{"id", "share-key"}});
    if (!difference) return y;
    const Point next = beside > 0.0 ? Point{at.x + width + gutter, at.y} : Point{at.x, y + 8.0};
    const double taken =
        put_key(svg_, difference_scale(lay_), view_.scale, {"cooler now", "hotter now"}, next,
                beside > 0.0 ? beside : width, small, {{"id", "share-change-key"}});
    return beside > 0.0 ? y : next.y + taken;
  }

  std::vector<std::string> facts() const {
    std::vector<std::string> all = {
        cooker_text(view_),
        report::day_text(view_.burn),
        repeats_text(view_),
        thermometers_text(view_),
        outside_text(view_),
        "numbers: each spot against the level, " + report::scale_mark(view_.scale) +
            (lay_.settings.empty() ? std::string()
                                   : "; hatched: not known to within ±" +
                                         report::size_text(lay_.unknown_k, view_.scale))};
    std::erase(all, "");
    return all;
  }

  void put_facts(const Box& box, double y) {
    const Lettering letters{10.5, false, Anchor::start, ink};
    y += 14.0;
    for (const auto& fact : facts()) {
      if (y > height_ - margin + 8.0) return;
      y = put_lines(svg_, fact, {box.x, y}, box.width, letters);
    }
  }

  void put_facts_line() {
    std::string line;
    for (const auto& fact : facts()) line += (line.empty() ? "" : " · ") + fact;
    const Lettering letters{9.5, false, Anchor::start, soft_ink};
    auto lines = text_lines(line, inner(), letters);
    if (lines.size() > 2) lines.resize(2);
    double y = height_ - margin - (lines.size() > 1 ? 4.0 : 0.0);
    for (const auto& one : lines) {
      put_text(svg_, cut_to(one, inner(), letters), {margin, y}, letters);
      y += 1.3 * letters.size;
    }
  }

  /// Changes as dots with their ranges, the chamber's first, as many as there is room for.
  void put_changes(const Box& box) {
    constexpr double row = 22.0;
    const double label = 0.3 * box.width, plot = 0.36 * box.width;
    const double matters =
        TemperatureDelta::from_kelvins(view_.burn.matters.kelvins()).in(view_.scale);
    double reach = 1.6 * matters;
    std::vector<std::pair<std::string, const call::Change*>> rows;
    for (const auto& question : questions_of(view_.report))
      for (const auto& change : question.quantity->changes) {
        if (!change.estimate) continue;
        rows.emplace_back(report::clean_name(question.name) + ", " +
                              report::setting_name(call_, change.from) + " → " +
                              report::setting_name(call_, change.to),
                          &change);
      }
    rows.resize(std::min(rows.size(), static_cast<std::size_t>(box.height / row)));
    const auto in_page = [&](double k) {
      return TemperatureDelta::from_kelvins(k).in(view_.scale);
    };
    for (const auto& [name, change] : rows)
      reach = std::max({reach, 1.1 * std::abs(in_page(change->estimate->low)),
                        1.1 * std::abs(in_page(change->estimate->high))});
    const double left = box.x + label;
    const auto x = [&](double degrees) {
      return left + plot * (std::clamp(degrees, -reach, reach) + reach) / (2.0 * reach);
    };
    const double height = row * static_cast<double>(rows.size());
    svg_.leaf("rect", {{"x", px(x(-matters))},
                       {"y", px(box.y)},
                       {"width", px(x(matters) - x(-matters))},
                       {"height", px(height)},
                       {"fill", "#e9ebef"}});
    put_line(svg_, {x(0.0), box.y}, {x(0.0), box.y + height}, {ink, 1.2});
    double y = box.y + 0.5 * row;
    const Lettering letters{10.5};
    for (const auto& [name, change] : rows) {
      put_text(svg_, cut_to(name, label - 8.0, letters), {box.x, y + 4.0}, letters);
      put_line(svg_, {x(in_page(change->estimate->low)), y},
               {x(in_page(change->estimate->high)), y}, {ink, 4.0});
      put_word_mark(svg_, change->word, {x(in_page(change->estimate->value)), y},
                    change->estimate->value);
      const auto shown = report::shown_difference(*change->estimate, view_.scale);
      const auto text =
          fmt::format("{} ({})  {}", report::number_text(shown.value, shown.decimals, true),
                      report::range_text(shown), std::string(name_of(change->word)));
      put_text(svg_, cut_to(text, box.right() - left - plot - 10.0, letters),
               {left + plot + 10.0, y + 4.0}, letters);
      y += row;
    }
  }

  std::string description() const {
    auto text = report::sentence(call_);
    for (const auto& fact : facts()) text += " " + fact + ".";
    return text;
  }

  const SheetView& view_;
  report::CallView call_;
  bool square_;
  double width_, height_;
  LayPicture lay_;
  Svg svg_;
  double y_ = 0.0;
};

}  // namespace

Picture draw_share(const SheetView& view, ShareShape shape) {
  return SharePage(view, shape).draw();
}

}  // namespace pitwright::sheet
