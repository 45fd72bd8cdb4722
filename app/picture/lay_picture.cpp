#include "picture/lay_picture.h"

#include <algorithm>
#include <cmath>
#include <span>

#include <fmt/format.h>

#include "base/expects.h"
#include "picture/color_key.h"
#include "report/degrees.h"

namespace pitwright::picture {
namespace {

constexpr double tallest_field = 430.0;  // [px]

/// One map of the page: whose sheet, which grate.
struct Cell {
  const LaySheet* sheet;
  std::size_t grate;
  bool is_difference;
  std::size_t index;  ///< of the sheet among its kind
};

using Row = std::vector<Cell>;

double in_page(double kelvins, Scale unit) {
  return TemperatureDelta::from_kelvins(kelvins).in(unit);
}

double largest_of(const std::vector<LaySheet>& sheets, double at_least) {
  double largest = at_least;
  for (const auto& sheet : sheets) {
    for (const auto& map : sheet.grates) {
      for (const double value : map.value_k) largest = std::max(largest, std::abs(value));
      for (const auto& spot : map.spots) largest = std::max(largest, std::abs(spot.value_k));
    }
  }
  return largest;
}

Row cells_of(const std::vector<LaySheet>& sheets, std::size_t grate, bool is_difference) {
  Row row;
  for (std::size_t k = 0; k < sheets.size(); ++k)
    row.push_back({&sheets[k], grate, is_difference, k});
  return row;
}

/// Everything about the page while it is being written.
class LayPage {
 public:
  LayPage(const LayPicture& lay, Page page, std::string id, Head head)
      : lay_(lay),
        head_(head),
        page_(page),
        sizes_(sizes_of(page)),
        id_(std::move(id)),
        settings_scale_(setting_scale(lay)),
        differences_scale_(difference_scale(lay)) {}

  Picture draw() {
    put_hatch(svg_, id_);
    if (head_ == Head::told) y_ = put_titles(svg_, sizes_, lay_.title, lay_.under, lay_.sentence);
    page_ == Page::narrow ? put_narrow() : put_wide();
    put_foot();
    return finished_page(svg_, sizes_, y_, id_, lay_.title, description());
  }

 private:
  double inner() const { return sizes_.inner(); }
  double number_size() const {
    return page_ == Page::wide ? 15.0 : page_ == Page::narrow ? 14.0 : 12.0;
  }
  double gutter() const { return page_ == Page::column ? 14.0 : 30.0; }  ///< between columns [px]
  std::size_t grates() const { return lay_.settings.front().grates.size(); }

  void put_wide() {
    if (lay_.settings.size() == 1 && lay_.differences.empty()) {
      put_single();
      return;
    }
    const bool beside = lay_.settings.size() + lay_.differences.size() <= 3;
    const auto columns =
        beside ? lay_.settings.size() + lay_.differences.size() : lay_.settings.size();
    for (std::size_t grate = 0; grate < grates(); ++grate) {
      auto row = cells_of(lay_.settings, grate, false);
      if (beside)
        std::ranges::copy(cells_of(lay_.differences, grate, true), std::back_inserter(row));
      put_row(row, columns, grate == 0);
    }
    const double step = (inner() + gutter()) / static_cast<double>(columns);
    const double wide = step * static_cast<double>(lay_.settings.size()) - gutter();
    const double top = y_;
    put_setting_key(sizes_.margin, std::min(wide, 720.0));
    if (lay_.differences.empty()) return;
    if (beside) {
      const double after = y_;
      y_ = top;
      put_difference_key(sizes_.margin + wide + gutter(), inner() - wide - gutter());
      y_ = std::max(y_, after);
      return;
    }
    for (std::size_t first = 0; first < lay_.differences.size(); first += columns) {
      for (std::size_t grate = 0; grate < grates(); ++grate) {
        const auto all = cells_of(lay_.differences, grate, true);
        const auto last = std::min(first + columns, all.size());
        put_row(Row(all.begin() + static_cast<std::ptrdiff_t>(first),
                    all.begin() + static_cast<std::ptrdiff_t>(last)),
                columns, grate == 0);
      }
    }
    put_difference_key(sizes_.margin, std::min(wide, 720.0));
  }

  void put_single() {
    const std::size_t columns = std::min<std::size_t>(grates(), 3);
    for (std::size_t first = 0; first < grates(); first += columns) {
      Row row;
      for (std::size_t k = first; k < std::min(first + columns, grates()); ++k) {
        row.push_back({&lay_.settings.front(), k, false, 0});
      }
      put_row(row, columns, first == 0);
    }
    put_setting_key(sizes_.margin, std::min(inner(), 720.0));
  }

