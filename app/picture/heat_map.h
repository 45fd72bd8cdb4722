#pragma once

#include <optional>
#include <string>
#include <vector>

#include "picture/colors.h"
#include "picture/lettering.h"
#include "picture/svg.h"
#include "units/temperature.h"

namespace pitwright::picture {

/// A number printed where it was measured.
struct MapSpot {
  std::string name;
  double x_m, y_m;
  double value_k;
};

/// A place of the map worth pointing at, with a word beside it.
struct MapMark {
  std::string kind;                             ///< of data-mark: "next", "usable"
  double x_low_m, x_high_m, y_low_m, y_high_m;  ///< a point where low and high agree
};

/// Heat over one grate seen from above, the door at the bottom: a field of differences [K] and how
/// well it is known.
/// Shapes: values and sds y_m.size() x x_m.size(), row-major, one row a y; x_m, y_m ascend.
struct HeatMap {
  std::string grate;
  double x0_m = 0.0, y0_m = 0.0, width_m = 0.0, depth_m = 0.0;
  std::vector<double> x_m, y_m;
  std::vector<double> value_k, sd_k;
  std::vector<MapSpot> spots;
  std::vector<MapMark> marks;
};

/// How maps of one picture are drawn.
struct MapStyle {
  std::string id;                  ///< prefix of ids and of the hatch
  Scale unit = Scale::fahrenheit;  ///< of numbers; lengths are in inches beside °F, cm beside °C
  std::optional<double> unknown_sd_k;  ///< hatched where the sd is larger
  double number_size = 14.0;           ///< lettering of the measured numbers [px]
  double small_size = 12.0;            ///< of everything else
};

/// Room a map needs around its field [px].
struct MapMargins {
  double left, right, top, bottom;
};
MapMargins map_margins(const MapStyle& style);

/// Depth over width of a map's field as drawn, kept between flat and tall shapes that still read.
double drawn_aspect(const HeatMap& map);

/// Draws the field into `field` with its scale, hatch, spots and axes. Attributes go to its group.
/// Returns how many numbers found no room.
int draw_map(Svg& svg, const HeatMap& map, const HeatScale& colors, const Box& field,
             const MapStyle& style, const Attributes& attributes);

/// The hatch pattern that `draw_map` uses; once a picture.
void put_hatch(Svg& svg, const std::string& id);

}  // namespace pitwright::picture
