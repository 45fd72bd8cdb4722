#include <charconv>

#include "feeds/feed_document.h"

namespace pitwright::feed {

Result<BrokerPlace> parse_broker(std::string_view text) {
  constexpr int plain_port = 1883;
  constexpr int tls_port = 8883;
  constexpr auto expected =
      "a broker is written mqtt://192.168.1.20:1883, or mqtts://name with TLS";
  BrokerPlace place;
  std::string_view rest = text;
  if (rest.starts_with("mqtts://")) {
    place.tls = true;
    rest.remove_prefix(8);
  } else if (rest.starts_with("mqtt://")) {
    rest.remove_prefix(7);
  } else {
    return fail(ErrorKind::bad_input, "{}; not \"{}\"", expected, text);
  }
  if (rest.contains('@')) {
    return fail(ErrorKind::bad_input,
                "user and password do not belong into the address of a broker; give 'user' and "
                "'password_file'");
  }
  place.port = place.tls ? tls_port : plain_port;
  if (rest.ends_with('/')) rest.remove_suffix(1);
  std::string_view port;
  const bool bracket = rest.starts_with('[') && rest.contains(']');  // IPv6, RFC 3986
  const auto host_end = bracket ? rest.find(']') + 1 : rest.find(':');
  if (host_end != rest.npos && host_end < rest.size()) {
    port = rest.substr(host_end);
    rest = rest.substr(0, host_end);
  }
  place.host = bracket ? rest.substr(1, rest.size() - 2) : rest;
  if (!port.empty()) {
    const auto* const end = port.data() + port.size();
    const auto [at, error] = std::from_chars(port.data() + 1, end, place.port);
    if (port.front() != ':' || error != std::errc() || at != end || place.port < 1 ||
        place.port > 65535) {
      return fail(ErrorKind::bad_input, "{}; its port is not \"{}\"", expected, port);
    }
  }
  if (place.host.empty() || place.host.contains('/')) {
    return fail(ErrorKind::bad_input, "{}; not \"{}\"", expected, text);
  }
  return place;
}

bool is_topic_filter(std::string_view filter) {
  if (filter.empty() || filter.size() > 65535 || filter.contains('\0')) return false;
  for (std::size_t i = 0; i < filter.size(); ++i) {
    const bool begins = i == 0 || filter[i - 1] == '/';
    const bool ends = i + 1 == filter.size();
    if (filter[i] == '#' && !(begins && ends)) return false;
    if (filter[i] == '+' && !(begins && (ends || filter[i + 1] == '/'))) return false;
  }
  return true;
}

}  // namespace pitwright::feed
