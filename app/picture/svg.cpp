#include "picture/svg.h"

#include <cmath>

#include <fmt/format.h>

#include "base/expects.h"
#include "report/text_width.h"

namespace pitwright::picture {

bool overlap(const Box& a, const Box& b) {
  return a.x < b.right() && b.x < a.right() && a.y < b.bottom() && b.y < a.bottom();
}

std::string px(double value) {
  expects(std::isfinite(value));
  auto text = fmt::format("{:.2f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string escaped(std::string_view text) {
  std::string result;
  for (const char c : report::clean_name(text)) {
    switch (c) {
      case '&':
        result += "&amp;";
        break;
      case '<':
        result += "&lt;";
        break;
      case '>':
        result += "&gt;";
        break;
      case '"':
        result += "&quot;";
        break;
      default:
        result += c;
    }
  }
  return result;
}

void Svg::start(std::string_view name, const Attributes& attributes) {
  body_.append(2 * (open_.size() + 1), ' ');
  body_ += '<';
  body_ += name;
  for (const auto& [key, value] : attributes) {
    body_ += ' ';
    body_ += key;
    body_ += "=\"" + escaped(value) + '"';
  }
}

void Svg::open(std::string_view name, const Attributes& attributes) {
  start(name, attributes);
  body_ += ">\n";
  open_.emplace_back(name);
}

void Svg::close() {
  expects(!open_.empty());
  const auto name = open_.back();
  open_.pop_back();
  body_.append(2 * (open_.size() + 1), ' ');
  body_ += "</" + name + ">\n";
}

void Svg::leaf(std::string_view name, const Attributes& attributes) {
  start(name, attributes);
  body_ += "/>\n";
}

void Svg::leaf(std::string_view name, const Attributes& attributes, std::string_view content) {
  start(name, attributes);
  body_ += '>' + escaped(content) + "</";
  body_ += name;
  body_ += ">\n";
}

void Svg::append(const Svg& other) {
  expects(open_.empty() && other.open_.empty());
  body_ += other.body_;
}

Picture Svg::finish(std::string_view id, double width, double height, std::string_view title,
                    std::string_view description) const {
  expects(open_.empty());
  const auto named = escaped(id);
  auto svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"{0}\" width=\"{1}\" height=\"{2}\" "
      "viewBox=\"0 0 {1} {2}\" role=\"img\" aria-labelledby=\"{0}-title {0}-desc\" "
      "font-family=\"'DejaVu Sans', Verdana, sans-serif\">\n"
      "  <title id=\"{0}-title\">{3}</title>\n"
      "  <desc id=\"{0}-desc\">{4}</desc>\n",
      named, px(width), px(height), escaped(title), escaped(description));
  svg += body_ + "</svg>\n";
  return {std::move(svg), width, height};
}

}  // namespace pitwright::picture