  void put_narrow() {
    for (std::size_t k = 0; k < lay_.settings.size(); ++k) {
      for (std::size_t grate = 0; grate < grates(); ++grate) {
        put_row({{&lay_.settings[k], grate, false, k}}, 1, grate == 0);
      }
    }
    put_setting_key(sizes_.margin, inner());
    for (std::size_t k = 0; k < lay_.differences.size(); ++k) {
      for (std::size_t grate = 0; grate < grates(); ++grate) {
        put_row({{&lay_.differences[k], grate, true, k}}, 1, grate == 0);
      }
    }
    if (!lay_.differences.empty()) put_difference_key(sizes_.margin, inner());
  }

  /// Maps side by side, with the heads of their sheets above where asked for.
  void put_row(const Row& row, std::size_t columns, bool heads) {
    const double step = (inner() + gutter()) / static_cast<double>(columns);
    const double width = step - gutter();
    y_ += 0.8 * sizes_.head;
    if (heads) {
      for (std::size_t k = 0; k < row.size(); ++k) {
        const bool repeated = k > 0 && row[k].sheet == row[k - 1].sheet;
        if (!repeated) put_head(row[k], {sizes_.margin + static_cast<double>(k) * step, y_}, width);
      }
      y_ += sizes_.head * 1.5 + (is_beside_chip(width) ? 0.5 : 2.3) * sizes_.text;
    }
    double tallest = 0.0;
    for (std::size_t k = 0; k < row.size(); ++k) {
      tallest = std::max(
          tallest, put_cell(row[k], {sizes_.margin + static_cast<double>(k) * step, y_}, width));
    }
    y_ += tallest;
  }

  double chip_width(const LaySheet& sheet) const {
    return text_width(sheet.head, {sizes_.head, true}) + 1.1 * sizes_.head;
  }

  /// Whether the line under every head has room beside it: a column is short of height.
  bool is_beside_chip(double width) const {
    if (page_ != Page::column) return false;
    const auto fits = [&](const LaySheet& sheet) {
      return chip_width(sheet) + 7.0 + text_width(sheet.under, {sizes_.text}) <= width;
    };
    return std::ranges::all_of(lay_.settings, fits) && std::ranges::all_of(lay_.differences, fits);
  }

  void put_head(const Cell& cell, Point at, double width) {
    put_chip(svg_, cell.sheet->head, at, width, sizes_.head, !cell.is_difference);
    const Lettering under{sizes_.text, false, Anchor::start, ink};
    if (is_beside_chip(width)) {
      const double after = chip_width(*cell.sheet) + 7.0;
      put_text(svg_, cut_to(cell.sheet->under, width - after, under),
               {at.x + after, at.y + 1.05 * sizes_.head}, under);
      return;
    }
    put_text(svg_, cut_to(cell.sheet->under, width, under),
             {at.x, at.y + 1.5 * sizes_.head + 1.3 * sizes_.text}, under);
  }

  /// The height the cell takes.
  double put_cell(const Cell& cell, Point at, double width) {
    const auto& map = cell.sheet->grates[cell.grate];
    const MapStyle style{id_, lay_.unit, lay_.unknown_k / 1.96, number_size(), sizes_.small};
    const auto margins = map_margins(style);
    double top = at.y;
    if (!map.grate.empty() && grates() > 1) {
      const Lettering name{sizes_.text, true};
      put_text(svg_, cut_to(map.grate, width / 2.0 - 30.0, name),
               {at.x + margins.left, top + margins.top - 6.0}, name);
    }
    double field_width = width - margins.left - margins.right;
    double field_height = field_width * drawn_aspect(map);
    if (field_height > tallest_field) {
      field_width *= tallest_field / field_height;
      field_height = tallest_field;
    }
    const Box field = {at.x + margins.left, top + margins.top, field_width, field_height};
    homeless_ +=
        draw_map(svg_, map, cell.is_difference ? differences_scale_ : settings_scale_, field, style,
                 {{"id", fmt::format("{}-{}-{}-{}", id_, cell.is_difference ? "change" : "setting",
                                     cell.index, cell.grate)},
                  {cell.is_difference ? "data-change" : "data-setting", cell.sheet->head},
                  {"data-grate", map.grate},
                  {"data-unit", lay_.unit == Scale::fahrenheit ? "F" : "C"}});
    return margins.top + field_height + margins.bottom;
  }

  void put_setting_key(double x, double width) {
    y_ += sizes_.text;
    const KeyWords words = page_ == Page::wide && width > 420
                               ? KeyWords{"cooler than the level", "hotter than the level"}
                               : KeyWords{"below the level", "above the level"};
    y_ += put_key(svg_, settings_scale_, lay_.unit, words, {x, y_}, width, sizes_.small,
                  {{"id", id_ + "-key"}});
  }

