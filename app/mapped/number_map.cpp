#include "mapped/number_map.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "report/degrees.h"
#include "report/sizes.h"
#include "report/text_width.h"

namespace pitwright::mapped {
namespace {

constexpr int canvas_width = 68;     ///< inside the frame [columns]
constexpr int margin = 7;            ///< left of the frame
constexpr double cell_aspect = 2.1;  ///< a terminal's cell is about twice as high as wide
constexpr int number_step = 8, row_step = 2;

/// Rows of single-column signs; numbers are set whole or not at all.
class Canvas {
 public:
  Canvas(int width, int height)
      : width_(width),
        cells_(static_cast<std::size_t>(height), Row(static_cast<std::size_t>(width), " ")) {}

  int height() const { return static_cast<int>(cells_.size()); }

  /// Sets a text with its middle at a column, one blank clear on both sides; false where another is
  /// in the way.
  bool set(const std::string& text, int middle, int row) {
    const int length = report::display_width(text);
    const int start = std::clamp(middle - length / 2, 0, width_ - length);
    if (row < 0 || row >= height()) return false;
    auto& line = cells_[static_cast<std::size_t>(row)];
    for (int c = std::max(0, start - 1); c < std::min(width_, start + length + 1); ++c)
      if (line[static_cast<std::size_t>(c)] != " ") return false;
    std::size_t at = static_cast<std::size_t>(start);
    for (std::size_t k = 0; k < text.size();) {
      std::size_t end = k + 1;
      while (end < text.size() && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) ++end;
      line[at++] = text.substr(k, end - k);
      k = end;
    }
    return true;
  }

  std::string row(int index) const {
    std::string text;
    for (const auto& cell : cells_[static_cast<std::size_t>(index)]) text += cell;
    return text;
  }

 private:
  using Row = std::vector<std::string>;
  int width_;
  std::vector<Row> cells_;
};

int rows_of(const lay::GrateLay& ground) {
  constexpr int fewest = 5, most = 11;
  const double rows = canvas_width * ground.depth_m / ground.width_m / cell_aspect;
  const int odd = 2 * static_cast<int>(std::lround((rows - 1.0) / 2.0)) + 1;
  return std::clamp(odd, fewest, most);
}

std::size_t nearest(const std::vector<double>& nodes, double value) {
  const auto found =
      std::ranges::min_element(nodes, {}, [value](double node) { return std::abs(node - value); });
  return static_cast<std::size_t>(found - nodes.begin());
}

std::string run_text(double kelvins, Scale scale) {
  return report::number_text(TemperatureDelta::from_kelvins(kelvins).in(scale), 0, true);
}

/// The measured ones first, each as near to its place as there is room; then the grid.
void put_measured(Canvas& canvas, const lay::GrateLay& ground,
                  const std::vector<MapNumber>& measured, Scale scale) {
  for (const auto& one : measured) {
    const int column = static_cast<int>((one.x_m - ground.x0_m) / ground.width_m * canvas_width);
    const int row = std::clamp(
        static_cast<int>((1.0 - (one.y_m - ground.y0_m) / ground.depth_m) * canvas.height()), 0,
        canvas.height() - 1);
    const auto text = "[" + run_text(one.run_k, scale) + "]";
    constexpr std::pair<int, int> shifts[] = {{0, 0},  {0, 1},  {0, -1}, {7, 0},   {-7, 0},
                                              {7, 1},  {-7, 1}, {7, -1}, {-7, -1}, {0, 2},
                                              {0, -2}, {14, 0}, {-14, 0}};
    for (const auto& [across, down] : shifts)
      if (canvas.set(text, column + across, row + down)) break;
  }
}

void put_field(Canvas& canvas, const lay::GrateLay& ground, const lay::Grid& value_k,
               const lay::Grid& sd_k, double unknown_k, Scale scale) {
  for (int row = 0; row < canvas.height(); row += row_step)
    for (int column = number_step / 2; column < canvas_width; column += number_step) {
      const double x = ground.x0_m + ground.width_m * (column + 0.5) / canvas_width;
      const double y = ground.y0_m + ground.depth_m * (1.0 - (row + 0.5) / canvas.height());
      const auto ix = nearest(ground.x_m, x), iy = nearest(ground.y_m, y);
      const bool unknown = 1.96 * sd_k[iy][ix] > unknown_k;
      canvas.set(unknown ? "·" : run_text(value_k[iy][ix], scale), column, row);
    }
}

std::string beside(double y_m, Scale scale) {
  return report::padded_left(report::length_text(y_m, scale), margin - 1) + " ";
}

}  // namespace

std::string number_map(const lay::GrateLay& ground, const lay::Grid& value_k, const lay::Grid& sd_k,
                       const std::vector<MapNumber>& measured, double unknown_k, Scale scale) {
  Canvas canvas(canvas_width, rows_of(ground));
  put_measured(canvas, ground, measured, scale);
  put_field(canvas, ground, value_k, sd_k, unknown_k, scale);
  const std::string blank(margin, ' ');
  const auto edge = "+" + std::string(canvas_width, '-') + "+\n";
  std::string text = beside(ground.y0_m + ground.depth_m, scale) + edge;
  for (int row = 0; row < canvas.height(); ++row) text += blank + "|" + canvas.row(row) + "|\n";
  text += beside(ground.y0_m, scale) + edge;
  const auto left = report::length_text(ground.x0_m, scale) + ", left";
  const auto right = "right, " + report::length_text(ground.x0_m + ground.width_m, scale);
  const std::string door = "door side";
  const int middle = (canvas_width + 2 - static_cast<int>(door.size())) / 2;
  auto foot = report::padded_right(left, middle) + door;
  foot = report::padded_right(foot, canvas_width + 2 - report::display_width(right)) + right;
  return text + blank + foot + "\n";
}

}  // namespace pitwright::mapped
