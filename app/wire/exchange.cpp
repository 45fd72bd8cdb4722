#include "wire/exchange.h"

namespace pitwright::wire {

std::optional<std::string> query_value(const Request& request, std::string_view name) {
  const auto found = request.query.find(std::string(name));
  if (found == request.query.end()) return std::nullopt;
  return found->second;
}

std::string_view header_value(const Request& request, const std::string& name) {
  const auto found = request.headers.find(name);
  return found == request.headers.end() ? std::string_view() : std::string_view(found->second);
}

}  // namespace pitwright::wire