  void put_difference_key(double x, double width) {
    y_ += sizes_.text;
    y_ += put_key(svg_, differences_scale_, lay_.unit, lay_.difference_words, {x, y_}, width,
                  sizes_.small, {{"id", id_ + "-change-key"}});
  }

  bool any_mark(std::string_view kind) const {
    for (const auto& sheet : lay_.settings) {
      for (const auto& map : sheet.grates) {
        if (std::ranges::any_of(map.marks, [&](const auto& mark) { return mark.kind == kind; })) {
          return true;
        }
      }
    }
    return false;
  }

  void put_foot() {
    y_ += 1.2 * sizes_.text;
    const auto limit = report::size_text(lay_.unknown_k, lay_.unit);
    put_entry("hatch", fmt::format("hatched: not known to within ±{} (95 %)", limit));
    if (any_mark("usable")) put_entry("usable", "dashed frame: " + lay_.usable);
    if (any_mark("next")) put_entry("next", "a thermometer here would tell most");
    std::vector<std::string> lines;
    if (head_ == Head::told) lines = lay_.notes;
    if (homeless_ > 0) {
      lines.push_back(fmt::format("{} numbers found no room; their dots are there.", homeless_));
    }
    for (const auto& line : lines) {
      y_ = put_lines(svg_, line, {sizes_.margin, y_ + 0.2 * sizes_.small}, inner(),
                     {sizes_.small, false, Anchor::start, soft_ink});
    }
    y_ += sizes_.margin - sizes_.small;
  }

  void put_entry(std::string_view kind, const std::string& words) {
    const double x = sizes_.margin, side = 1.2 * sizes_.small;
    if (kind == "next") {
      svg_.leaf("circle", {{"cx", px(x + side)},
                           {"cy", px(y_ - 0.35 * sizes_.small)},
                           {"r", "6"},
                           {"fill", "none"},
                           {"stroke", std::string(ink)},
                           {"stroke-width", "2"},
                           {"stroke-dasharray", "3 2"}});
    } else {
      Attributes box = {{"x", px(x)},
                        {"y", px(y_ - side + 2.0)},
                        {"width", px(2.0 * side)},
                        {"height", px(side)},
                        {"stroke", std::string(ink)}};
      const bool hatch = kind == "hatch";
      box.emplace_back("fill", hatch ? "url(#" + id_ + "-hatch)" : "none");
      box.emplace_back("stroke-width", hatch ? "1" : "2");
      if (!hatch) box.emplace_back("stroke-dasharray", "6 4");
      svg_.leaf("rect", box);
    }
    y_ = put_lines(svg_, words, {x + 2.0 * side + 8.0, y_}, inner() - 2.0 * side - 8.0,
                   {sizes_.small});
    y_ += 0.3 * sizes_.small;
  }

  std::string description() const {
    std::string text = lay_.sentence;
    const auto tell = [&](const std::vector<LaySheet>& sheets, std::string_view verb) {
      for (const auto& sheet : sheets) {
        text += fmt::format("{}{}: {}.", text.empty() ? "" : " ", sheet.head, sheet.under);
        for (const auto& map : sheet.grates) {
          for (const auto& spot : map.spots) {
            text += fmt::format(" {} {} {}{}.", spot.name, verb,
                                report::number_text(in_page(spot.value_k, lay_.unit), 0, true),
                                report::scale_mark(lay_.unit));
          }
        }
      }
    };
    tell(lay_.settings, "runs");
    tell(lay_.differences, "changes by");
    return text;
  }

  const LayPicture& lay_;
  Head head_;
  Page page_;
  Sizes sizes_;
  std::string id_;
  HeatScale settings_scale_, differences_scale_;
  Svg svg_;
  double y_ = 0.0;
  int homeless_ = 0;
};

}  // namespace

HeatScale setting_scale(const LayPicture& lay) {
  return HeatScale(in_page(largest_of(lay.settings, lay.matters_k), lay.unit));
}

HeatScale difference_scale(const LayPicture& lay) {
  return HeatScale(in_page(largest_of(lay.differences, lay.matters_k), lay.unit));
}

Picture draw_lay(const LayPicture& lay, Page page, const std::string& id, Head head) {
  expects(!lay.settings.empty() && !lay.settings.front().grates.empty());
  for (const auto* sheets : {&lay.settings, &lay.differences}) {
    for (const auto& sheet : *sheets) {
      expects(sheet.grates.size() == lay.settings.front().grates.size());
    }
  }
  return LayPage(lay, page, id, head).draw();
}

}  // namespace pitwright::picture
