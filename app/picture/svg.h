#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.h"

namespace pitwright::picture {

/// A place on a page [px], y downward.
struct Point {
  double x, y;
};

/// An upright rectangle on a page [px].
struct Box {
  double x, y, width, height;

  double right() const { return x + width; }
  double bottom() const { return y + height; }
};

bool overlap(const Box& a, const Box& b);

using Attributes = std::vector<std::pair<std::string_view, std::string>>;

/// At most two decimals, no trailing zeros, never "-0": a coordinate [px].
std::string px(double value);

/// `text` fit to stand in an attribute or between tags: markup escaped, control characters and
/// broken UTF-8 replaced.
std::string escaped(std::string_view text);

/// A finished picture: SVG text and its size [px].
struct Picture {
  std::string svg;
  double width = 0.0, height = 0.0;
};

/// Writes elements one after the other and keeps count of those open. All places are absolute: no
/// transform is ever written.
class Svg {
 public:
  void open(std::string_view name, const Attributes& attributes = {});
  void close();
  void leaf(std::string_view name, const Attributes& attributes);
  void leaf(std::string_view name, const Attributes& attributes, std::string_view content);

  /// What another one wrote, after all so far. Pre: everything opened was closed, in both.
  void append(const Svg& other);

  /// The document with its size, its name for those who cannot see it (`title`, `description`) and
  /// its ids under `id`. Pre: everything opened was closed.
  Picture finish(std::string_view id, double width, double height, std::string_view title,
                 std::string_view description) const;

 private:
  void start(std::string_view name, const Attributes& attributes);
  std::string body_;
  std::vector<std::string> open_;
};

}  // namespace pitwright::picture
