#include "sheet/html.h"

#include <nlohmann/json.hpp>

#include "picture/svg.h"

namespace pitwright::sheet {

std::string wrap(std::string_view name, std::string_view attributes, std::string_view markup) {
  std::string text = "<";
  text += name;
  if (!attributes.empty()) (text += ' ') += attributes;
  ((text += '>') += markup) += "</";
  return (text += name) += ">\n";
}

std::string element(std::string_view name, std::string_view attributes, std::string_view text) {
  return wrap(name, attributes, picture::escaped(text));
}

std::string list_of(const std::vector<std::string>& texts) {
  std::string items;
  for (const auto& text : texts) items += element("li", "", text);
  return wrap("ul", "", items);
}

std::string script_string(std::string_view text) {
  auto literal = nlohmann::json(std::string(text))
                     .dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
  for (auto at = literal.find('<'); at != std::string::npos; at = literal.find('<', at))
    literal.replace(at, 1, "\\u003c");
  return literal;
}

}  // namespace pitwright::sheet
