#include "picture/labels.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace pitwright::picture {
namespace {

Box around(Point center, double half_width, double half_height) {
  return {center.x - half_width, center.y - half_height, 2 * half_width, 2 * half_height};
}

bool inside(const Box& box, const Box& bounds) {
  return box.x >= bounds.x && box.right() <= bounds.right() && box.y >= bounds.y &&
         box.bottom() <= bounds.bottom();
}

/// Tries places round the point, outward: above first, then below, then the sides.
class Crowd {
 public:
  Crowd(const std::vector<Label>& labels, const Box& bounds, double radius)
      : labels_(labels), bounds_(bounds), radius_(radius) {}

  std::optional<Box> place(const Label& label) {
    constexpr int rings = 14, directions = 16;
    constexpr double first_gap = 2.0, ring_step = 7.0;
    for (int ring = 0; ring < rings; ++ring) {
      const double out = radius_ + first_gap + ring_step * ring;
      for (int k = 0; k < directions; ++k) {
        const auto box = at_direction(label, out, turn(k, directions));
        if (!inside(box, bounds_) || covers(box)) continue;
        taken_.push_back(box);
        return box;
      }
    }
    return std::nullopt;
  }

 private:
  /// 0, 180, then in steps to both sides.
  static double turn(int k, int directions) {
    if (k < 2) return k * std::numbers::pi;
    const double step = 2.0 * std::numbers::pi / directions;
    const int rung = (k - 2) / 2 + 1;
    const double size = rung < directions / 2 ? rung * step : std::numbers::pi;
    return k % 2 == 0 ? size : -size;
  }

  /// The label's box just clear of a circle of radius `out`, at an angle from straight up.
  static Box at_direction(const Label& label, double out, double angle) {
    const double sine = std::sin(angle), cosine = std::cos(angle);
    const Point center = {label.point.x + sine * (out + label.width / 2.0),
                          label.point.y - cosine * (out + label.height / 2.0)};
    return around(center, label.width / 2.0, label.height / 2.0);
  }

  bool covers(const Box& box) const {
    const auto hits = [&](const Box& other) { return overlap(box, other); };
    const auto hides = [&](const Label& label) {
      return overlap(box, around(label.point, radius_, radius_));
    };
    return std::ranges::any_of(taken_, hits) || std::ranges::any_of(labels_, hides);
  }

  const std::vector<Label>& labels_;
  const Box& bounds_;
  double radius_;
  std::vector<Box> taken_;
};

/// How many others are near enough to want the same room.
int neighbors(const std::vector<Label>& labels, std::size_t index) {
  const auto near = [&](const Label& other) {
    return std::abs(other.point.x - labels[index].point.x) < other.width + labels[index].width &&
           std::abs(other.point.y - labels[index].point.y) < other.height + labels[index].height;
  };
  return static_cast<int>(std::ranges::count_if(labels, near));
}

}  // namespace

std::vector<std::optional<Box>> place_labels(const std::vector<Label>& labels, const Box& bounds,
                                             double radius) {
  std::vector<std::size_t> order(labels.size());
  std::iota(order.begin(), order.end(), 0U);
  std::ranges::stable_sort(order, {}, [&](std::size_t k) { return neighbors(labels, k); });
  std::vector<std::optional<Box>> placed(labels.size());
  Crowd crowd(labels, bounds, radius);
  for (const auto k : order) placed[k] = crowd.place(labels[k]);
  return placed;
}

bool needs_leader(const Box& label, Point point, double radius) {
  const double dx = std::max({label.x - point.x, 0.0, point.x - label.right()});
  const double dy = std::max({label.y - point.y, 0.0, point.y - label.bottom()});
  constexpr double reach = 6.0;
  return std::hypot(dx, dy) > radius + reach;
}

}  // namespace pitwright::picture
