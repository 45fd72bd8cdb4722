#include "picture/heat_map.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/expects.h"
#include "picture/axis.h"
#include "picture/bands.h"
#include "picture/labels.h"
#include "report/degrees.h"

namespace pitwright::picture {
namespace {

constexpr double dot_radius = 3.5;

double degrees_per_kelvin(Scale unit) {
  return unit == Scale::fahrenheit ? 1.8 : 1.0;
}

/// From metres on the grate to the page.
class Ground {
 public:
  Ground(const HeatMap& map, const Box& field) : map_(map), field_(field) {}

  double x(double x_m) const { return field_.x + field_.width * (x_m - map_.x0_m) / map_.width_m; }
  double y(double y_m) const {
    return field_.bottom() - field_.height * (y_m - map_.y0_m) / map_.depth_m;
  }
  Point at(double x_m, double y_m) const { return {x(x_m), y(y_m)}; }

 private:
  const HeatMap& map_;
  const Box& field_;
};

/// The map's field with a margin, so that it reaches the edge of the grate: the half cell beyond
/// the outermost nodes goes on straight.
struct Padded {
  int nx, ny;
  std::vector<double> x_m, y_m, values;

  Lattice lattice() const { return {nx, ny, values}; }
};

std::vector<double> with_ends(const std::vector<double>& nodes, double low, double high) {
  std::vector<double> all = {std::min(low, nodes.front())};
  all.insert(all.end(), nodes.begin(), nodes.end());
  all.push_back(std::max(high, nodes.back()));
  return all;
}

/// One value a node in, one a place of with_ends out.
std::vector<double> straight_on(const std::vector<double>& places,
                                const std::vector<double>& values) {
  const auto n = values.size();
  const auto beyond = [&](std::size_t end, std::size_t inner, std::size_t outer_place) {
    if (n == 1) return values[0];
    const double slope = (values[end] - values[inner]) / (places[end + 1] - places[inner + 1]);
    return values[end] + slope * (places[outer_place] - places[end + 1]);
  };
  std::vector<double> all = {beyond(0, 1, 0)};
  all.insert(all.end(), values.begin(), values.end());
  all.push_back(beyond(n - 1, n - 2, n + 1));
  return all;
}

Padded padded(const HeatMap& map, const std::vector<double>& values) {
  const auto nx = map.x_m.size(), ny = map.y_m.size();
  Padded result{static_cast<int>(nx) + 2, static_cast<int>(ny) + 2,
                with_ends(map.x_m, map.x0_m, map.x0_m + map.width_m),
                with_ends(map.y_m, map.y0_m, map.y0_m + map.depth_m),
                std::vector<double>((nx + 2) * (ny + 2))};
  std::vector<std::vector<double>> rows;
  for (std::size_t j = 0; j < ny; ++j) {
    const auto start = values.begin() + static_cast<std::ptrdiff_t>(j * nx);
    rows.push_back(straight_on(result.x_m, {start, start + static_cast<std::ptrdiff_t>(nx)}));
  }
  for (std::size_t i = 0; i < nx + 2; ++i) {
    std::vector<double> column;
    for (const auto& row : rows) column.push_back(row[i]);
    const auto whole = straight_on(result.y_m, column);
    for (std::size_t j = 0; j < ny + 2; ++j) result.values[j * (nx + 2) + i] = whole[j];
  }
  return result;
}

double between(const std::vector<double>& nodes, double index) {
  const auto low = std::min(static_cast<std::size_t>(index), nodes.size() - 2);
  return nodes[low] + (index - static_cast<double>(low)) * (nodes[low + 1] - nodes[low]);
}

/// Rings as the `d` of a path, to a tenth of a pixel.
std::string path_of(const std::vector<Ring>& rings, const Padded& field, const Ground& ground) {
  constexpr double tolerance_px = 0.25;
  std::string d;
  for (const auto& ring : rings) {
    Ring on_page;
    for (const auto& point : ring) {
      on_page.push_back(
          {ground.x(between(field.x_m, point.i)), ground.y(between(field.y_m, point.j))});
    }
    char command = 'M';
    for (const auto& point : simplified(on_page, tolerance_px)) {
      d += fmt::format("{}{:.1f} {:.1f}", command, point.i, point.j);
      command = 'L';
    }
    d += 'Z';
  }
  return d;
}

void put_bands(Svg& svg, const HeatMap& map, const HeatScale& colors, const Box& box,
               const MapStyle& style) {
  const auto field = padded(map, map.value_k);
  const Ground ground(map, box);
  const double per_kelvin = degrees_per_kelvin(style.unit);
  const auto limits = colors.limits();
  svg.leaf("rect", {{"x", px(box.x)},
                    {"y", px(box.y)},
                    {"width", px(box.width)},
                    {"height", px(box.height)},
                    {"fill", colors.color(0)},
                    {"data-from", px(limits[0])}});
  for (std::size_t k = 1; k + 1 < limits.size(); ++k) {
    const auto rings = region_above(field.lattice(), limits[k] / per_kelvin);
    if (rings.empty()) break;
    const bool zero = static_cast<int>(k) == colors.bands();
    Attributes attributes = {{"d", path_of(rings, field, ground)},
                             {"fill", colors.color(static_cast<int>(k))},
                             {"fill-rule", "evenodd"},
                             {"stroke", std::string(contour_ink)},
                             {"stroke-width", zero ? "1.6" : (limits[k] < 0 ? "1.1" : "0.7")},
                             {"data-from", px(limits[k])}};
    if (limits[k] < 0) attributes.emplace_back("stroke-dasharray", "4 3");
    svg.leaf("path", attributes);
  }
}

void put_unknown(Svg& svg, const HeatMap& map, const Box& box, const MapStyle& style) {
  if (!style.unknown_sd_k || map.sd_k.empty()) return;
  const auto field = padded(map, map.sd_k);
  const auto rings = region_above(field.lattice(), *style.unknown_sd_k);
  if (rings.empty()) return;
  svg.leaf("path", {{"d", path_of(rings, field, Ground(map, box))},
                    {"fill", "url(#" + style.id + "-hatch)"},
                    {"fill-rule", "evenodd"},
                    {"stroke", "none"},
                    {"data-unknown", "yes"}});
}

void put_mark(Svg& svg, const MapMark& mark, const Ground& ground) {
  const Attributes line = {{"fill", "none"}, {"stroke", std::string(ink)}};
  const auto with = [&](Attributes more) {
    more.insert(more.end(), line.begin(), line.end());
    more.emplace_back("data-mark", mark.kind);
    return more;
  };
  const auto low = ground.at(mark.x_low_m, mark.y_low_m),
             high = ground.at(mark.x_high_m, mark.y_high_m);
  if (mark.x_low_m == mark.x_high_m) {
    svg.leaf("circle", with({{"cx", px(low.x)},
                             {"cy", px(low.y)},
                             {"r", "7"},
                             {"stroke-width", "2"},
                             {"stroke-dasharray", "3 2"}}));
    return;
  }
  constexpr double inset = 3.0;  // to be seen where it is the whole grate
  svg.leaf("rect", with({{"x", px(low.x + inset)},
                         {"y", px(high.y + inset)},
                         {"width", px(std::max(1.0, high.x - low.x - 2.0 * inset))},
                         {"height", px(std::max(1.0, low.y - high.y - 2.0 * inset))},
                         {"rx", "6"},
                         {"stroke-width", "2"},
                         {"stroke-dasharray", "9 5"}}));
}

void put_dot(Svg& svg, Point at) {
  svg.leaf("circle", {{"cx", px(at.x)},
                      {"cy", px(at.y)},
                      {"r", px(dot_radius)},
                      {"fill", std::string(ink)},
                      {"stroke", std::string(paper)},
                      {"stroke-width", "1.2"}});
}

void put_number(Svg& svg, const std::string& number, const Box& box, Point dot,
                const Lettering& letters) {
  if (needs_leader(box, dot, dot_radius)) {
    const Point near = {std::clamp(dot.x, box.x, box.right()),
                        std::clamp(dot.y, box.y, box.bottom())};
    put_line(svg, dot, near, {ink});
  }
  svg.leaf("rect", {{"x", px(box.x)},
                    {"y", px(box.y)},
                    {"width", px(box.width)},
                    {"height", px(box.height)},
                    {"rx", px(box.height / 2.0)},
                    {"fill", std::string(paper)},
                    {"fill-opacity", "0.9"}});
  constexpr double base_line = 0.36;  // of the size, below the middle
  put_text(svg, number,
           {box.x + box.width / 2.0, box.y + box.height / 2.0 + base_line * letters.size}, letters);
}

/// Returns how many numbers found no room.
int put_spots(Svg& svg, const HeatMap& map, const Box& box, const MapStyle& style) {
  const Ground ground(map, box);
  const Lettering letters{style.number_size, true, Anchor::middle, ink};
  std::vector<Label> labels;
  std::vector<std::string> numbers;
  for (const auto& spot : map.spots) {
    numbers.push_back(report::number_text(spot.value_k * degrees_per_kelvin(style.unit), 0, true));
    labels.push_back({ground.at(spot.x_m, spot.y_m),
                      text_width(numbers.back(), letters) + 0.8 * letters.size,
                      1.25 * letters.size});
  }
  const auto places = place_labels(labels, box, dot_radius);
  int homeless = 0;
  for (std::size_t k = 0; k < map.spots.size(); ++k) {
    const auto& spot = map.spots[k];
    svg.open("g", {{"data-spot", spot.name},
                   {"data-value", px(spot.value_k * degrees_per_kelvin(style.unit))},
                   {"data-x-m", px(spot.x_m)},
                   {"data-y-m", px(spot.y_m)}});
    svg.leaf("title", {}, spot.name + ": " + numbers[k] + report::scale_mark(style.unit));
    if (places[k]) {
      put_number(svg, numbers[k], *places[k], labels[k].point, letters);
    } else {
      ++homeless;
    }
    put_dot(svg, labels[k].point);
    svg.close();
  }
  return homeless;
}

struct LengthUnit {
  double per_m;
  std::string_view mark;
};

LengthUnit length_unit(Scale unit) {
  return unit == Scale::fahrenheit ? LengthUnit{1.0 / 0.0254, " in"} : LengthUnit{100.0, " cm"};
}

constexpr double tick_length = 4.0;

void put_axes(Svg& svg, const HeatMap& map, const Box& box, const MapStyle& style) {
  const Ground ground(map, box);
  const auto unit = length_unit(style.unit);
  const Lettering letters{style.small_size, false, Anchor::middle, soft_ink};
  const auto across = ticks(map.x0_m * unit.per_m, (map.x0_m + map.width_m) * unit.per_m,
                            std::max(2, static_cast<int>(box.width / 70.0)));
  const double row = box.bottom() + tick_length + 1.1 * letters.size;
  for (const double tick : across) {
    const double x = ground.x(tick / unit.per_m);
    put_line(svg, {x, box.bottom()}, {x, box.bottom() + tick_length}, {soft_ink});
    const bool last = tick == across.back();
    put_text(svg, px(tick) + std::string(last ? unit.mark : ""), {x, row}, letters);
  }
  const auto deep = ticks(map.y0_m * unit.per_m, (map.y0_m + map.depth_m) * unit.per_m,
                          std::max(2, static_cast<int>(box.height / 50.0)));
  Lettering beside = letters;
  beside.anchor = Anchor::end;
  for (const double tick : deep) {
    const double y = ground.y(tick / unit.per_m);
    put_line(svg, {box.x - tick_length, y}, {box.x, y}, {soft_ink});
    put_text(svg, px(tick), {box.x - tick_length - 3.0, y + 0.36 * letters.size}, beside);
  }
}

/// Which way is which: the words a cook uses, standing before the door.
void put_sides(Svg& svg, const Box& box, const MapStyle& style) {
  Lettering letters{style.small_size, false, Anchor::middle, soft_ink};
  const double middle = box.x + box.width / 2.0;
  put_text(svg, "back", {middle, box.y - 6.0}, letters);
  const double row = box.bottom() + tick_length + 2.55 * letters.size;
  letters.anchor = Anchor::start;
  put_text(svg, "← left", {box.x, row}, letters);
  letters.anchor = Anchor::end;
  put_text(svg, "right →", {box.right(), row}, letters);
  letters.anchor = Anchor::middle;
  letters.bold = true;
  letters.color = ink;
  put_text(svg, "door side", {middle, row}, letters);
}

void put_frame(Svg& svg, const Box& box) {
  svg.leaf("rect", {{"x", px(box.x)},
                    {"y", px(box.y)},
                    {"width", px(box.width)},
                    {"height", px(box.height)},
                    {"fill", "none"},
                    {"stroke", std::string(ink)},
                    {"stroke-width", "1.5"}});
  constexpr double door_share = 0.3;
  const double half = door_share * box.width / 2.0, middle = box.x + box.width / 2.0;
  put_line(svg, {middle - half, box.bottom()}, {middle + half, box.bottom()}, {ink, 5.0});
}

}  // namespace

MapMargins map_margins(const MapStyle& style) {
  const double widest_tick = text_width("100", {.size = style.small_size});
  return {widest_tick + tick_length + 4.0, 1.6 * style.small_size, style.small_size + 8.0,
          tick_length + 3.0 * style.small_size};
}

double drawn_aspect(const HeatMap& map) {
  constexpr double flattest = 0.3, tallest = 1.4;
  return std::clamp(map.depth_m / map.width_m, flattest, tallest);
}

int draw_map(Svg& svg, const HeatMap& map, const HeatScale& colors, const Box& field,
             const MapStyle& style, const Attributes& attributes) {
  expects(map.width_m > 0.0 && map.depth_m > 0.0 && !map.x_m.empty() && !map.y_m.empty());
  expects(map.value_k.size() == map.x_m.size() * map.y_m.size());
  expects(map.sd_k.empty() || map.sd_k.size() == map.value_k.size());
  svg.open("g", attributes);
  put_bands(svg, map, colors, field, style);
  put_unknown(svg, map, field, style);
  const Ground ground(map, field);
  for (const auto& mark : map.marks) put_mark(svg, mark, ground);
  put_frame(svg, field);
  put_axes(svg, map, field, style);
  put_sides(svg, field, style);
  const int homeless = put_spots(svg, map, field, style);
  svg.close();
  return homeless;
}

void put_hatch(Svg& svg, const std::string& id) {
  svg.open("defs");
  svg.open(
      "pattern",
      {{"id", id + "-hatch"}, {"width", "8"}, {"height", "8"}, {"patternUnits", "userSpaceOnUse"}});
  svg.leaf(
      "rect",
      {{"width", "8"}, {"height", "8"}, {"fill", std::string(paper)}, {"fill-opacity", "0.4"}});
  svg.leaf("path", {{"d", "M-2 2L2 -2M0 8L8 0M6 10L10 6"},
                    {"stroke", std::string(ink)},
                    {"stroke-opacity", "0.6"},
                    {"stroke-width", "1"}});
  svg.close();
  svg.close();
}

}  // namespace pitwright::picture
